"""Plans of coolings and reheatings against what kitchens measured and handbooks say."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tempwitness.errors import EvaluationError
from tempwitness.model.vocabulary import Species
from tempwitness.planning import (
    CoolAsked,
    Outlook,
    ReheatAsked,
    cooling_legs,
    hot_limit,
    plan_cool,
    plan_reheat,
    reheat_target,
)
from tempwitness.planning.values import around as band_around
from tempwitness.planning.values import celsius_of, medium, outlook
from tempwitness.rulebook.load import load_code
from tempwitness.science.conduction import cylinder, sphere
from tempwitness.science.properties import Food, food_like
from tempwitness.science.ranges import OutOfRangeError
from tempwitness.units import Unit

CODE = load_code("us/food-code/2022")
LEGS = cooling_legs(CODE)
INCH = 0.0254


def food(words: str) -> Food:
    found = food_like(words)
    assert found is not None
    return found


BEANS, BRISKET = food("beans"), food("brisket")


def cooling(**more: object) -> CoolAsked:
    plain = CoolAsked(BEANS, 20.0, celsius_of(160), LEGS, "walk_in", 2 * INCH)
    return replace(plain, **more)  # type: ignore[arg-type] # fields by name


def reheating(**more: object) -> ReheatAsked:
    plain = ReheatAsked(
        BEANS, 10.0, celsius_of(38), reheat_target(CODE), "fan_oven", celsius_of(350), 2 * INCH
    )
    return replace(plain, **more)  # type: ignore[arg-type] # fields by name


def test_limits_are_those_of_the_code() -> None:
    # FDA Food Code 2022, 3-501.16(A)(1), 3-501.14(A) and 3-403.11(A) and (D).
    assert (hot_limit(CODE).fahrenheit, hot_limit(CODE).celsius) == (135, 57)
    assert [(leg.start_c, leg.to_c, leg.within / 3600) for leg in LEGS] == [
        (57, 21, 2),
        (57, 5, 6),
    ]
    target = reheat_target(CODE, Species.BEEF)
    assert (target.start_c, target.to_c, target.within / 3600) == (5, 74, 2)
    # Standard 3.2.2, clauses 6 and 7: 60 °C; 60 to 21 °C in 2 h, then 21 to 5 °C in 4 h more.
    australian = load_code("au/3.2.2")
    assert hot_limit(australian).celsius == 60
    legs = cooling_legs(australian)
    assert [(leg.start_c, leg.to_c, leg.within / 3600) for leg in legs] == [(60, 21, 2), (21, 5, 4)]


def test_a_code_without_a_time_says_so() -> None:
    with pytest.raises(EvaluationError, match="no time for cooling"):
        cooling_legs(load_code("gb/eng/2013"))


# Olds and Sneed 2005: of chili in a 2.5 in pan, a 4 in pan and a 3 gal pot in a walk-in, and in a
# blast chiller, only the blast chiller met 135 to 70 °F in 2 h and 41 °F in 4 h more.
@pytest.mark.parametrize("depth", [2.5, 4.0])
def test_chili_in_a_walk_in_fails(depth: float) -> None:
    plan = plan_cool(cooling(food=food("chili"), shape=depth * INCH))
    assert plan.outlook is Outlook.FAILS


def test_chili_in_a_blast_chiller_may_hold() -> None:
    plan = plan_cool(cooling(food=food("chili"), method="blast", shape=2.5 * INCH))
    assert plan.outlook is not Outlook.FAILS


def test_big_pots_are_hopeless() -> None:
    # Dickerson and Read 1973: 8 gal of white sauce, 105 to 57 °F, took 25 h in a refrigerator.
    plan = plan_cool(cooling(method="still_air", shape=cylinder(0.15)))
    assert plan.outlook is Outlook.FAILS
    assert plan.legs[1].takes.likely > 15


_HOLDS = {Outlook.HOLDS}


def test_large_joints_do_not_meet_the_code_whole() -> None:
    # Teagasc 2002: air or water cannot meet the recommended rates for joints of 5 kg or more; Sun
    # and Wang 2003: 74 to 10 °C takes more than 5 h in a bath, more than 9 h in slow air.
    body = sphere((3 * 5.0 / 1048 / (4 * math.pi)) ** (1 / 3))
    for method, outcome in (("walk_in", {Outlook.FAILS}), ("ice_bath", set(Outlook) - _HOLDS)):
        plan = plan_cool(cooling(food=BRISKET, mass=5.0, method=method, shape=body))
        assert plan.outlook in outcome
        assert any("Cut or pull" in text for text in plan.advice)


# Middle of unstirred beans from 135 °F, hours to 70 and to 41 °F: independent solution for
# h = 15 in air of 37 °F and for an ice bath from below. The walk-in's range here is 10 to 15.
@pytest.mark.parametrize(
    ("method", "around", "depth", "first", "second"),
    [
        ("walk_in", 37.0, 1, 1.10, 3.13),
        ("walk_in", 37.0, 2, 2.51, 7.03),
        ("walk_in", 37.0, 4, 6.31, 17.2),
        ("ice_bath", 32.9, 1, 0.67, 1.49),
        ("ice_bath", 32.9, 2, 2.56, 5.67),
    ],
)
def test_pans_lie_in_the_band(
    method: str, around: float, depth: int, first: float, second: float
) -> None:
    plan = plan_cool(
        cooling(method=method, around=celsius_of(around), shape=depth * INCH, start=celsius_of(135))
    )
    for leg, expected in zip(plan.legs, (first, second), strict=True):
        assert leg.takes.least <= expected <= leg.takes.most


def test_two_inches_in_a_walk_in_do_not_do_and_the_plan_says_what_does() -> None:
    plan = plan_cool(cooling())
    assert plan.outlook is Outlook.FAILS
    assert plan.pans is not None
    # 20 kg of beans of about 1.09 kg/l in pans of 15 dm²: 7.6 l in each, 18.4 l in all.
    assert plan.pans.count == 3
    assert plan.deepest is not None
    assert plan.deepest.depth < 2 * INCH
    better = plan_cool(cooling(shape=plan.deepest.depth))
    assert better.outlook is Outlook.HOLDS
    assert any(f"{plan.deepest.count} pans" in text for text in plan.advice)


def test_stirring_and_ice_help() -> None:
    still = plan_cool(cooling(method="ice_bath"))
    stirred = plan_cool(cooling(method="ice_bath", stirred=True))
    assert stirred.outlook is Outlook.HOLDS
    assert stirred.legs[0].takes.likely < 0.2 * still.legs[0].takes.likely


def test_ice_by_the_balance_of_heat() -> None:
    # 20 kg of beans at 3.47 kJ/(kg K) from 71.1 to 5 °C: 4590 kJ; 10 kg of tap water from 15 to
    # 0.5 °C: 608 kJ; ice 335.5 kJ/kg to 0.5 °C: 15.5 kg; a quarter of the ice melts for nothing.
    plan = plan_cool(cooling(method="ice_bath"))
    assert plan.ice == pytest.approx(15.5 / 0.75, rel=0.01)
    assert plan_cool(cooling()).ice is None


def test_surroundings_that_are_not_cold_enough() -> None:
    plan = plan_cool(cooling(around=celsius_of(45)))
    assert plan.outlook is Outlook.FAILS
    assert plan.legs[1].takes.least == math.inf
    assert plan.advice == ("Surroundings of 45 °F never bring it to 41 °F: find colder ones.",)


def test_a_leg_that_lies_behind_takes_no_time() -> None:
    plan = plan_cool(cooling(start=celsius_of(65), method="ice_bath"))
    assert plan.legs[0].takes.most == 0.0
    assert plan.legs[0].outlook is Outlook.HOLDS


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"method": "prayer"}, "known are still_air"),
        ({"start": celsius_of(30)}, "does not cool"),
        ({"legs": ()}, "no leg"),
        ({"shape": sphere(0.05), "stirred": True}, "cannot be stirred"),
        ({"mass": 0.0}, "mass of the food"),
        ({"shape": 2.0}, "depth of the food"),
    ],
)
def test_coolings_that_cannot_be_planned(more: dict[str, object], words: str) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        plan_cool(cooling(**more))
    assert words in str(caught.value)


def test_a_pan_reheats_in_a_hot_oven_and_a_deep_one_does_not() -> None:
    # Independent figure for a 2 in pan in an oven of 150 °C: at most 2.4 °F/min with a realistic
    # coefficient, so that 38 to 165 °F takes 53 min at the very least.
    shallow = plan_reheat(reheating(around=150.0))
    assert shallow.takes.likely > 53 / 60
    assert plan_reheat(reheating()).outlook is Outlook.HOLDS
    deep = plan_reheat(reheating(shape=6 * INCH))
    assert deep.outlook is Outlook.FAILS
    assert any("shallow pans" in text for text in deep.advice)


def test_a_whole_cold_joint_does_not_reheat_in_two_hours() -> None:
    body = sphere(0.093)
    plan = plan_reheat(reheating(food=BRISKET, mass=3.5, shape=body, around=celsius_of(250)))
    assert plan.outlook is Outlook.FAILS


def test_stirring_helps() -> None:
    still, stirred = plan_reheat(reheating()), plan_reheat(reheating(stirred=True))
    assert stirred.takes.likely < still.takes.likely


@pytest.mark.parametrize("around", [165.0, 160.0])
def test_a_medium_that_is_not_above_the_target_is_refused(around: float) -> None:
    with pytest.raises(OutOfRangeError, match="never gets there"):
        plan_reheat(reheating(around=celsius_of(around)))


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"start": 80.0}, "at its target already"),
        ({"start": -5.0}, "temperature of the food"),
        ({"method": "sun"}, "known are still_oven"),
        ({"shape": sphere(0.05), "stirred": True}, "cannot be stirred"),
    ],
)
def test_reheatings_that_cannot_be_planned(more: dict[str, object], words: str) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        plan_reheat(reheating(**more))
    assert words in str(caught.value)


def test_celsius_is_spoken_where_it_is_asked_for() -> None:
    plan = plan_cool(cooling(unit=Unit.C))
    assert any("3 °C" in text for text in plan.assumptions)
    assert any(" cm deep" in text for text in plan.advice)
    assert any("176.7 °C" in text for text in plan_reheat(reheating(unit=Unit.C)).assumptions)


def test_bands_and_outlooks() -> None:
    # Arithmetic: ±30 %, or wider where another estimate is.
    band = band_around(10.0, 8.0, 14.0)
    assert (band.least, band.likely, band.most) == pytest.approx((7.0, 10.0, 14.0))
    assert outlook(band, 14.0) is Outlook.HOLDS
    assert outlook(band, 10.0) is Outlook.DOUBTFUL
    assert outlook(band, 6.9) is Outlook.FAILS
    assert medium("cool", "walk_in").likely == pytest.approx(math.sqrt(150))
