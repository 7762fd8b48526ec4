"""Worked examples of the editions of the FDA Food Code before 2022, and what each says otherwise.

The expected side follows from the section named at each test: Food Code 2017 as 12 VAC 5-421-700
(2021) gives it, Food Code 2013 as the same section gave it in 2016 and Minn. R. 4626.0340 gives it,
and the old forms that NAVMED P-5010-1 and Maine 01-001 chapter 346 still print.
"""

from __future__ import annotations

import pytest

from tempwitness.model.lot import Food, TimeControlPlan
from tempwitness.model.rule import Code
from tempwitness.model.vocabulary import Answer, Cut, Form, Place, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, at, finding, held
from tests.support import ZERO, Readings, channel, found, judge, lamb, note, prepared_on, staged

MINUTE = 60.0
INJECTED = lamb(Species.PORK, forms=(Form.INJECTED,))
TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
BEEF = lamb(Species.BEEF)
PORK = lamb(Species.PORK)


def edition(year: int) -> Code:
    return load_code(f"us/food-code/{year}")


@pytest.mark.parametrize(
    ("year", "hold", "expected"),
    [
        # 3-401.11(A)(2): 155 °F for 17 s since the 2017 edition, for 15 s before it.
        pytest.param(2017, 16.0, "not_met", id="V-10-2017-16s"),
        pytest.param(2017, 17.0, "met", id="V-10-2017-17s"),
        pytest.param(2013, 14.0, "not_met", id="V-11-2013-14s"),
        pytest.param(2013, 15.0, "met", id="V-11-2013-15s"),
        pytest.param(2009, 15.0, "met", id="V-11-2009-15s"),
        pytest.param(2005, 15.0, "met", id="V-11-2005-15s"),
        pytest.param(1999, 14.0, "not_met", id="V-11-1999-14s"),
        pytest.param(1999, 15.0, "met", id="V-11-1999-15s"),
    ],
)
def test_injected_shoulder_at_155(year: int, hold: float, expected: str) -> None:
    readings = held(155.0, hold)
    code = edition(year)
    assert answer("cook-tenderised", "cook", readings, food=INJECTED, code=code) == expected


@pytest.mark.parametrize("year", [2017, 2013, 2009])
@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # 3-401.11(A)(2), table: 145 °F for 3 min, 150 °F for 1 min, 158 °F at once.
        pytest.param(held(145.0, 179.0), "not_met", id="V-12-2:59"),
        pytest.param(held(145.0, 180.0), "met", id="V-12-3:00"),
        pytest.param(held(150.0, 59.0), "not_met", id="V-12-59s"),
        pytest.param(held(150.0, 60.0), "met", id="V-12-60s"),
        pytest.param(held(157.9, 14.0), "not_met", id="V-12-157.9"),
        pytest.param(held(158.0, 0.0), "met", id="V-12-158"),
    ],
)
def test_other_rows_of_injected_meat(year: int, readings: Readings, expected: str) -> None:
    code = edition(year)
    assert answer("cook-tenderised", "cook", readings, food=INJECTED, code=code) == expected


@pytest.mark.parametrize(
    ("year", "readings", "expected"),
    [
        # 3-401.11(A)(3): one reading of 165 °F since the 2017 edition, 15 s before it.
        pytest.param(2017, held(165.0, 0.0), "met", id="V-13-165"),
        pytest.param(2017, held(164.9, 600.0), "not_met", id="V-13-164.9"),
        pytest.param(2013, [(0, 165.0), ("0:01", 164.0)], "not_shown", id="V-14"),
        pytest.param(2013, held(165.0, 14.0), "not_met", id="V-14-14s"),
        pytest.param(2013, held(165.0, 15.0), "met", id="V-14-15s"),
        pytest.param(1999, held(165.0, 15.0), "met", id="V-14-1999"),
    ],
)
def test_turkey(year: int, readings: Readings, expected: str) -> None:
    code = edition(year)
    assert answer("cook-poultry-stuffed", "cook", readings, food=TURKEY, code=code) == expected


@pytest.mark.parametrize(
    ("year", "ladder", "oven"), [(2022, 1, 2), (2017, 1, 2), (2013, 2, 1), (2009, 2, 1)]
)
def test_t16_the_paragraphs_on_roasts_are_swapped(year: int, ladder: int, oven: int) -> None:
    """3-401.11(B): ladder, then oven since 2017; oven, then ladder before."""
    code = edition(year)
    for name, paragraph in (("cook-roast", ladder), ("cook-roast-oven-dry-large", oven)):
        requirement = code.find(name)
        assert requirement is not None
        assert f"3-401.11(B)({paragraph})" in requirement.section
    hold = code.find("hot-hold")
    assert hold is not None
    assert f"3-401.11(B)({oven})" in hold.alternatives[0].question


@pytest.mark.parametrize("year", [2022, 2017, 2013, 2009, 2005, 1999])
def test_t17_reheating_stays_at_15_seconds(year: int) -> None:
    """3-403.11(A): 165 °F for 15 s in every edition, whatever poultry asks for."""
    code = edition(year)
    assert answer("reheat-165", "reheat", held(165.0, 15.0), food=TURKEY, code=code) == "met"
    assert answer("reheat-165", "reheat", held(165.0, 14.0), food=TURKEY, code=code) == "not_met"


@pytest.mark.parametrize(
    ("year", "food", "requirement", "readings", "expected"),
    [
        # 130 °F takes 112 min from the 2001 edition on; in 1999 the ladder began with 121 min.
        (2013, lamb(), "cook-roast", held(130.0, 112 * MINUTE), "met"),
        (2013, lamb(), "cook-roast", held(130.0, 112 * MINUTE - 1), "not_met"),
        (2009, BEEF, "cook-roast", held(130.0, 112 * MINUTE), "met"),
        (2005, PORK, "cook-roast", held(130.0, 112 * MINUTE), "met"),
        (1999, BEEF, "cook-roast", held(130.0, 121 * MINUTE), "met"),
        (1999, BEEF, "cook-roast", held(130.0, 121 * MINUTE - 1), "not_met"),
        # The old ladder has a row of 132 °F (77 min) and 145 °F for 3 min; the new one has none
        # of 132 °F and takes 4 min at 145 °F.
        (1999, BEEF, "cook-roast", held(132.0, 77 * MINUTE), "met"),
        (2009, BEEF, "cook-roast", held(132.0, 77 * MINUTE), "not_met"),
        (1999, BEEF, "cook-roast", held(145.0, 3 * MINUTE), "met"),
        (2009, BEEF, "cook-roast", held(145.0, 3 * MINUTE), "not_met"),
        # Lamb is a roast of (B) from 2013 on, before that meat of (A)(1): 145 °F for 15 s.
        (2013, lamb(), "cook-roast", held(145.0, 15.0), "not_met"),
        (2009, lamb(), "cook-lamb-roast", held(145.0, 15.0), "met"),
        (2009, lamb(), "cook-lamb-roast", held(145.0, 14.0), "not_met"),
        (2009, lamb(), "cook-roast", held(145.0, 15.0), "not_applicable"),
        # The ladder of 1999 names beef and corned beef; pork takes 145 °F for 15 s there.
        (1999, PORK, "cook-pork-roast", held(145.0, 15.0), "met"),
        (1999, PORK, "cook-pork-roast", held(144.9, 60.0), "not_met"),
        (2005, PORK, "cook-roast", held(145.0, 15.0), "not_met"),
    ],
)
def test_roasts(year: int, food: Food, requirement: str, readings: Readings, expected: str) -> None:
    assert answer(requirement, "cook", readings, food=food, code=edition(year)) == expected


@pytest.mark.parametrize(
    ("year", "requirement", "expected"),
    [(2013, "cook-tenderised", "not_met"), (2009, "cook-intact", "met")],
)
def test_tenderised_steak_is_named_from_2013_on(year: int, requirement: str, expected: str) -> None:
    """3-401.11(A)(2) names tenderised meat from the 2013 edition on: 145 °F for 15 s till then."""
    steak = lamb(Species.BEEF, forms=(Form.TENDERISED,), cut=Cut.STEAK)
    readings = held(145.0, 15.0)
    assert answer(requirement, "cook", readings, food=steak, code=edition(year)) == expected


@pytest.mark.parametrize(
    ("year", "value", "expected"),
    [
        # 3-501.16(A)(1): 135 °F since the Supplement of August 2003, 140 °F before it.
        (2005, 135.0, "met"),
        (2005, 134.9, "not_met"),
        (1999, 140.0, "met"),
        (1999, 139.9, "not_met"),
    ],
)
def test_hot_holding(year: int, value: float, expected: str) -> None:
    readings: Readings = [(0, value), (2, value)]
    pulled = lamb(Species.CHICKEN, cut=Cut.BIRD_PART)
    assert answer("hot-hold", "hot_hold", readings, food=pulled, code=edition(year)) == expected


@pytest.mark.parametrize(("species", "expected"), [("beef", "met"), ("pork", "not_met")])
def test_130_is_for_the_roasts_that_the_edition_names(species: str, expected: str) -> None:
    """3-501.16(A)(1) of 1999: 130 °F for roasts cooked by (B), which names beef alone."""
    core = channel([(0, 60.0), (1, 145.0), ("1:05", 150.0), (2, 130.0), (4, 130.0)])
    steps = [note(0, "cook"), note(2, "hot_hold"), note(4, event="finished")]
    log = staged([core], steps, food=lamb(Species(species)), facts={"oven_line": "kept"})
    assert found(judge(log, code=edition(1999)), "hot-hold").verdict.value == expected


@pytest.mark.parametrize(
    ("year", "facts", "value", "expected"),
    [
        # Units in use were allowed 45 °F for a time before the 2009 edition.
        (2005, {"cold_unit": "allowed_45"}, 45.0, "met"),
        (2005, {"cold_unit": "allowed_45"}, 45.1, "not_met"),
        (2005, {"cold_unit": "keeps_41"}, 45.0, "not_met"),
        (2005, {}, 45.0, "not_shown"),
        (2009, {"cold_unit": "allowed_45"}, 45.0, "not_met"),
        (2009, {}, 41.0, "met"),
    ],
)
def test_cold_holding(year: int, facts: dict[str, str], value: float, expected: str) -> None:
    readings: Readings = [(0, value), (2, value)]
    code = edition(year)
    assert answer("cold-hold", "cold_hold", readings, facts=facts, code=code) == expected


@pytest.mark.parametrize(("days", "expected"), [(3, "met"), (4, "not_met")])
def test_four_days_at_45(days: int, expected: str) -> None:
    """3-501.17 before 2009: 4 days at 41 to 45 °F, the day of preparation being the first."""
    steps = [
        note(0, "cook"),
        note(2, "prep"),
        note(3, "cold_hold"),
        note(3, event="date_marked"),
        note(3 + 24 * days, event="finished"),
    ]
    core = channel([(2.5, 41.0), (4, 45.0)])
    log = staged([core], steps, facts={"cold_unit": "allowed_45"})
    assert found(judge(log, code=edition(2005)), "date-mark-4-days").verdict.value == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # 140 to 70 °F in 2 h, then a further 4 h to 41 °F, each by its own clock.
        pytest.param([(0, 140.0), (2, 70.0), (6, 41.0)], ("met", "met"), id="edge"),
        pytest.param(
            [(0, 140.0), (2, 71.0), ("2:10", 70.0), ("6:10", 41.0)],
            ("not_met", "met"),
            id="V-18-old",
        ),
        pytest.param(
            [(0, 140.0), ("0:30", 70.0), ("4:30:59", 41.1), ("5:59", 41.0)],
            ("met", "not_met"),
            id="V-19-old",
        ),
        pytest.param([(0, 160.0), (3, 140.0), (5, 70.0), (9, 41.0)], ("met", "met"), id="late"),
    ],
)
def test_two_clocks_of_1999(readings: Readings, expected: tuple[str, str]) -> None:
    both = ("cool-140-to-70", "cool-70-to-41")
    assert tuple(answer(r, "cool", readings, code=edition(1999)) for r in both) == expected


def test_time_saved_is_kept_from_2009_on() -> None:
    """V-19: 70 °F after 30 min and 41 °F after 5 h 59 min keep 3-501.14(A)(2), 6 h in all."""
    readings: Readings = [(0, 135.0), ("0:30", 70.0), ("5:59", 41.0)]
    for year in (2009, 2013, 2017):
        assert answer("cool-135-to-41", "cool", readings, code=edition(year)) == "met"
        assert answer("cool-135-to-70", "cool", readings, code=edition(year)) == "met"


@pytest.mark.parametrize(
    ("minutes", "expected"),
    [pytest.param(60, "met", id="V-55-60"), pytest.param(61, "not_met", id="V-55-61")],
)
def test_cooks_in_two_parts_from_2009_on(minutes: int, expected: str) -> None:
    """3-401.14(A) is new in 2009: 60 min at most; 2005 has no such rule."""
    core = channel([(0, 40.0), (at(minutes * 60), 95.0), (5, 40.0), (9, 40.0), (15, 170.0)])
    steps = [note(0, "cook"), note(at(minutes * 60), "cool"), note(9, "cook"), note(15, "rest")]
    evaluation = judge(staged([core], steps, food=BEEF), code=edition(2009))
    assert found(evaluation, "nc-first-heating").verdict.value == expected
    assert edition(2005).find("nc-first-heating") is None


@pytest.mark.parametrize(("value", "expected"), [(165.0, "met"), (164.9, "not_met")])
def test_the_finish_of_2009(value: float, expected: str) -> None:
    """3-401.14(D) of 2009: 165 °F for 15 s, where later editions take the food's own row."""
    core = channel([(0, 40.0), ("0:50", 95.0), (4, 40.0), (9, 40.0), (11, value), ("11:30", value)])
    steps = [
        note(0, "cook"),
        note("0:50", "cool"),
        note(9, "cook"),
        note("11:30", event="finished"),
    ]
    log = staged([core], steps, food=BEEF, facts={"process": "non_continuous"})
    evaluation = judge(log, code=edition(2009))
    assert found(evaluation, "nc-finish-165").verdict.value == expected
    assert edition(2013).find("nc-finish-165") is None


@pytest.mark.parametrize(
    ("year", "value", "expected"),
    [(2022, 70.0, "met"), (2022, 70.1, "not_met"), (2017, 70.0, "not_met"), (2017, 41.0, "met")],
)
def test_start_at_70_came_with_2022(year: int, value: float, expected: str) -> None:
    """3-501.19(B)(2): cut produce may start at 70 °F; the 2017 edition itself has no such start."""
    plan = TimeControlPlan(ZERO, "4h", prepared_on("2026-07-01"), Answer.YES)
    readings: Readings = [(0, value), (2, value)]
    said = {"tphc_food": "cut_produce", "tphc_start": "at_70"}
    line = finding(
        "tphc-start-4h",
        "serve",
        readings,
        food=lamb(Species.PLANT, forms=None, cut=Cut.PAN),
        facts=said,
        time_control=[plan],
        code=edition(year),
    )
    assert line.verdict.value == expected


@pytest.mark.parametrize(("value", "expected"), [(140.0, "met"), (139.9, "not_met")])
def test_time_control_of_1999_starts_from_its_own_hot_hold(value: float, expected: str) -> None:
    """3-501.16(A) of 1999 holds hot food at 140 °F, so time control starts there."""
    plan = TimeControlPlan(ZERO, "4h", prepared_on("2026-07-01"), Answer.YES)
    readings: Readings = [(0, value), (2, value)]
    code = edition(1999)
    found_one = finding("tphc-start-4h", "serve", readings, time_control=[plan], code=code)
    assert found_one.verdict.value == expected


@pytest.mark.parametrize(
    ("year", "days", "permit", "expected"),
    [
        # 1-201.10(B): no more than 14 consecutive days; nothing is owed up to then.
        pytest.param(2022, "14", "no", "not_applicable", id="V-54-14"),
        pytest.param(2022, "15", "no", "not_met", id="V-54-15"),
        pytest.param(2022, "15", "unknown", "not_shown", id="V-54-15-unsaid"),
        pytest.param(2022, "15", "yes", "met", id="V-54-15-other-permit"),
        pytest.param(2017, "15", "no", "not_met", id="V-54-2017"),
    ],
)
def test_days_of_a_temporary_place(year: int, days: str, permit: str, expected: str) -> None:
    facts = {"days_at_event": days, "longer_permit": permit}
    readings: Readings = [(0, 150.0), (2, 150.0)]
    code, event = edition(year), "temporary_event"
    line = finding("temporary-days", "hot_hold", readings, facts=facts, business=event, code=code)
    assert line.verdict.value == expected


@pytest.mark.parametrize(("value", "expected"), [(45.0, "met"), (45.1, "not_met")])
def test_raw_eggs_go_into_cold_air(value: float, expected: str) -> None:
    """3-501.14(D): air of at most 45 °F."""
    eggs = lamb(Species.EGG, forms=None, cut=None)
    readings: Readings = [(0, value), (2, value)]
    code = edition(2022)
    line = finding("cool-eggs-air", "cool", readings, food=eggs, place=Place.AIR, code=code)
    assert line.verdict.value == expected


@pytest.mark.parametrize(
    ("year", "way", "words"),
    [
        # 3-502.12(B) and (D)(2)(e)(iii): 30 days and 7 days at 41 °F, in 2009 14 days and 72 h.
        (2013, "second_barrier", "within 30 days"),
        (2009, "second_barrier", "within 14 days"),
        (2013, "cook_chill_41f_7d", "within 7 days"),
        (2009, "cook_chill_41f_7d", "within 72 h"),
    ],
)
def test_lives_of_packs_without_air(year: int, way: str, words: str) -> None:
    log = staged([channel([(0, 40.0)])], [note(0, "cold_hold")], facts={"rop_way": way})
    evaluation = judge(log, code=edition(year))
    asked = [f for f in evaluation.findings if f.verdict.value == "not_shown" and words in f.limit]
    assert [f.requirement.split("#")[0] for f in asked] == [f"us/food-code/{year}"]
