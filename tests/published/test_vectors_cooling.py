"""Worked examples of cooling and reheating.

Sources: FDA Food Code 2022 3-501.14(A), as reproduced in WAC 246-215-03515 (2022) and the
Wisconsin Food Code (ATCP 75 appendix) 3-501.14: 135 °F to 70 °F within 2 h and 135 °F to 41 °F
within 6 h in all; 3-403.11 as reproduced in South Carolina Reg. 61-25, 3-403. Where an example
gives exact moments of crossing, a reading just above the limit stands one second before.
"""

from __future__ import annotations

import pytest

from tests.published.traces import answer, answers, finding, judged
from tests.support import Readings, channel, found, note, seconds, verdict

BOTH = ("cool-135-to-70", "cool-135-to-41")


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 135.0), (2, 70.0), (6, 41.0)], ("met", "met"), id="V-17"),
        # Two hours are over and 70 °F is not reached.
        pytest.param([(0, 135.0), (2, 71.0)], ("not_met", "not_shown"), id="V-18"),
        # The total counts: time saved on the way to 70 °F is kept.
        pytest.param([(0, 135.0), ("0:30", 70.0), ("5:59", 41.0)], ("met", "met"), id="V-19"),
        # 41.1 °F at 6:00:59 stands for the crossing of 41 °F at 6:01.
        pytest.param(
            [(0, 135.0), ("1:50", 70.0), ("6:00:59", 41.1), ("6:01", 41.0)],
            ("met", "not_met"),
            id="V-20",
        ),
    ],
)
def test_cooling(readings: Readings, expected: tuple[str, str]) -> None:
    assert tuple(answer(r, "cool", readings) for r in BOTH) == expected


def test_a_start_between_two_readings_leaves_room_for_both() -> None:
    """V-23: 138 at 10:00, 133 at 10:15, 70 at 12:05.

    By hand: the clock started after 10:00, so at most 2 h 5 min went by; a straight line crosses
    135 °F at 10:09 and gives 1 h 56 min. Nothing settles it but a reading: with 135 °F or more at
    10:05 the 2 h would have been kept.
    """
    line = finding("cool-135-to-70", "cool", [("10:00", 138.0), ("10:15", 133.0), ("12:05", 70.0)])
    assert line.verdict.value == "not_shown"
    assert line.evidence.most_s == 2 * 3600 + 5 * 60
    assert line.settle is not None
    assert line.settle.at is not None
    assert line.settle.at.endswith("15:05:00+00:00")  # 0:00 of every test is 05:00 UTC
    assert "135" in line.settle.what


def test_the_settling_reading_settles_it() -> None:
    """V-23 with the reading that its finding asks for: 12:05 less 2 h is 10:05."""
    readings: Readings = [("10:00", 138.0), ("10:05", 135.0), ("10:15", 133.0), ("12:05", 70.0)]
    assert answer("cool-135-to-70", "cool", readings) == "met"


def test_a_late_reading_above_the_limit_breaks_it() -> None:
    """V-23 with 71 °F at 12:20: 2 h 5 min since 10:15, when the clock was surely running."""
    readings: Readings = [("10:00", 138.0), ("10:15", 133.0), ("12:20", 71.0)]
    assert answer("cool-135-to-70", "cool", readings) == "not_met"


def test_a_trace_that_another_code_allows_is_too_slow_here() -> None:
    """V-22: 135 °F at 0:40 and 70 °F at 3:10 are 2 h 30 min."""
    readings: Readings = [
        (0, 160.0),
        ("0:40", 135.0),
        ("1:10", 120.0),
        ("3:09:59", 70.1),
        ("3:10", 70.0),
    ]
    assert answer("cool-135-to-70", "cool", readings) == "not_met"


@pytest.mark.parametrize(
    ("end", "expected"),
    [
        pytest.param("4:00", "met", id="3-501.14(B)-4:00"),
        pytest.param("4:01", "not_met", id="3-501.14(B)-4:01"),
    ],
)
def test_food_from_ingredients_at_room_temperature(end: str, expected: str) -> None:
    just_before = seconds(end) - 1
    readings: Readings = [(0, 68.0), (f"0:0:{just_before}", 41.1), (end, 41.0)]
    facts = {"cooling_from": "ambient"}
    assert answer("cool-ambient", "cool", readings, facts=facts) == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param(
            [(0, 41.0), ("1:00", 100.0), ("2:00", 165.0), ("2:00:15", 165.0)],
            ("met", "met"),
            id="V-31-2:00",
        ),
        # 164.9 °F at 2:00:59 stands for the arrival at 2:01.
        pytest.param(
            [(0, 41.0), (1, 100.0), ("2:00:59", 164.9), ("2:01", 165.0), ("2:01:15", 165.0)],
            ("met", "not_met"),
            id="V-31-2:01",
        ),
    ],
)
def test_reheating(readings: Readings, expected: tuple[str, str]) -> None:
    both = ("reheat-165", "reheat-in-2h")
    assert tuple(answer(r, "reheat", readings) for r in both) == expected


def test_reheating_of_a_sealed_pack_from_an_inspected_plant() -> None:
    """V-34: 135 °F in 1 h 30 min, Food Code 3-403.11(C) and (D)."""
    readings: Readings = [(0, 41.0), ("0:45", 90.0), ("1:30", 135.0)]
    facts = {"origin": "commercial_sealed"}
    evaluation = judged("reheat", readings, facts=facts)
    assert found(evaluation, "reheat-commercial-135").verdict.value == "met"
    assert found(evaluation, "reheat-commercial-in-2h").verdict.value == "met"
    assert found(evaluation, "reheat-165").verdict.value == "not_applicable"


@pytest.mark.parametrize(
    ("preparation", "expected"),
    [pytest.param("4:00", "met", id="V-35-4:00"), pytest.param("4:01", "not_met", id="V-35-4:01")],
)
def test_thaw_and_preparation_count_together(preparation: str, expected: str) -> None:
    """V-35: 3 h in running water and 1 h, or 1 h 1 min, of preparation (3-501.13(B)(4))."""
    core = channel([(0, 41.1), (3, 48.0), (preparation, 50.0)])
    steps = [
        note(0, "thaw", method="running_water"),
        note(3, "prep"),
        note(preparation, "cook"),
        note(12, event="finished"),
    ]
    assert answers([core], steps)["thaw-raw-4h"] == expected


def test_four_hours_shown_and_perhaps_more_is_neither() -> None:
    """4 h are allowed; 4 h are shown, and up to 4 h 2 min may have gone by (3-501.13(B)(4))."""
    readings: Readings = [(0, 40.0), ("0:01", 45.0), ("4:01", 45.0), ("4:02", 40.0)]
    line = finding("thaw-raw-4h", "prep", readings)
    assert (line.evidence.least_s, line.evidence.most_s) == (4 * 3600, 4 * 3600 + 120)
    assert line.verdict.value == "not_shown"


def test_clock_from_a_finish_below_135() -> None:
    """Food that is done at 130 °F starts its cooling clock at once: 70 °F at 2:00 is in time."""
    steps = [note(0, "cook"), note(2, "cool"), note(4, event="finished")]
    in_time: Readings = [(0, 130.0), (2, 130.0), (4, 70.0)]
    late: Readings = [(0, 130.0), (2, 130.0), ("4:00", 70.1), ("4:00:01", 70.0)]
    assert verdict("cool-135-to-70", in_time, steps) == "met"
    later = [*steps[:2], note("4:00:01", event="finished")]
    assert verdict("cool-135-to-70", late, later) == "not_met"
