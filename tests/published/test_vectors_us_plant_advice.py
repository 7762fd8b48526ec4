"""Worked examples of federal consumer advice and of the sheets on thermometers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.model.vocabulary import Cut, Form, Place, Species
from tempwitness.rulebook.load import load_code
from tempwitness.units import Unit
from tests.published.traces import answer, held, judged
from tests.support import ZERO, channel, found, judge, lamb, note, staged

if TYPE_CHECKING:
    from tempwitness.model.lot import Food

ADVICE = load_code("us/consumer-advice")
CHECKS = load_code("us/thermometer-checks")
CHICKEN = lamb(Species.CHICKEN, cut=Cut.WHOLE_BIRD)
BURGER = lamb(Species.BEEF, forms=(Form.GROUND,))
HAM = lamb(Species.PORK)


@pytest.mark.parametrize(
    ("requirement", "food", "value", "seconds", "expected"),
    [
        ("advice-whole-cuts", lamb(), 145.0, 0.0, "met"),
        ("advice-whole-cuts", lamb(), 144.9, 0.0, "not_met"),
        ("advice-whole-cuts-rest", lamb(), 145.0, 180.0, "met"),
        ("advice-ground-meat", BURGER, 160.0, 0.0, "met"),
        ("advice-ground-meat", BURGER, 159.9, 0.0, "not_met"),
        ("advice-poultry", CHICKEN, 165.0, 0.0, "met"),
        ("advice-poultry", CHICKEN, 164.9, 600.0, "not_met"),
    ],
)
def test_doneness(
    requirement: str, food: Food, value: float, seconds: float, expected: str
) -> None:
    """Safe minimum temperatures: 145 °F and 3 min of rest, 160 °F ground, 165 °F poultry."""
    got = answer(requirement, "cook", held(value, seconds), food=food, code=ADVICE)
    assert got == expected


@pytest.mark.parametrize(
    ("rested", "expected"), [("yes", "met"), ("", "not_applicable"), ("no", "not_shown")]
)
def test_three_minutes_of_rest_may_be_said(rested: str, expected: str) -> None:
    """Safe minimum temperatures: the rest is a time, not a temperature to be read."""
    facts = {"rested_long_enough": rested} if rested else None
    readings = held(145.0, 60.0)
    assert answer("advice-whole-cuts-rest", "cook", readings, facts=facts, code=ADVICE) == expected


@pytest.mark.parametrize(
    ("ham", "value", "expected"),
    [
        ("cooked_in_plant", 140.0, ("met", "not_applicable")),
        ("cooked_in_plant", 139.9, ("not_met", "not_applicable")),
        ("cooked_elsewhere", 164.9, ("not_applicable", "not_met")),
        ("cooked_elsewhere", 165.0, ("not_applicable", "met")),
    ],
)
def test_cooked_ham(ham: str, value: float, expected: tuple[str, str]) -> None:
    """From memory: 140 °F for ham from an inspected plant, 165 °F for other cooked ham."""
    got = judged("reheat", held(value, 0.0), food=HAM, facts={"ham": ham}, code=ADVICE)
    assert tuple(found(got, r).verdict for r in ("advice-reheat-ham", "advice-reheat")) == expected


@pytest.mark.parametrize(
    ("method", "expected"),
    [("slow_cooker", "not_met"), ("oven", "not_applicable"), ("", "not_applicable")],
)
def test_no_reheating_in_a_slow_cooker(method: str, expected: str) -> None:
    """Advice on slow cookers: they hold hot food and do not reheat cold food."""
    readings = held(165.0, 60.0)
    got = answer("advice-slow-cooker", "reheat", readings, method=method, code=ADVICE)
    assert got == expected


@pytest.mark.parametrize(
    ("hot_day", "hours", "expected"),
    [
        ("no", 2.0, ("met", "not_applicable")),
        ("no", 2.02, ("not_met", "not_applicable")),
        ("yes", 1.0, ("met", "met")),
        ("yes", 1.02, ("met", "not_met")),
    ],
)
def test_two_hours_and_one_on_a_hot_day(
    hot_day: str, hours: float, expected: tuple[str, str]
) -> None:
    """Two-hour rule: 2 h between 40 and 140 °F, 1 h where the air is above 90 °F."""
    readings = [(0, 100.0), (0.5, 100.0), (hours, 100.0)]
    got = judged("serve", readings, facts={"air_above_90f": hot_day}, code=ADVICE)
    both = ("advice-out-2h", "advice-out-1h-hot-day")
    assert tuple(found(got, r).verdict for r in both) == expected


@pytest.mark.parametrize(
    ("air", "expected"),
    [
        (225.0, ("met", "met")),
        (224.9, ("not_met", "met")),
        (300.0, ("met", "met")),
        (300.1, ("met", "not_met")),
    ],
)
def test_air_of_the_smoker(air: float, expected: tuple[str, str]) -> None:
    """Smoking meat and poultry, from memory: 225 to 300 °F; accounts of it differ."""
    readings = [(h, air) for h in range(4)]
    got = judged("cook", readings, place=Place.AIR, code=ADVICE)
    both = ("advice-smoker-air", "advice-smoker-air-most")
    assert tuple(found(got, r).verdict for r in both) == expected


@pytest.mark.parametrize(("air", "expected"), [(0.0, "met"), (0.1, "not_met")])
def test_air_of_the_freezer(air: float, expected: str) -> None:
    """Cold storage, from memory: 0 °F."""
    readings = [(0, air), (1, air)]
    assert answer("advice-freezer", "freeze", readings, place=Place.AIR, code=ADVICE) == expected


@pytest.mark.parametrize(
    ("facts", "requirement", "expected"),
    [
        ({"started": "frozen"}, "advice-thaw-first", "not_shown"),
        ({"started": "thawed"}, "advice-thaw-first", "not_applicable"),
        ({"process": "non_continuous"}, "advice-no-pause", "not_shown"),
        ({"process": "continuous"}, "advice-no-pause", "not_applicable"),
        ({"two_thermometers": "yes"}, "advice-two-thermometers", "met"),
        ({"two_thermometers": "no"}, "advice-two-thermometers", "not_met"),
    ],
)
def test_habits_of_smoking(facts: dict[str, str], requirement: str, expected: str) -> None:
    """Smoking meat and poultry: thawed through, in one go, two thermometers."""
    assert answer(requirement, "cook", held(165.0, 0.0), facts=facts, code=ADVICE) == expected


@pytest.mark.parametrize(
    ("read", "due", "unit", "expected"),
    [
        (34.0, 32.0, Unit.F, "met"),
        (34.1, 32.0, Unit.F, "not_met"),
        (29.9, 32.0, Unit.F, "not_met"),
        (1.0, 0.0, Unit.C, "met"),
        (1.1, 0.0, Unit.C, "not_met"),
    ],
)
def test_tolerance_of_a_probe(read: float, due: float, unit: Unit, expected: str) -> None:
    """Sheets on the ice-point check: 2 °F, or 1 °C."""
    check = ProbeCheck(ZERO, "ice", read, due, unit, "ice")
    probe = Probe("a", scale="F" if unit is Unit.F else "C", checks=(check,))
    log = staged([channel([(0, 140.0)], probe="a")], [note(0, "hot_hold")], probes=[probe])
    assert found(judge(log, code=CHECKS), "probe-tolerance").verdict == expected


@pytest.mark.parametrize(
    ("question", "requirement"),
    [
        ("ice_check_way", "ice-point-way"),
        ("probe_checked_when_due", "checked-when-due"),
        ("probe_checked_monthly", "checked-monthly"),
        ("probe_replaced_or_agreed", "not-adjustable"),
        ("probe_checked_near_use", "checked-near-use"),
    ],
)
def test_what_is_said_of_checks(question: str, requirement: str) -> None:
    """Sheets on thermometers and a plant's model plan: what is not said is asked for elsewhere."""
    readings = [(0, 150.0), (1, 150.0)]
    for said, expected in (("yes", "met"), ("no", "not_met"), ("unknown", "not_applicable")):
        got = judged("hot_hold", readings, facts={question: said}, code=CHECKS)
        assert found(got, requirement).verdict == expected
