"""Moments that cannot be, gaps, and lists that go back in time."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np

from tempwitness.model.vocabulary import Flag
from tests.quality.made import OK, SUSPECT, T0, channel, codes, log


def at(*moments: str) -> list[float]:
    """Minutes since the tests' own zero."""
    return [(datetime.fromisoformat(m).replace(tzinfo=UTC).timestamp() - T0) / 60 for m in moments]


def test_times_of_a_clock_that_lost_its_battery_are_doubted() -> None:
    # Counters begin in 1970, and many clocks on the first day of 2000 (makers' notes, from memory).
    when = at("1970-01-01T00:05", "2000-01-01T07:00", "2026-07-04T10:00", "2026-07-04T10:01")
    found = log(channel([140, 141, 141, 142], at=when))
    assert found.flags[0].tolist() == [SUSPECT, SUSPECT, OK, OK]
    assert codes(found) == [(0, 1, "time")]
    assert "1970-01-01 00:05 is where a clock begins" in found.doubts[0].reason


def test_what_was_read_after_the_asking_is_doubted() -> None:
    trace = channel([140, 141, 141, 142])
    asked = T0 + 60.0
    # Minutes 2 and 3 lie ahead of minute 1, within what two clocks may differ.
    assert log(trace, latest=asked).doubts == ()
    late = channel([140, 141, 141, 142], at=[0, 1, 12, 13])
    found = log(late, latest=asked)
    assert found.flags[0].tolist() == [OK, OK, SUSPECT, SUSPECT]
    assert codes(found) == [(2, 3, "time")]
    assert log(late).doubts == ()


def test_a_steady_log_that_stops_has_a_gap_and_no_doubt() -> None:
    found = log(channel([140] * 4, at=[0, 1, 2, 62]))
    assert found.doubts == ()
    (gap,) = found.remarks
    assert (gap.channel, gap.first, gap.last, gap.code) == (0, 2, 3, "gap")
    # T0 is 2026-07-04 21:20 in UTC: `date -u -d @1783200000`.
    assert gap.reason == (
        "pit.csv, core of piece A: nothing was read from 2026-07-04 21:22 to 2026-07-04 22:22, in "
        "a log that has a reading every 1 min"
    )


def test_hand_notes_and_slow_logs_have_no_gaps_of_their_own() -> None:
    assert log(channel([140] * 4, at=[0, 30, 65, 200])).remarks == ()
    # Every five minutes: nine intervals are missing, no more.
    assert log(channel([140] * 4, at=[0, 5, 10, 60])).remarks == ()
    assert len(log(channel([140] * 4, at=[0, 5, 10, 61])).remarks) == 1


def test_lines_that_go_back_in_time_are_asked_about_and_judged_in_order() -> None:
    trace = channel([140.0, 141, 142, 143, 144, 145])
    mixed = replace(trace, line=np.array([2, 3, 6, 7, 4, 5]))
    (question,) = log(mixed).questions
    assert "line 4 stands above line 7 but bears a later time" in question
    assert log(mixed).flags[0].tolist() == [int(Flag.PASS)] * 6
    # Newest first is an order as well.
    assert log(replace(trace, line=np.arange(7, 1, -1))).questions == ()
