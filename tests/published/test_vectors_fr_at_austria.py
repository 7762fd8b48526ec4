"""Worked examples of Austria.

Sources: chapter 7 of the guideline for large kitchens (Codexkapitel A2) and its earlier edition.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, held
from tests.support import Readings, channel, found, judge, note, staged

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.model.finding import Evaluation

AUSTRIA, AUSTRIA_OLD = "at/a2", "at/a2/2011"
SECOND = 1 / 3600


def steady(value: float, hours: float = 2.0) -> Readings:
    """Readings at one value, at most an hour apart."""
    gaps = max(2, math.ceil(hours))
    return [(hours * i / gaps, value) for i in range(gaps + 1)]


def said(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    facts: Mapping[str, str] | None = None,
) -> str:
    code_read = load_code(code)
    return answer(requirement, stage, readings, facts=facts, celsius=True, code=code_read)


def lot(readings: Readings, steps: Sequence[tuple[float, str]]) -> Evaluation:
    """A whole lot under the guideline; the last reading ends it."""
    notes = [note(at, step) for at, step in steps]
    end = note(readings[-1][0], event="finished")
    return judge(staged([channel(readings, celsius=True)], [*notes, end]), code=load_code(AUSTRIA))


@pytest.mark.parametrize(
    ("code", "requirement", "stage", "edge", "worse", "better"),
    [
        # 7.1: at least 70 °C; 7.2: stored at most at 4 °C.
        (AUSTRIA, "hot-hold", "hot_hold", 70.0, 69.9, 70.1),
        (AUSTRIA, "cold-hold", "cold_hold", 4.0, 4.1, 3.9),
        (AUSTRIA_OLD, "hot-hold-70", "hot_hold", 70.0, 69.9, 70.1),
        # Earlier edition: 4 °C, with a tolerance to 6 °C.
        (AUSTRIA_OLD, "cold-hold-4", "cold_hold", 4.0, 4.1, 3.9),
        (AUSTRIA_OLD, "cold-hold-6", "cold_hold", 6.0, 6.1, 5.9),
    ],
)
def test_holding(
    code: str, requirement: str, stage: str, edge: float, worse: float, better: float
) -> None:
    verdicts = [said(code, requirement, stage, steady(v)) for v in (worse, edge, better)]
    assert verdicts == ["not_met", "met", "met"]


@pytest.mark.parametrize(("dated", "expected"), [("yes", "met"), ("no", "not_met")])
def test_portions_kept_for_later(dated: str, expected: str) -> None:
    """Ch. 7: portions that are not used on the same day carry the date of production."""
    facts = {"production_date_on_portions": dated}
    assert said(AUSTRIA, "date-portions", "cold_hold", steady(3.0), facts) == expected


@pytest.mark.parametrize("code", [AUSTRIA, AUSTRIA_OLD])
@pytest.mark.parametrize(("hours", "expected"), [(2.9, "met"), (3.0, "met"), (3.01, "not_met")])
def test_three_hours_hot_in_austria(code: str, hours: float, expected: str) -> None:
    """7.1, and the earlier edition: hot holding for no more than 3 h."""
    assert said(code, "hot-hold-3h", "hot_hold", steady(76.0, hours)) == expected


@pytest.mark.parametrize(("way", "expected"), [(1.0, "met"), (1.01, "not_met")])
@pytest.mark.parametrize("order", [("hot_hold", "transport"), ("transport", "hot_hold")])
def test_the_way_counts_in_austria(way: float, expected: str, order: tuple[str, str]) -> None:
    """7.1 and 7.2: the same values hold in transport; 2 h on either side of it."""
    first, second = order
    lengths = {"hot_hold": 2.0, "transport": way}
    switch = lengths[first]
    readings: Readings = [(-1, 10.0), (0, 80.0), (1, 75.0), (2, 75.0), (2 + way, 75.0)]
    evaluation = lot(readings, [(-1, "cook"), (0, first), (switch, second)])
    assert found(evaluation, "hot-hold-3h-way").verdict.value == expected


@pytest.mark.parametrize(
    ("value", "expected"),
    [(70.0, "met"), (69.9, "not_met"), (8.1, "not_met"), (8.0, "met")],
)
def test_carrying_food_in_austria(value: float, expected: str) -> None:
    """7.1 and 7.2: hot at 70 °C, chilled never above 8 °C."""
    assert said(AUSTRIA, "carry", "transport", steady(value, 1.0)) == expected


@pytest.mark.parametrize(
    ("before", "last", "expected"),
    [
        # Two hours at 75 °C, and the last one at 70 °C.
        (75.0, 70.0, ("met", "met")),
        (74.9, 70.0, ("not_met", "met")),
        (75.0, 69.9, ("met", "not_met")),
        (75.0, 75.0, ("met", "met")),
    ],
)
def test_the_last_hour_in_the_earlier_austrian_edition(
    before: float, last: float, expected: tuple[str, str]
) -> None:
    """75 °C, with a fall to 70 °C tolerated in the last hour."""
    readings: Readings = [(0, before), (1, before), (2, before), (2 + SECOND, last), (3, last)]
    got = [said(AUSTRIA_OLD, f"hot-hold-{n}", "hot_hold", readings) for n in (75, 70)]
    assert tuple(got) == expected


@pytest.mark.parametrize(
    ("hours", "expected"), [(1.01, "not_met"), (1.0, "not_applicable"), (0.5, "not_applicable")]
)
def test_a_hold_that_is_all_last_hour(hours: float, expected: str) -> None:
    """Earlier edition: of food held for an hour or less nothing is left to keep 75 °C."""
    assert said(AUSTRIA_OLD, "hot-hold-75", "hot_hold", steady(72.0, hours)) == expected


@pytest.mark.parametrize(("minutes", "expected"), [(59, "met"), (60, "met"), (61, "not_met")])
def test_cooling_in_austria(minutes: int, expected: str) -> None:
    """7.2: 75 °C to 10 °C within 1 h."""
    minute = 1 / 60
    readings: Readings = [(0, 90.0), (0.5, 75.0), (1, 30.0)]
    readings = [*readings, (0.5 + (minutes - 1) * minute, 10.1), (0.5 + minutes * minute, 10.0)]
    evaluation = lot([(-3, 10.0), *readings], [(-3, "cook"), (0, "cool")])
    assert found(evaluation, "cool-75-to-10").verdict.value == expected


@pytest.mark.parametrize(("core", "expected"), [(74.9, "not_met"), (75.0, "met"), (75.1, "met")])
def test_reheating_in_austria(core: float, expected: str) -> None:
    """7.2: heated through to a core of 75 °C."""
    assert said(AUSTRIA, "reheat-75", "reheat", held(core, 0.0)) == expected
