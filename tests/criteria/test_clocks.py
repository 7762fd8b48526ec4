"""Total time in a band and the length of a stage. Limits are those of `cases`."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
from pydantic import ValidationError

from tempwitness.criteria.outcome import Outcome
from tempwitness.model.forms import BandClock, Longest
from tempwitness.model.vocabulary import Clock, Decided, StageName
from tests.criteria.cases import INTERVAL, answer, case, limit, moment, stages
from tests.support import Readings, note

HOUR = 3600.0
#: Above 40 °F and below 100 °F for at most 3 h in all.
BAND = BandClock(form="band_clock", low=limit(40, ">"), high=limit(100, "<"), at_most="3 h")
ABOVE = BandClock(form="band_clock", low=limit(40, ">"), at_most="3 h")
LOST = BAND.model_copy(update={"unheated_only": True})
AT_MOST = Longest(form="longest", at_most="3 h")


def timed(readings: Readings, hours: float = 4, test: BandClock = BAND) -> Outcome:
    """A cook of some hours that is over."""
    return answer(test, case(stages([("cook", 0, hours)])), readings)


@pytest.mark.parametrize(
    ("readings", "expected", "least", "most"),
    [
        # In the band from some time in 0:00-1:00 to some time in 3:00-4:00.
        pytest.param([(0, 40), (1, 50), (3, 90), (4, 100)], "not_shown", 2, 4, id="both"),
        pytest.param([(0, 40), (0.5, 50), (2.5, 90), (3, 100), (4, 110)], "met", 2, 3, id="met"),
        pytest.param([(0, 40.1), (3, 99), (4, 99.9)], "not_met", 4, 4, id="too long"),
        pytest.param([(0, 41), (1, 50), (4, 110)], "not_shown", 1, 4, id="left at some time"),
        pytest.param([(0, 30), (4, 40)], "met", 0, 0, id="never inside"),
    ],
)
def test_time_in_a_band(readings: Readings, expected: str, least: float, most: float) -> None:
    out = timed(readings)
    assert (out.verdict.value, out.least, out.most) == (expected, least * HOUR, most * HOUR)
    assert out.began == moment(0)


def test_just_the_hours_that_are_allowed() -> None:
    just = timed([(0, 41), (3, 99)], hours=3)
    assert (just.verdict.value, just.least, just.most) == ("met", 3 * HOUR, 3 * HOUR)


def test_leaping_over_the_band_may_have_taken_all_the_time_between() -> None:
    out = timed([(0, 35), (4, 110)])
    assert (out.least, out.most) == (0, 4 * HOUR)


def test_a_clock_with_one_edge_only() -> None:
    assert timed([(0, 50), (4, 200)], test=ABOVE).verdict.value == "not_met"
    assert timed([(0, 30), (1, 40), (4, 50)], test=ABOVE).verdict.value == "met"
    assert timed([(0, 30), (4, 50)], test=ABOVE).verdict.value == "not_shown"


def test_unread_time_counts_against_the_food() -> None:
    assert timed([(0, 30), (5, 30)], hours=5).verdict.value == "not_shown"
    assert timed([(0, 30)], hours=3).verdict.value == "met"  # the whole stage is no longer


def test_the_times_of_all_stages_up_to_this_one_are_added() -> None:
    """2 h above 40 °F while it thawed and 2 h in preparation; the cold hold between counts not."""
    every = stages([("thaw", 0, 2), ("cold_hold", 2, 4), ("prep", 4, 6)])
    readings: Readings = [(0, 50), (2, 50), (4, 50), (6, 50)]
    over = (StageName.THAW, StageName.PREP)
    out = answer(ABOVE, case(every, 3), readings, over=over)
    assert (out.verdict.value, out.least) == ("not_met", 4 * HOUR)
    first = answer(ABOVE, case(every, 1), readings, over=over)
    assert (first.verdict.value, first.most) == ("met", 2 * HOUR)


def test_only_the_time_without_heat() -> None:
    readings: Readings = [(0, 50), (2, 60), (4, 70)]
    none = answer(LOST, case(stages([("cook", 0, 4)])), readings)
    assert none.verdict == "not_applicable"
    lost = stages([("cook", 0, 4)], unheated=[("1:00", "3:30")])
    out = answer(LOST, case(lost), readings)
    assert (out.verdict.value, out.least, out.most) == ("met", 2.5 * HOUR, 2.5 * HOUR)


def test_a_running_clock_names_the_moment_at_which_it_runs_out() -> None:
    running = case(stages([("cook", 0, 2)], closed=False), asked=3)
    out = answer(BAND, running, [(0, 50), (2, 90)])
    assert (out.verdict.value, out.deadline) == ("open", moment(3))
    # Last read outside the band, the clock stands still; a reading within the interval shows it.
    stands = answer(BAND, running, [(0, 30), (2, 35)])
    assert (stands.verdict.value, stands.deadline) == ("open", moment(2 + INTERVAL))
    assert (stands.clock, out.clock) == (Clock.READING, Clock.BAND)
    late = answer(BAND, case(running.stages, asked="3:00:01"), [(0, 50), (2, 90)])
    assert late.verdict == "not_shown"


def test_the_readings_at_both_ends_are_cited() -> None:
    out = timed([(-1, 30), (0.5, 50), (2, 60), (3.5, 90), (5, 110)])
    assert [c.index for c in out.cites] == [1, 3]
    assert [c.index for c in timed([(0, 50), (4, 50)]).cites] == [0, 1]
    # Nothing was read in the stage: the last reading before it is all there is.
    assert [c.index for c in timed([(-1, 50)]).cites] == [0]


@pytest.mark.parametrize(
    ("hours", "closed", "asked", "expected"),
    [
        pytest.param(3, True, 9, "met", id="just as long"),
        pytest.param("3:00:01", True, 9, "not_met", id="a second longer"),
        pytest.param(2, False, 3, "open", id="running, its time not over"),
        pytest.param(2, False, "3:00:01", "not_shown", id="running, its time over"),
        pytest.param(4, False, 4, "not_met", id="running and surely longer"),
    ],
)
def test_the_length_of_a_stage(
    hours: str | float, closed: bool, asked: str | float, expected: str
) -> None:
    one = case(stages([("cook", 0, hours)], closed=closed), asked=asked)
    out = answer(AT_MOST, one, [])
    assert (out.verdict.value, out.deadline) == (expected, moment(3))
    assert out.least == (one.stage.end - one.stage.start)
    assert (out.most is None) == (expected in ("open", "not_shown"))


def test_a_disturbance_opens_the_stretch_for_both() -> None:
    one = case(stages([("cook", 0, 4)]), notes=[note(1, event="heat_lost")])
    out = answer(BAND, one, [(0, 30), (4, 30)])
    assert (out.verdict.value, out.most) == ("not_shown", 4 * HOUR)


#: Above 40 °F for at most 3 h in any 6 h.
MOVING = ABOVE.model_copy(update={"in_any": 6 * HOUR})


def hourly(warm: Sequence[bool]) -> Readings:
    """A reading an hour, above 40 °F or not."""
    return [(hour, 50 if is_warm else 40) for hour, is_warm in enumerate(warm)]


def counted(warm: Sequence[bool], hours: int) -> tuple[int, int]:
    """Most hours that were certainly and possibly warm in any stretch of so many hours.

    An hour was certainly warm if it was so at both ends, and possibly if it was so at one. All
    edges lie on whole hours, so that no stretch between them holds more.
    """
    both = [a and b for a, b in pairwise(warm)]
    some = [a or b for a, b in pairwise(warm)]
    starts = range(max(1, len(both) - hours + 1))
    return max(sum(both[t : t + hours]) for t in starts), max(
        sum(some[t : t + hours]) for t in starts
    )


@pytest.mark.parametrize("seed", range(25))
def test_the_fullest_stretch_decides(seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311 - made-up readings
    warm = [chance.random() < chance.choice((0.2, 0.5, 0.8)) for _ in range(chance.randint(3, 40))]
    out = timed(hourly(warm), len(warm) - 1, MOVING)
    least, most = counted(warm, 6)
    assert (out.least, out.most) == (least * HOUR, most * HOUR)
    expected = "not_met" if least > 3 else "met" if most <= 3 else "not_shown"
    assert out.verdict.value == expected


def test_a_cap_within_any_stretch_is_given_anew() -> None:
    """3 h of each 6 h, day and night: never more than 3 h in any 6 h, and 12 h in all."""
    readings: Readings = [(0, 41), (3, 41), ("3:00:01", 40)]
    for start in (6, 12, 18):
        readings = [*readings, (f"{start - 1}:59:59", 40), (start, 41), (start + 3, 41)]
        readings = [*readings, (f"{start + 3}:00:01", 40)]
    readings = [*readings, (22, 40)]
    # Each of the edges is bracketed by two readings a second apart.
    just = timed(readings, 22, MOVING.model_copy(update={"at_most": 3 * HOUR + 2}))
    assert (just.verdict.value, just.least, just.most) == ("met", 3 * HOUR, 3 * HOUR + 2)
    assert just.limit == "at most 3 h 2 s in any 6 h above 40 °F (40 °C)"
    short = timed(readings, 22, MOVING.model_copy(update={"at_most": 3 * HOUR - 1}))
    assert short.verdict.value == "not_met"
    assert timed(readings, 22, ABOVE).verdict.value == "not_met"


def test_a_gap_may_have_been_warm_throughout() -> None:
    """Unread from 0:00 to 5:00, beyond the 4 h between two readings that are joined."""
    cold: Readings = [(0, 40), (5, 40), (8, 40)]
    out = timed(cold, 8, MOVING)
    assert (out.verdict.value, out.least, out.most) == ("not_shown", 0, 5 * HOUR)
    wide = MOVING.model_copy(update={"at_most": 5 * HOUR})
    assert timed(cold, 8, wide).verdict.value == "met"


def test_a_gap_joins_what_was_warm_before_it() -> None:
    """Warm from 0:00 to 2:00, then unread to 7:00: 6 h of 6 h may have been warm."""
    out = timed([(0, 50), (2, 50), (7, 40), (9, 40)], 9, MOVING)
    assert (out.verdict.value, out.least, out.most) == ("not_shown", 2 * HOUR, 6 * HOUR)


def test_a_stretch_reaches_over_stages_that_do_not_count() -> None:
    """2 h warm, 3 h in the hot hold, 2 h warm: 3 h of any 6 h, and 4 h of any 7 h."""
    every = stages([("prep", 0, 2), ("hot_hold", 2, 5), ("prep", 5, 7)])
    readings: Readings = [(0, 50), (2, 50), (5, 50), (7, 50)]
    for span, expected in ((6, "met"), (7, "not_met")):
        test = MOVING.model_copy(update={"in_any": span * HOUR})
        out = answer(test, case(every, 3), readings, over=(StageName.PREP,))
        assert (out.verdict.value, out.least) == (expected, (span - 3) * HOUR)


def test_a_running_clock_ends_when_the_last_stretch_is_full() -> None:
    """Warm from 0:00 to 2:00 and from 6:00 to 7:00: in the 6 h to 7:00 it was so for 2 h."""
    every = stages([("prep", 0, 7)], closed=False)
    readings: Readings = [(0, 41), (2, 41), ("2:00:01", 40), (6, 40), ("6:00:01", 41), (7, 41)]
    wide = MOVING.model_copy(update={"at_most": 4 * HOUR})
    out = answer(wide, case(every, 1, asked=7), readings)
    assert out.verdict.value == "open"
    # From 1:00 to 2:00:01 and from 6:00 to 7:00 it may have been warm.
    assert out.deadline == moment(7) + 4 * HOUR - (2 * HOUR + 1)


def test_a_stretch_that_cannot_hold_more_than_the_cap_is_refused() -> None:
    with pytest.raises(ValidationError, match="in_any"):
        BandClock(form="band_clock", low=limit(40, ">"), at_most="3 h", in_any="3 h")


READY = ABOVE.model_copy(update={"after_cook": "first"})
WARM: Readings = [(h, 50) for h in range(11)]
HANDLED = stages([("prep", 0, 2), ("cook", 2, 4), ("prep", 4, 5), ("cook", 5, 6), ("prep", 6, 8)])


@pytest.mark.parametrize(
    ("test", "expected"),
    [(ABOVE, 5), (READY, 3)],
)
def test_what_was_still_raw_need_not_count(test: BandClock, expected: float) -> None:
    """Prepared for 2 h before the first cook, 1 h between two cooks and 2 h after them."""
    out = answer(test, case(HANDLED, 5), WARM, over=(StageName.PREP,))
    assert (out.least, out.most) == (expected * HOUR, expected * HOUR)


def test_a_cook_that_was_only_guessed_lets_nothing_off() -> None:
    guessed = tuple(
        replace(s, decided=Decided.INFERRED, question="Was it cooked?") if s.number == 2 else s
        for s in HANDLED[:3]
    )
    out = answer(READY, case(guessed, 3), WARM, over=(StageName.PREP,))
    assert out.least == 3 * HOUR
    raw = stages([("prep", 0, 2), ("cold_hold", 2, 4), ("prep", 4, 5)])
    assert answer(READY, case(raw, 3), WARM, over=(StageName.PREP,)).least == 3 * HOUR


@pytest.mark.parametrize(
    ("keys", "number", "expected"),
    [
        ({}, 5, 2),
        ({"total": True}, 5, 5),
        # Of 6:00 to 8:00 after the last cook, and of 4:00 to 5:00 after the one before it.
        ({"after_cook": "last"}, 5, 2),
        ({"after_cook": "last"}, 3, 1),
        ({"after_cook": "last", "total": True}, 5, 2),
    ],
)
def test_the_time_since_the_cook(keys: dict[str, object], number: int, expected: float) -> None:
    test = AT_MOST.model_copy(update=keys)
    out = answer(test, case(HANDLED, number), [], over=(StageName.PREP,))
    assert (out.least, out.measured) == (expected * HOUR, f"{expected} h")


def test_all_time_since_the_cook_counts_unless_stages_are_named() -> None:
    every = stages(
        [("prep", 0, 1), ("cook", 1, 2), ("rest", 2, 3), ("transport", 3, 5), ("prep", 5, 6)]
    )
    since = AT_MOST.model_copy(update={"after_cook": "last"})
    out = answer(since, case(every, 5), [], over=(StageName.PREP, StageName.REST))
    assert (out.least, out.began, out.verdict.value) == (4 * HOUR, moment(2), "not_met")
    named = since.model_copy(update={"total": True})
    out = answer(named, case(every, 5), [], over=(StageName.PREP, StageName.REST))
    assert (out.least, out.verdict.value) == (2 * HOUR, "met")


def test_without_a_cook_on_record_all_that_went_before_counts() -> None:
    raw = stages([("prep", 0, 2), ("rest", 2, 4)])
    since = AT_MOST.model_copy(update={"after_cook": "last"})
    assert answer(since, case(raw, 2), []).least == 4 * HOUR
