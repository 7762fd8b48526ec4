"""The check of published rows itself: each kind of fault, put in by hand, is noticed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tempwitness.model.rule import Code
from tempwitness.rulebook.load import load_code, load_code_folder
from tests.published.rows.check import Codes, accounted, missing, named_in, unknown
from tests.published.rows.figures import typed_figure
from tests.published.rows.pairs import mispaired
from tests.published.rows.sourced import doubtful, unsourced
from tests.published.rows.tables import Region, read_tables
from tests.published.rows.totals import by_code
from tests.published.rows.words import said

HEAD = """order = ["cooling"]
[head]
id = "here/1"
title = "A made-up code"
edition = "1"
issuer = "nobody"
authority = "None."
"""
COOL = """[[requirement]]
id = "cool"
title = "Cool fast"
section = "1"
weight = "law"
stages = ["cool"]
point = "warmest"
confirmed = "second-hand"
source = ["memory"]
[requirement.test]
form = "fall"
start = { c = 60, op = ">=" }
to = { f = 41, c = 5, op = "<=" }
within = "2 h"
"""
COOK = """[[requirement]]
id = "cook"
title = "Cook through"
section = "2"
weight = "law"
stages = ["cook"]
confirmed = "second-hand"
source = ["memory"]
note = "Within 30 days, as its label says."
[requirement.test]
form = "reach"
rows = [{ c = 70, hold = "2 min" }, { c = 75, hold = "30 s" }, { c = 80, hold = "0 s" }]
"""
TYPED = """row,kind,op,value,unit,section,source,seen,weight
COOL,temp,,60,C,1,A law,second-hand,law
COOL,temp,<=,41,F,1,A law,second-hand,law
COOL,temp,<=,5,C,1,A law,second-hand,law
COOL,time,<=,2,h,1,A law,second-hand,law
COOK,temp,,70,C,2,A law,second-hand,law
COOK,time,,2,min,2,A law,second-hand,law
COOK,temp,,75,C,2,A law,second-hand,law
COOK,time,,30,s,2,A law,second-hand,law
COOK,temp,,80,C,2,A law,second-hand,law
COOK,time,<,1,s,2,A law,second-hand,law
COOK,days,<=,30,d,2,A law,second-hand,law
OUT,,,,,3,A law,memory,law
"""
ENCODED = """row,encoded_as,reason
COOL,here/1#cool,
COOK,here/1#cook,
OUT,,"it names no temperature, time or paper"
"""

Ask = Callable[..., list[str]]


@pytest.fixture
def faults(tmp_path: Path) -> Ask:
    """Return all faults of the made-up tables and code, after replacing a text in one of them."""

    def ask(old: str = "", new: str = "") -> list[str]:
        texts = {"code": COOL + COOK, "region": TYPED, "encoded_region": ENCODED}
        assert not old or any(old in text for text in texts.values()), old
        code, typed, encoded = (text.replace(old, new) if old else text for text in texts.values())
        (tmp_path / "code.toml").write_text(HEAD, encoding="utf-8")
        (tmp_path / "cooling.toml").write_text(code, encoding="utf-8")
        (tmp_path / "region.csv").write_text(typed, encoding="utf-8")
        (tmp_path / "encoded_region.csv").write_text(encoded, encoding="utf-8")
        return all_faults(tmp_path, read_tables(tmp_path))

    return ask


def all_faults(folder: Path, tables: tuple[Region, ...]) -> list[str]:
    codes = Codes(lambda name: load_code_folder(name, folder))
    naming, code = named_in(tables), codes.load("here/1")
    found = [fault for region in tables for fault in accounted(region)]
    found += [fault for region in tables for fault in unknown(region, codes)]
    found += [fault for region in tables for fault in missing(region, codes)]
    found += [*unsourced(code, codes, naming), *mispaired(code, naming)]
    return [*found, *doubtful(code, codes, naming)]


def test_what_agrees_has_no_fault(faults: Ask) -> None:
    assert faults() == []


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        # A wrong figure is in the rule file and in no row, and the row's is lost.
        ("c = 5, op", "c = 6, op", ["COOL: <=5 °C stands", "#cool: <=6 °C is printed by no row"]),
        ('within = "2 h"', 'within = "3 h"', ["COOL: <=7200 s", "#cool: <=10800 s"]),
        # A figure that the row does not print, and one that the rule file does not have.
        ("start = { c = 60", "start = { f = 140, c = 60", ["#cool: >=140 °F is printed by no row"]),
        ("{ f = 41, c = 5,", "{ c = 5,", ["COOL: <=41 °F stands in nothing"]),
        # A wrong operator, of a temperature and of a time.
        ('c = 5, op = "<="', 'c = 5, op = "<"', ["COOL: <=41 °F", "COOL: <=5 °C", "<41", "<5"]),
        ('within = "2 h"', 'within = "2 h"\nop = "<"', ["COOL: <=7200 s", "#cool: <7200 s"]),
        # Figures that stand beside each other's.
        (
            '70, hold = "2 min" }, { c = 75, hold = "30 s"',
            '70, hold = "30 s" }, { c = 75, hold = "2 min"',
            ["no row that names it prints >=30 s beside >=70 °C", ">=120 s beside >=75 °C"],
        ),
        # A better flag, for all of it and for one number of it; another weight.
        (
            'cool"]\npoint = "warmest"\nconfirmed = "second-hand"',
            'cool"]\npoint = "warmest"\nconfirmed = "text"',
            ["#cool is confirmed by 'text', its rows by 'second-hand' at best", *["but its"] * 4],
        ),
        (
            "2,h,1,A law,second-hand",
            "2,h,1,A law,memory",
            ["#cool is confirmed by 'second-hand', but its <=7200 s only by 'memory'"],
        ),
        ("1,A law,second-hand,law", "1,A law,second-hand,guidance", ["#cool weighs as law"]),
        # A number of days that only words say, and the words say another one.
        ("30 days", "31 days", ["COOK: <=2592000 s stands in nothing"]),
        # Names and reasons.
        (
            "OUT,,,,,",
            "AWAY,,,,,",
            ["AWAY is typed but not encoded", "OUT is encoded but not typed"],
        ),
        ("it names no temperature, time or paper", "no number", ["OUT is left out without a"]),
        (
            "here/1#cool,",
            "here/1#chill,",
            ["COOL names here/1#chill", *["(no row at all)"] * 4, *["stands in nothing"] * 4],
        ),
        ("COOK,here/1#cook,", "COOK,here/1#cook,\nCOOK,here/1#cook,", ["COOK is encoded twice"]),
    ],
)
def test_each_fault_is_noticed(faults: Ask, old: str, new: str, expected: list[str]) -> None:
    found = faults(old, new)
    assert len(found) == len(expected), found
    assert [text for text in expected if not any(text in fault for fault in found)] == []


def test_a_reason_may_say_without_which_number_a_row_goes(faults: Ask) -> None:
    assert faults("{ f = 41, c = 5,", "{ c = 5,") != []
    reason = "Its 41 °F stands in another text"
    assert faults("COOL,here/1#cool,", f"COOL,here/1#cool,{reason}") == []


def test_a_code_named_as_a_whole_lends_the_numbers_of_its_requirements(faults: Ask) -> None:
    assert faults("COOL,here/1#cool,", "COOL,here/1 here/1#cool,") == []
    found = faults("COOL,here/1#cool,", "COOL,here/1,")
    assert found
    assert all("no row at all" in fault for fault in found)


def test_what_a_code_takes_over_is_asked_of_the_other_code_alone(tmp_path: Path) -> None:
    # Built on the Food Code, with another hot hold: 140 and 60 are its own, all else is not.
    head = HEAD.replace("cooling", "holding") + '[head.base]\nid = "us/food-code/2022"\n'
    change = '[[amend]]\nid = "hot-hold"\nsection = "9"\n[amend.test]\nlimit = {}\n'
    limit = '{ f = 140, c = 60, op = ">=" }'
    (tmp_path / "code.toml").write_text(head, encoding="utf-8")
    (tmp_path / "holding.toml").write_text(change.format(limit), encoding="utf-8")

    def load(name: str) -> Code:
        return load_code_folder(name, tmp_path) if name == "here/1" else load_code(name)

    found = list(unsourced(load("here/1"), Codes(load), {}))
    assert [fault.partition(" is ")[0] for fault in found] == [
        "here/1#hot-hold: >=140 °F",
        "here/1#hot-hold: >=60 °C",
    ]


@pytest.mark.parametrize(
    ("typed", "shipped", "same"),
    [
        # More than 40 people are 41 or more; at most 1 reheating is fewer than 2.
        (("count", ">", "40", ""), ("count", ">=", "41", ""), True),
        (("count", "<=", "1", ""), ("count", "<", "2", ""), True),
        (("count", ">", "40", ""), ("count", ">=", "40", ""), False),
        # 24 h are a day, 12 months a year, 50 mm are 5 cm; but 4.4 °C is not 4 °C.
        (("time", "<=", "24", "h"), ("days", "<=", "1", "d"), True),
        (("days", "", "12", "months"), ("days", "", "1", "years"), True),
        (("length", "", "50", "mm"), ("length", "", "5", "cm"), True),
        (("temp", "<=", "4.4", "C"), ("temp", "<=", "4", "C"), False),
        (("temp", "<=", "4", "C"), ("temp", "<", "4", "C"), False),
        (("temp", "", "4.0", "C"), ("temp", "<", "4", "C"), True),
        (("temp", "", "40", "F"), ("temp", "", "40", "C"), False),
    ],
)
def test_when_two_numbers_are_one(
    typed: tuple[str, str, str, str], shipped: tuple[str, str, str, str], same: bool
) -> None:
    assert typed_figure(*typed).meets(typed_figure(*shipped)) is same


def test_a_kind_with_a_strange_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="has no unit 'min'"):
        typed_figure("temp", "", "5", "min")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Keep it for 3 to 4 days.", True),
        ("Keep it for 4 days.", False),
        ("Keep it for 13 days.", False),
        ("Keep it for 3.5 days.", False),
        ("Within 72 h of packing.", True),
        ("3 pieces", False),
    ],
)
def test_numbers_said_in_words(text: str, expected: bool) -> None:
    assert said(typed_figure("days", "", "3", "d"), text) is expected


def test_totals_name_each_code_and_each_row_left_out(tmp_path: Path) -> None:
    (tmp_path / "region.csv").write_text(TYPED, encoding="utf-8")
    (tmp_path / "encoded_region.csv").write_text(ENCODED, encoding="utf-8")
    assert list(by_code(read_tables(tmp_path))) == [
        "region: 3 rows with 11 numbers, 2 encoded, 1 left out",
        "  here/1: 2 rows",
        "  left out: OUT: it names no temperature, time or paper",
    ]
