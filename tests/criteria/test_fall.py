"""Falls within a time: clocks with two uncertain ends. Limits are those of `cases`."""

from __future__ import annotations

import pytest

from tempwitness.criteria.outcome import Outcome
from tempwitness.model.forms import Fall
from tempwitness.model.vocabulary import Decided
from tests.criteria.cases import answer, case, limit, moment, settled, stages
from tests.support import Readings, note

#: From 100 °F to 60 °F within 2 h, the clock running from the crossing of 100 °F.
FALL = Fall.model_validate(
    {
        "form": "fall",
        "start": limit(100, ">=").model_dump(),
        "to": limit(60, "<=").model_dump(),
        "within": "2 h",
    }
)
FROM_STAGE = FALL.model_copy(update={"clock": "stage"})
COOL = stages([("cool", 0, 4)])
HOUR = 3600.0


def cooled(readings: Readings) -> Outcome:
    """Four hours of a cooling that is over."""
    return answer(FALL, case(COOL), readings)


@pytest.mark.parametrize(
    ("readings", "expected", "least", "most"),
    [
        # Exact witnesses: the clock starts at 0:00, 60 °F is read at 2:00.
        pytest.param([(0, 100), (2, 60)], "met", 0, 2 * HOUR, id="just in time"),
        # 61 °F at 2:00: at 100 °F at 0:00, so 2 h are over; 60 °F came later still.
        pytest.param([(0, 100), (2, 61), (4, 50)], "not_met", 2 * HOUR, 4 * HOUR, id="late"),
        # Started between 0:00 and 1:00, arrived between 2:00 and 3:00: 1 h to 3 h.
        pytest.param([(0, 110), (1, 90), (2, 70), (3, 60)], "not_shown", HOUR, 3 * HOUR, id="both"),
        # Started by 0:30, not yet there at 2:30.
        pytest.param(
            [(0, 110), (0.5, 99), (2.5, 61), (4, 50)], "not_met", 2 * HOUR, 4 * HOUR, id="at least"
        ),
        pytest.param([(0, 110), (0.5, 99), (2.4, 61), (4, 50)], "not_shown", 1.9 * HOUR, 4 * HOUR,
                     id="a little less than at least"),
    ],
)  # fmt: skip
def test_a_fall(readings: Readings, expected: str, least: float, most: float) -> None:
    out = cooled(readings)
    assert out.verdict.value == expected
    assert out.least == pytest.approx(least)
    assert out.most == pytest.approx(most)
    assert out.began == moment(0)
    assert out.deadline == moment(2)


def test_the_clock_does_not_start_again() -> None:
    """Back at 105 °F at 1:00: the clock has been running since 0:00 at the earliest."""
    again = cooled([(0, 100), (0.5, 95), (1, 105), (1.1, 95), (2.5, 60)])
    assert again.most == 2.5 * HOUR
    assert again.verdict.value == "not_shown"


def test_time_that_ran_out_is_not_given_back() -> None:
    """At 80 °F 2 h 15 min after 100 °F: broken, whatever was not read or came afterwards."""
    unread_end = cooled([(0, 100), (2.25, 80)])
    assert (unread_end.verdict.value, unread_end.least) == ("not_met", 2.25 * HOUR)
    warmed_again = cooled([(0, 100), (2.25, 80), (2.5, 105), (3.5, 60)])
    assert warmed_again.verdict.value == "not_met"
    # Down in time and warm again later: that the food stood above 60 °F then breaks nothing.
    there = cooled([(0, 100), (1.5, 60), (1.75, 75), (4, 70)])
    assert there.verdict.value == "met"


def test_the_words_of_what_was_measured() -> None:
    assert cooled([(0, 100), (2, 60)]).measured == "clock from 05:00; 60 °F at 07:00: 0 s to 2 h"
    assert [c.index for c in cooled([(0, 100), (2, 60)]).cites] == [0, 1]
    both = cooled([(0, 110), (1, 90), (2, 70), (3, 60)])
    assert both.measured == (
        "clock from 05:00 at the earliest, 06:00 at the latest; 60 °F at 08:00: 1 h to 3 h"
    )
    assert both.limit == "100 → 60 °F (100 → 60 °C) within 2 h"
    unread = answer(FALL, case(stages([("cool", 0, 1)])), [(0, 100), (1, 90)])
    assert unread.measured == "clock from 05:00; 60 °F not read; at least 1 h"


def test_a_fall_by_the_stage_counts_from_its_start() -> None:
    at_once = answer(FROM_STAGE, case(COOL), [(1, 60)])
    assert at_once.measured == "clock from 05:00; 60 °F at 06:00: 0 s to 1 h"
    assert [c.index for c in answer(FROM_STAGE, case(COOL), [(1, 90)]).cites] == [0]
    assert answer(FROM_STAGE, case(COOL), [(1, 90), (2, 60)]).verdict == "met"
    late = answer(FROM_STAGE, case(COOL), [(1, 90), (2, 60.1), (4, 50)])
    assert (late.verdict.value, late.least) == ("not_met", 2 * HOUR)


def test_food_that_is_still_hot_has_not_started_its_clock() -> None:
    hot: Readings = [(0, 130), (2, 110), (4, 101)]
    assert cooled(hot).verdict.value == "not_shown"
    running = stages([("cool", 0, 4)], closed=False)
    assert answer(FALL, case(running, asked=5), hot).verdict == "open"
    then_reheated = stages([("cool", 0, 4), ("reheat", 4, 5)])
    assert answer(FALL, case(then_reheated), hot).verdict == "not_applicable"
    discarded = case(COOL, notes=[note(4, event="discarded")])
    assert answer(FALL, discarded, hot).verdict == "not_applicable"
    finished = case(COOL, notes=[note(4, event="finished")])
    assert answer(FALL, finished, hot).verdict == "not_shown"


def test_a_running_fall_is_open_up_to_its_deadline() -> None:
    running = stages([("cool", 0, 1)], closed=False)
    started: Readings = [(0, 100), (1, 80)]
    in_time = answer(FALL, case(running, asked=2), started)
    assert (in_time.verdict.value, in_time.deadline) == ("open", moment(2))
    assert in_time.reason.startswith("still running: 60 °F must be reached by 07:00")
    over = answer(FALL, case(running, asked="2:00:01"), started)
    assert over.verdict.value == "not_shown"
    assert "ran out unread" in over.reason


def test_a_fall_given_up_in_time_is_judged_no_further() -> None:
    started: Readings = [(0, 100), (1.5, 80)]
    in_time = stages([("cool", 0, 1.5), ("reheat", 1.5, 3)])
    assert answer(FALL, case(in_time), started).verdict == "not_applicable"
    too_late = stages([("cool", 0, 2.5), ("reheat", 2.5, 3)])
    late: Readings = [(0, 100), (2.5, 80)]
    assert answer(FALL, case(too_late), late).verdict == "not_met"
    unread = answer(FALL, case(too_late), started)
    assert unread.verdict == "not_shown"
    for end, expected in ((2, "not_applicable"), ("2:00:01", "not_shown")):
        just = stages([("cool", 0, end), ("reheat", end, 3)])
        assert answer(FALL, case(just), started).verdict.value == expected


@pytest.mark.parametrize(
    ("readings", "at", "value"),
    [
        # Arrival at 3:00: the clock would have had to start at 1:00 or later.
        pytest.param([(0, 110), (1.5, 90), (3, 60)], 1, 100, id="the start is in doubt"),
        pytest.param([(0, 110), (3, 60)], 1, 100, id="nothing was read on the way"),
        # No arrival read: the deadline is 2:00.
        pytest.param([(0, 100), (1, 80)], 2, 60, id="the arrival is in doubt"),
        # At 1:30 the clock surely ran, so only the arrival can be settled: by 2:00.
        pytest.param([(0, 100), (0.5, 99), (1.5, 80), (3, 60)], 2, 60, id="the start is known"),
    ],
)
def test_the_settling_reading_settles(readings: Readings, at: float, value: float) -> None:
    out = cooled(readings)
    assert out.verdict.value == "not_shown"
    assert out.settle is not None
    assert out.settle.at == moment(at)
    assert out.settle.what.startswith(f"a reading of {value} °F or ")
    assert settled(FALL, case(COOL), readings, value).verdict == "met"


def test_what_is_asked_for_where_the_clock_ran_before_the_stage() -> None:
    """At 100 °F at -2:00 and below it after: 60 °F is due when the cooling is noted, at 0:00."""
    two = stages([("hot_hold", -2, 0), ("cool", 0, 4)])
    due = answer(FALL, case(two, 2), [(-2, 100), (-1, 90)])
    assert due.settle is not None
    assert (due.settle.what, due.settle.at) == ("a reading of 60 °F or less", moment(0))
    # Half an hour earlier no reading of the cooling can be in time any more.
    over = answer(FALL, case(two, 2), [(-2.5, 100), (-1, 90)])
    assert over.settle is not None
    assert over.settle.at is None


def test_nothing_settles_a_cooling_that_ended_too_warm() -> None:
    short = stages([("cool", 0, 1), ("serve", 1, 2)])
    assert answer(FALL, case(short), [(0, 100), (1, 70)]).settle is None
    just = stages([("cool", 0, 2), ("serve", 2, 3)])
    assert answer(FALL, case(just), [(0, 110), (0.1, 99), (2, 70)]).settle is None
    unread = answer(FALL, case(short), [(0, 100)])
    assert unread.settle is not None
    assert unread.settle.at == moment(1)


def test_a_start_that_nobody_read_is_asked_for() -> None:
    """First read at 80 °F: when it passed 100 °F is not known, whatever follows."""
    out = cooled([(0, 80), (1, 60)])
    assert out.verdict.value == "not_shown"
    assert out.most is None
    assert out.reason == "no reading shows when the food passed 100 °F"
    once = cooled([(3, 60)])
    assert once.settle is not None
    assert (once.settle.what, once.settle.at) == ("a reading of 100 °F or more", moment(1))
    assert settled(FALL, case(COOL), [(0.5, 80), (2, 60)], 100).verdict == "met"


def test_the_start_is_looked_for_before_the_stage() -> None:
    """110 °F at the end of the hold, 95 °F when the cooling was noted: the clock ran before."""
    two = stages([("hot_hold", -2, 0), ("cool", 0, 4)])
    out = answer(FALL, case(two, 2), [(-0.5, 110), (0, 95), (1.5, 60)])
    assert (out.verdict.value, out.began, out.most) == ("met", moment(-0.5), 2 * HOUR)
    late = answer(FALL, case(two, 2), [(-1, 110), (0, 95), (1.5, 60)])
    assert late.verdict.value == "not_shown"


def test_food_that_is_down_when_its_cooling_is_noted() -> None:
    two = stages([("hot_hold", -2, 0), ("cool", 0, 4)])
    out = answer(FALL, case(two, 2), [(-0.5, 110), (0, 60)])
    assert (out.verdict.value, out.most) == ("met", 0.5 * HOUR)


def test_food_that_never_got_so_hot_starts_when_the_heat_ends() -> None:
    two = stages([("cook", -3, 0), ("cool", 0, 4)])
    low: Readings = [(-3, 50), (-1, 90), (0, 90), (2, 60)]
    assert answer(FALL, case(two, 2), low).verdict == "met"
    # With 5 h unread in the cook it may have been hotter then, and have passed 100 °F early on.
    gap: Readings = [(-5.5, 50), (0, 90), (2, 60)]
    unread = answer(FALL, case(stages([("cook", -5.5, 0), ("cool", 0, 4)]), 2), gap)
    assert unread.verdict == "not_shown"


def test_a_noted_cooling_was_not_cooler_before_its_first_reading() -> None:
    """First read at 1:00 with 110 °F: the clock had not started then."""
    assert cooled([(1, 110), (2, 90), (3, 60)]).verdict.value == "met"
    late = cooled([(1, 110), (2.9, 61), (4, 50)])
    assert late.verdict.value == "not_shown"
    # Stirred before it was read: what was cool at the probe may have been mixed in.
    stirred = case(COOL, notes=[note(0.5, event="stirred")])
    assert answer(FALL, stirred, [(1, 110), (2, 90), (3, 60)]).verdict == "not_shown"
    after = case(COOL, notes=[note(1, event="stirred", piece="1")])
    assert answer(FALL, after, [(1, 100), (1.5, 100), (2, 90), (3, 60)]).verdict == "met"
    # A cooling that nobody noted says nothing of the time before its first reading.
    guessed = case(stages([("cool", 0, 4)], decided=Decided.INFERRED))
    assert answer(FALL, guessed, [(1, 110), (2, 90), (3, 60)]).verdict == "not_shown"
    assert answer(FALL, guessed, [(0, 110), (1, 110), (2, 90), (3, 60)]).verdict == "met"


#: To 60 °F within 2 h of the end of the cook, whatever it was then: the code names no first limit.
FROM_COOK = Fall.model_validate(
    {"form": "fall", "to": limit(60, "<=").model_dump(), "within": "2 h", "clock": "cooked"}
)
COOKED = stages([("cook", -1, 0), ("cool", 0, 4)])


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 100), (2, 60), (4, 55)], "met"),
        ([(0, 100), (2, 61), (4, 55)], "not_met"),
        # It was there in time; a degree later says nothing against it, the way back half does.
        ([(0, 100), (1, 60), (3, 61), (4, 55)], "met"),
        ([(0, 100), (1, 60), (3, 81), (4, 55)], "not_shown"),
        ([(0, 58), (1.5, 61), (1.9, 60), (4, 55)], "met"),
        ([(0, 58), (1.5, 61), (2.1, 60), (4, 55)], "not_shown"),
    ],
)
def test_a_clock_that_an_event_starts_needs_no_first_limit(
    readings: Readings, expected: str
) -> None:
    out = answer(FROM_COOK, case(COOKED, 2), readings)
    assert out.verdict.value == expected
    assert out.limit == "at most 60 °F (60 °C) within 2 h"


def test_an_event_that_was_not_noted_is_asked_for() -> None:
    out = answer(FROM_COOK, case(COOL), [(0, 100), (1, 60), (4, 55)])
    assert out.verdict.value == "not_shown"
    assert out.reason == "the record does not say when the cook ended"
    assert out.settle is not None
    assert out.settle.what == "a note of when the cook ended"
    late = answer(FROM_COOK, case(COOL), [(0, 100)])
    assert late.settle is not None
    assert (
        late.settle.what == "a note of when the cook ended, and a reading of 60 °F or less in time"
    )
