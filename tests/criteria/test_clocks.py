"""Total time in a band and the length of a stage. Limits are those of `cases`."""

from __future__ import annotations

import pytest

from tempwitness.criteria.outcome import Outcome
from tempwitness.model.forms import BandClock, Longest
from tempwitness.model.vocabulary import Clock, StageName
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
