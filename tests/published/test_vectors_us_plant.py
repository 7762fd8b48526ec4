"""Worked examples of the federal cooking guideline for plants, FSIS-GD-2021-14, and around it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tempwitness.model.forms import ReachBy
from tempwitness.model.vocabulary import Cut, Form, Place, Species, Weight
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, at, held, judged
from tests.support import Readings, channel, found, judge, lamb, note, staged

COOKING = load_code("us/plant/appendix-a/2021")
OLD = load_code("us/plant/appendix-a/1999")
MINUTE = 60.0
BEEF = lamb(Species.BEEF)
CHICKEN = lamb(Species.CHICKEN, cut=Cut.WHOLE_BIRD)
DUCK = lamb(Species.DUCK, cut=Cut.WHOLE_BIRD)
TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
BIRDS = {"chicken": CHICKEN, "turkey": TURKEY, "other-poultry": DUCK}


def bird(kind: str, value: float, seconds: float, fat: str = "") -> str:
    """Verdict for a bird that stood at a temperature for a time."""
    facts = {"fat_percent": fat} if fat else None
    readings, food = held(value, seconds), BIRDS[kind]
    return answer(f"cook-{kind}", "cook", readings, food=food, facts=facts, code=COOKING)


@pytest.mark.parametrize(
    ("minutes", "expected"),
    [pytest.param(71.0, "met", id="V-04-71:00"), pytest.param(70.9, "not_met", id="V-04-less")],
)
def test_a_row_that_the_food_code_does_not_print(minutes: float, expected: str) -> None:
    """Table 2: 132 °F for 71 min; the Food Code's Table 3-2 goes from 131 to 133 °F."""
    readings = held(132.0, minutes * MINUTE)
    assert answer("cook-meat-6-5-log", "cook", readings, code=COOKING) == expected
    assert answer("cook-meat-6-5-log", "cook", readings, code=OLD) == expected
    assert answer("cook-roast", "cook", readings) == "not_met"


@pytest.mark.parametrize(
    ("value", "expected"),
    [pytest.param(154.0, "met", id="V-56-154"), pytest.param(153.9, "not_met", id="V-56-153.9")],
)
def test_a_missed_target_may_still_keep_a_lower_row(value: float, expected: str) -> None:
    """Attachment A2: 158 °F was missed, but 27 s at 154 °F or more are a row of Table 2."""
    readings = held(value, 27.0)
    assert answer("cook-meat-6-5-log", "cook", readings, code=COOKING) == expected


@pytest.mark.parametrize(
    ("target", "requirement", "minutes"),
    [("", "6-5-log", 112), ("log_7", "7-log", 121), ("log_5", "5-log", 86)],
)
def test_each_reduction_has_its_own_column(target: str, requirement: str, minutes: int) -> None:
    """Tables 2 and 6, first row: 130 °F for 112, 121 or 86 min."""
    facts = {"lethality_target": target} if target else None
    for more, expected in ((0.0, "met"), (-1.0, "not_met")):
        readings = held(130.0, minutes * MINUTE + more)
        name = f"cook-meat-{requirement}"
        assert answer(name, "cook", readings, facts=facts, code=COOKING) == expected


def test_roast_beef_is_never_cooked_to_five_log() -> None:
    """9 CFR 318.17(a)(1): 6.5-log for cooked, roast and corned beef; lamb may have support."""
    facts, readings = {"lethality_target": "log_5"}, held(130.0, 86 * MINUTE)
    for food, expected in ((BEEF, "not_met"), (lamb(), "not_applicable")):
        got = judged("cook", readings, food=food, facts=facts, code=COOKING)
        assert found(got, "cook-meat-5-log").verdict == "met"
        assert found(got, "cook-beef-6-5-log").verdict == expected
        assert found(got, "support-5-log").verdict == "not_shown"


def test_meat_that_keeps_without_a_refrigerator_needs_five_log() -> None:
    """Required reductions: 5-log for shelf-stable meat, 28 min at 135 °F in Table 6."""
    facts = {"plant_product": "shelf_stable"}
    for seconds, expected in ((28 * MINUTE, "met"), (28 * MINUTE - 1, "not_met")):
        got = judged("cook", held(135.0, seconds), food=BEEF, facts=facts, code=COOKING)
        assert found(got, "cook-shelf-stable-5-log").verdict == expected
        assert found(got, "cook-meat-6-5-log").verdict == "not_applicable"


def test_patties_ask_for_the_rows_that_are_not_known() -> None:
    """9 CFR 318.23, from memory: 151 °F for 41 s and 157 °F for 10 s; the rows between are not."""
    food, facts = lamb(Species.BEEF, forms=(Form.GROUND,)), {"plant_product": "patty_uncured"}
    for value, seconds, expected in ((157.0, 10.0, "met"), (156.9, 13.0, "not_shown")):
        readings = held(value, seconds)
        got = answer("cook-patty", "cook", readings, food=food, facts=facts, code=COOKING)
        assert got == expected


@pytest.mark.parametrize(
    ("kind", "value", "seconds", "fat", "expected"),
    [
        # 10.8 s is printed; a quarter and an eighth of a second stand for just less and more.
        ("chicken", 161.0, 10.25, "1", "not_met"),
        ("chicken", 161.0, 10.875, "1", "met"),
        ("chicken", 162.0, 0.0, "6", "met"),
        ("chicken", 162.0, 0.0, "7", "not_met"),
        ("chicken", 163.0, 0.0, "", "met"),
        ("turkey", 163.0, 0.0, "1", "not_met"),
        ("turkey", 165.0, 0.0, "", "met"),
    ],
)
def test_t33_poultry_rows_end_abruptly(
    kind: str, value: float, seconds: float, fat: str, expected: str
) -> None:
    """Tables 3 and 4: chicken drops to nothing at 162 or 163 °F, turkey at 165 °F only."""
    assert bird(kind, value, seconds, fat) == expected


def test_t33_meat_rows_end_abruptly() -> None:
    """Table 2: 157 °F takes 14 s, 158 °F nothing."""
    for value, seconds, expected in ((157.0, 13.0, "not_met"), (157.0, 14.0, "met")):
        readings = held(value, seconds)
        assert answer("cook-meat-6-5-log", "cook", readings, code=COOKING) == expected
    assert answer("cook-meat-6-5-log", "cook", held(158.0, 0.0), code=COOKING) == "met"


@pytest.mark.parametrize(
    ("minutes", "fat", "expected"),
    [
        pytest.param(3.1, "8", "met", id="V-50-8-percent"),
        pytest.param(3.1, "", "not_met", id="V-50-unknown"),
        pytest.param(4.2, "", "met", id="V-50-unknown-longer"),
        pytest.param(4.2, "20", "met", id="fatter-than-the-last-column"),
        pytest.param(4.1, "20", "not_met", id="fatter-than-the-last-column-less"),
    ],
)
def test_t32_chicken_of_unknown_fat_takes_the_last_column(
    minutes: float, fat: str, expected: str
) -> None:
    """Table 3 at 150 °F: 3.1 min for 8 % of fat, 4.2 min for 12 %, more, or unknown."""
    assert bird("chicken", 150.0, minutes * MINUTE, fat) == expected


@pytest.mark.parametrize(
    ("kind", "value", "lean", "fatter"),
    [("chicken", 151.0, 2.1, 2.0), ("turkey", 150.0, 3.8, 3.7), ("turkey", 151.0, 3.0, 2.9)],
)
def test_t32_three_cells_fall_from_one_to_two_percent(
    kind: str, value: float, lean: float, fatter: float
) -> None:
    """Tables 3 and 4 as printed: 1 % of fat takes longer there than 2 %, by 0.1 min."""
    seconds = fatter * MINUTE
    assert bird(kind, value, seconds, "2") == "met"
    assert bird(kind, value, seconds, "1") == "not_met"
    assert bird(kind, value, seconds, "1.5") == "not_met"
    assert bird(kind, value, lean * MINUTE, "1") == "met"


def test_t32_no_other_cell_falls_as_fat_rises() -> None:
    """Tables 3 and 4: a fourth such cell would be a slip in copying them."""
    falls = [
        (name, row.f)
        for name in ("cook-chicken", "cook-turkey")
        for row in table(name).rows
        for lean, fatter in zip(row.holds, row.holds[1:], strict=False)
        if fatter < lean
    ]
    assert falls == [
        ("cook-chicken", Decimal(151)),
        ("cook-turkey", Decimal(150)),
        ("cook-turkey", Decimal(151)),
    ]


def table(name: str) -> ReachBy:
    requirement = COOKING.find(name)
    assert requirement is not None
    assert isinstance(requirement.test, ReachBy)
    return requirement.test


def test_meat_and_poultry_print_other_degrees_celsius_for_two_figures() -> None:
    """Tables 2 to 4: 137 and 139 °F are 58.4 and 59.5 °C for meat, 58.3 and 59.4 °C for poultry."""
    minutes = {"cook-meat-6-5-log": 23, "cook-turkey": 58.5}
    for name, value in (("cook-meat-6-5-log", 58.4), ("cook-turkey", 58.3)):
        food = TURKEY if name == "cook-turkey" else lamb()
        for more, expected in ((0.0, "met"), (-0.1, "not_met")):
            readings = held(round(value + more, 1), minutes[name] * MINUTE)
            got = answer(name, "cook", readings, food=food, celsius=True, code=COOKING)
            assert got == expected


@pytest.mark.parametrize(
    ("value", "expected"),
    [pytest.param(164.0, "not_met", id="V-51-164"), pytest.param(165.0, "met", id="V-51-165")],
)
def test_turkey_of_one_percent(value: float, expected: str) -> None:
    """Table 4, 1 %: 164 °F takes 11.1 s, 165 °F one reading."""
    assert bird("turkey", value, 0.0, "1") == expected


@pytest.mark.parametrize(
    ("value", "fat", "minutes"),
    [(140.0, "12", 35.0), (140.0, "1", 28.1), (136.0, "2", 64.5), (154.0, "5", 1.5)],
)
def test_other_birds_take_the_longer_of_both(value: float, fat: str, minutes: float) -> None:
    """Tables 3 and 4: chicken is longer at 140 °F and 12 %, turkey at 140 °F and 1 %."""
    assert bird("other-poultry", value, minutes * MINUTE, fat) == "met"
    assert bird("other-poultry", value, minutes * MINUTE - 1, fat) == "not_met"


def test_any_poultry_in_it_makes_it_poultry() -> None:
    """9 CFR 381.150(a)(1): 7-log; 140 °F for 12 min is enough for meat, for 35 min with poultry."""
    for minutes, expected in ((12, "not_met"), (35, "met")):
        facts = {"contains_poultry": "yes"}
        got = judged("cook", held(140.0, minutes * MINUTE), facts=facts, code=COOKING)
        assert found(got, "cook-meat-with-poultry").verdict == expected
        assert found(got, "cook-meat-6-5-log").verdict == "not_applicable"


@pytest.mark.parametrize(
    ("roll", "value", "expected"),
    [
        ("uncured", 160.0, "met"),
        ("uncured", 159.9, "not_met"),
        ("cured_and_smoked", 155.0, "met"),
        ("cured_and_smoked", 154.9, "not_met"),
    ],
)
def test_older_temperatures_of_poultry_rolls(roll: str, value: float, expected: str) -> None:
    """FSIS-GD-2021-14, p. 39, and Appendix A of 1999: 160 °F, or 155 °F cured and smoked."""
    cured = roll != "uncured"
    facts, readings = {"poultry_roll": roll}, held(value, 0.0)
    now = judged("cook", readings, food=TURKEY, facts=facts, code=COOKING)
    assert found(now, f"poultry-roll-{'cured' if cured else 'uncured'}").verdict == expected
    assert found(now, "cook-turkey").verdict == "not_applicable"
    then = judged("cook", readings, food=TURKEY, facts=facts, code=OLD)
    assert found(then, "cook-poultry-cured" if cured else "cook-poultry").verdict == expected


def test_california_prints_145_at_once() -> None:
    """3 CCR 910.11(a): 145 °F instantly, 144 °F for 5 min; it is law, for plants."""
    code = load_code("us/ca/3-ccr-910")
    for value, seconds, expected in (
        (145.0, 0.0, "met"),
        (144.9, 0.0, "not_met"),
        (144.0, 300.0, "met"),
        (144.0, 299.0, "not_met"),
    ):
        readings = held(value, seconds)
        assert answer("cook-beef", "cook", readings, food=BEEF, code=code) == expected
    assert answer("cook-meat-6-5-log", "cook", held(145.0, 0.0), food=BEEF, code=COOKING) == (
        "not_met"
    )
    assert {r.weight for r in code.requirements} == {Weight.LAW}


def test_weights() -> None:
    """The guidelines are no law; nothing in them makes a lot not met."""
    for name in ("a/2021", "a/1999", "b/2021", "b/1999"):
        code = load_code(f"us/plant/appendix-{name}")
        assert {r.weight for r in code.requirements} == {Weight.PLANT}


@pytest.mark.parametrize(
    ("option", "expected"),
    [
        ("steam", "not_met"),
        ("sealed_oven", "not_met"),
        ("moist_part_time", "not_applicable"),
        ("moist_throughout", "not_applicable"),
    ],
)
def test_steam_and_sealed_ovens_take_rows_from_145_on(option: str, expected: str) -> None:
    """Table 1: 130 °F for 112 min needs 90 % humidity; 145 °F for 4 min goes with all ways."""
    facts = {"rh_option": option, "rh_time_kept": "yes"}
    low = judged("cook", held(130.0, 112 * MINUTE), facts=facts, code=COOKING)
    assert found(low, "cook-meat-6-5-log").verdict == "met"
    assert found(low, "moist-rows-6-5-log").verdict == expected
    assert found(low, "moist-air").verdict == "met"
    high = judged("cook", held(145.0, 4 * MINUTE), facts=facts, code=COOKING)
    assert found(high, "moist-rows-6-5-log").verdict != "not_met"


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({}, "not_shown"),
        ({"rh_option": "steam", "rh_time_kept": "yes"}, "met"),
        ({"rh_option": "steam", "rh_time_kept": "no"}, "not_shown"),
        ({"rh_option": "steam"}, "not_shown"),
        ({"moist_by": "sealed_bag"}, "met"),
        ({"moist_by": "direct_heat"}, "met"),
        ({"moist_by": "no"}, "not_shown"),
        ({"smoker_chamber": "not_built_to_seal"}, "met"),
        ({"smoker_chamber": "built_to_seal"}, "not_shown"),
    ],
)
def test_ways_to_keep_the_surface_moist(facts: dict[str, str], expected: str) -> None:
    """Table 1, p. 31, and Table 5 item 3 for pits that were not built to be sealed."""
    readings = held(158.0, 0.0)
    assert answer("moist-air", "cook", readings, facts=facts, code=COOKING) == expected


@pytest.mark.parametrize(
    ("weight", "air", "expected"),
    [
        ("12 lb", 250.0, "met"),
        ("10 lb", 250.0, "met"),
        ("9.9 lb", 250.0, "not_shown"),
        ("12 lb", 249.9, "not_shown"),
        ("4.5 kg", 250.0, "met"),
    ],
)
def test_t14_here_250_is_a_floor(weight: str, air: float, expected: str) -> None:
    """Page 31: no humidity for 10 lb (4.5 kg) or more at 250 °F or more throughout.

    The moist oven of the Food Code's Table 3-3 prints the same figure as a ceiling.
    """
    food, readings = lamb(weight=weight), [(h, air) for h in range(5)]
    log = staged(
        [channel(readings, place=Place.AIR)],
        [note(0, "cook"), note(4, event="finished")],
        food=food,
    )
    assert found(judge(log, code=COOKING), "moist-air").verdict == expected
    humid = staged(
        [channel(readings, place=Place.AIR)],
        [note(0, "cook"), note(4, event="finished")],
        food=food,
        facts={"oven": "humid"},
    )
    assert found(judge(humid), "cook-roast-oven-humid").verdict == "met"


@pytest.mark.parametrize(
    ("seconds", "expected"),
    [
        pytest.param(6 * 3600.0, "met", id="V-52-at-6:00"),
        pytest.param(6 * 3600.0 + MINUTE, "not_met", id="V-52-at-6:01"),
    ],
)
def test_come_up_time_of_whole_muscle_goes_by_its_surface(seconds: float, expected: str) -> None:
    """FSIS-GD-2021-14, come-up time: 50 to 130 °F in 6 h inside, or at the surface if intact."""
    inside: Readings = [
        (at(0.0), 50.0),
        (at(0.2), 50.1),
        *((at(h * 3600.0), 90.0) for h in range(1, 6)),
        (at(seconds - 0.2), 129.9),
        (at(seconds), 130.0),
    ]
    warm: Readings = [(0, 60.0), *((h, 150.0) for h in range(1, 6)), (at(seconds), 150.0)]
    steps = [note(0, "cook"), note(at(seconds), event="finished")]
    for form, surface in ((Form.INTACT, "met"), (Form.INJECTED, expected)):
        food = lamb(forms=(form,))
        code = load_code("us/plant/come-up")
        core = judge(staged([channel(inside)], steps, food=food), code=code)
        if form is Form.INJECTED:
            assert found(core, "come-up").verdict == expected
        both = [channel(inside), channel(warm, place=Place.SURFACE)]
        assert found(judge(staged(both, steps, food=food), code=code), "come-up").verdict == surface


def test_readings_for_a_growth_model() -> None:
    """Attachment A2: readings at least every 30 min where growth is worked out from them."""
    facts = {"heating_deviation": "modelled"}
    for step, expected in ((30, "met"), (31, "not_shown")):
        readings = [(m / 60, 60.0 + m / 4) for m in range(0, 10 * step + 1, step)]
        got = answer("readings-for-a-model", "cook", readings, facts=facts, code=COOKING)
        assert got == expected
