"""Worked examples of New York State, its retail stores and New York City.

Each table names the section that its expected side follows from.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import pytest

from tempwitness.model.lot import TimeControlPlan
from tempwitness.model.vocabulary import Answer, Cut, Form, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, held
from tests.support import (
    FOOD_CODE,
    ZERO,
    Readings,
    channel,
    found,
    judge,
    lamb,
    note,
    prepared_on,
    staged,
)

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.lot import Food

NEW_YORK = load_code("us/ny/14-1")
STORES = load_code("us/ny/271-2")
CITY = load_code("us/ny/nyc/81")
EVENT = "temporary_event"

BEEF = lamb(Species.BEEF)
PORK = lamb(Species.PORK)
GROUND = lamb(Species.PORK, forms=(Form.GROUND,), cut=Cut.PAN)
INJECTED = lamb(Species.PORK, forms=(Form.INJECTED,))
STUFFED = lamb(Species.PORK, forms=(Form.STUFFED,))
TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
EGGS = lamb(Species.EGG, cut=Cut.PAN)


def steady(value: float, hours: float = 2.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # 14-1.40(b): 120 to 70 °F in 2 h, 45 °F within 4 additional hours; 6 h in all as well.
        pytest.param(
            [(0, 160.0), ("1:10", 120.0), ("3:10", 70.0), ("7:10", 45.0)],
            ("met", "met", "met"),
            id="V-21",
        ),
        pytest.param(
            [(0, 160.0), ("1:10", 120.0), ("3:10:59", 70.1), ("3:11", 70.0), ("7:10", 45.0)],
            ("not_met", "met", "met"),
            id="14-1.40(b)-first",
        ),
        # What is saved before 70 °F does not lengthen the second clock.
        pytest.param(
            [(0, 120.0), ("1:00", 70.0), ("5:00:59", 45.1), ("5:01", 45.0)],
            ("met", "not_met", "met"),
            id="14-1.40(b)-then",
        ),
        pytest.param(
            [(0, 120.0), ("2:00", 70.0), ("6:00:59", 45.1), ("6:01", 45.0)],
            ("met", "not_met", "not_met"),
            id="14-1.40(b)-in-all",
        ),
    ],
)
def test_t03_clocks_of_new_york(readings: Readings, expected: tuple[str, str, str]) -> None:
    clocks = ("cool-120-to-70", "cool-70-to-45", "cool-120-to-45")
    assert tuple(answer(r, "cool", readings, code=NEW_YORK) for r in clocks) == expected


def test_new_york_starts_later_than_the_food_code() -> None:
    """V-22: 135 °F at 0:40 and 70 °F at 3:10 are 2 h 30 min for the Food Code."""
    readings: Readings = [
        (0, 160.0),
        ("0:40", 135.0),
        ("1:10", 120.0),
        ("3:09:59", 70.1),
        ("3:10", 70.0),
        ("7:10", 45.0),
    ]
    assert answer("cool-120-to-70", "cool", readings, code=NEW_YORK) == "met"
    food_code = load_code(FOOD_CODE)
    assert answer("cool-135-to-70", "cool", readings, code=food_code) == "not_met"


@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        # 14-1.40(a): 140 °F or above, 45 °F or below.
        pytest.param("hot_hold", "hot-hold", 139.9, "not_met", id="V-30-hot"),
        pytest.param("hot_hold", "hot-hold", 140.0, "met", id="14-1.40(a)-hot"),
        pytest.param("cold_hold", "cold-hold", 45.0, "met", id="V-30-cold"),
        pytest.param("cold_hold", "cold-hold", 45.1, "not_met", id="14-1.40(a)-cold"),
        pytest.param("transport", "carry-hot-or-cold", 100.0, "not_met", id="14-1.40(a)-carried"),
    ],
)
def test_holding_in_new_york(stage: str, requirement: str, value: float, expected: str) -> None:
    assert answer(requirement, stage, steady(value), code=NEW_YORK) == expected


@pytest.mark.parametrize(
    ("celsius", "requirement", "stage", "expected"),
    [
        (60.0, "hot-hold", "hot_hold", "met"),
        (59.9, "hot-hold", "hot_hold", "not_met"),
        (7.2, "cold-hold", "cold_hold", "met"),
        (7.3, "cold-hold", "cold_hold", "not_met"),
    ],
)
def test_t01_new_york_prints_decimals(
    celsius: float, requirement: str, stage: str, expected: str
) -> None:
    """14-1.40(a) prints 60 °C and 7.2 °C; a reading in °C is compared with those."""
    got = answer(requirement, stage, steady(celsius), celsius=True, code=NEW_YORK)
    assert got == expected


@pytest.mark.parametrize(
    ("hours", "expected"), [(1.0, "met"), (2.0, "met"), (2.01, "not_met"), (3.0, "not_met")]
)
def test_two_hours_while_held_for_service(hours: float, expected: str) -> None:
    """14-1.40(a): up to 2 h while food is held for service."""
    readings = steady(100.0, hours)
    assert answer("serve-hot-or-cold", "serve", readings, code=NEW_YORK) == expected


def test_no_two_hours_at_temporary_service() -> None:
    """14-2.3, 14-2.4: between 45 and 140 °F, beyond preparation, it is treated as contaminated."""
    for value, expected in ((45.0, "met"), (100.0, "not_met"), (140.0, "met")):
        readings = steady(value, 1.0)
        got = answer("temporary-never-between", "serve", readings, business=EVENT, code=NEW_YORK)
        assert got == expected
    restaurant = answer(
        "temporary-never-between",
        "serve",
        steady(100.0, 1.0),
        business="restaurant",
        code=NEW_YORK,
    )
    assert restaurant == "not_applicable"


@pytest.mark.parametrize(("hours", "expected"), [(2.0, "met"), (2.01, "not_shown")])
def test_long_preparation_is_asked_about(hours: float, expected: str) -> None:
    """14-1.40(a) excepts necessary preparation and names no time for it."""
    readings = steady(100.0, hours)
    assert answer("prep-necessary", "prep", readings, code=NEW_YORK) == expected


@pytest.mark.parametrize(
    ("requirement", "food", "value", "expected"),
    [
        # 14-1.82: one temperature each, no time at it.
        ("cook-general", lamb(), 140.0, "met"),
        ("cook-general", lamb(), 139.9, "not_met"),
        ("cook-pork", PORK, 150.0, "met"),
        ("cook-pork", PORK, 149.9, "not_met"),
        ("cook-ground", GROUND, 158.0, "met"),
        ("cook-ground", GROUND, 157.9, "not_met"),
        ("cook-egg", EGGS, 145.0, "met"),
        ("cook-egg", EGGS, 144.9, "not_met"),
        ("cook-poultry-stuffed", TURKEY, 165.0, "met"),
        ("cook-poultry-stuffed", TURKEY, 164.9, "not_met"),
        ("cook-stuffed", STUFFED, 165.0, "met"),
        ("cook-stuffed", STUFFED, 164.9, "not_met"),
    ],
)
def test_cooking_in_new_york(requirement: str, food: Food, value: float, expected: str) -> None:
    assert answer(requirement, "cook", held(value, 0.0), food=food, code=NEW_YORK) == expected


@pytest.mark.parametrize(("celsius", "expected"), [(69.4, "met"), (69.3, "not_met")])
def test_t01_ground_meat_at_the_printed_celsius(celsius: float, expected: str) -> None:
    """14-1.82 prints 69.4 °C beside 158 °F, which is 70.0 °C."""
    readings = held(celsius, 0.0)
    got = answer("cook-ground", "cook", readings, food=GROUND, celsius=True, code=NEW_YORK)
    assert got == expected


@pytest.mark.parametrize(
    ("value", "doneness", "expected"),
    [
        (130.0, "rare", "met"),
        (129.9, "rare", "not_met"),
        (130.0, "medium", "not_met"),
        (130.0, "unknown", "not_shown"),
    ],
)
def test_rare_roast_beef_in_new_york(value: float, doneness: str, expected: str) -> None:
    """14-1.82: rare roast beef at 130 °F."""
    facts = {"doneness": doneness}
    readings = held(value, 0.0)
    got = answer("cook-general", "cook", readings, food=BEEF, facts=facts, code=NEW_YORK)
    assert got == expected


def test_poultry_is_cooked_without_interruption() -> None:
    """14-1.82: a fire that went out, and a second cook, are asked about."""
    core = channel([(0, 40.0), (2, 150.0), (3, 120.0), (5, 165.0)])
    steps = [
        note(0, "cook"),
        note(2, event="heat_lost"),
        note(3, event="heat_back"),
        note(5, event="finished"),
    ]
    evaluation = judge(staged([core], steps, food=TURKEY), code=NEW_YORK)
    assert found(evaluation, "cook-poultry-heat-lost").verdict.value == "not_shown"
    assert found(evaluation, "cook-poultry-once").verdict.value == "met"
    steps = [note(0, "cook"), note(2, "prep"), note(3, "cook"), note(5, event="finished")]
    evaluation = judge(staged([core], steps, food=TURKEY), code=NEW_YORK)
    last = [f for f in evaluation.findings if f.requirement.endswith("#cook-poultry-once")][-1]
    assert last.verdict.value == "not_shown"


@pytest.mark.parametrize(
    ("readings", "reached", "in_time"),
    [
        ([(0, 45.0), ("1:59:59", 164.9), (2, 165.0)], "met", "met"),
        ([(0, 45.0), (1, 100.0), ("2:00:59", 164.9), ("2:01", 165.0)], "met", "not_met"),
        ([(0, 45.0), (1, 100.0), (2, 164.9)], "not_met", "not_met"),
    ],
)
def test_reheating_in_new_york(readings: Readings, reached: str, in_time: str) -> None:
    """14-1.83: 165 °F within 2 h."""
    assert answer("reheat-165", "reheat", readings, code=NEW_YORK) == reached
    assert answer("reheat-in-2h", "reheat", readings, code=NEW_YORK) == in_time


@pytest.mark.parametrize(
    ("readings", "reached", "in_time"),
    [
        ([(0, 45.0), ("1:59:59", 139.9), (2, 140.0)], "met", "met"),
        ([(0, 45.0), (1, 100.0), ("2:00:59", 139.9), ("2:01", 140.0)], "met", "not_met"),
        ([(0, 45.0), (1, 100.0), (2, 139.9)], "not_met", "not_met"),
    ],
)
def test_sealed_food_in_new_york(readings: Readings, reached: str, in_time: str) -> None:
    """14-1.83: commercially sealed food, 140 °F within 2 h."""
    facts = {"origin": "commercial_sealed"}
    got = answer("reheat-commercial-140", "reheat", readings, facts=facts, code=NEW_YORK)
    assert got == reached
    got = answer("reheat-commercial-in-2h", "reheat", readings, facts=facts, code=NEW_YORK)
    assert got == in_time


@pytest.mark.parametrize(("value", "expected"), [(140.1, "met"), (140.0, "not_met")])
def test_reheated_food_is_held_above_140(value: float, expected: str) -> None:
    """14-1.83: after the reheat above 140 °F, where 14-1.40(a) has 140 °F or above."""
    core = channel([(0, 45.0), (1, 166.0), ("1:10", value), (3, value)])
    steps = [note(0, "reheat"), note("1:10", "hot_hold"), note(3, event="finished")]
    evaluation = judge(staged([core], steps), code=NEW_YORK)
    assert found(evaluation, "hot-hold-reheated").verdict.value == expected
    assert found(evaluation, "hot-hold").verdict.value == "met"


@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        # 1 NYCRR 271-2: 135 °F hot; 45 °F cold, or 41 °F for some food.
        ("hot_hold", "hot-hold", 135.0, "met"),
        ("hot_hold", "hot-hold", 134.9, "not_met"),
        ("cold_hold", "cold-hold", 45.0, "met"),
        ("cold_hold", "cold-hold", 45.1, "not_met"),
        ("cold_hold", "cold-hold-41", 41.0, "met"),
        ("cold_hold", "cold-hold-41", 41.1, "not_shown"),
        ("serve", "band-hold", 134.9, "not_met"),
    ],
)
def test_t45_stores_keep_other_figures(
    stage: str, requirement: str, value: float, expected: str
) -> None:
    """In one state the Department of Health has restaurants and another one the stores."""
    assert answer(requirement, stage, steady(value), code=STORES) == expected


@pytest.mark.parametrize(
    ("requirement", "food", "value", "expected"),
    [
        # 1 NYCRR 271-2: 145, 155 and 165 °F.
        ("cook-intact", PORK, 145.0, "met"),
        ("cook-intact", PORK, 144.9, "not_met"),
        ("cook-tenderised", INJECTED, 155.0, "met"),
        ("cook-tenderised", INJECTED, 154.9, "not_met"),
        ("cook-poultry-stuffed", TURKEY, 165.0, "met"),
        ("cook-poultry-stuffed", TURKEY, 164.9, "not_met"),
    ],
)
def test_cooking_in_stores(requirement: str, food: Food, value: float, expected: str) -> None:
    assert answer(requirement, "cook", held(value, 0.0), food=food, code=STORES) == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 45.0), ("1:59:59", 164.9), (2, 165.0), ("2:00:15", 165.0)], "met"),
        (
            [(0, 45.0), (1, 100.0), ("2:00:59", 164.9), ("2:01", 165.0), ("2:01:15", 165.0)],
            "not_met",
        ),
    ],
)
def test_reheating_in_stores(readings: Readings, expected: str) -> None:
    """1 NYCRR 271-2: 165 °F for 15 s in 2 h; how it is cooled was not read."""
    assert answer("reheat-in-2h", "reheat", readings, code=STORES) == expected
    assert answer("cool-limit", "cool", [(0, 135.0), (2, 70.0)], code=STORES) == "needs_limit"


@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        # Article 81: 140 °F hot, 41 °F cold.
        ("hot_hold", "hot-hold", 140.0, "met"),
        ("hot_hold", "hot-hold", 139.9, "not_met"),
        ("cold_hold", "cold-hold", 41.0, "met"),
        ("cold_hold", "cold-hold", 41.1, "not_met"),
        ("serve", "band-hold", 139.9, "not_met"),
        ("serve", "band-hold", 140.0, "met"),
    ],
)
def test_holding_in_the_city(stage: str, requirement: str, value: float, expected: str) -> None:
    assert answer(requirement, stage, steady(value), code=CITY) == expected


@pytest.mark.parametrize(
    ("readings", "first", "then"),
    [
        # 81.09: 140 to 70 °F in 2 h, then 70 to 41 °F in 4 h.
        pytest.param(
            [(0, 135.0), ("0:30", 70.0), (3, 50.0), ("5:58:59", 41.1), ("5:59", 41.0)],
            "not_shown",  # when 140 °F was passed is not on record
            "not_met",
            id="V-19-city",
        ),
        ([(0, 140.0), (2, 70.0), (6, 41.0)], "met", "met"),
        ([(0, 140.0), ("2:00:59", 70.1), ("2:01", 70.0), (6, 41.0)], "not_met", "met"),
    ],
)
def test_t02_clocks_of_the_city_start_at_140(readings: Readings, first: str, then: str) -> None:
    assert answer("cool-140-to-70", "cool", readings, code=CITY) == first
    assert answer("cool-70-to-41", "cool", readings, code=CITY) == then


def under_time(option: Literal["4h", "6h"], readings: Readings, end: str, stage: str) -> Evaluation:
    plan = TimeControlPlan(ZERO, option, prepared_on("2026-07-01"), Answer.YES)
    steps = [note(0, stage), note(end, event="finished")]
    return judge(staged([channel(readings)], steps, time_control=[plan]), code=CITY)


@pytest.mark.parametrize(
    ("option", "value", "expected"),
    [
        # Title 24: hot food starts at 140 °F and gets 4 h, cold food at 41 °F and gets 6 h.
        ("4h", 140.0, "met"),
        ("4h", 139.9, "not_met"),
        ("6h", 41.0, "met"),
        ("6h", 41.1, "not_met"),
        ("6h", 140.0, "not_met"),
    ],
)
def test_start_of_a_time_control_in_the_city(
    option: Literal["4h", "6h"], value: float, expected: str
) -> None:
    evaluation = under_time(option, [(0, value)], "0:30", "serve")
    assert found(evaluation, f"tphc-start-{option}").verdict.value == expected


@pytest.mark.parametrize(
    ("option", "readings", "end", "expected"),
    [
        ("4h", [(0, 140.0), (3, 90.0)], "4:00", "met"),
        ("4h", [(0, 140.0), (3, 90.0)], "4:00:01", "not_met"),
        ("6h", [(0, 41.0), (2, 60.0), (4, 69.9), (6, 72.0)], "6:00", "met"),
        ("6h", [(0, 41.0), (2, 60.0), (4, 70.0), (5, 72.0)], "5:00", "not_met"),
        ("6h", [(0, 41.0), (2, 60.0), (4, 69.9), (6, 72.0)], "6:00:01", "not_met"),
    ],
)
def test_t23_the_city_looks_at_the_four_hour_mark(
    option: Literal["4h", "6h"], readings: Readings, end: str, expected: str
) -> None:
    """Title 24: at 4 h the food must not have reached 70 °F; after that it may."""
    evaluation = under_time(option, readings, end, "serve")
    assert found(evaluation, f"tphc-end-{option}").verdict.value == expected


def test_no_return_to_temperature_control_in_the_city() -> None:
    """Title 24: food is not put back to be kept longer."""
    plan = TimeControlPlan(ZERO, "6h", prepared_on("2026-07-01"), Answer.YES)
    steps = [note(0, "serve"), note(2, "cold_hold"), note(9, event="finished")]
    core = channel([(0, 41.0), (1, 50.0), (2, 55.0), ("2:10", 40.0), (9, 40.0)])
    evaluation = judge(staged([core], steps, time_control=[plan]), code=CITY)
    assert found(evaluation, "tphc-end-6h").verdict.value == "not_met"


def test_what_was_not_read_of_the_city_is_asked_for() -> None:
    """No cooking or reheating temperature of Article 81 was read: none is made up."""
    assert answer("cook-limit", "cook", held(165.0, 15.0), code=CITY) == "needs_limit"
    assert answer("reheat-limit", "reheat", [(0, 41.0), (1, 165.0)], code=CITY) == "needs_limit"
