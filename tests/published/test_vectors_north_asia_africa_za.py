"""Worked examples of South Africa: R.638 of 2018, Annexure E and regulation 8(4)."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Cut, Place, Species
from tempwitness.rulebook.load import load_code
from tests.support import Readings, channel, found, judge, lamb, note, staged

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.lot import Food

CODE = load_code("za/r638/2018")
NOT_IN_4H = {"sold_within_4h": "no"}
CHICKEN = lamb(Species.CHICKEN, cut=Cut.BIRD_PART)
FISH = lamb(Species.FISH, cut=Cut.STEAK)


def steady(value: float, hours: float = 2.0) -> Readings:
    gaps = max(2, int(hours) + 1)
    return [(hours * i / gaps, value) for i in range(gaps + 1)]


def kept(
    stage: str,
    core: float | None,
    *,
    surface: float | None = None,
    hours: float = 2.0,
    food: Food | None = None,
    facts: dict[str, str] | None = None,
) -> Evaluation:
    """Food that stood at one temperature in its core, on its surface or both."""
    channels = []
    if core is not None:
        channels.append(channel(steady(core, hours), celsius=True))
    if surface is not None:
        channels.append(channel(steady(surface, hours), place=Place.SURFACE, celsius=True))
    log = staged(channels, [note(0, stage), note(hours, event="finished")], food=food, facts=facts)
    return judge(log, code=CODE)


def verdict(evaluation: Evaluation, requirement: str) -> str:
    return found(evaluation, requirement).verdict.value


@pytest.mark.parametrize(
    ("requirement", "stage", "edge", "worse", "food"),
    [
        # Heated perishable food 60 °C, chilled 5 °C, raw fish and poultry 4 °C.
        ("hot-hold", "hot_hold", 60.0, 59.9, None),
        ("cold-hold", "cold_hold", 5.0, 5.1, None),
        ("cold-hold", "receive", 5.0, 5.1, None),
        ("cold-raw", "cold_hold", 4.0, 4.1, CHICKEN),
        ("cold-raw", "receive", 4.0, 4.1, FISH),
        ("serve-and-carry", "serve", 60.0, 59.9, None),
        ("serve-and-carry", "transport", 5.0, 5.1, None),
    ],
)
def test_core_temperatures_of_annexure_e(
    requirement: str, stage: str, edge: float, worse: float, food: Food | None
) -> None:
    better = edge + (edge - worse)
    verdicts = [
        verdict(kept(stage, v, food=food, facts=NOT_IN_4H), requirement)
        for v in (worse, edge, better)
    ]
    assert verdicts == ["not_met", "met", "met"]


@pytest.mark.parametrize(
    ("food", "facts", "requirement", "expected"),
    [
        (None, {}, "cold-raw", "not_applicable"),
        (None, {"raw_offal": "yes"}, "cold-offal", "not_met"),
        (None, {}, "cold-offal", "not_applicable"),
        (CHICKEN, {}, "cold-raw", "not_met"),
    ],
)
def test_the_class_of_4_degrees(
    food: Food | None, facts: dict[str, str], requirement: str, expected: str
) -> None:
    """Annexure E: raw fish, offal and poultry; a leg of lamb at 4.5 °C has 5 °C."""
    assert verdict(kept("cold_hold", 4.5, food=food, facts=facts), requirement) == expected


@pytest.mark.parametrize(
    ("value", "facts", "expected"),
    [
        (-18.0, {}, "met"),
        (-17.9, {}, "not_shown"),
        (-17.9, {"frozen_class": "minus_18"}, "not_shown"),
        (-12.0, {"frozen_class": "minus_12"}, "met"),
        (-11.9, {"frozen_class": "minus_12"}, "not_shown"),
        (-11.9, {}, "not_shown"),
    ],
)
def test_frozen_food_has_two_classes(value: float, facts: dict[str, str], expected: str) -> None:
    """Annexure E; food that was never read so cold may still be on its way there."""
    assert verdict(kept("freeze", value, facts=facts), "frozen") == expected


@pytest.mark.parametrize(
    ("requirement", "stage", "core", "edge", "worse", "food"),
    [
        # 2 °C beyond 60, 5 and 4 °C are 58, 7 and 6 °C.
        ("surface-hot", "hot_hold", 65.0, 58.0, 57.9, None),
        ("surface-cold", "cold_hold", 3.0, 7.0, 7.1, None),
        ("surface-raw", "cold_hold", 3.0, 6.0, 6.1, CHICKEN),
        ("surface-band", "serve", 65.0, 58.0, 57.9, None),
        ("surface-band", "transport", 3.0, 7.0, 7.1, None),
    ],
)
def test_the_surface_may_be_2_degrees_beyond(
    requirement: str, stage: str, core: float, edge: float, worse: float, food: Food | None
) -> None:
    """Reg. 8(4)(a)(ii): not saleable if the surface is more than 2 °C beyond."""
    better = edge + (edge - worse)
    verdicts = [
        verdict(kept(stage, core, surface=v, food=food, facts=NOT_IN_4H), requirement)
        for v in (worse, edge, better)
    ]
    assert verdicts == ["not_met", "met", "met"]


def served(
    hours: float, *, facts: dict[str, str], rested: float = 0.0, value: float = 40.0
) -> Evaluation:
    """Cooked food, rested at 62 °C and then served at a value, for exactly so long."""
    readings: Readings = [(-1, 80.0), *((rested * i / 2, 62.0) for i in range(3) if rested)]
    table = [(rested + t, v) for t, v in ((float(t), v) for t, v in steady(value, hours))]
    steps = [note(-3, "cook"), note(0, "rest")] if rested else [note(-3, "cook")]
    second = 1 / 3600
    table[0] = (table[0][0] + second, table[0][1])
    steps += [note(rested, "serve"), note(rested + hours, event="finished")]
    return judge(
        staged([channel([*readings, *table], celsius=True)], steps, facts=facts), code=CODE
    )


@pytest.mark.parametrize(
    ("hours", "said", "expected"),
    [
        (3.9, "yes", "met"),
        (4.0, "yes", "met"),
        (4.01, "yes", "not_met"),
        (3.9, "no", "not_met"),
        (3.9, "unknown", "not_shown"),
        (4.01, "unknown", "not_met"),
    ],
)
def test_sold_or_eaten_within_4h(hours: float, said: str, expected: str) -> None:
    """Reg. 8(4)(a)(i): food sold or eaten within 4 h of being prepared is let off."""
    evaluation = served(hours, facts={"sold_within_4h": said})
    assert verdict(evaluation, "serve-and-carry") == expected


@pytest.mark.parametrize(
    ("rested", "hours", "expected"),
    [(1.0, 3.0, "met"), (1.0, 3.01, "not_met"), (2.0, 2.5, "not_met")],
)
def test_what_is_said_to_be_sold_in_4h_was(rested: float, hours: float, expected: str) -> None:
    """Reg. 8(4)(a)(i): resting and serving are one time since it was prepared."""
    evaluation = served(hours, facts={"sold_within_4h": "yes"}, rested=rested)
    assert verdict(evaluation, "sold-in-4h") == expected


def test_what_went_before_the_cook_is_not_counted() -> None:
    """Reg. 8(4)(a)(i): the 4 h run from when it was prepared, not from when it was trimmed."""
    steps = [note(-5, "prep"), note(-3, "cook"), note(0, "serve"), note(4, event="finished")]
    readings: Readings = [(-5, 4.0), (-1, 80.0), (0, 40.0), (2, 40.0), (4, 40.0)]
    log = staged([channel(readings, celsius=True)], steps, facts={"sold_within_4h": "yes"})
    assert verdict(judge(log, code=CODE), "sold-in-4h") == "met"


def test_cooling_is_not_counted() -> None:
    """Reg. 8(4)(b)(i): time to cool by good practice is left out of the 4 h."""
    readings: Readings = [(-1, 80.0), (0, 80.0), (3, 5.0), (3.5, 20.0), (6, 20.0)]
    steps = [note(-3, "cook"), note(0, "cool"), note(3, "serve"), note(6, event="finished")]
    log = staged([channel(readings, celsius=True)], steps, facts={"sold_within_4h": "yes"})
    evaluation = judge(log, code=CODE)
    assert verdict(evaluation, "sold-in-4h") == "met"
    assert verdict(evaluation, "serve-and-carry") == "met"


@pytest.mark.parametrize(("value", "expected"), [(7.0, "met"), (7.1, "not_shown")])
def test_the_older_text_asks_which_foods_it_meant(value: float, expected: str) -> None:
    """R.918 Annexure D had 7 °C for some chilled foods."""
    log = staged(
        [channel(steady(value), celsius=True)], [note(0, "cold_hold"), note(2, event="finished")]
    )
    evaluation = judge(log, code=load_code("za/r918/1999"))
    assert verdict(evaluation, "cold-hold") == expected


@pytest.mark.parametrize(("stage", "expected"), [("rest", "not_met"), ("prep", "not_met")])
def test_cooked_food_is_handled_hot_or_cold(stage: str, expected: str) -> None:
    """Annexure E holds from the cook on; raw meat on the board has no row of its own."""
    readings: Readings = [(-1, 80.0), (0, 62.0), (1, 59.9), (2, 59.9)]
    steps = [note(-3, "cook"), note(0, stage), note(2, event="finished")]
    log = staged([channel(readings, celsius=True)], steps, facts=NOT_IN_4H)
    assert verdict(judge(log, code=CODE), "handle-cooked") == expected
    hot = [(t, 60.0) for t, _ in readings]
    log = staged([channel(hot, celsius=True)], steps, facts=NOT_IN_4H)
    assert verdict(judge(log, code=CODE), "handle-cooked") == "met"
