"""Worked examples of the cooking rules of the FDA Food Code 2022.

Source of every figure: Table 3-1, 3-2 and 3-3 of FDA Food Code 2022 3-401.11 as reproduced in
WAC 246-215-03400 (2022) and South Carolina Reg. 61-25, 3-401; the expected side follows from
"at or above" and the minutes printed there.
"""

from __future__ import annotations

import pytest

from tempwitness.model.vocabulary import Cut, Form, Place, Species
from tests.published.traces import answer, answers, at, finding, held, judged
from tests.support import channel, found, judge, lamb, note, staged

MINUTE = 60.0
LAMB = lamb()
RIBS = lamb(cut=Cut.RIBS)
INJECTED = lamb(forms=(Form.INJECTED,))
TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # Table 3-2: 130 °F takes 112 min.
        pytest.param(held(130.0, 112 * MINUTE - 1), "not_met", id="V-01"),
        pytest.param(held(130.0, 112 * MINUTE), "met", id="V-02"),
        pytest.param(held(129.9, 180 * MINUTE), "not_met", id="V-03"),
        # The ladder has no row of 132 °F, so the row of 131 °F (89 min) stands.
        pytest.param(held(132.0, 71 * MINUTE), "not_met", id="V-04"),
        pytest.param(held(132.0, 89 * MINUTE), "met", id="V-05"),
        # One reading at 158 °F is a row of its own.
        pytest.param(held(158.0, 0.0), "met", id="V-09"),
        # 145 °F takes 4 min in a roast.
        pytest.param(held(145.0, 15.0), "not_met", id="V-08-roast"),
    ],
)
def test_ladder_of_whole_roasts(readings: list[tuple[str, float]], expected: str) -> None:
    assert answer("cook-roast", "cook", readings, food=LAMB) == expected


def test_rows_are_not_added_up() -> None:
    """V-06: 60 min of the 112 min at 130 °F and 20 min of the 36 min at 135 °F make no row."""
    readings = [
        (at(0), 129.9),
        (at(0.2), 130.0),
        (at(60 * MINUTE), 130.0),
        (at(60 * MINUTE + 0.2), 135.0),
        (at(80 * MINUTE), 135.0),
        (at(80 * MINUTE + 0.2), 129.9),
    ]
    # 80 min at 130 °F or more (112 needed), 20 min at 135 °F or more (36 needed); yet
    # 60/112 + 20/36 = 1.09.
    assert answer("cook-roast", "cook", readings) == "not_met"


def test_time_counts_at_or_above_the_row() -> None:
    """V-07: 4 min at 144 °F and 1 min at 145 °F are 5 min at 144 °F or more, the row of 144 °F."""
    readings = [(at(0), 144.0), (at(240), 144.0), (at(240.2), 145.0), (at(300), 145.0)]
    assert answer("cook-roast", "cook", readings) == "met"


def test_rack_of_ribs_needs_fifteen_seconds() -> None:
    """V-08: an intact rack of ribs stands in (A)(1), 145 °F for 15 s."""
    assert answer("cook-intact", "cook", held(145.0, 15.0), food=RIBS) == "met"
    assert answer("cook-intact", "cook", held(145.0, 14.0), food=RIBS) == "not_met"


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # Table 3-1: 155 °F for 17 s, 150 °F for 1 min, 145 °F for 3 min, 158 °F at once.
        pytest.param(held(155.0, 16.0), "not_met", id="V-10-16s"),
        pytest.param(held(155.0, 17.0), "met", id="V-10-17s"),
        pytest.param(held(145.0, 179.0), "not_met", id="V-12-2:59"),
        pytest.param(held(145.0, 180.0), "met", id="V-12-3:00"),
        pytest.param(held(150.0, 59.0), "not_met", id="V-12-59s"),
        pytest.param(held(150.0, 60.0), "met", id="V-12-60s"),
        pytest.param(held(157.9, 16.0), "not_met", id="V-12-157.9"),
        pytest.param(held(158.0, 0.0), "met", id="V-12-158"),
    ],
)
def test_injected_shoulder(readings: list[tuple[str, float]], expected: str) -> None:
    assert answer("cook-tenderised", "cook", readings, food=INJECTED) == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param(held(165.0, 0.0), "met", id="V-13-165"),
        pytest.param(held(164.9, 600.0), "not_met", id="V-13-164.9"),
    ],
)
def test_turkey(readings: list[tuple[str, float]], expected: str) -> None:
    assert answer("cook-poultry-stuffed", "cook", readings, food=TURKEY) == expected


@pytest.mark.parametrize(
    ("weight", "oven", "pit", "requirement", "expected"),
    [
        # Table 3-3: below 10 lb 350 °F still or 325 °F convection, from 10 lb 250 °F. A pit below
        # it is a question for the authority, never a broken cook.
        pytest.param("8 lb", "still", 225.0, "still-small", "not_shown", id="V-15-still"),
        pytest.param("8 lb", "convection", 225.0, "convection-small", "not_shown", id="V-15-conv"),
        pytest.param("12 lb", "still", 250.0, "dry-large", "met", id="V-16-250"),
        pytest.param("12 lb", "still", 225.0, "dry-large", "not_shown", id="V-16-225"),
    ],
)
def test_pit_below_the_oven_table_is_asked_about(
    weight: str, oven: str, pit: float, requirement: str, expected: str
) -> None:
    core = channel([(1, 100.0), (4, 170.0), (8, 203.0)])
    air = channel([(h, pit) for h in range(9)], place=Place.AIR)
    steps = [note(0, "cook"), note(8, event="finished")]
    log = staged([core, air], steps, food=lamb(weight=weight), facts={"oven": oven})
    evaluation = judge(log)
    line = found(evaluation, f"cook-roast-oven-{requirement}")
    assert found(evaluation, "cook-roast").verdict.value == "met"
    assert line.verdict.value == expected
    asked = [q for q in evaluation.questions if "authority accept" in q]
    assert bool(asked) is (expected == "not_shown")


@pytest.mark.parametrize(
    ("minutes", "expected"),
    [pytest.param(60, "met", id="V-55-60"), pytest.param(61, "not_met", id="V-55-61")],
)
def test_first_heating_of_a_cook_in_two_parts(minutes: int, expected: str) -> None:
    """Food Code 3-401.14(A), read in 12 VAC 5-421-725 and Minn. R. 4626.0349: at most 60 min."""
    core = channel([(0, 40.0), (at(minutes * 60), 95.0), (5, 40.0), (9, 40.0), (15, 170.0)])
    steps = [note(0, "cook"), note(at(minutes * 60), "cool"), note(9, "cook"), note(15, "rest")]
    assert answers([core], steps)["nc-first-heating"] == expected


def test_a_heating_that_cooked_the_food_through_is_not_limited() -> None:
    """3-401.14 speaks of food that is not cooked through in its first heating."""
    core = channel([(0, 40.0), (8, 203.0), (10, 70.0), (14, 40.0), (20, 40.0), (24, 180.0)])
    steps = [note(0, "cook"), note(8, "cool"), note(20, "cook"), note(24, "rest")]
    assert answers([core], steps)["nc-first-heating"] == "met"


def test_microwave_needs_165() -> None:
    """Food Code 3-401.12 (12 VAC 5-421-710): 165 °F in all parts, whatever the species."""
    assert answer("cook-microwave", "cook", held(165.0, 0.0), method="microwave") == "met"
    assert answer("cook-microwave", "cook", held(164.9, 0.0), method="microwave") == "not_met"
    evaluation = judged("cook", held(165.0, 0.0), method="microwave")
    assert found(evaluation, "cook-microwave-stand").verdict.value == "not_shown"


def test_met_names_the_row_that_was_kept() -> None:
    line = finding("cook-roast", "cook", held(140.0, 12 * MINUTE))
    assert line.verdict.value == "met"
    assert "140 °F" in line.reason
    assert "12 min" in line.reason
