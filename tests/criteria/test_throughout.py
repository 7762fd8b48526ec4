"""A limit kept all through, and a band that is avoided. Limits are those of `cases`."""

from __future__ import annotations

import pytest

from tempwitness.criteria.outcome import Outcome
from tempwitness.model.forms import OutsideBand, Throughout
from tests.criteria.cases import answer, case, limit, moment, stages
from tests.support import Readings, note

HOT = Throughout(form="throughout", limit=limit(100, ">="))
COLD = Throughout(form="throughout", limit=limit(40, "<="))
NEVER_BETWEEN = OutsideBand(form="outside_band", cold=limit(40, "<="), hot=limit(100, ">="))
HOLD = stages([("hot_hold", 0, 4)])


def held(readings: Readings, test: Throughout | OutsideBand = HOT) -> Outcome:
    """Four hours of a hold that is over."""
    return answer(test, case(HOLD), readings)


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 100), (4, 100)], "met", id="the limit itself keeps it"),
        pytest.param([(0, 120), (2, 99.9), (4, 120)], "not_met", id="one reading breaks it"),
        pytest.param([(0, 120), (3, 120)], "not_shown", id="the end was not read"),
        pytest.param([(1, 120), (4, 120)], "not_shown", id="the start was not read"),
        pytest.param([(-1, 120), (2, 120), (5, 120)], "met", id="edges bracketed from outside"),
        pytest.param([(-1, 99), (0.5, 120), (4, 120)], "not_shown", id="a break before counts not"),
        pytest.param([(-1, 99), (1, 99.5), (4, 120)], "not_met", id="below on both sides"),
        pytest.param([(-1, 99), (5, 99)], "not_shown", id="6 h apart: nothing is claimed"),
        pytest.param([(2, 120)], "not_shown", id="one reading"),
    ],
)
def test_a_lower_limit(readings: Readings, expected: str) -> None:
    assert held(readings).verdict.value == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 40), (4, 40)], "met", id="the limit itself keeps it"),
        pytest.param([(0, 35), (2, 40.1), (4, 35)], "not_met", id="one reading breaks it"),
        pytest.param([(0, 35)], "not_shown", id="the end was not read"),
    ],
)
def test_an_upper_limit(readings: Readings, expected: str) -> None:
    assert held(readings, COLD).verdict.value == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 110), (4, 100)], "met", id="hot"),
        pytest.param([(0, 33), (4, 40)], "met", id="cold"),
        pytest.param([(0, 110), (2, 70), (4, 110)], "not_met", id="between"),
        # From hot to cold the food must have passed between, but no reading shows when.
        pytest.param([(0, 110), (4, 30)], "not_shown", id="from hot to cold"),
        pytest.param([(0, 41), (4, 99)], "not_met", id="the band's open inside"),
    ],
)
def test_a_band(readings: Readings, expected: str) -> None:
    assert held(readings, NEVER_BETWEEN).verdict.value == expected


def test_how_long_a_break_lasted_is_an_interval() -> None:
    """By hand: below at 1:30 and 2:30, so 1 h at least; last kept at 1:00, again at 3:00: 2 h."""
    out = held([(0, 120), (1, 110), (1.5, 95), (2.5, 97), (3, 105), (4, 105)])
    assert (out.least, out.most) == (3600, 7200)
    assert out.began == moment(1)
    assert out.measured == "95 °F at 06:30"  # 0:00 of every test is 05:00
    assert [c.index for c in out.cites] == [2, 3]
    # The first of them, 95 °F, lies 5 °F beyond the floor of 100 °F.
    assert out.margin == -5


def test_a_break_at_the_start_began_at_the_start() -> None:
    out = held([(0, 95), (4, 120)])
    assert out.began == moment(0)
    assert (out.least, out.most) == (0, 4 * 3600)


def test_doubt_begins_where_the_limit_was_last_shown() -> None:
    assert held([(0, 120), (3, 120)]).began == moment(3)
    assert held([(1, 120), (4, 120)]).began == moment(0)
    assert [c.index for c in held([(0, 95), (4, 120)]).cites] == [0]
    assert held([(0, 95), (4, 120)]).measured == "95 °F at 05:00"


def test_what_was_measured_is_the_reading_closest_to_the_limit() -> None:
    assert held([(0, 130), (2, 101), (4, 120)]).measured == "lowest 101 °F at 07:00"
    assert held([(0, 30), (2, 39), (4, 35)], COLD).measured == "highest 39 °F at 07:00"
    assert held([(0, 130), (2, 101), (4, 120)]).margin == 1
    assert held([(0, 101), (4, 120)]).measured == "lowest 101 °F at 05:00"
    outside = answer(HOT, case(stages([("hot_hold", 1, 2)])), [(0, 120), (3, 110)])
    assert outside.measured == "bracketed by readings outside the stage"


@pytest.mark.parametrize(
    ("readings", "at", "what"),
    [
        pytest.param([(1, 120), (4, 120)], 0, "nothing was read at the start", id="start"),
        pytest.param([(0, 120), (3, 120)], 4, "nothing was read up to the end", id="end"),
    ],
)
def test_the_settling_reading_of_an_edge(readings: Readings, at: float, what: str) -> None:
    out = held(readings)
    assert out.settle is not None
    assert (out.settle.at, out.settle.what) == (moment(at), "a reading of 100 °F or more")
    assert what in out.reason


def test_the_settling_reading_of_a_gap_lies_in_its_middle() -> None:
    """6 h unread between 1:00 and 7:00: a reading at 4:00 leaves two gaps of 3 h."""
    eight = case(stages([("hot_hold", 0, 8)]))
    out = answer(HOT, eight, [(0, 120), (1, 120), (7, 120), (8, 120)])
    assert out.settle is not None
    assert out.settle.at == moment(4)
    assert out.unread[0][:2] == (moment(1), moment(7))
    assert "nothing was read for 6 h" in out.reason


def test_several_open_stretches_are_counted() -> None:
    long = case(stages([("hot_hold", 0, 11)]))
    out = answer(HOT, long, [(0, 120), (5, 120), (6, 120), (11, 120)])
    assert out.settle is not None
    assert out.settle.what.endswith("and so for each of 2 such stretches")
    assert out.most == 10 * 3600


def test_a_running_hold_is_open_until_a_reading_is_overdue() -> None:
    running = stages([("hot_hold", 0, 4)], closed=False)
    out = answer(HOT, case(running, asked=8), [(0, 120), (4, 120)])
    assert (out.verdict.value, out.deadline) == ("open", moment(8))
    late = answer(HOT, case(running, asked="8:00:01"), [(0, 120), (4, 120)])
    assert late.verdict.value == "not_shown"  # nobody noted how it ended
    # Nobody asked about a later moment: what was read is judged up to its last entry.
    past = answer(HOT, case(running, asked="8:00:01", explicit=False), [(0, 120), (4, 120)])
    assert past.verdict.value == "met"
    assert "nothing is said of what came after" in past.reason
    broken = answer(HOT, case(running, asked=5), [(0, 120), (4, 99)])
    assert broken.verdict.value == "not_met"


def test_the_first_reading_of_the_next_stage_belongs_to_it() -> None:
    two = stages([("hot_hold", 0, 4), ("cool", 4, 6)])
    out = answer(HOT, case(two), [(0, 120), (4, 99), (6, 50)])
    assert out.verdict.value == "not_shown"
    assert out.settle is not None
    assert out.settle.at == moment(4)
    assert answer(HOT, case(stages([("hot_hold", 0, 4)])), [(0, 120), (4, 99)]).verdict == "not_met"


def test_a_noted_rest_needs_no_reading_in_a_long_gap_but_a_hold_does() -> None:
    """10 h between two readings of food that nothing heats: it was never cooler than the later."""
    ten: Readings = [(0, 160), (10, 105)]
    assert answer(HOT, case(stages([("hot_hold", 0, 10)])), ten).verdict == "not_shown"
    rest = answer(HOT, case(stages([("rest", 0, 10)])), ten)
    assert rest.verdict == "met"
    assert "nothing heated the food" in rest.inference
    partly = answer(HOT, case(stages([("rest", 0, 10)])), [(0, 160), (1, 150), (10, 105)])
    assert partly.inference == rest.inference
    assert answer(HOT, case(stages([("rest", 0, 10)])), [(0, 160), (10, 99)]).verdict == "not_met"
    # Physics speaks for "not cooler", never for "not warmer".
    assert answer(COLD, case(stages([("rest", 0, 10)])), [(0, 35), (10, 35)]).verdict == "not_shown"


def test_a_rest_that_was_read_at_its_start_needs_one_more_reading_at_its_end() -> None:
    rest = answer(HOT, case(stages([("rest", 0, 10)])), [(0, 160)])
    assert rest.settle is not None
    assert (rest.settle.what, rest.settle.at) == ("a reading of 100 °F or more", moment(10))
    hold = answer(HOT, case(stages([("hot_hold", 0, 10)])), [(0, 160)])
    assert hold.settle is not None
    # 10 h in steps of 4 h at most: at 3:20, 6:40 and 10:00.
    assert hold.settle.what == "3 readings of 100 °F or more, no more than 4 h apart"


def test_the_finish_reading_of_the_cook_stands_for_the_start_of_the_rest() -> None:
    two = stages([("cook", -5, 0), ("rest", 0, 10)])
    out = answer(HOT, case(two, 2), [(-0.5, 160), (10, 105)])
    assert out.verdict == "met"
    before_the_cook = answer(HOT, case(two, 2), [(-6, 160), (10, 105)])
    assert before_the_cook.verdict == "not_shown"


def test_a_disturbed_stretch_is_not_bracketed() -> None:
    stirred = case(HOLD, notes=[note(1, event="stirred")])
    out = answer(HOT, stirred, [(0, 120), (2, 120), (4, 120)])
    assert (out.verdict.value, out.settle) == ("not_shown", None)


def test_a_doubtful_reading_decides_nothing() -> None:
    """230 °F in food that holds water is doubted; alone it neither keeps nor breaks a limit."""
    out = held([(0, 230)], HOT)
    assert out.verdict.value == "not_shown"
    assert out.measured == "no reading that decides"
    for readings in ([(0, 230), (4, 120)], [(0, 120), (2, 230), (4, 120)]):
        assert "a reading decides nothing, being doubtful" in held(readings).reason
    moment_only = case(stages([("hot_hold", 0, 0)]))
    alone = answer(HOT, moment_only, [(0, 230)])
    assert "doubtful" in alone.reason
    assert alone.settle is not None
    assert alone.settle.at == moment(0)
