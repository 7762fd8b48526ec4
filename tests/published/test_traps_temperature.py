"""What every code states once and many readers get wrong: temperatures, places and ladders.

Sources: FDA Food Code 2022 by section, as reproduced in WAC 246-215, 12 VAC 5-421, South Carolina
Reg. 61-25 and the Wisconsin Food Code. Each test carries the number of its trap; those that
belong to other codes stand in left_out.csv with the reason.
"""

from __future__ import annotations

import pytest

from tempwitness.model.vocabulary import Cut, Form, Place, Species, Verdict
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, answers, at, finding, held, judged
from tests.support import FOOD_CODE, Readings, channel, found, judge, lamb, note, staged

TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)


@pytest.mark.parametrize(
    ("requirement", "stage", "fahrenheit", "celsius"),
    [
        # Pairs as printed; none is the other converted.
        ("hot-hold", "hot_hold", 135.0, 57.0),
        ("cold-hold", "cold_hold", 41.0, 5.0),
        ("cook-poultry-stuffed", "cook", 165.0, 74.0),
    ],
)
def test_t01_each_scale_has_its_own_figure(
    requirement: str, stage: str, fahrenheit: float, celsius: float
) -> None:
    food = TURKEY if stage == "cook" else lamb()
    for value, in_celsius in ((fahrenheit, False), (celsius, True)):
        wrong = value + 0.1 if stage == "cold_hold" else value - 0.1
        good = answer(requirement, stage, [(0, value), (1, value)], celsius=in_celsius, food=food)
        bad = answer(requirement, stage, [(0, wrong), (1, wrong)], celsius=in_celsius, food=food)
        assert (good, bad) == ("met", "not_met")


def test_t01_57_celsius_is_hot_although_its_conversion_is_not() -> None:
    # 57 × 1.8 + 32 = 134.6
    assert answer("hot-hold", "hot_hold", [(0, 57.0), (1, 57.0)], celsius=True) == "met"
    assert answer("hot-hold", "hot_hold", [(0, 134.6), (1, 134.6)]) == "not_met"


def test_t06_coldest_point_counts_for_heat_and_warmest_for_cold() -> None:
    steps = [note(0, "hot_hold"), note(2, "cool"), note(8, event="finished")]
    thick = [(0, 150.0), (2, 140.0), (4, 80.0), (8, 45.0)]
    thin = [(0, 134.0), (2, 134.0), (4, 60.0), (8, 40.0)]
    got = answers([channel(thick, point="thick"), channel(thin, point="thin")], steps)
    assert got["hot-hold"] == "not_met"  # the thin end stood at 134 °F
    assert got["cool-135-to-41"] == "not_shown"  # the thick part is at 45 °F after 8 h


def test_t06_the_surface_proves_nothing_of_the_inside() -> None:
    steps = [note(0, "cook"), note(4, event="finished")]
    readings = [(at(h * 3600), v) for h, v in enumerate([60.0, 150.0, 180.0, 200.0, 200.0])]
    got = answers([channel(readings, place=Place.SURFACE)], steps)
    assert got["cook-roast"] == "not_shown"


def test_t06_a_cold_surface_disproves_a_hot_hold() -> None:
    steps = [note(0, "hot_hold"), note(2, event="finished")]
    core = channel([(0, 150.0), (2, 150.0)])
    surface = channel([(1, 130.0)], place=Place.SURFACE)
    assert answers([core, surface], steps)["hot-hold"] == "not_met"


def test_t08_one_reading_a_minute_proves_fifteen_seconds_only_in_pairs() -> None:
    one: Readings = [(0, 160.0), ("0:01", 165.0), ("0:02", 160.0)]
    two: Readings = [(0, 160.0), ("0:01", 165.0), ("0:02", 165.0), ("0:03", 160.0)]
    assert answer("reheat-165", "reheat", one) == "not_shown"
    assert answer("reheat-165", "reheat", two) == "met"


def test_t08_one_reading_is_enough_where_no_time_is_asked() -> None:
    one: Readings = [(0, 150.0), ("0:01", 158.0), ("0:02", 150.0)]
    assert answer("cook-roast", "cook", one) == "met"


def test_t09_a_roast_at_145_needs_four_minutes() -> None:
    assert answer("cook-roast", "cook", held(145.0, 15.0)) == "not_met"
    assert answer("cook-roast", "cook", held(145.0, 240.0)) == "met"
    evaluation = judged("cook", held(145.0, 240.0))
    assert found(evaluation, "cook-intact").verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("between", "below_s", "row"),
    [(132.0, 89 * 60, "131 °F"), (134.0, 56 * 60, "133 °F"), (143.0, 8 * 60, "142 °F")],
)
def test_t10_nothing_is_interpolated(between: float, below_s: float, row: str) -> None:
    """Table 3-2 has no rows of 132, 134 and 143 °F: the next lower row stands."""
    assert answer("cook-roast", "cook", held(between, below_s - 1)) == "not_met"
    line = finding("cook-roast", "cook", held(between, below_s))
    assert line.verdict.value == "met"
    assert line.limit.startswith(row)


def test_t11_rows_are_not_mixed() -> None:
    # 100 of 112 min at 130 °F, 30 of 36 min at 135 °F: 130 min at 130 °F or more would be enough,
    # so the second part is kept apart by a dip below 130 °F.
    readings: Readings = [
        (0, 130.0),
        ("1:40", 130.0),
        ("1:40:01", 129.9),
        ("1:40:02", 135.0),
        ("2:10:02", 135.0),
        ("2:10:02.2", 134.9),
    ]
    # From 1:40:01 on at least 30 min at 133 °F or more; that row needs 56 min.
    assert answer("cook-roast", "cook", readings) == "not_met"


def test_t12_heat_that_rises_in_the_rest_counts() -> None:
    steps = [note(0, "cook"), note(6, "rest"), note(8, event="finished")]
    rising: Readings = [(0, 50.0), (3, 110.0), (6, 150.0), ("6:20", 158.0), (8, 152.0)]
    staying: Readings = [(0, 50.0), (3, 110.0), (6, 129.0), ("6:20", 129.9), (8, 125.0)]
    assert answers([channel(rising)], steps)["cook-roast"] == "met"
    assert answers([channel(staying)], steps)["cook-roast"] == "not_met"


def oven_line(kind: str, weight: str, air: float) -> dict[str, str]:
    """Answers on the oven table for one pit."""
    core = channel([(0, 50.0), (4, 120.0), (8, 190.0)])
    pit = channel([(0, air), (4, air), (8, air)], place=Place.AIR)
    steps = [note(0, "cook"), note(8, event="finished")]
    got = answers([core, pit], steps, food=lamb(weight=weight), facts={"oven": kind})
    return {k.removeprefix("cook-roast-oven-"): v for k, v in got.items() if "oven" in k}


def test_t13_a_pit_below_the_oven_table_is_a_question_and_no_break() -> None:
    for weight, kind in (("8 lb", "still"), ("8 lb", "convection"), ("12 lb", "still")):
        assert list(oven_line(kind, weight, 225.0).values()) == ["not_shown"]
    assert oven_line("still", "8 lb", 350.0) == {"still-small": "met"}
    assert oven_line("convection", "8 lb", 325.0) == {"convection-small": "met"}
    assert oven_line("still", "12 lb", 250.0) == {"dry-large": "met"}


def test_t14_the_humid_figure_is_an_upper_bound() -> None:
    assert oven_line("humid", "8 lb", 250.0) == {"humid": "met"}
    assert oven_line("humid", "8 lb", 251.0) == {"humid": "not_shown"}


@pytest.mark.parametrize(
    ("weight", "row"),
    [
        ("9.9 lb", "still-small"),
        ("10 lb", "dry-large"),
        ("4.4 kg", "still-small"),
        ("4.5 kg", "dry-large"),  # 4.5 kg is 9.92 lb: the unit entered decides
    ],
)
def test_t15_ten_pounds_and_four_and_a_half_kilograms(weight: str, row: str) -> None:
    assert list(oven_line("still", weight, 400.0)) == [row]


def test_t16_the_ladder_is_paragraph_b1_in_this_edition() -> None:
    ladder = load_code(FOOD_CODE).find("cook-roast")
    ovens = [r for r in load_code(FOOD_CODE).requirements if r.id.startswith("cook-roast-oven")]
    assert ladder is not None
    assert ladder.section.startswith("3-401.11(B)(1)")
    assert ovens
    assert all(r.section.startswith("3-401.11(B)(2)") for r in ovens)


def test_t17_seventeen_seconds_to_cook_and_fifteen_to_reheat() -> None:
    injected = lamb(forms=(Form.INJECTED,))
    assert answer("cook-tenderised", "cook", held(155.0, 15.0), food=injected) == "not_met"
    assert answer("cook-tenderised", "cook", held(155.0, 17.0), food=injected) == "met"
    assert answer("reheat-165", "reheat", held(165.0, 14.0)) == "not_met"
    assert answer("reheat-165", "reheat", held(165.0, 15.0)) == "met"


@pytest.mark.parametrize("form", [Form.INJECTED, Form.TENDERISED, Form.GROUND])
def test_t18_what_was_pierced_is_no_whole_muscle(form: Form) -> None:
    evaluation = judged("cook", held(145.0, 240.0), food=lamb(forms=(Form.INTACT, form)))
    assert found(evaluation, "cook-roast").verdict is Verdict.NOT_APPLICABLE
    # 145 °F for 4 min keeps the row of 145 °F for 3 min.
    assert found(evaluation, "cook-tenderised").verdict is Verdict.MET


def test_t18_a_form_that_is_not_stated_leaves_both_rows_open() -> None:
    # 54 °C for 2 h at the least; 130 °F for 112 min keeps the roast's ladder and no row of (A)(2).
    evaluation = judged("cook", held(130.0, 112 * 60), food=lamb(forms=None))
    verdicts = {
        f.requirement.split("#")[1]: f.verdict.value
        for f in evaluation.binding
        if f.requirement.split("#")[1] in ("cook-roast", "cook-tenderised")
    }
    assert verdicts == {"cook-roast": "met", "cook-tenderised": "not_shown"}


def test_t31_poultry_has_no_lower_row() -> None:
    """A plant's poultry tables are no alternative to 165 °F without a variance."""
    assert answer("cook-poultry-stuffed", "cook", held(160.0, 3600.0), food=TURKEY) == "not_met"


def test_t33_the_last_row_asks_for_no_time() -> None:
    assert answer("cook-roast", "cook", held(157.0, 13.0)) == "not_met"
    assert answer("cook-roast", "cook", held(157.0, 14.0)) == "met"
    assert answer("cook-roast", "cook", held(158.0, 0.0)) == "met"


def test_t35_nothing_is_rounded_up_to_the_limit() -> None:
    for value in (134.9, 134.95, 134.99):
        assert answer("hot-hold", "hot_hold", [(0, value), (1, value)]) == "not_met"


def test_t36_the_worst_probe_decides_and_not_the_mean() -> None:
    steps = [note(0, "hot_hold"), note(2, event="finished")]
    warm = channel([(0, 160.0), (2, 160.0)], piece="1")
    cool = channel([(0, 130.0), (2, 130.0)], piece="2")
    evaluation = judge(staged([warm, cool], steps, pieces=("1", "2")))
    verdicts = {f.piece: f.verdict.value for f in evaluation.binding if "hot-hold" in f.requirement}
    assert verdicts == {"1": "met", "2": "not_met"}  # the mean would be 145 °F
    assert evaluation.verdict is Verdict.NOT_MET


def test_t37_below_one_second_is_one_reading() -> None:
    assert answer("cook-poultry-stuffed", "cook", held(165.0, 0.0), food=TURKEY) == "met"


def test_t40_the_eggs_figure_is_the_airs() -> None:
    eggs = lamb(Species.EGG, cut=None)
    steps = [note(0, "cold_hold"), note(2, event="finished")]
    warm_core = channel([(0, 47.0), (2, 47.0)])
    for value, expected in ((45.0, "met"), (45.1, "not_met")):
        air = channel([(0, value), (2, value)], place=Place.AIR)
        got = answers([warm_core, air], steps, food=eggs)
        assert got["eggs-air"] == expected
        assert "cold-hold" not in got
    assert answers([warm_core], steps, food=eggs)["eggs-air"] == "not_shown"


def test_t41_a_microwave_adds_a_stand() -> None:
    evaluation = judged("reheat", held(165.0, 0.0), method="microwave")
    assert found(evaluation, "reheat-microwave").verdict is Verdict.MET
    assert found(evaluation, "reheat-microwave-stand").verdict is Verdict.NOT_SHOWN
    low = judged("reheat", held(164.9, 0.0), method="microwave")
    assert found(low, "reheat-microwave").verdict is Verdict.NOT_MET
