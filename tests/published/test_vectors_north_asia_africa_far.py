"""Worked examples of Japan, Singapore, Hong Kong, South Africa and India.

Sources: the Japanese manual for mass cooking, revision of 16 June 2017; regulations 12, 13A and 13B
of Singapore and its guides for catered functions; the Food Hygiene Code of Hong Kong, chapter 4;
R.638 of South Africa, Annexure E and regulation 8, and R.918 before it; Schedule 4 Part V of India.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Cut, Place, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, held
from tests.support import Readings, channel, found, judge, lamb, note, staged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Note
    from tempwitness.model.lot import Food

JAPAN, SINGAPORE, HONG_KONG, SOUTH_AFRICA, INDIA = (
    "jp/mass-cooking/2017",
    "sg/food-hygiene",
    "hk/food-hygiene-code",
    "za/r638/2018",
    "in/fss-2011",
)
MEALS = {"meals": "300"}
OYSTERS = lamb(Species.FISH, cut=Cut.PAN)
CHICKEN = lamb(Species.CHICKEN, cut=Cut.BIRD_PART)
COOKED = (note(-3, "cook"),)


def steady(value: float, hours: float = 2.0) -> Readings:
    """Readings at one value, at most an hour apart."""
    gaps = max(2, math.ceil(hours))
    return [(hours * i / gaps, value) for i in range(gaps + 1)]


def said(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    *,
    before: Sequence[Note] = (),
    food: Food | None = None,
    facts: dict[str, str] | None = None,
    business: str | None = None,
    place: Place = Place.CORE,
) -> str:
    return answer(
        requirement,
        stage,
        readings,
        before=tuple(before),
        food=food,
        facts=facts,
        business=business,
        place=place,
        celsius=True,
        code=load_code(code),
    )


@pytest.mark.parametrize(
    ("code", "requirement", "stage", "edge", "worse", "better"),
    [
        # Manual of 2017: at most 10 °C or at least 65 °C.
        (JAPAN, "hot-hold", "hot_hold", 65.0, 64.9, 65.1),
        (JAPAN, "cold-hold", "cold_hold", 10.0, 10.1, 9.9),
        (JAPAN, "carry", "transport", 65.0, 64.9, 65.1),
        (JAPAN, "carry", "transport", 10.0, 10.1, 9.9),
        # Chapters 4.2 and 4.3: at most 4 °C or at least 60 °C.
        (HONG_KONG, "receive-band", "receive", 4.0, 4.1, 3.9),
        (HONG_KONG, "receive-band", "receive", 60.0, 59.9, 60.1),
        (HONG_KONG, "hot-hold", "hot_hold", 60.0, 59.9, 60.1),
        (HONG_KONG, "cold-hold", "cold_hold", 4.0, 4.1, 3.9),
        # R.918 of 1999, repealed.
        ("za/r918/1999", "hot-hold", "hot_hold", 65.0, 64.9, 65.1),
        (INDIA, "hot-hold", "hot_hold", 60.0, 59.9, 60.1),
        (INDIA, "serve-and-carry", "serve", 60.0, 59.9, 60.1),
    ],
)
def test_holding(
    code: str, requirement: str, stage: str, edge: float, worse: float, better: float
) -> None:
    values = (worse, edge, better)
    before = () if stage == "cold_hold" else COOKED
    verdicts = [
        said(code, requirement, stage, steady(v), facts=MEALS, before=before) for v in values
    ]
    assert verdicts == ["not_met", "met", "met"]


@pytest.mark.parametrize(
    ("code", "requirement", "stage", "edge", "kept"),
    [
        # Above 60 °C, below 5 °C: the figure itself is not enough.
        ("sg/catering-guides", "hot-hold", "hot_hold", 60.0, 60.1),
        ("sg/catering-guides", "cold-hold", "cold_hold", 5.0, 4.9),
        ("sg/catering-guides", "function-band", "serve", 60.0, 60.1),
        ("sg/catering-guides", "function-band", "transport", 5.0, 4.9),
        (INDIA, "serve-and-carry", "transport", 5.0, 4.9),
    ],
)
def test_limits_that_leave_their_figure_out(
    code: str, requirement: str, stage: str, edge: float, kept: float
) -> None:
    before = () if stage == "cold_hold" else COOKED
    verdicts = [said(code, requirement, stage, steady(v), before=before) for v in (edge, kept)]
    assert verdicts == ["not_met", "met"]


@pytest.mark.parametrize(("value", "expected"), [(4.9, "met"), (5.0, "not_met"), (5.1, "not_met")])
def test_cooked_food_kept_cold_in_india(value: float, expected: str) -> None:
    """Sch. 4 Part V: below 5 °C."""
    readings: Readings = [(-3, 80.0), (-1, 3.0), (0, value), (1, value), (2, value)]
    steps = [note(-4, "cook"), note(-3, "cool"), note(-1, "cold_hold"), note(2, event="finished")]
    log = staged([channel(readings, celsius=True)], steps)
    assert found(judge(log, code=load_code(INDIA)), "cold-hold").verdict.value == expected


@pytest.mark.parametrize(
    ("value", "seconds", "food", "bivalves", "requirement", "expected"),
    [
        (75.0, 60.0, None, "no", "heat-75", "met"),
        (75.1, 61.0, None, "no", "heat-75", "met"),
        (75.0, 59.0, None, "no", "heat-75", "not_met"),
        (74.9, 600.0, None, "no", "heat-75", "not_met"),
        (85.0, 90.0, OYSTERS, "yes", "heat-bivalves", "met"),
        (85.0, 89.0, OYSTERS, "yes", "heat-bivalves", "not_met"),
        (84.9, 600.0, OYSTERS, "yes", "heat-bivalves", "not_met"),
    ],
)
def test_heating_in_japan(
    value: float, seconds: float, food: Food | None, bivalves: str, requirement: str, expected: str
) -> None:
    """Manual of 2017: 75 °C for 1 min; bivalves 85 to 90 °C for 90 s."""
    facts = {**MEALS, "bivalves": bivalves}
    got = said(JAPAN, requirement, "cook", held(value, seconds), food=food, facts=facts)
    assert got == expected


def cooled(code: str, requirement: str, readings: Readings) -> str:
    """Food whose cook ended at 0:00; the last reading ends the cooling."""
    steps = [note(-3, "cook"), note(0, "cool"), note(readings[-1][0], event="finished")]
    log = staged([channel([(-3, 10.0), *readings], celsius=True)], steps, facts=MEALS)
    return found(judge(log, code=load_code(code)), requirement).verdict.value


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 80.0), ("0:30", 20.0), (2, 15.0)], "met"),
        ([(0, 80.0), ("0:30", 30.0), ("1:00", 10.0)], "met"),
        ([(0, 80.0), ("0:29", 20.0)], "met"),
        ([(0, 80.0), ("0:30", 20.1), ("1:00", 10.1), ("1:01", 10.0)], "not_met"),
    ],
)
def test_cooling_in_japan(readings: Readings, expected: str) -> None:
    """Manual of 2017: about 20 °C within 30 min, or about 10 °C within 60 min."""
    assert cooled(JAPAN, "cool", readings) == expected


@pytest.mark.parametrize(
    ("requirement", "question"), [("sample", "sample_kept"), ("wait-30-min", "insulated_at_once")]
)
@pytest.mark.parametrize(
    ("answered", "expected"), [("yes", "met"), ("no", "not_met"), ("unknown", "not_applicable")]
)
def test_papers_of_japan(requirement: str, question: str, answered: str, expected: str) -> None:
    facts = {**MEALS, question: answered}
    assert said(JAPAN, requirement, "cook", steady(80.0), facts=facts) == expected


@pytest.mark.parametrize(("end", "expected"), [("1:59", "met"), (2, "met"), ("2:01", "not_met")])
def test_eaten_within_2h_in_japan(end: str | float, expected: str) -> None:
    """Manual of 2017, from memory: best within 2 h of cooking."""
    got = said(JAPAN, "eat-in-2h", "serve", [(0, 70.0), (end, 70.0)], facts=MEALS, before=COOKED)
    assert got == expected


def singapore(value: float, hours: float, *, business: str | None = "caterer", **facts: str) -> str:
    """Cooked food that stood at a value for exactly a time while served."""
    steps = [note(-3, "cook"), note(0, "serve"), note(hours, event="finished")]
    log = staged(
        [channel(steady(value, hours), celsius=True)], steps, facts=facts, business=business
    )
    return found(judge(log, code=load_code(SINGAPORE)), "band-4h").verdict.value


@pytest.mark.parametrize(
    ("value", "hours", "expected"),
    [
        (30.0, 3.9, "met"),
        (30.0, 4.0, "met"),
        (30.0, 4.01, "not_met"),
        # Both figures are inside the band.
        (60.0, 4.01, "not_met"),
        (60.1, 9.0, "met"),
        (5.0, 4.01, "not_met"),
        (4.9, 9.0, "met"),
    ],
)
def test_four_hours_in_singapore(value: float, hours: float, expected: str) -> None:
    """Reg. 13A: at least 5 and at most 60 °C for more than 4 h in all."""
    assert singapore(value, hours) == expected


@pytest.mark.parametrize(
    ("business", "facts", "expected"),
    [
        ("caterer", {}, "not_met"),
        ("restaurant", {}, "not_applicable"),
        (None, {}, "not_shown"),
        ("caterer", {"sealed_by_label": "yes"}, "not_applicable"),
    ],
)
def test_for_whom_the_four_hours_are(
    business: str | None, facts: dict[str, str], expected: str
) -> None:
    """Reg. 13A: licensed caterers; not sealed, prepacked food kept as its label says."""
    assert singapore(30.0, 5.0, business=business, **facts) == expected


@pytest.mark.parametrize(("hours", "expected"), [(4.0, "met"), (4.01, "not_met")])
def test_food_whose_cook_is_not_on_record_in_singapore(hours: float, expected: str) -> None:
    """Reg. 13A counts since it was first prepared, noted or not."""
    got = said(SINGAPORE, "band-4h-no-cook", "serve", steady(30.0, hours), business="caterer")
    assert got == expected


@pytest.mark.parametrize(
    ("code", "requirement", "question"),
    [
        (SINGAPORE, "time-stamp", "time_stamped"),
        (SINGAPORE, "cold-unit-thermometer", "cold_units_read"),
        ("sg/catering-guides", "leftovers", "leftovers_discarded"),
        ("sg/catering-guides", "stamp-sign", "stamp_sign"),
        (SOUTH_AFRICA, "certificate", "acceptability_certificate"),
        (INDIA, "surplus", "leftovers_discarded"),
    ],
)
@pytest.mark.parametrize(
    ("answered", "expected"), [("yes", "met"), ("no", "not_met"), ("unknown", "not_applicable")]
)
def test_papers(code: str, requirement: str, question: str, answered: str, expected: str) -> None:
    """Regs 12 and 13B with the guides; R.638 reg. 3; Sch. 4 Part V."""
    facts = {question: answered}
    got = said(code, requirement, "serve", steady(70.0), facts=facts, business="caterer")
    assert got == expected


@pytest.mark.parametrize(
    ("code", "requirement", "stage"),
    [(SINGAPORE, "schedule-temperatures", "cold_hold"), (INDIA, "carry-briefly", "transport")],
)
def test_duties_without_a_number(code: str, requirement: str, stage: str) -> None:
    """Reg. 12 names a Schedule that was not read; Sch. 4 Part V gives no time."""
    assert said(code, requirement, stage, steady(4.0), before=COOKED) == "needs_limit"


@pytest.mark.parametrize(
    ("hours", "requirement", "then", "expected"),
    [
        (2.0, "out-2h", "cold_hold", "met"),
        (2.01, "out-2h", "cold_hold", "not_met"),
        (3.0, "out-2h", "", "not_applicable"),
        (4.0, "out-4h", "", "met"),
        (4.01, "out-4h", "", "not_met"),
    ],
)
def test_room_temperature_in_hong_kong(
    hours: float, requirement: str, then: str, expected: str
) -> None:
    """Announcement: refrigerate within 2 h; discard after more than 4 h."""
    steps = [note(-3, "cook"), note(0, "serve")]
    steps += [note(hours, then), note(hours + 1, event="finished")] if then else []
    steps += [] if then else [note(hours, event="finished")]
    log = staged([channel(steady(25.0, hours), celsius=True)], steps)
    evaluation = judge(log, code=load_code(HONG_KONG))
    assert found(evaluation, requirement).verdict.value == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 60.0), (2, 20.0), (6, 4.0)], ("met", "met")),
        ([(0, 90.0), (1, 60.0), (3, 20.0), (7, 4.0)], ("met", "met")),
        ([(0, 60.0), (2, 20.1), (2.1, 20.0), (6, 4.0)], ("not_met", "met")),
        ([(0, 60.0), (1, 20.0), (5, 4.1), (5.1, 4.0)], ("met", "not_met")),
    ],
)
def test_cooling_in_hong_kong(readings: Readings, expected: tuple[str, str]) -> None:
    """Ch. 4.4, from memory: 60 to 20 °C in 2 h, 20 to 4 °C in 4 h."""
    names = ("cool-60-to-20", "cool-20-to-4")
    assert tuple(cooled(HONG_KONG, name, readings) for name in names) == expected


@pytest.mark.parametrize(("value", "expected"), [(74.9, "not_met"), (75.0, "met"), (75.1, "met")])
def test_reheating_in_hong_kong(value: float, expected: str) -> None:
    assert said(HONG_KONG, "reheat-75", "reheat", held(value, 0.0)) == expected
