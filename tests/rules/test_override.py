"""Local overrides: taken, refused, expired, and what becomes of the rest."""

from __future__ import annotations

import operator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tempwitness.errors import RuleError
from tempwitness.model.figures import Limit
from tempwitness.model.finding import OverrideUsed
from tempwitness.model.forms import OutsideBand, Rise, ShelfLife, Throughout
from tempwitness.model.rule import Code, Requirement
from tempwitness.rulebook.compare import Strictness, strictness_of_limit
from tempwitness.rulebook.files import rules_folder
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.override import apply_overrides, load_override

CODE = "us/food-code/2022"
COUNTY = rules_folder() / "local" / "county-example.toml"
IN_FORCE = date(2026, 6, 1)
HEAD = """
[override]
id = "local/somewhere"
title = "Somewhere's rules"
authority = "Somewhere Health District"
citation = "Somewhere Code 1.2"
from = 2026-01-01
to = 2026-12-31
"""
LOOSER = """
[[change]]
requirement = "us/food-code/2022#cool-135-to-41"
within = "7 h"
reason = "validated cooling of whole legs of lamb"
[change.approval]
kind = "variance"
authority = "Somewhere Health District"
number = "V-26-014"
granted = 2026-02-01
expires = 2026-08-31
"""


def applied(text: str, tmp_path: Path, on: date = IN_FORCE) -> tuple[Code, list[OverrideUsed]]:
    path = tmp_path / "county.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    code, used = apply_overrides(load_code(CODE), [load_override(path)], on)
    return code, list(used)


def find(code: Code, name: str) -> Requirement:
    requirement = code.find(name)
    assert requirement is not None
    return requirement


def county(on: date) -> tuple[Code, tuple[OverrideUsed, ...]]:
    return apply_overrides(load_code(CODE), [load_override(COUNTY)], on)


def test_a_stricter_limit_is_taken_and_says_what_it_replaced() -> None:
    code, used = county(IN_FORCE)
    hold = find(code, "hot-hold")
    assert isinstance(hold.test, Throughout)
    assert hold.test.limit.words == "at least 140 °F (60 °C)"
    assert hold.replaced == "at least 135 °F (57 °C)"
    assert hold.section == "3-501.16(A)(1), replaced by Example County Code 8.12"
    first = used[0]
    assert first.in_force
    assert (first.replaced, first.by) == ("at least 135 °F (57 °C)", "at least 140 °F (60 °C)")
    assert first.authority == "Example County Health District"


def test_the_published_code_stays_as_it_was() -> None:
    county(IN_FORCE)
    hold = find(load_code(CODE), "hot-hold")
    assert isinstance(hold.test, Throughout)
    assert hold.test.limit.f == 135
    assert hold.replaced == ""


def test_the_130_degree_hold_falls_under_a_stricter_limit_and_is_named() -> None:
    code, used = county(IN_FORCE)
    assert find(code, "hot-hold").alternatives == ()
    assert "'hot-hold-roast-130' (Whole roasts cooked by the ladder) falls away" in used[0].reason


def test_the_130_degree_hold_stays_if_the_county_says_so(tmp_path: Path) -> None:
    code, used = applied(
        """
[[change]]
requirement = "us/food-code/2022#hot-hold"
limit = { f = 140, c = 60, op = ">=" }
reason = "kept for all but roasts"
keep_alternatives = true
""",
        tmp_path,
    )
    assert [a.id for a in find(code, "hot-hold").alternatives] == ["hot-hold-roast-130"]
    assert "falls away" not in used[0].reason


def test_no_text_prints_the_old_figure_as_an_instruction() -> None:
    code, _ = county(IN_FORCE)
    reheat = find(code, "reheat-in-2h")
    assert reheat.title == "Reheat from 41 °F within 1 h"
    assert [a.within for a in reheat.actions if a.within] == [3600.0]
    for requirement in code.requirements:
        for action in requirement.actions:
            if "reheat" in action.do.lower():
                assert "within 2 h" not in action.do, requirement.id
    spoken = " ".join(a.do for a in find(code, "hot-hold").actions)
    assert "Below 140 °F (60 °C)" in spoken
    assert "135 °F" not in spoken


def test_the_limit_before_a_reheat_keeps_its_four_hours() -> None:
    hold = find(county(IN_FORCE)[0], "hot-hold")
    assert hold.actions[0].within == 4 * 3600


def test_a_requirement_is_added() -> None:
    code, used = county(IN_FORCE)
    added = find(code, "county-day-end")
    assert added.test.form == "day_end"
    assert added.when.business == ("temporary_event",)
    assert used[-1].requirement == "us/food-code/2022#county-day-end"


@pytest.mark.parametrize(
    ("on", "words"),
    [
        (date(2025, 12, 31), "not yet in force on 2025-12-31: it begins on 2026-01-01"),
        (date(2027, 1, 1), "no longer in force on 2027-01-01: it ended on 2026-12-31"),
    ],
)
def test_outside_its_days_nothing_changes_and_it_is_reported(on: date, words: str) -> None:
    code, used = county(on)
    assert code.requirements == load_code(CODE).requirements
    assert used
    assert all(not entry.in_force and entry.reason == words for entry in used)


@pytest.mark.parametrize("on", [date(2026, 1, 1), date(2026, 12, 31)])
def test_the_first_and_the_last_day_count(on: date) -> None:
    assert all(entry.in_force for entry in county(on)[1])


def test_a_looser_limit_needs_an_approval_in_force(tmp_path: Path) -> None:
    code, used = applied(LOOSER, tmp_path)
    assert find(code, "cool-135-to-41").replaced == "within 6 h"
    assert "looser by variance no. V-26-014" in used[0].reason
    assert used[0].in_force


@pytest.mark.parametrize(
    ("on", "words"),
    [
        (date(2026, 1, 31), "was not yet granted on 2026-01-31"),
        (date(2026, 9, 1), "had expired on 2026-09-01: 2026-08-31"),
    ],
)
def test_without_its_approval_in_force_a_looser_limit_is_not_applied(
    tmp_path: Path, on: date, words: str
) -> None:
    code, used = applied(LOOSER, tmp_path, on)
    assert code.requirements == load_code(CODE).requirements
    assert not used[0].in_force
    assert words in used[0].reason


def test_a_second_override_is_weighed_against_the_first(tmp_path: Path) -> None:
    path = tmp_path / "city.toml"
    change = """
[[change]]
requirement = "us/food-code/2022#hot-hold"
limit = { f = 138, c = 59, op = ">=" }
reason = "the city asks for less than the county"
"""
    path.write_text(HEAD + change, encoding="utf-8")
    with pytest.raises(RuleError, match="looser than at least 140 °F"):
        apply_overrides(load_code(CODE), [load_override(COUNTY), load_override(path)], IN_FORCE)


def test_changes_of_another_code_are_left_out() -> None:
    code, used = apply_overrides(load_code("trade/smoking"), [load_override(COUNTY)], IN_FORCE)
    assert used == ()
    assert code.requirements == load_code("trade/smoking").requirements


def test_a_shelf_life_is_shortened_in_days(tmp_path: Path) -> None:
    code, used = applied(
        """
[[change]]
requirement = "us/food-code/2022#date-mark"
at_most = "4 d"
reason = "the county allows four days"
""",
        tmp_path,
    )
    mark = find(code, "date-mark")
    assert isinstance(mark.test, ShelfLife)
    assert mark.test.days == 4
    assert mark.title == "Mark the date and use within 4 days"
    assert (used[0].replaced, used[0].by) == ("7 d", "4 d")


def test_a_higher_goal_of_a_reheat_is_stricter(tmp_path: Path) -> None:
    code, _ = applied(
        """
[[change]]
requirement = "us/food-code/2022#reheat-commercial-in-2h"
to = { f = 140, c = 60, op = ">=" }
reason = "the county reheats sealed packs to 140 degrees"
""",
        tmp_path,
    )
    reheat = find(code, "reheat-commercial-in-2h")
    assert isinstance(reheat.test, Rise)
    assert reheat.test.to.f == 140


def test_fully_cooked_food_stays_free_of_a_shorter_first_heating(tmp_path: Path) -> None:
    code, _ = applied(
        """
[[change]]
requirement = "us/food-code/2022#nc-first-heating"
at_most = "45 min"
reason = "the county allows a shorter first heating"
""",
        tmp_path,
    )
    assert [a.id for a in find(code, "nc-first-heating").alternatives] == ["nc-cooked-first-time"]


def limit(f: str | Decimal, c: str | Decimal, op: str) -> Limit:
    return Limit.model_validate({"f": f, "c": c, "op": op})


@pytest.mark.parametrize(
    ("new", "old", "expected"),
    [
        # Hand arithmetic: a floor is stricter the higher it stands, a ceiling the lower.
        (("140", "60", ">="), ("135", "57", ">="), Strictness.STRICTER),
        (("130", "54", ">="), ("135", "57", ">="), Strictness.LOOSER),
        (("40", "4", "<="), ("41", "5", "<="), Strictness.STRICTER),
        (("45", "7", "<="), ("41", "5", "<="), Strictness.LOOSER),
        (("135", "57", ">="), ("135", "57", ">="), Strictness.SAME),
        (("135", "57.2", ">="), ("135", "57", ">="), Strictness.STRICTER),
        (("135", "57", ">"), ("135", "57", ">="), Strictness.STRICTER),
        (("135", "57", ">="), ("135", "57", ">"), Strictness.LOOSER),
        (("140", "60", ">="), ("135", "57", ">"), Strictness.STRICTER),
        (("140", "57", ">="), ("135", "57", ">"), Strictness.MIXED),
        (("140", "56", ">="), ("135", "57", ">="), Strictness.MIXED),
        (("40", "6", "<="), ("41", "5", "<="), Strictness.MIXED),
        (("135", "57", "<="), ("135", "57", ">="), Strictness.OPPOSITE),
    ],
)
def test_strictness_is_mechanical(
    new: tuple[str, str, str], old: tuple[str, str, str], expected: Strictness
) -> None:
    assert strictness_of_limit(limit(*new), limit(*old)) is expected


def test_one_edge_of_a_band_is_changed_by_its_direction(tmp_path: Path) -> None:
    code, used = applied(
        """
[[change]]
requirement = "us/food-code/2022#band-hold"
limit = { f = 40, c = 4, op = "<=" }
reason = "the county keeps cold food at forty degrees"
""",
        tmp_path,
    )
    band = find(code, "band-hold").test
    assert isinstance(band, OutsideBand)
    assert (band.cold.words, band.hot.words) == (
        "at most 40 °F (4 °C)",
        "at least 135 °F (57 °C)",
    )
    assert used[0].replaced == "at most 41 °F (5 °C)"


FIGURES = st.decimals(min_value=0, max_value=200, places=1)
LIMITS = st.builds(limit, FIGURES, FIGURES, st.sampled_from([">=", ">", "<=", "<"]))
KEEPS = {">=": operator.ge, ">": operator.gt, "<=": operator.le, "<": operator.lt}


def keeps(figure: Decimal, bound: Decimal, op: str) -> bool:
    return bool(KEEPS[op](figure, bound))


@given(new=LIMITS, old=LIMITS, reading=FIGURES)
def test_what_is_taken_without_approval_lets_nothing_more_pass(
    new: Limit, old: Limit, reading: Decimal
) -> None:
    found = strictness_of_limit(new, old)
    if found not in (Strictness.SAME, Strictness.STRICTER):
        return
    for new_bound, old_bound in ((new.f, old.f), (new.c, old.c)):
        for figure in (reading, new_bound, old_bound):
            if keeps(figure, new_bound, new.op):
                assert keeps(figure, old_bound, old.op)
