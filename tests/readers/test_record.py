"""Records: what is taken from them, in tables and keys."""

from __future__ import annotations

import subprocess
import sys
from datetime import date
from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import InputError
from tempwitness.model.vocabulary import Answer, Cut, Event, Form, Place, Species, StageName
from tempwitness.readers import BareOptions, read_any
from tempwitness.units import Unit
from tests.readers.build import HEAD, record, rows, shapes, utc

if TYPE_CHECKING:
    from pathlib import Path

FULL = """
[facts]
cured = "no"
vacuum_packed = true
[[piece]]
id = "A"
weight = "9 lb"
[[piece]]
id = "B"
weight = "4.1 kg"
[[probe]]
id = "blue"
kind = "thermistor"
accuracy = "2 F"
[[probe.check]]
at = "2026-07-04 04:30"
kind = "ice"
read = "29 F"
[[probe.check]]
at = 2026-07-04T04:40:00
kind = "boiling"
read = "208.5 F"
elevation = "1609 m"
[[reading]]
at = 2026-07-04T18:10:00
temp = "138 F"
piece = "A"
by = "M."
typed_later = true
[[reading]]
at = "2026-07-04 18:05"
temp = "58.9 C"
piece = "A"
place = "surface"
point = "left"
[[note]]
at = "2026-07-04 17:00"
step = "hot hold"
method = "box"
[[note]]
at = "2026-07-04 17:30"
event = "sliced"
piece = "B"
[[approval]]
kind = "variance"
authority = "county"
number = "V-1"
granted = 2026-01-01
expires = 2026-12-31
[[time_control]]
at = "2026-07-04 18:30"
option = "4h"
written = 2026-06-01
marked = "yes"
pieces = ["A"]
"""


def test_everything_that_a_record_says(tmp_path: Path) -> None:
    log = record(tmp_path, FULL, more='business = "caterer"\nalso = ["trade/smoking"]')
    lot = log.lot
    assert (lot.food.species, lot.food.cut) == (Species.LAMB, Cut.ROAST)
    assert lot.food.forms == frozenset({Form.INTACT})
    assert [(p.id, str(p.weight)) for p in lot.pieces] == [("A", "9 lb"), ("B", "4.1 kg")]
    assert lot.facts == {"cured": "no", "vacuum_packed": "yes"}
    assert (lot.business, lot.also) == ("caterer", ("trade/smoking",))
    assert lot.approvals[0].expires == date(2026, 12, 31)
    plan = lot.time_control[0]
    assert (plan.start, plan.marked, plan.pieces) == (
        utc("2026-07-04T23:30"),
        Answer.YES,
        frozenset({"A"}),
    )
    assert shapes(log) == {
        ("A", "core", ""): [(utc("2026-07-04T23:10"), 138.0, False)],
        ("A", "surface", "left"): [(utc("2026-07-04T23:05"), 58.9, True)],
    }
    assert [(n.step, n.event, n.piece) for n in log.notes] == [
        (StageName.HOT_HOLD, None, None),
        (None, Event.SLICED, "B"),
    ]
    assert "typed in later, not at the time: reading 1" in log.assumptions


def test_checks_of_a_probe(tmp_path: Path) -> None:
    (probe,) = record(tmp_path, FULL).probes
    ice, boiling = probe.checks
    assert (ice.expected, ice.unit, ice.at) == (32.0, Unit.F, utc("2026-07-04T09:30"))
    # Standard Atmosphere 1976 and IAPWS-IF97 at 1609 m: 202.32 °F.
    assert boiling.expected == pytest.approx(202.32, abs=0.005)
    assert (probe.accuracy, probe.accuracy_unit) == (2.0, Unit.F)


def test_the_only_probe_takes_the_readings_that_name_none(tmp_path: Path) -> None:
    log = record(tmp_path, FULL)
    assert {c.probe for c in log.channels} == {("blue",)}
    assert any("'blue', the only one listed" in a for a in log.assumptions)


def test_air_readings_are_not_taken_for_a_food_probe(tmp_path: Path) -> None:
    body = (
        '[[probe]]\nid = "blue"\n'
        '[[reading]]\nat = "2026-07-04 18:10"\ntemp = "225 F"\nplace = "air"\n'
    )
    log = record(tmp_path, body)
    assert log.channels[0].probe == ("",)
    assert log.channels[0].place is Place.AIR


def test_of_two_probes_none_is_assumed(tmp_path: Path) -> None:
    body = (
        '[[probe]]\nid = "blue"\n[[probe]]\nid = "pit"\nreads = "air"\n'
        '[[reading]]\nat = "2026-07-04 18:10"\ntemp = "138 F"\n'
    )
    log = record(tmp_path, body)
    assert log.channels[0].probe == ("",)
    assert [p.id for p in log.probes] == ["blue", "pit", ""]


def test_hand_readings_are_sorted_and_keep_their_ordinal(tmp_path: Path) -> None:
    body = "".join(
        f'[[reading]]\nat = "2026-07-04 {at}"\ntemp = "{temp}"\n'
        for at, temp in (("18:20", "137 F"), ("18:10", "138 F"))
    )
    (channel,) = record(tmp_path, body).channels
    assert channel.line.tolist() == [2, 1]
    assert [v for _, v, _ in rows(channel)] == [138.0, 137.0]
    assert channel.source == "record"


def test_a_reading_in_a_repeated_hour_is_told_by_fold(tmp_path: Path) -> None:
    body = '[[reading]]\nat = "2026-11-01 01:20"\ntemp = "138 F"\n'
    with pytest.raises(InputError, match="came twice"):
        record(tmp_path, body)
    log = record(tmp_path, body + 'fold = "second"\n')
    assert log.channels[0].at.tolist() == [utc("2026-11-01T07:20")]


def test_a_record_with_hand_readings_needs_no_pandas(tmp_path: Path) -> None:
    path = tmp_path / "lamb.toml"
    path.write_text(HEAD.format(more="") + FULL, encoding="utf-8")
    program = (
        "import sys; from pathlib import Path; from tempwitness.readers import read_record\n"
        "from tempwitness.quality import qualify; from tempwitness.calibration import correct\n"
        "correct(qualify(read_record(Path(sys.argv[1]))))\n"
        "print('pandas' in sys.modules)"
    )
    done = subprocess.run(  # noqa: S603 - our own interpreter and program
        [sys.executable, "-c", program, str(path)], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "False"


def test_only_further_codes_and_changes_go_beside_a_record(tmp_path: Path) -> None:
    path = tmp_path / "lamb.toml"
    path.write_text(HEAD.format(more="") + FULL, encoding="utf-8")
    beside = BareOptions(also=("trade/smoking",), overrides=(str(tmp_path / "county.toml"),))
    lot = read_any(path, beside).lot
    assert (lot.also, lot.overrides) == (("trade/smoking",), ("county.toml",))
    with pytest.raises(InputError, match="a record says itself what the lot is"):
        read_any(path, BareOptions(food="brisket"))


def test_a_bare_file_asks_for_all_that_is_missing(tmp_path: Path) -> None:
    path = tmp_path / "pit.csv"
    path.write_text("time,temp_f\n", encoding="utf-8")
    with pytest.raises(InputError, match="missing: --food, --code, --zone, --form"):
        read_any(path)


@pytest.mark.parametrize(
    ("food", "asked"), [("brisket", True), ("turkey", False), ("beans", False)]
)
def test_form_is_asked_where_it_changes_the_limit(tmp_path: Path, food: str, asked: bool) -> None:
    path = tmp_path / "pit.csv"
    path.write_text("time,temp_f\n2026-07-04 18:10,150\n", encoding="utf-8")
    options = BareOptions(food=food, weight="9 lb", code="us/food-code/2022", zone="UTC")
    if asked:
        with pytest.raises(InputError, match="missing: --form"):
            read_any(path, options)
    else:
        assert read_any(path, options).lot.food.forms is None
