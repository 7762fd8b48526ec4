"""Worked examples of New York State, its retail stores and New York City.

Each table names the section that its expected side follows from.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Cut, Form, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, held
from tests.support import (
    FOOD_CODE,
    Readings,
    channel,
    found,
    judge,
    lamb,
    note,
    staged,
)

if TYPE_CHECKING:
    from tempwitness.model.lot import Food

NEW_YORK = load_code("us/ny/14-1")
STORES = load_code("us/ny/271-2")
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
