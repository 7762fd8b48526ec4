"""Worked examples of Ontario, British Columbia, Alberta and Quebec.

Sources: O. Reg. 493/17 and the Ministry of Health's reference document of 2019; O. Reg. 74/04 on
Regulation 562; forms of health units; B.C. Reg. 210/99; AR 31/2006 and the health service's
messages; Quebec P-29, r. 1, section 1.4.1, and the ministry's cooking values.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.forms import Paper
from tempwitness.model.lot import Approval, Food
from tempwitness.model.vocabulary import Cut, Form, Place, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, finding, held
from tests.support import Readings, lamb, note, prepared_on

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Note

BEEF, PORK = lamb(Species.BEEF), lamb(Species.PORK)
CHICKEN = lamb(Species.CHICKEN, cut=Cut.BIRD_PART)
WHOLE_BIRD = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
GROUND_CHICKEN = lamb(Species.CHICKEN, forms=(Form.GROUND,), cut=None)
MINCE = lamb(Species.BEEF, forms=(Form.GROUND,), cut=None)
FISH = lamb(Species.FISH, cut=Cut.STEAK)
STEW = lamb(Species.MIXED, cut=Cut.PAN)


def steady(value: float, hours: float = 1.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


def said(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    *,
    food: Food | None = None,
    facts: dict[str, str] | None = None,
    business: str | None = None,
    before: Sequence[Note] = (),
    place: Place = Place.CORE,
) -> str:
    return answer(
        requirement,
        stage,
        readings,
        food=food,
        facts=facts,
        business=business,
        before=tuple(before),
        place=place,
        celsius=True,
        code=load_code(code),
    )


@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        ("hot_hold", "hot-hold", 60.0, "met"),
        ("hot_hold", "hot-hold", 59.9, "not_met"),
        ("cold_hold", "cold-hold", 4.0, "met"),
        ("cold_hold", "cold-hold", 4.1, "not_met"),
        ("transport", "band-hold", 60.0, "met"),
        ("transport", "band-hold", 4.0, "met"),
        ("serve", "band-hold", 59.9, "not_met"),
    ],
)
@pytest.mark.parametrize("code", ["ca/on/493-17", "ca/bc/210-99", "ca/ab/31-2006", "ca/qc/p-29-r1"])
def test_holding(code: str, stage: str, requirement: str, value: float, expected: str) -> None:
    """O. Reg. 493/17 s. 27(1); B.C. Reg. 210/99 s. 14; Alberta's messages; P-29, r. 1, 1.4.1."""
    assert said(code, requirement, stage, steady(value)) == expected


@pytest.mark.parametrize(("hours", "expected"), [(1.5, "met"), (2.0, "met"), (2.001, "not_met")])
def test_preparation_in_ontario_takes_no_more_than_2h(hours: float, expected: str) -> None:
    """O. Reg. 493/17 s. 27(2)(a)."""
    assert said("ca/on/493-17", "prep-2h", "prep", steady(30.0, hours)) == expected


@pytest.mark.parametrize("stage", ["cook", "cool", "reheat"])
def test_a_step_without_a_figure_needs_the_operators_proof(stage: str) -> None:
    """O. Reg. 493/17 s. 26(2): safe to eat, by a table or plan that the operator can show."""
    readings: Readings = [(0, 20.0), (1, 85.0)] if stage != "cool" else [(0, 60.0), (1, 3.0)]
    code = load_code("ca/on/493-17")
    bare = answer(f"{stage}-safe", stage, readings, celsius=True, code=code)
    proof = Approval(f"{stage}_proof", "health unit", "1", prepared_on("2026-01-01"))
    shown = answer(f"{stage}-safe", stage, readings, celsius=True, code=code, approvals=[proof])
    assert (bare, shown) == ("needs_limit", "met")


@pytest.mark.parametrize(
    ("requirement", "food", "doneness", "figure"),
    [
        ("cook-cut-rare", BEEF, "", 63.0),
        ("cook-cut-medium", BEEF, "medium", 71.0),
        ("cook-cut-well-done", lamb(Species.VEAL), "well_done", 77.0),
        ("cook-pork", PORK, "", 71.0),
        ("cook-mince", MINCE, "", 71.0),
        ("cook-poultry", CHICKEN, "", 74.0),
        ("cook-poultry-mince", GROUND_CHICKEN, "", 74.0),
        ("cook-whole-bird", WHOLE_BIRD, "", 82.0),
        ("cook-mixture", STEW, "", 74.0),
        ("cook-fish", FISH, "", 70.0),
        ("reheat-74", CHICKEN, "", 74.0),
        ("reheat-74", STEW, "", 74.0),
        ("reheat-pork", PORK, "", 71.0),
        ("reheat-mince", MINCE, "", 71.0),
        ("reheat-fish", FISH, "", 70.0),
    ],
)
def test_figures_that_ontario_accepts(
    requirement: str, food: Food, doneness: str, figure: float
) -> None:
    """Reference document of 2019, with the federal chart."""
    facts = {"doneness": doneness} if doneness else {}
    stage = requirement.split("-", maxsplit=1)[0]
    short = held(round(figure - 0.1, 1), 60.0)
    enough = held(figure, 0.0)
    code = "ca/on/moh-2019"
    assert said(code, requirement, stage, enough, food=food, facts=facts) == "met"
    assert said(code, requirement, stage, short, food=food, facts=facts) == "not_met"


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 60.0), (2, 20.0), (6, 4.0)], ("met", "met")),
        ([(0, 60.0), (2, 20.1), ("2:00:01", 20.0), (6, 4.0)], ("not_met", "met")),
        ([(0, 60.0), (1, 20.0), (5, 4.1), ("5:00:01", 4.0)], ("met", "not_met")),
    ],
)
@pytest.mark.parametrize("code", ["ca/on/moh-2019", "ca/bc/210-99"])
def test_cooling_that_ontario_and_british_columbia_accept(
    code: str, readings: Readings, expected: tuple[str, str]
) -> None:
    """60 °C to 20 °C within 2 h, 20 °C to 4 °C within 4 h."""
    names = ("cool-60-to-20", "cool-20-to-4")
    assert tuple(said(code, n, "cool", readings) for n in names) == expected


@pytest.mark.parametrize(("hours", "expected"), [(2.0, "met"), (2.001, "not_met")])
@pytest.mark.parametrize("code", ["ca/on/moh-2019", "ca/on/562"])
def test_reheating_takes_2h(code: str, hours: float, expected: str) -> None:
    """Borrowed practice today; the rule of Regulation 562 as it is remembered."""
    assert said(code, "reheat-2h", "reheat", [(0, 4.0), (hours, 80.0)]) == expected


@pytest.mark.parametrize(
    ("name", "food", "figure"),
    [
        ("whole-bird", WHOLE_BIRD, 82.0),
        ("mixture", STEW, 74.0),
        ("poultry", CHICKEN, 74.0),
        ("poultry-mince", GROUND_CHICKEN, 74.0),
        ("pork", PORK, 71.0),
        ("mince", MINCE, 71.0),
    ],
)
@pytest.mark.parametrize("stage", ["cook", "reheat"])
def test_regulation_562_held_15_s(stage: str, name: str, food: Food, figure: float) -> None:
    """Section 33 as amended in 2004; reheated to the temperature of the first cook."""
    for seconds, expected in ((15.0, "met"), (14.0, "not_met"), (16.0, "met")):
        got = said("ca/on/562", f"{stage}-{name}", stage, held(figure, seconds), food=food)
        assert got == expected


POUCH = {"health_unit": "toronto", "vacuum_packed": "yes"}


@pytest.mark.parametrize(
    ("requirement", "stage", "place", "food", "value", "expected"),
    [
        ("pouch-bath", "cook", Place.MEDIUM, BEEF, 55.0, "met"),
        ("pouch-bath", "cook", Place.MEDIUM, BEEF, 54.9, "not_met"),
        ("pouch-bath-chicken", "cook", Place.MEDIUM, CHICKEN, 60.0, "met"),
        ("pouch-bath-chicken", "cook", Place.MEDIUM, CHICKEN, 59.9, "not_met"),
        # Below 3 °C, not at it.
        ("pouch-store", "cold_hold", Place.CORE, BEEF, 2.9, "met"),
        ("pouch-store", "cold_hold", Place.CORE, BEEF, 3.0, "not_met"),
    ],
)
def test_pouches_in_toronto(
    requirement: str, stage: str, place: Place, food: Food, value: float, expected: str
) -> None:
    readings = steady(value)
    code = "ca/on/health-units"
    got = said(code, requirement, stage, readings, food=food, facts=POUCH, place=place)
    assert got == expected
    elsewhere = {**POUCH, "health_unit": "peel"}
    other = said(code, requirement, stage, readings, food=food, facts=elsewhere, place=place)
    assert other == "not_applicable"


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 60.0), (1, 20.0), (2, 2.9)], "met"),
        ([(0, 60.0), (1, 20.0), (2, 3.0), ("2:00:01", 2.9)], "not_met"),
        ([(0, 60.0), (1, 2.9), (2, 2.5)], "met"),
    ],
)
def test_pouches_are_below_3_within_2h_of_the_cook(readings: Readings, expected: str) -> None:
    """Toronto's advice on vacuum pouches."""
    code, cook = "ca/on/health-units", (note(-2, "cook"),)
    assert said(code, "pouch-cool", "cool", readings, facts=POUCH, before=cook) == expected


@pytest.mark.parametrize(("days", "expected"), [(6, "met"), (7, "not_met")])
def test_pouches_keep_7_days(days: int, expected: str) -> None:
    """The seventh day is the last; the record begins on the first at 05:00."""
    readings: Readings = [(12.0 * n, 2.0) for n in range(2 * days + 1)]
    code = "ca/on/health-units"
    assert said(code, "pouch-life", "cold_hold", readings, facts=POUCH) == expected


@pytest.mark.parametrize(("answered", "expected"), [("yes", "met"), ("no", "not_met")])
def test_samples_and_labels_in_toronto(answered: str, expected: str) -> None:
    facts = {**POUCH, "central_kitchen": "yes", "sample_kept": answered, "pouch_labelled": answered}
    for name in ("sample", "pouch-label"):
        assert said("ca/on/health-units", name, "cold_hold", steady(2.0), facts=facts) == expected


def test_the_sample_weighs_200_g_and_is_kept_7_days() -> None:
    facts = {"health_unit": "toronto", "central_kitchen": "yes", "sample_kept": "yes"}
    code = load_code("ca/on/health-units")
    limit = finding("sample", "cold_hold", steady(2.0), facts=facts, code=code).limit
    assert "200 g" in limit
    assert "7 days" in limit


@pytest.mark.parametrize(("value", "expected"), [(74.0, "met"), (73.9, "not_met"), (75.0, "met")])
@pytest.mark.parametrize("stage", ["cook", "reheat"])
def test_temporary_stands_in_british_columbia(stage: str, value: float, expected: str) -> None:
    """A health authority's sheet for temporary food service."""
    readings, stand = held(value, 0.0), "temporary_event"
    assert said("ca/bc/210-99", f"{stage}-74", stage, readings, business=stand) == expected


@pytest.mark.parametrize(
    ("days", "expected"), [("13", "not_applicable"), ("14", "not_shown"), ("15", "not_shown")]
)
def test_temporary_is_fewer_than_14_days_a_year(days: str, expected: str) -> None:
    got = said(
        "ca/bc/210-99",
        "event-days",
        "serve",
        steady(65.0),
        facts={"days_a_year": days},
        business="temporary_event",
    )
    assert got == expected


@pytest.mark.parametrize(("hours", "expected"), [(1.5, "met"), (2.0, "met"), (2.001, "not_met")])
def test_room_temperature_in_alberta(hours: float, expected: str) -> None:
    """Messages of the health service: no more than 2 h."""
    cooked = (note(-3, "cook"), note(-1, "cold_hold"))
    readings = steady(20.0, hours)
    assert said("ca/ab/31-2006", "room-2h", "serve", readings, before=cooked) == expected


@pytest.mark.parametrize(("value", "expected"), [(4.0, "met"), (3.0, "met"), (4.1, "not_met")])
def test_air_around_cold_food_in_quebec(value: float, expected: str) -> None:
    """P-29, r. 1, 1.4.1."""
    readings = steady(value)
    code, road = "ca/qc/p-29-r1", {"served": "cold"}
    assert said(code, "cold-air", "cold_hold", readings, place=Place.AIR) == expected
    got = said(code, "cold-air-road", "transport", readings, place=Place.AIR, facts=road)
    assert got == expected


@pytest.mark.parametrize(
    ("requirement", "food", "figure", "seconds"),
    [
        ("cook-roast", BEEF, 60.0, 0.0),
        ("cook-roast", lamb(), 60.0, 0.0),
        ("cook-steak", lamb(Species.VEAL, cut=Cut.STEAK), 63.0, 0.0),
        ("cook-pork", PORK, 68.0, 15.0),
        ("cook-mince", MINCE, 68.0, 15.0),
        ("cook-poultry", CHICKEN, 74.0, 15.0),
        ("cook-poultry", WHOLE_BIRD, 74.0, 15.0),
        ("cook-farmed-game", lamb(Species.FARMED_GAME), 68.0, 15.0),
        ("cook-wild-game", lamb(Species.WILD_GAME), 74.0, 15.0),
    ],
)
def test_cooking_values_of_quebec(
    requirement: str, food: Food, figure: float, seconds: float
) -> None:
    code = "ca/qc/p-29-r1"
    assert said(code, requirement, "cook", held(figure, seconds), food=food) == "met"
    cold = held(round(figure - 0.1, 1), 60.0)
    assert said(code, requirement, "cook", cold, food=food) == "not_met"
    if seconds:
        brief = held(figure, seconds - 1)
        assert said(code, requirement, "cook", brief, food=food) == "not_met"


@pytest.mark.parametrize(("value", "expected"), [(70.0, "met"), (69.9, "not_met")])
def test_a_roast_judged_by_eye_needs_70_in_quebec(value: float, expected: str) -> None:
    facts = {"judged_by": "eye"}
    code, readings = "ca/qc/p-29-r1", held(value, 0.0)
    assert said(code, "cook-roast-by-eye", "cook", readings, food=BEEF, facts=facts) == expected
    assert said(code, "cook-roast", "cook", readings, food=BEEF, facts=facts) == "not_applicable"


def test_quebec_cools_without_delay_and_without_a_figure() -> None:
    """P-29, r. 1, 1.4.1."""
    assert said("ca/qc/p-29-r1", "cool-at-once", "cool", [(0, 60.0), (1, 3.0)]) == "needs_limit"


@pytest.mark.parametrize(
    ("code", "requirement", "keep"),
    [
        ("ca/on/493-17", "purchase-records", "1 year"),
        ("ca/cfia-manual", "cool-records", "12 months"),
        ("au/3.2.2", "daily-records", "3 months"),
        ("ca/on/health-units", "sample", "7 days"),
    ],
)
def test_how_long_records_are_kept(code: str, requirement: str, keep: str) -> None:
    """O. Reg. 493/17 s. 29(2); federal manual 4.5; Standard 3.2.2A; Toronto's advice."""
    found = load_code(code).find(requirement)
    assert found is not None
    assert isinstance(found.test, Paper)
    assert found.test.keep == keep
