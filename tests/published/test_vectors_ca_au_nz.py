"""Worked examples of Canada: federal law and advice, the model code, and New Brunswick.

Sources: Food and Drug Regulations B.14.072, B.22.026 and B.14.022; chapter 4 of the federal manual
for meat plants with Annex D; the federal table of cooking temperatures; N.B. Reg. 2009-138,
sections 27 and 32 and Schedule A. The expected side follows from the figure and the wording there.
"""

from __future__ import annotations

import pytest

from tempwitness.model.lot import Food, Probe, ProbeCheck
from tempwitness.model.vocabulary import Cut, Form, Place, Species
from tempwitness.rulebook.load import load_code
from tempwitness.units import Unit
from tests.published.traces import answer, at, held, judged
from tests.support import ZERO, Readings, channel, found, judge, lamb, note, staged

MINUTE = 60.0
BEEF, PORK = lamb(Species.BEEF), lamb(Species.PORK)
CHICKEN = lamb(Species.CHICKEN, cut=Cut.BIRD_PART)
WHOLE_BIRD = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
MINCE = lamb(Species.BEEF, forms=(Form.GROUND,), cut=None)


def barbecued(
    stage: str, value: float, air: float | None, food: Food, kind: str, *, celsius: bool
) -> str:
    """Verdict on cooked food in one stage, with the air around it if that was read."""
    channels = [channel(steady(value), celsius=celsius)]
    if air is not None:
        channels.append(channel(steady(air), place=Place.AIR, celsius=celsius))
    steps = [note(-3, "cook"), note(-1, "prep"), note(0, stage), note(1, event="finished")]
    evaluation = judge(staged(channels, steps, food=food), code=load_code("ca/fdr"))
    return found(evaluation, f"bbq-{kind}").verdict.value


def steady(value: float) -> Readings:
    return [(0, value), (1, value)]


def cook(code: str, requirement: str, readings: Readings, food: Food, **facts: str) -> str:
    return answer(
        requirement, "cook", readings, food=food, facts=facts, celsius=True, code=load_code(code)
    )


@pytest.mark.parametrize(
    ("stage", "value", "celsius", "expected"),
    [
        # B.14.072: 4.4 °C (40 °F) or lower, or 60 °C (140 °F) or higher, each in its own scale.
        ("hot_hold", 60.0, True, "met"),
        ("hot_hold", 60.5, True, "met"),
        ("hot_hold", 59.9, True, "not_met"),
        ("cold_hold", 4.4, True, "met"),
        ("cold_hold", 4.5, True, "not_met"),
        ("serve", 30.0, True, "not_met"),
        ("hot_hold", 140.0, False, "met"),
        ("hot_hold", 139.9, False, "not_met"),
        ("cold_hold", 40.0, False, "met"),
        ("cold_hold", 40.1, False, "not_met"),
    ],
)
@pytest.mark.parametrize(("kind", "food"), [("meat", BEEF), ("poultry", CHICKEN)])
def test_barbecued_food_is_cold_or_hot(
    kind: str, food: Food, stage: str, value: float, celsius: bool, expected: str
) -> None:
    """B.14.072 for meat and B.22.026 for poultry print the same figures.

    Only air that was read too can show that neither of the two ways was kept.
    """
    shown = barbecued(stage, value, 20.0 if celsius else 68.0, food, kind, celsius=celsius)
    silent = barbecued(stage, value, None, food, kind, celsius=celsius)
    assert shown == expected
    assert silent == ("met" if expected == "met" else "not_shown")


@pytest.mark.parametrize(
    ("air", "expected"), [(4.4, "met"), (4.5, "not_met"), (60.0, "met"), (59.9, "not_met")]
)
def test_air_that_is_cold_or_hot_enough_will_do(air: float, expected: str) -> None:
    """B.14.072: the other way, an ambient temperature of the same figures."""
    assert barbecued("hot_hold", 58.0, air, BEEF, "meat", celsius=True) == expected


@pytest.mark.parametrize(("value", "expected"), [(63.0, "met"), (62.9, "not_met"), (64.0, "met")])
def test_tenderised_beef_is_cooked_to_63(value: float, expected: str) -> None:
    """B.14.022: the label says to cook to 63 °C."""
    food = lamb(Species.BEEF, forms=(Form.TENDERISED,), cut=Cut.STEAK)
    assert cook("ca/fdr", "tenderised-beef", held(value, 0.0), food) == expected


@pytest.mark.parametrize(
    ("value", "hold", "expected"),
    [
        # Annex D, 6.5 log of Salmonella.
        (54.4, 112 * MINUTE, "met"),
        (54.4, 112 * MINUTE - 1, "not_met"),
        (55.0, 89 * MINUTE, "met"),
        (56.1, 56 * MINUTE, "met"),
        (57.2, 36 * MINUTE, "met"),
        (58.4, 23 * MINUTE, "met"),
        (60.0, 12 * MINUTE, "met"),
        (60.0, 12 * MINUTE - 1, "not_met"),
        (61.1, 8 * MINUTE, "met"),
        (62.2, 5 * MINUTE, "met"),
        (62.8, 4 * MINUTE, "met"),
        (63.9, 134.0, "met"),
        (65.0, 85.0, "met"),
        (65.0, 84.0, "not_met"),
        (66.1, 54.0, "met"),
        (67.2, 34.0, "met"),
        (68.3, 22.0, "met"),
        (69.4, 14.0, "met"),
        (69.4, 13.0, "not_met"),
        (70.0, 0.0, "met"),
        (54.3, 200 * MINUTE, "not_met"),
    ],
)
def test_plant_table_for_meat(value: float, hold: float, expected: str) -> None:
    assert cook("ca/cfia-manual", "cook-6-5-log", held(value, hold), BEEF) == expected


@pytest.mark.parametrize(
    ("minutes", "fat", "expected"),
    [
        # Annex D, chicken at 60 °C: 25.2 min at 1 % of fat, 35 min at 12 %.
        (25.2, "1", "met"),
        (25.1, "1", "not_met"),
        (25.2, "12", "not_met"),
        (35.0, "12", "met"),
        # Between the two columns the longer time counts, and so it does if nobody says.
        (34.9, "6", "not_met"),
        (35.0, "6", "met"),
        (34.9, "", "not_met"),
    ],
)
def test_plant_table_for_chicken_goes_by_its_fat(minutes: float, fat: str, expected: str) -> None:
    facts = {"fat_percent": fat} if fat else {}
    readings = held(60.0, round(minutes * MINUTE))
    assert cook("ca/cfia-manual", "cook-chicken", readings, CHICKEN, **facts) == expected


def test_other_poultry_needs_a_process_of_its_own() -> None:
    """4.4.1: 7.0 log where there is poultry in it; no table for turkey was read."""
    assert cook("ca/cfia-manual", "cook-poultry", held(80.0, 600.0), WHOLE_BIRD) == "needs_limit"


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # 54 °C to 27 °C within 2 h, then 5 h more to 4 °C.
        ([(0, 54.0), (2, 27.0), (7, 4.0)], ("met", "met")),
        ([(0, 54.0), (2, 27.1), ("2:00:01", 27.0), (7, 4.0)], ("not_met", "met")),
        ([(0, 54.0), (1, 27.0), (6, 4.1), ("6:00:01", 4.0)], ("met", "not_met")),
    ],
)
def test_cooling_in_canadian_plants(readings: Readings, expected: tuple[str, str]) -> None:
    plant = load_code("ca/cfia-manual")
    names = ("cool-54-to-27", "cool-27-to-4")
    got = tuple(answer(n, "cool", readings, celsius=True, code=plant) for n in names)
    assert got == expected


@pytest.mark.parametrize(
    ("requirement", "food", "doneness", "figure"),
    [
        ("cook-cut-rare", BEEF, "rare", 63.0),
        ("cook-cut-rare", lamb(), "", 63.0),
        ("cook-cut-medium", lamb(), "medium", 71.0),
        ("cook-cut-well-done", lamb(Species.VEAL), "well_done", 77.0),
        ("cook-pork", PORK, "", 71.0),
        ("cook-mince", MINCE, "", 71.0),
        ("cook-poultry-mince", lamb(Species.CHICKEN, forms=(Form.GROUND,), cut=None), "", 74.0),
        ("cook-poultry-pieces", CHICKEN, "", 74.0),
        ("cook-whole-bird", WHOLE_BIRD, "", 82.0),
        ("cook-stuffed", lamb(forms=(Form.STUFFED,)), "", 74.0),
        ("cook-game", lamb(Species.FARMED_GAME), "", 74.0),
        ("cook-game", lamb(Species.WILD_GAME), "", 74.0),
    ],
)
def test_federal_table(requirement: str, food: Food, doneness: str, figure: float) -> None:
    """Federal table of cooking temperatures: the figure is enough, a tenth below is not."""
    facts = {"doneness": doneness} if doneness else {}
    readings, short = held(figure, 0.0), held(round(figure - 0.1, 1), 600.0)
    assert cook("ca/guidance", requirement, readings, food, **facts) == "met"
    assert cook("ca/guidance", requirement, short, food, **facts) == "not_met"


@pytest.mark.parametrize(("value", "expected"), [(74.0, "met"), (73.9, "not_met"), (80.0, "met")])
def test_leftovers_are_reheated_to_74(value: float, expected: str) -> None:
    readings = held(value, 0.0)
    code = load_code("ca/guidance")
    assert answer("reheat-leftovers", "reheat", readings, celsius=True, code=code) == expected


@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        # 60 °C and 4 °C, in the model code of 2016 and in N.B. Reg. 2009-138 s. 27(1)(b).
        ("hot_hold", "hot-hold", 60.0, "met"),
        ("hot_hold", "hot-hold", 59.9, "not_met"),
        ("rest", "hot-hold", 61.0, "met"),
        ("cold_hold", "cold-hold", 4.0, "met"),
        ("cold_hold", "cold-hold", 4.1, "not_met"),
        ("serve", "band-hold", 60.0, "met"),
        ("serve", "band-hold", 4.0, "met"),
        ("transport", "band-hold", 4.1, "not_met"),
        ("transport", "band-hold", 59.9, "not_met"),
    ],
)
@pytest.mark.parametrize("code", ["ca/frfsc/2016", "ca/nb/2009-138"])
def test_holding(code: str, stage: str, requirement: str, value: float, expected: str) -> None:
    readings = steady(value)
    assert answer(requirement, stage, readings, celsius=True, code=load_code(code)) == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 60.0), (2, 20.0), (6, 4.0)], ("met", "met")),
        ([(0, 60.0), (2, 20.1), ("2:00:01", 20.0), (6, 4.0)], ("not_met", "met")),
        ([(0, 60.0), (1, 20.0), (5, 4.1), ("5:00:01", 4.0)], ("met", "not_met")),
    ],
)
def test_model_code_cools_in_two_budgets(readings: Readings, expected: tuple[str, str]) -> None:
    """60 °C to 20 °C in 2 h, then 20 °C to 4 °C in 4 h of its own."""
    code = load_code("ca/frfsc/2016")
    names = ("cool-60-to-20", "cool-20-to-4")
    assert tuple(answer(n, "cool", readings, celsius=True, code=code) for n in names) == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 4.0), (1, 40.0), (2, 74.0)], "met"),
        ([(0, 4.0), (1, 40.0), ("1:59", 73.0), (2, 73.9), ("2:00:01", 74.0)], "not_met"),
        ([(0, 4.0), (1, 74.0)], "met"),
    ],
)
def test_model_code_reheats_within_2h(readings: Readings, expected: str) -> None:
    code = load_code("ca/frfsc/2016")
    assert answer("reheat-74", "reheat", readings, celsius=True, code=code) == expected


@pytest.mark.parametrize(("read", "expected"), [(1.0, "met"), (-1.0, "met"), (1.1, "not_met")])
@pytest.mark.parametrize("code", ["ca/frfsc/2016", "ca/qc/p-29-r1", "au/3.2.2"])
def test_probes_read_true_to_one_degree(code: str, read: float, expected: str) -> None:
    """±1 °C: model code of 2016, Quebec's page on thermometers, clause 22 of Standard 3.2.2."""
    check = ProbeCheck(ZERO, "ice", read, 0.0, Unit.C, "ice")
    probe = Probe("a", scale="C", reads="food", checks=(check,))
    evaluation = judged(
        "hot_hold", steady(61.0), celsius=True, code=load_code(code), probes=[probe]
    )
    assert found(evaluation, "thermometer").verdict.value == expected


NB = load_code("ca/nb/2009-138")


@pytest.mark.parametrize(
    ("requirement", "food", "doneness", "figure"),
    [
        ("cook-cut-rare", BEEF, "", 63.0),
        ("cook-cut-medium", BEEF, "medium", 71.0),
        ("cook-cut-well-done", lamb(Species.VEAL, cut=Cut.STEAK), "well_done", 77.0),
        ("cook-pork", lamb(Species.PORK, cut=Cut.RIBS), "", 71.0),
        ("cook-mince", MINCE, "", 71.0),
        ("cook-poultry-mince", lamb(Species.TURKEY, forms=(Form.GROUND,), cut=None), "", 74.0),
        ("cook-poultry-parts", CHICKEN, "", 74.0),
        ("cook-whole-bird", WHOLE_BIRD, "", 82.0),
        ("cook-stuffed", lamb(Species.PORK, forms=(Form.STUFFED,)), "", 74.0),
        ("cook-casserole", lamb(Species.MIXED, cut=Cut.PAN), "", 74.0),
    ],
)
def test_schedule_a_of_new_brunswick(
    requirement: str, food: Food, doneness: str, figure: float
) -> None:
    facts = {"doneness": doneness} if doneness else {}
    short = held(round(figure - 0.1, 1), 600.0)
    assert cook("ca/nb/2009-138", requirement, held(figure, 0.0), food, **facts) == "met"
    assert cook("ca/nb/2009-138", requirement, short, food, **facts) == "not_met"


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # Both checkpoints count from 60 °C: 20 °C by 2 h, 4 °C by 6 h.
        ([(0, 60.0), (2, 20.0), (6, 4.0)], ("met", "met")),
        ([(0, 60.0), (1, 20.0), (6, 4.0)], ("met", "met")),
        ([(0, 60.0), (2, 20.1), ("2:00:01", 20.0), (5, 4.0)], ("not_met", "met")),
        ([(0, 60.0), (1, 20.0), (6, 4.1), ("6:00:01", 4.0)], ("met", "not_met")),
        ([(0, 90.0), (1, 60.0), (3, 20.0), (7, 4.0)], ("met", "met")),
    ],
)
def test_cooling_in_new_brunswick(readings: Readings, expected: tuple[str, str]) -> None:
    """Section 27(1)(c)."""
    names = ("cool-20-by-2h", "cool-4-by-6h")
    assert tuple(answer(n, "cool", readings, celsius=True, code=NB) for n in names) == expected


@pytest.mark.parametrize(
    ("seconds_at_74", "expected"), [(15.0, "met"), (14.0, "not_met"), (60.0, "met")]
)
def test_reheating_in_new_brunswick_holds_15_s(seconds_at_74: float, expected: str) -> None:
    """Section 27(1)(e)."""
    readings = held(74.0, seconds_at_74)
    assert answer("reheat-74", "reheat", readings, celsius=True, code=NB) == expected


@pytest.mark.parametrize(("arrival", "expected"), [(7185.0, "met"), (7201.0, "not_met")])
def test_reheating_in_new_brunswick_takes_2h(arrival: float, expected: str) -> None:
    """Section 27(1)(e): 74 °C for 15 s, all within 2 h."""
    readings: Readings = [
        (0, 4.0),
        (1, 40.0),
        (at(arrival - 0.5), 73.9),
        (at(arrival), 74.0),
        (at(arrival + 15.0), 74.0),
    ]
    assert answer("reheat-in-2h", "reheat", readings, celsius=True, code=NB) == expected


@pytest.mark.parametrize(("value", "expected"), [(-18.0, "met"), (-17.9, "not_shown")])
def test_frozen_food_in_new_brunswick(value: float, expected: str) -> None:
    """Section 27(1)(b); food on its way to -18 °C is asked about."""
    assert answer("freeze", "freeze", steady(value), celsius=True, code=NB) == expected


@pytest.mark.parametrize(
    ("room", "hours", "expected"),
    [
        # Section 27(2): 10 °C or below, or no more than 2 h at a time.
        (10.0, 3, "met"),
        (10.1, 2, "met"),
        (10.1, 2.001, "not_met"),
    ],
)
def test_cutting_raw_meat_in_new_brunswick(room: float, hours: float, expected: str) -> None:
    readings: Readings = [(0, room), (1, room), (hours, room)]
    got = answer("cut-cold", "prep", readings, place=Place.AIR, celsius=True, code=NB)
    assert got == expected


@pytest.mark.parametrize(
    ("moments", "expected"),
    [([0, 4, 8], "met"), ([0, 4, "8:00:01"], "not_shown"), ([0, 3, 6, 9], "met")],
)
def test_hot_food_is_written_down_every_4h(moments: list[float | str], expected: str) -> None:
    """Section 32."""
    readings: Readings = [(m, 65.0) for m in moments]
    assert answer("log-hot", "hot_hold", readings, celsius=True, code=NB) == expected


@pytest.mark.parametrize(
    ("hours", "expected"), [([0, 20, 30, 45], "met"), ([0, 20, 45], "not_shown")]
)
def test_cold_units_are_written_down_twice_a_day(hours: list[float], expected: str) -> None:
    """Section 32; 0:00 is 05:00, so that the one full day runs from hour 19 to hour 43."""
    readings: Readings = [(h, 3.0) for h in hours]
    got = answer("log-cold", "cold_hold", readings, place=Place.AIR, celsius=True, code=NB)
    assert got == expected
