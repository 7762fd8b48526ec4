"""Worked examples of California, which has a food code of its own.

Each table names the section that its expected side follows from.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import pytest

from tempwitness.model.lot import Probe, ProbeCheck, TimeControlPlan
from tempwitness.model.vocabulary import Answer, Cut, Form, Species
from tempwitness.rulebook.load import load_code
from tempwitness.units import Unit
from tests.published.traces import answer, held
from tests.support import (
    ZERO,
    Readings,
    channel,
    found,
    judge,
    lamb,
    note,
    prepared_on,
    seconds,
    staged,
)

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.lot import Food

CALIFORNIA = load_code("us/ca/retail-food-code")
EVENT = "temporary_event"

BEEF = lamb(Species.BEEF)
STEAK = lamb(Species.BEEF, cut=Cut.STEAK)
INJECTED = lamb(Species.PORK, forms=(Form.INJECTED,))
TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)


def steady(value: float, hours: float = 2.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


def timed(option: Literal["4h", "6h"], readings: Readings, end: str) -> Evaluation:
    """Judge hot-held food under a procedure that was written in advance."""
    plan = TimeControlPlan(ZERO, option, prepared_on("2026-07-01"), Answer.YES)
    steps = [note(0, "hot_hold"), note(end, event="finished")]
    return judge(staged([channel(readings)], steps, time_control=[plan]), code=CALIFORNIA)


@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        # 113996(a), (b): 135 °F hot, 41 °F cold.
        ("hot_hold", "hot-hold", 135.0, "met"),
        ("hot_hold", "hot-hold", 134.9, "not_met"),
        ("cold_hold", "cold-hold", 41.0, "met"),
        ("cold_hold", "cold-hold", 45.1, "not_met"),
        # Between 41 and 45 °F the short list decides.
        ("cold_hold", "cold-hold", 41.1, "not_shown"),
    ],
)
def test_holding_in_california(stage: str, requirement: str, value: float, expected: str) -> None:
    kitchen = "restaurant"
    got = answer(requirement, stage, steady(value), food=TURKEY, business=kitchen, code=CALIFORNIA)
    assert got == expected


@pytest.mark.parametrize(
    ("value", "oven", "cut_up", "expected"),
    [
        (130.0, "kept", False, "met"),
        (129.9, "kept", False, "not_met"),
        (130.0, "kept", True, "not_met"),
        (130.0, "unknown", False, "not_shown"),
        (130.0, "not_kept", False, "not_met"),
    ],
)
def test_whole_roasts_at_130_in_california(
    value: float, oven: str, cut_up: bool, expected: str
) -> None:
    """113996(a): roasts that were cooked as the code says are held at 130 °F or above."""
    steps = [note(0, "cook"), note(1, "hot_hold"), note(5, event="finished")]
    if cut_up:
        steps.insert(2, note("1:30", event="shredded"))
    falling = [(2, 155.0), (3, 145.0), (4, value), (5, value)]
    core = channel([(0, 166.0), ("0:30", 166.0), (1, 165.0), *falling])
    log = staged([core], steps, food=BEEF, facts={"oven_line": oven})
    assert found(judge(log, code=CALIFORNIA), "hot-hold").verdict.value == expected


@pytest.mark.parametrize(
    ("allowed", "value", "expected"),
    [
        ("listed_food", 45.0, "met"),
        ("listed_food", 45.1, "not_met"),
        ("no", 42.0, "not_met"),
        ("serving_line", 45.0, "met"),
    ],
)
def test_food_that_california_allows_at_45(allowed: str, value: float, expected: str) -> None:
    """113996: a short list, and serving lines for up to 12 h in any 24 h."""
    got = answer(
        "cold-hold",
        "cold_hold",
        steady(value),
        facts={"allowed_45": allowed},
        business="restaurant",
        code=CALIFORNIA,
    )
    assert got == expected


@pytest.mark.parametrize(("hours", "expected"), [(12.0, "met"), (12.01, "not_met")])
def test_twelve_hours_on_a_serving_line(hours: float, expected: str) -> None:
    readings: Readings = [*((h, 44.0) for h in range(13)), (hours, 44.0)]
    got = answer(
        "cold-hold",
        "cold_hold",
        readings,
        facts={"allowed_45": "serving_line"},
        business="restaurant",
        code=CALIFORNIA,
    )
    assert got == expected


@pytest.mark.parametrize(
    ("cold", "expected"),
    [
        # 12 h on the line, some hours in the cold, 12 h on the line again: with 12 h between, any
        # 24 h hold 12 h of them; with 11 h between it is 13 h.
        (12, "met"),
        (11, "not_met"),
    ],
)
def test_twelve_hours_in_any_24_h_on_a_serving_line(cold: int, expected: str) -> None:
    again = 12 + cold
    readings: Readings = [
        *((h, 44.0) for h in range(12)),
        ("11:59:57", 44.0),
        ("11:59:58", 41.0),
        *((h, 41.0) for h in range(12, again)),
        (f"{again - 1}:59:59", 41.0),
        *((h, 44.0) for h in range(again, again + 12)),
        (f"{again + 11}:59:57", 44.0),
        (f"{again + 11}:59:58", 41.0),
    ]
    got = answer(
        "cold-hold",
        "cold_hold",
        readings,
        facts={"allowed_45": "serving_line"},
        business="restaurant",
        code=CALIFORNIA,
    )
    assert got == expected


@pytest.mark.parametrize(
    ("hours", "value", "expected"),
    [(12.0, 45.0, "met"), (12.01, 45.0, "not_met"), (2.0, 45.1, "not_met")],
)
def test_twelve_hours_at_a_temporary_facility(hours: float, value: float, expected: str) -> None:
    """114343: up to 45 °F for up to 12 h in any 24 h, and destroyed at the end of the day."""
    readings = [(h, value) for h in range(int(hours) + 1)]
    steps = [note(0, "cold_hold"), note(hours, event="discarded")]
    core = channel([*readings, (hours, value)])
    log = staged([core], steps, business=EVENT, facts={"allowed_45": "no"})
    evaluation = judge(log, code=CALIFORNIA)
    assert found(evaluation, "cold-hold").verdict.value == expected
    own = "met" if value <= 45.0 else "not_met"
    assert found(evaluation, "temporary-45").verdict.value == own


@pytest.mark.parametrize(
    ("end", "event", "expected"),
    [
        pytest.param("15:00", None, "open", id="V-49-at-eight"),
        pytest.param("15:00", "discarded", "met", id="V-49-destroyed"),
        pytest.param("20:00", "finished", "not_met", id="V-49-kept"),
    ],
)
def test_t39_hot_held_leftovers_go_at_the_end_of_the_day(
    end: str, event: str | None, expected: str
) -> None:
    """V-49: held at 140 °F all day; at 20:00 (0:00 is 05:00) what is left must go by midnight."""
    steps = [note(0, "hot_hold")]
    if event is not None:
        steps.append(note(end, event=event))
    readings = [(h, 140.0) for h in range(0, int(seconds(end) // 3600) + 1, 3)]
    asked = ZERO + (seconds("15:00") if event is None else seconds("40:00"))
    log = staged([channel(readings)], steps, business=EVENT)
    evaluation = judge(log, asked=asked, code=CALIFORNIA)
    assert found(evaluation, "temporary-hot-destroyed").verdict.value == expected


def test_t39_is_for_temporary_facilities_only() -> None:
    steps = [note(0, "hot_hold"), note("20:00", event="finished")]
    log = staged([channel([(0, 140.0), (20, 140.0)])], steps, business="restaurant")
    evaluation = judge(log, code=CALIFORNIA)
    assert found(evaluation, "temporary-hot-destroyed").verdict.value == "not_applicable"


@pytest.mark.parametrize(
    ("minutes", "terms", "expected"),
    [
        (29, "yes", "met"),
        (30, "yes", "not_met"),
        (29, "no", "not_met"),
        (29, "unknown", "not_shown"),
    ],
)
def test_short_trips_in_california(minutes: int, terms: str, expected: str) -> None:
    """113996: a trip of less than 30 min is let off, as specified."""
    readings: Readings = [(0, 100.0), (minutes / 60, 100.0)]
    facts = {"short_trip": terms, "allowed_45": "no"}
    got = answer("carry-hot-or-cold", "transport", readings, facts=facts, code=CALIFORNIA)
    assert got == expected


@pytest.mark.parametrize(("second", "expected"), [(1.0, "met"), (1.01, "not_met")])
def test_two_cumulative_hours_of_preparation(second: float, expected: str) -> None:
    """113998: two turns of preparation are added up."""
    steps = [note(0, "prep"), note(1, "cold_hold"), note(3, "prep")]
    steps.append(note(3 + second, event="finished"))
    between: Readings = [("1:30", 50.0), (2, 40.0), ("2:30", 50.0)]
    core = channel([(0, 60.0), (1, 60.0), *between, (3, 60.0), (3 + second, 60.0)])
    evaluation = judge(staged([core], steps), code=CALIFORNIA)
    found_last = [f for f in evaluation.findings if f.requirement.endswith("#prep-2h")]
    assert [f.verdict.value for f in found_last] == [expected]


@pytest.mark.parametrize(
    ("option", "hours", "expected"), [("4h", "4:00", "met"), ("4h", "4:00:01", "not_met")]
)
def test_four_hours_without_temperature(
    option: Literal["4h", "6h"], hours: str, expected: str
) -> None:
    """114000: 4 h, written and marked."""
    evaluation = timed(option, [(0, 135.0), (3, 90.0)], hours)
    assert found(evaluation, "tphc-end-4h").verdict.value == expected
    assert found(evaluation, "tphc-marked").verdict.value == "met"
    assert found(evaluation, "tphc-written").verdict.value == "met"


def test_six_hours_are_not_available_in_california() -> None:
    """V-41: 114000 has no option of 6 h, so that the food is judged by its temperature."""
    evaluation = timed("6h", [(0, 135.0), (1, 90.0), (3, 60.0)], "5:00")
    assert found(evaluation, "tphc-end-4h").verdict.value == "not_applicable"
    assert found(evaluation, "hot-hold").verdict.value == "not_met"


@pytest.mark.parametrize(
    ("readings", "first", "whole"),
    [
        # The 2 h lie inside the 6 h: what is saved before 70 °F is kept.
        pytest.param(
            [(0, 135.0), ("0:30", 70.0), ("5:58:59", 41.1), ("5:59", 41.0)], "met", "met", id="V-19"
        ),
        ([(0, 135.0), (2, 70.0), (6, 41.0)], "met", "met"),
        ([(0, 135.0), ("2:00:59", 70.1), ("2:01", 70.0), (6, 41.0)], "not_met", "met"),
        ([(0, 135.0), (1, 70.0), ("6:00:59", 41.1), ("6:01", 41.0)], "met", "not_met"),
    ],
)
def test_t04_california_counts_six_hours_in_all(readings: Readings, first: str, whole: str) -> None:
    """114002: from 135 to 41 °F within 6 h, and during it from 135 to 70 °F within 2 h."""
    assert answer("cool-135-to-70", "cool", readings, code=CALIFORNIA) == first
    assert answer("cool-135-to-41", "cool", readings, code=CALIFORNIA) == whole


@pytest.mark.parametrize(("end", "expected"), [("4:00", "met"), ("4:00:01", "not_met")])
def test_food_made_at_room_temperature(end: str, expected: str) -> None:
    """114002: from ingredients at room temperature to 41 °F within 4 h."""
    just_before = seconds(end) / 3600 - 0.0002
    readings: Readings = [(0, 70.0), (2, 60.0), (just_before, 41.1), (end, 41.0)]
    facts = {"cooling_from": "ambient"}
    assert answer("cool-ambient", "cool", readings, facts=facts, code=CALIFORNIA) == expected


@pytest.mark.parametrize(
    ("requirement", "food", "value", "hold", "expected"),
    [
        # 114004: 145 °F, 155 °F and 165 °F, each for 15 s; or 145/3 min, 150/1 min, 158 at once.
        ("cook-intact", STEAK, 145.0, 15.0, "met"),
        ("cook-intact", STEAK, 145.0, 14.0, "not_met"),
        ("cook-intact", STEAK, 144.9, 60.0, "not_met"),
        ("cook-tenderised", INJECTED, 155.0, 15.0, "met"),
        ("cook-tenderised", INJECTED, 155.0, 14.0, "not_met"),
        ("cook-tenderised", INJECTED, 145.0, 180.0, "met"),
        ("cook-tenderised", INJECTED, 145.0, 179.0, "not_met"),
        ("cook-tenderised", INJECTED, 150.0, 60.0, "met"),
        ("cook-tenderised", INJECTED, 150.0, 59.0, "not_met"),
        ("cook-tenderised", INJECTED, 158.0, 0.0, "met"),
        ("cook-tenderised", INJECTED, 157.9, 0.0, "not_met"),
        ("cook-poultry-stuffed", TURKEY, 165.0, 15.0, "met"),
        ("cook-poultry-stuffed", TURKEY, 165.0, 14.0, "not_met"),
        # Of the table for roasts no figure was kept: below 165 °F for 15 s it is asked for.
        ("cook-roast", BEEF, 165.0, 15.0, "met"),
        ("cook-roast", BEEF, 150.0, 60.0, "not_shown"),
    ],
)
def test_t17_cooking_in_california(
    requirement: str, food: Food, value: float, hold: float, expected: str
) -> None:
    readings = held(value, hold)
    assert answer(requirement, "cook", readings, food=food, code=CALIFORNIA) == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 41.0), (1, 100.0), (2, 165.0), ("2:00:15", 165.0)], "met"),
        (
            [(0, 41.0), (1, 100.0), ("2:00:59", 164.9), ("2:01", 165.0), ("2:01:15", 165.0)],
            "not_met",
        ),
    ],
)
def test_reheating_in_california(readings: Readings, expected: str) -> None:
    """114016: 165 °F for 15 s, from 41 °F within 2 h."""
    assert answer("reheat-in-2h", "reheat", readings, code=CALIFORNIA) == expected
    assert answer("reheat-165", "reheat", readings, code=CALIFORNIA) == "met"


@pytest.mark.parametrize(("value", "expected"), [(135.0, "met"), (134.9, "not_met")])
def test_sealed_food_in_california(value: float, expected: str) -> None:
    """114016: commercial ready-to-eat food, 135 °F."""
    facts = {"origin": "commercial_sealed"}
    readings: Readings = [(0, 41.0), (1, value)]
    got = answer("reheat-commercial-135", "reheat", readings, facts=facts, code=CALIFORNIA)
    assert got == expected


@pytest.mark.parametrize(
    ("read", "expected"), [(34.0, "met"), (34.1, "not_met"), (30.0, "met"), (29.9, "not_met")]
)
def test_thermometer_in_california(read: float, expected: str) -> None:
    """114159: true to ±2 °F."""
    check = ProbeCheck(ZERO, "ice", read, 32.0, Unit.F, "ice")
    probe = Probe("a", scale="F", reads="food", checks=(check,))
    log = staged([channel([(0, 140.0)], probe="a")], [note(0, "hot_hold")], probes=[probe])
    assert found(judge(log, code=CALIFORNIA), "thermometer-food").verdict.value == expected
