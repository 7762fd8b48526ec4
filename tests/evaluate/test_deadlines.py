"""What a stage that still runs is told: when the next reading is due, and what can be saved.

The codes are small ones of our own; the intervals are the house's, 4 h for a hot hold, and every
moment is counted by hand from them.
"""

from __future__ import annotations

import pytest

from tempwitness.model.finding import Finding, Rescue
from tempwitness.model.vocabulary import Clock
from tests.evaluate.codes import COOLED, HOT, code, rule
from tests.support import ZERO, Readings, channel, judge, note, staged

HOUR = 3600.0
#: Between 40 and 100 °F for less than 3 h in all; invented.
BAND: dict[str, object] = {
    "form": "band_clock",
    "low": {"f": 40, "c": 40, "op": ">"},
    "high": {"f": 100, "c": 100, "op": "<"},
    "at_most": "3 h",
}
#: 100 °F or more, left once for 2 h at most; invented.
ONCE: dict[str, object] = {
    "form": "once",
    "limit": {"f": 100, "c": 100, "op": ">="},
    "at_most": "2 h",
}
LOG: dict[str, object] = {"form": "monitoring", "every": "2 h"}
SAVE: dict[str, object] = {
    "on": ["not_met"],
    "do": "Reheat it.",
    "otherwise": "Discard it.",
    "within": "3 h",
    "since": "break",
    "basis": "practice",
}


def asked(
    test: dict[str, object],
    readings: Readings,
    moment: float,
    *,
    step: str = "hot_hold",
    events: tuple[tuple[float, str], ...] = (),
    thin: Readings = (),
    **more: object,
) -> Finding:
    """The finding of a stage from 0:00 on, at a moment that somebody names [h]."""
    notes = [note(0, step), *(note(at, event=event) for at, event in events)]
    channels = [channel(readings)]
    if thin:
        channels.append(channel(thin, point="thin end", probe="second"))
    requirement = rule("a", test, stages=[step], **more)
    log = staged(channels, notes)
    found = judge(log, asked=ZERO + moment * HOUR, explicit=True, code=code(requirement))
    return found.findings[0]


def told(found: Finding) -> tuple[str, str | None, Clock | None]:
    """Verdict, time of the deadline, and what it counts; 0:00 is 05:00 UTC."""
    return found.verdict.value, found.deadline and found.deadline[11:16], found.clock


def test_a_remark_after_the_last_reading_leaves_the_stage_open() -> None:
    # Last read at 1:00; the remark at 1:30 says nothing of the temperature.
    found = asked(HOT, [(0, 120), (1, 118)], 2, events=((1.5, "remark"),))
    assert told(found) == ("open", "10:00", Clock.READING)


@pytest.mark.parametrize("event", ["sliced", "probe_moved", "stirred"])
def test_food_that_was_disturbed_after_it_is_not_bracketed_any_more(event: str) -> None:
    found = asked(HOT, [(0, 120), (1, 118)], 2, events=((1.5, event),))
    assert found.verdict.value == "not_shown"


def test_the_time_since_the_last_reading_is_never_longer_than_the_interval() -> None:
    # The remark at 4:30 is recent, the reading at 1:00 is not: it was due by 5:00.
    found = asked(HOT, [(0, 120), (1, 118)], 5.1, events=((4.5, "remark"),))
    assert found.verdict.value == "not_shown"


def test_of_two_points_the_one_that_falls_due_first_decides() -> None:
    # The thin end was last read at 0:30, the middle at 2:00.
    found = asked(HOT, [(0, 120), (2, 118)], 2.5, thin=[(0, 119), (0.5, 117)])
    assert told(found) == ("open", "09:30", Clock.READING)


def test_a_point_that_was_not_read_since_the_stage_began_is_due_as_well() -> None:
    # Read at -0:30 for the last time; the interval of a hot hold is 4 h.
    found = asked(HOT, [(-1, 121), (0, 120), (1, 118)], 2, thin=[(-1, 119), (-0.5, 117)])
    assert told(found) == ("open", "08:30", Clock.READING)


@pytest.mark.parametrize(
    ("readings", "moment", "expected"),
    [
        # Inside since 1:00 at the earliest: 3 h later.
        pytest.param([(0, 120), (1, 110), (2, 90)], 2.5, ("open", "09:00", Clock.BAND), id="runs"),
        # Outside at the last reading: the next one shows it, within 4 h.
        pytest.param([(0, 120), (2, 110)], 2.5, ("open", "11:00", Clock.READING), id="stands"),
        pytest.param([(0, 120), (2, 110)], 6.1, ("not_shown", "11:00", Clock.READING), id="late"),
    ],
)
def test_a_clock_of_a_band(
    readings: Readings, moment: float, expected: tuple[str, str, Clock]
) -> None:
    assert told(asked(BAND, readings, moment)) == expected


def test_a_second_point_that_was_read_later_lets_no_clock_run() -> None:
    # Both points are hot; the thin end was read ten minutes after the middle.
    found = asked(BAND, [(0, 120), (1, 110)], 2, thin=[(0, 119), ("1:10", 108)])
    assert told(found) == ("open", "10:00", Clock.READING)


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 120), (1, 110), (2, 90)], ("open", "08:00", Clock.ABSENCE), id="out"),
        pytest.param([(0, 120), (2, 110)], ("open", "11:00", Clock.READING), id="within"),
        # The stage has just begun with food that is too cold: its 2 h run from there.
        pytest.param([(0, 90)], ("open", "07:00", Clock.ABSENCE), id="begun too cold"),
    ],
)
def test_a_limit_that_may_be_left_once(
    readings: Readings, expected: tuple[str, str, Clock]
) -> None:
    assert told(asked(ONCE, readings, 2.1 if len(readings) > 1 else 0.5)) == expected


@pytest.mark.parametrize(
    ("moment", "expected"),
    [
        (2.5, ("open", "08:00", Clock.READING)),
        (3.0, ("open", "08:00", Clock.READING)),
        (3.1, ("not_shown", None, None)),
    ],
)
def test_the_next_line_of_a_log_is_due(
    moment: float, expected: tuple[str, str | None, Clock | None]
) -> None:
    # Every 2 h; last written at 1:00.
    assert told(asked(LOG, [(0, 120), (1, 118)], moment)) == expected


def test_a_running_hold_needs_no_other_way() -> None:
    """The band clock stands still, so the other way would be kept; the stage is not over."""
    other = [{"id": "b", "title": "Another way", "section": "§ b", "test": BAND}]
    found = asked(HOT, [(0, 120), (1, 118)], 2, alternatives=other)
    assert told(found) == ("open", "10:00", Clock.READING)


def test_a_running_hold_names_what_can_be_saved_if_it_is_found_broken() -> None:
    # Broken right after 1:00 at the earliest: 3 h later.
    found = asked(HOT, [(0, 120), (1, 118)], 2, actions=[SAVE])
    assert found.rescue == Rescue(
        "Reheat it.", "2026-07-04T09:00:00+00:00", "Discard it.", "practice"
    )


def test_a_running_cooling_names_what_can_be_saved_if_it_fails() -> None:
    # The clock started at 0:30 at the earliest.
    found = asked(COOLED, [(0, 110), (0.5, 101), (1, 95)], 1.5, step="cool", actions=[SAVE])
    assert told(found) == ("open", "07:30", Clock.FALL)
    assert found.rescue is not None
    assert (found.rescue.by or "")[11:16] == "08:30"


@pytest.mark.parametrize(
    ("moment", "expected"),
    [
        # Still 105 °F at 0:30: whatever cools to 60 °F by 2:30 has taken 2 h at most.
        (1.0, ("open", "07:30", Clock.FALL)),
        (2.5, ("open", "07:30", Clock.FALL)),
        # Afterwards it is not broken either: the food may be above 100 °F still.
        (2.6, ("open", None, None)),
    ],
)
def test_a_clock_that_has_not_started_counts_from_the_last_reading(
    moment: float, expected: tuple[str, str | None, Clock | None]
) -> None:
    found = asked(COOLED, [(0, 110), (0.5, 105)], moment, step="cool")
    assert told(found) == expected
    assert "has not started" in found.reason


def test_what_was_kept_or_discarded_needs_no_saving() -> None:
    kept = asked(HOT, [(0, 120), (1, 118)], 2, actions=[SAVE], events=((1, "finished"),))
    assert (kept.verdict.value, kept.rescue, kept.clock) == ("met", None, None)
    gone = asked(HOT, [(0, 120), (1, 90)], 2, actions=[SAVE], events=((1.5, "discarded"),))
    assert (gone.verdict.value, gone.rescue) == ("not_met", None)
