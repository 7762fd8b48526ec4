"""Worked examples of hot and cold holding and of time as the control.

Sources: FDA Food Code 2022 3-501.16 as reproduced in WAC 246-215-03525 and the Wisconsin Food
Code (ATCP 75 appendix) 3-501.16; 3-501.19 as reproduced in 2 VAC 5-585-850, Oklahoma OAC
310:257-5-62 and Minn. R. 4626.0408.
"""

from __future__ import annotations

import pytest

from tempwitness.model.finding import Evaluation
from tempwitness.model.lot import TimeControlPlan
from tempwitness.model.vocabulary import Answer, Cut, Form, Species
from tests.published.traces import answer
from tests.support import (
    ZERO,
    Readings,
    channel,
    found,
    judge,
    lamb,
    note,
    prepared_on,
    seconds,
    staged,
)

KEPT = {"oven_line": "kept"}


@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        pytest.param("hot_hold", "hot-hold", 135.0, "met", id="V-28-135.0"),
        pytest.param("hot_hold", "hot-hold", 134.9, "not_met", id="V-28-134.9"),
        pytest.param("cold_hold", "cold-hold", 41.0, "met", id="V-53-41.0"),
        pytest.param("cold_hold", "cold-hold", 41.1, "not_met", id="V-53-41.1"),
    ],
)
def test_holding(stage: str, requirement: str, value: float, expected: str) -> None:
    assert answer(requirement, stage, [(0, value), (2, value)]) == expected


@pytest.mark.parametrize(
    ("value", "pulled", "facts", "expected"),
    [
        pytest.param(130.0, False, KEPT, "met", id="V-29-unsliced"),
        pytest.param(129.9, False, KEPT, "not_met", id="V-29-unsliced-below"),
        # Pulled meat is no roast any more: 135 °F.
        pytest.param(130.0, True, KEPT, "not_met", id="V-29-pulled"),
        # Whether the pit kept the oven line of 3-401.11(B)(2) is not on record: a question.
        pytest.param(130.0, False, {}, "not_shown", id="V-29-oven-line-unknown"),
    ],
)
def test_t19_roast_held_at_130(
    value: float, pulled: bool, facts: dict[str, str], expected: str
) -> None:
    cooked: Readings = [("0:10", 130.0), ("2:02", 130.0)]  # 112 min
    readings = [*cooked, ("3:00", value), ("6:00", value)]
    steps = [note(0, "cook"), note("3:00", "hot_hold"), note("6:00", event="finished")]
    if pulled:
        steps.append(note("2:30", event="shredded"))
    evaluation = judge(staged([channel(readings)], steps, facts=facts))
    assert found(evaluation, "cook-roast").verdict.value == "met"
    held_hot = found(evaluation, "hot-hold")
    assert held_hot.verdict.value == expected
    assert bool(held_hot.allowance) is (expected == "met")


def test_t19_the_lower_hold_is_for_whole_muscle_cooked_by_the_ladder() -> None:
    """Turkey, injected meat and a roast that kept no row of the ladder need 135 °F."""
    turkey = lamb(Species.TURKEY, cut=Cut.ROAST)
    injected = lamb(forms=(Form.INJECTED,))
    readings: Readings = [(0, 131.0), (2, 131.0)]
    for food in (turkey, injected, lamb()):
        assert answer("hot-hold", "hot_hold", readings, food=food, facts=KEPT) == "not_met"


OTHER_FOOD = {"tphc_food": "other"}


def under_time(
    option: str,
    readings: Readings,
    end: str | None,
    *,
    asked: str = "5:00",
    facts: dict[str, str] | None = OTHER_FOOD,
) -> Evaluation:
    """Serve food under a written procedure from 0:00 until a noted end."""
    plan = TimeControlPlan(
        start=ZERO,
        option="6h" if option == "6h" else "4h",
        written=prepared_on("2026-07-01"),
        marked=Answer.YES,
    )
    steps = [note(0, "serve")]
    if end is not None:
        steps.append(note(end, event="finished"))
    log = staged([channel(readings)], steps, time_control=[plan], facts=facts)
    return judge(log, asked=ZERO + seconds(asked))


def test_start_between_is_open_while_the_kind_of_food_is_not_on_record() -> None:
    """3-501.19(B)(2) lets cut produce and opened packs start at 70 °F; silence rules it not out."""
    evaluation = under_time("4h", [(0, 41.1)], "0:30", facts=None)
    assert found(evaluation, "tphc-start-4h").verdict.value == "not_shown"


def test_four_hours_end_at_the_marked_time() -> None:
    """V-36: out at 135.0 °F at noon, discard by 16:00: four hours later."""
    evaluation = under_time("4h", [(0, 135.0)], None, asked="1:00")
    assert found(evaluation, "tphc-start-4h").verdict.value == "met"
    running = found(evaluation, "tphc-end-4h")
    assert running.verdict.value == "open"
    assert running.deadline == "2026-07-04T09:00:00+00:00"  # 0:00 is 05:00 UTC


@pytest.mark.parametrize(
    ("option", "value", "expected"),
    [
        pytest.param("4h", 134.9, "not_met", id="V-37"),
        pytest.param("4h", 135.0, "met", id="V-36-start"),
        pytest.param("4h", 41.0, "met", id="3-501.19(B)(1)-cold"),
        pytest.param("4h", 41.1, "not_met", id="3-501.19(B)(1)-between"),
        pytest.param("6h", 41.0, "met", id="V-38-start"),
        pytest.param("6h", 41.1, "not_met", id="3-501.19(C)(1)-41.1"),
        # Hot food has no six-hour procedure.
        pytest.param("6h", 135.0, "not_met", id="V-40"),
    ],
)
def test_start_of_a_time_control(option: str, value: float, expected: str) -> None:
    evaluation = under_time(option, [(0, value)], "0:30")
    assert found(evaluation, f"tphc-start-{option}").verdict.value == expected


@pytest.mark.parametrize(
    ("readings", "end", "expected"),
    [
        pytest.param([(0, 41.0), (3, 60.0), (6, 69.9)], "6:00", "met", id="V-38"),
        pytest.param([(0, 41.0), (3, 70.1)], "3:30", "not_met", id="V-39"),
        pytest.param([(0, 41.0), (3, 60.0), ("6:01", 69.9)], "6:01", "not_met", id="V-38-6:01"),
    ],
)
def test_six_hours_below_70(readings: Readings, end: str, expected: str) -> None:
    evaluation = under_time("6h", readings, end, asked="12:00")
    assert found(evaluation, "tphc-end-6h").verdict.value == expected


def test_six_hours_end_six_hours_after_removal() -> None:
    """V-38: out at 41.0 °F, discard by six hours later."""
    running = found(under_time("6h", [(0, 41.0), (3, 69.9)], None, asked="3:00"), "tphc-end-6h")
    assert running.verdict.value == "open"
    assert running.deadline == "2026-07-04T11:00:00+00:00"


@pytest.mark.parametrize(
    ("end", "expected"),
    [
        pytest.param("4:00", "met", id="3-501.19(B)-4:00"),
        pytest.param("4:01", "not_met", id="3-501.19(B)-4:01"),
    ],
)
def test_four_hours(end: str, expected: str) -> None:
    evaluation = under_time("4h", [(0, 140.0)], end, asked="12:00")
    assert found(evaluation, "tphc-end-4h").verdict.value == expected
