"""What every code states once and many readers get wrong: clocks and gaps.

Sources: FDA Food Code 2022 by section, as reproduced in WAC 246-215, 12 VAC 5-421, 2 VAC 5-585,
South Carolina Reg. 61-25 and the Wisconsin Food Code. Each test carries the number of its trap.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Verdict
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, answers, judged
from tests.support import (
    FOOD_CODE,
    ZERO,
    Readings,
    channel,
    found,
    note,
)

if TYPE_CHECKING:
    pass


def test_t02_the_clock_starts_at_135_and_not_when_the_meat_leaves_the_heat() -> None:
    steady = [(0, 203.0), (3, 160.0), (6, 135.0), (8, 70.0), (12, 41.0)]
    got = answers([channel(steady)], [note(0, "cool"), note(12, event="finished")])
    assert got["cool-135-to-70"] == "met"  # 2 h after 135 °F, 8 h after the pit
    assert got["cool-135-to-41"] == "met"  # 6 h after 135 °F


def test_t03_six_hours_are_the_total() -> None:
    """Two hours to 70 °F and then 4 h 1 min are too long; 30 min and then 5 h 29 min are not."""
    slow: Readings = [(0, 135.0), (2, 70.0), ("6:00:30", 41.1), ("6:01", 41.0)]
    quick: Readings = [(0, 135.0), ("0:30", 70.0), ("5:59", 41.0)]
    assert answer("cool-135-to-41", "cool", slow) == "not_met"
    assert answer("cool-135-to-41", "cool", quick) == "met"


def test_t07_the_earliest_possible_start_and_no_credit_outside() -> None:
    # Cooling counts from the last reading of 135 °F or more.
    assert answer("cool-135-to-70", "cool", [(0, 138.0), ("0:15", 133.0), (2, 70.0)]) == "met"
    late: Readings = [(0, 138.0), ("0:15", 133.0), ("2:10", 70.0)]
    assert answer("cool-135-to-70", "cool", late) == "not_shown"
    # A hold counts from the first to the last reading at or above: 1 h 51 min are shown, and the
    # readings around leave room for 112 min.
    hold: Readings = [(0, 125.0), ("0:10", 130.0), ("2:01", 130.0), ("2:10", 125.0)]
    assert answer("cook-roast", "cook", hold) == "not_shown"
    longer: Readings = [(0, 125.0), ("0:10", 130.0), ("2:02", 130.0), ("2:10", 125.0)]
    assert answer("cook-roast", "cook", longer) == "met"


def test_t20_the_reheat_goes_by_where_the_food_came_from() -> None:
    to_135: Readings = [(0, 41.0), (1, 90.0), ("1:30", 135.0), ("1:35", 135.0)]
    assert answer("reheat-165", "reheat", to_135) == "not_met"
    sealed = {"origin": "commercial_sealed"}
    assert answer("reheat-commercial-135", "reheat", to_135, facts=sealed) == "met"
    at_once = judged("reheat", to_135, facts={"reheat_for": "immediate_service"})
    assert not [f for f in at_once.binding if "reheat" in f.requirement]


@pytest.mark.parametrize(
    ("sliced", "facts", "expected"),
    [
        (False, {"oven_line": "kept"}, "met"),
        (True, {"oven_line": "kept"}, "not_met"),
        (False, {}, "not_shown"),
    ],
)
def test_t20_what_is_left_of_an_unsliced_roast_may_go_by_the_ladder(
    sliced: bool, facts: dict[str, str], expected: str
) -> None:
    steps = [note(0, "cook"), note(3, "cool"), note(9, "reheat"), note(12, event="finished")]
    if sliced:
        steps.append(note("8:30", event="sliced"))
    readings: list[tuple[str | float, float]] = [
        (0, 50.0),
        (1, 130.0),
        (3, 130.0),
        (5, 70.0),
        (9, 41.0),
    ]
    readings += [(10, 130.0), ("11:52", 130.0), (12, 129.9)]  # 1 h 52 min at 130 °F
    got = answers([channel(readings)], steps, facts=facts)
    assert got["reheat-165"] == expected


def test_t21_two_hours_from_41_and_no_box_is_a_reheater() -> None:
    slow: Readings = [(0, 41.0), (1, 90.0), (2, 160.0), ("2:01", 165.0), ("2:02", 165.0)]
    assert answer("reheat-in-2h", "reheat", slow) == "not_met"
    # Food that was warmed in a box and is not hot there breaks the hold; no reheat is claimed.
    box = judged("rest", [(0, 41.0), (2, 100.0), (4, 165.0), (5, 165.0)])
    assert found(box, "hot-hold").verdict is Verdict.NOT_MET
    assert not [f for f in box.binding if "reheat" in f.requirement]


def test_t22_four_hours_stand_in_paragraph_b4() -> None:
    code = load_code(FOOD_CODE)
    raw, ready = code.find("thaw-raw-4h"), code.find("thaw-ready-to-eat")
    assert raw is not None
    assert ready is not None
    assert (raw.section, ready.section) == ("3-501.13(B)(4)", "3-501.13(B)(3)")


def test_t22_four_hours_are_no_leave_to_thaw_in_any_way() -> None:
    """3 h at 50 °F keep the 4 h of (B)(4), but only running water is allowed so warm at all."""
    steps = [note(0, "thaw"), note(3, "cook"), note(9, event="finished")]
    core = channel([(0, 50.0), (3, 50.0), (5, 100.0), (8, 160.0), (9, 170.0)])
    got = answers([core], steps)
    assert (got["thaw-raw-4h"], got["thaw-method"]) == ("met", "not_shown")


def test_t22_raw_food_keeps_its_four_hours_although_it_is_sliced_when_it_is_done() -> None:
    """3-501.13(B)(4) speaks of raw food: a preparation after the cook neither adds nor takes away.

    30 °F to 60 °F by 2:00 and 60 °F until 9:40: at least 7 h 40 min above 41 °F.
    """
    raw: Readings = [(0, 30.0), (2, 60.0), ("5:50", 60.0), ("9:40", 60.0)]
    done: Readings = [*raw, (10, 60.0), (13, 165.0), ("13:10", 160.0), ("13:20", 150.0)]
    steps = [note(0, "thaw", method="running_water"), note(10, "cook"), note("13:05", "prep")]
    got = answers([channel(done)], [*steps, note("13:20", event="finished")])
    assert got["thaw-raw-4h"] == "not_met"


def test_t22_raw_preparation_is_no_part_of_what_cooked_food_may_stand() -> None:
    """3 h of trimming at 45 °F and 2 h of pulling are two clocks, not one of 5 h."""
    trimmed: Readings = [(0, 45.0), (3, 45.0), (6, 165.0)]
    pulled: Readings = [("6:05", 160.0), ("6:10", 134.0), ("8:10", 120.0)]
    steps = [note(0, "prep"), note(3, "cook"), note("6:05", "prep"), note("8:10", event="finished")]
    got = answers([channel([*trimmed, *pulled])], steps)
    assert got["thaw-raw-4h"] == "met"
    assert "prep-cooked" not in got  # kept, and the code gives no such allowance


def test_t02_warm_food_put_away_after_preparation_is_cooling() -> None:
    """Pulled at 140 °F, put into the refrigerator at 130 °F: 41 °F within 6 h of 135 °F is in time.

    Cooling is no cold holding (3-501.16(A) leaves it out), whatever the cook wrote.
    """
    steps = [
        note(0, "cook"),
        note(5, "prep"),
        note(6, "cold_hold"),
        note(20, event="finished"),
    ]
    core = channel(
        [(0, 50.0), (3, 120.0), (5, 180.0), (6, 136.0), (8, 70.0), (11, 41.0), (20, 38.0)]
    )
    got = answers([core], steps)
    assert (got["cool-135-to-70"], got["cool-135-to-41"], got["cold-hold"]) == ("met",) * 3
    late = channel(
        [(0, 50.0), (3, 120.0), (5, 180.0), (6, 134.0), (9, 71.0), (13, 41.0), (20, 38.0)]
    )
    assert answers([late], steps)["cool-135-to-70"] == "not_met"


def test_t26_a_wrapped_rest_is_a_hot_hold() -> None:
    assert answer("hot-hold", "rest", [(0, 200.0), (3, 140.0)]) == "met"
    assert answer("hot-hold", "rest", [(0, 200.0), (3, 134.0)]) == "not_met"
    unread = answers([channel([(0, 200.0)])], [note(1, "rest"), note(9, event="finished")])
    assert unread["hot-hold"] == "not_shown"


def test_t29_no_long_first_heating_that_is_finished_another_day() -> None:
    steps = [note(0, "cook"), note(5, "cool"), note(20, "cook"), note(24, event="finished")]
    core = channel([(0, 41.0), (3, 90.0), (5, 120.0), (9, 41.0), (20, 41.0), (24, 203.0)])
    assert answers([core], steps)["nc-first-heating"] == "not_met"


def test_t42_what_was_not_read_is_not_met() -> None:
    gap: Readings = [(0, 150.0), (5, 150.0)]  # 5 h without a reading in a hold
    assert answer("hot-hold", "hot_hold", gap) == "not_shown"
    nothing = answers([], [note(0, "hot_hold"), note(2, event="finished")])
    assert nothing["hot-hold"] == "not_shown"


def test_t43_elapsed_time_and_not_the_clock_on_the_wall() -> None:
    """In New York the clock goes from 02:00 back to 01:00 on 1 November 2026 at 06:00 UTC.

    From 00:30 (04:30 UTC) to 01:45 after the change (06:45 UTC) pass 2 h 15 min, not 1 h 15 min.
    """
    began = datetime(2026, 11, 1, 4, 30, tzinfo=UTC).timestamp() - ZERO
    readings: Readings = [
        (f"0:0:{began}", 135.0),
        (f"0:0:{began + 8099}", 70.1),
        (f"0:0:{began + 8100}", 70.0),
    ]
    log_zone = judged("cool", readings, zone="America/New_York")
    line = found(log_zone, "cool-135-to-70")
    assert line.verdict is Verdict.NOT_MET
    assert line.stage_start == "2026-11-01T00:30:00-04:00"


def test_t44_a_cooling_clock_is_not_wound_back() -> None:
    # Below 135 °F at 0:05 at the latest, warm again at 1:00, and at 70 °F 2 h 30 min after that.
    wavering: Readings = [(0, 135.0), ("0:05", 134.0), (1, 136.0), ("1:05", 134.0), ("3:00", 70.0)]
    assert answer("cool-135-to-70", "cool", wavering) != "met"
    # 70 °F was reached in time; rising to 75 °F afterwards does not open a new clock.
    again: Readings = [
        (0, 135.0),
        ("1:30", 70.0),
        ("2:30", 75.0),
        ("6:00:59", 42.0),
        ("6:01", 41.0),
    ]
    both = answers([channel(again)], [note(0, "cool"), note("6:01", event="finished")])
    assert (both["cool-135-to-70"], both["cool-135-to-41"]) == ("met", "not_met")
