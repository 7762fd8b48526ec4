"""Ladders: one row is reached and held. The rows are invented: 100 °F for 1 h, 120 °F at once."""

from __future__ import annotations

import pytest

from tempwitness.criteria.outcome import Outcome
from tempwitness.model.forms import Reach
from tempwitness.model.vocabulary import StageName
from tests.criteria.cases import answer, case, moment, settled, stages
from tests.support import Readings, note

LADDER = Reach.model_validate(
    {
        "form": "reach",
        "carry": (StageName.REST,),
        "rows": (
            {"f": 100, "c": 100, "hold": "1 h"},
            {"f": 110, "c": 110, "hold": "15 min"},
            {"f": 120, "c": 120, "hold": "0 s"},
        ),
    }
)
ONE_ROW = Reach.model_validate({"form": "reach", "rows": ({"f": 100, "c": 100, "hold": "15 min"},)})
AT_ONCE = Reach.model_validate({"form": "reach", "rows": ({"f": 120, "c": 120, "hold": "0 s"},)})
COOK = stages([("cook", 0, 4)])


def cooked(readings: Readings, test: Reach = LADDER) -> Outcome:
    """A cook of four hours that is over."""
    return answer(test, case(COOK), readings)


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(1, 120)], "met", id="one reading of the last row"),
        pytest.param(
            [(0, 60), (4, 119.9)], "not_shown", id="a row with a time, end of the bracket"
        ),
        pytest.param([(0, 60), (2, 100), (3, 100), (4, 90)], "met", id="100 for an hour"),
        pytest.param(
            [(0, 60), (2, 100), (2.9, 100), (4, 90)], "not_shown", id="0:54 read, more may"
        ),
        # From 0:00 to 4:00 below 100 °F all the time: no row can have been reached.
        pytest.param([(0, 60), (2, 99), (4, 90)], "not_met", id="never there"),
        # At 100 °F for at most 2:00 to 2:50 around 2:30: less than an hour.
        pytest.param([(0, 60), (2, 99), (2.5, 101), (2.9, 99), (4, 90)], "not_met", id="too short"),
        pytest.param([(0, 60)], "not_shown", id="one reading and nothing after"),
        pytest.param([(0, 60), (2, 110), (2.25, 110), (4, 80)], "met", id="the middle row"),
    ],
)
def test_a_ladder(readings: Readings, expected: str) -> None:
    assert cooked(readings).verdict.value == expected


def test_rows_are_not_mixed() -> None:
    """By hand: at 100 °F for at most 0:41, at 110 °F for at most 0:11, each short of its row."""
    mixed: Readings = [
        (0, 99),
        (0.99, 99),
        (1, 100),
        (1.5, 100),
        (1.51, 110),
        (1.67, 110),
        (1.68, 99),
        (4, 99),
    ]
    assert cooked(mixed).verdict.value == "not_met"


def test_a_dip_ends_the_hold() -> None:
    dip: Readings = [(0, 99), (0.9, 99), (1, 100), (1.5, 99.9), (2, 100), (2.4, 99), (4, 99)]
    assert cooked(dip).verdict.value == "not_met"


def test_what_is_said_of_the_row_that_was_reached() -> None:
    out = cooked([(0, 60), (2, 100), (3.5, 100), (4, 90)])
    assert out.limit == "100 °F (100 °C) for 1 h"
    assert out.reason == "100 °F (100 °C) for 1 h was reached at 07:00"
    assert out.measured == "100 °F at 07:00, held at or above 100 °F for at least 1 h 30 min"
    assert (out.least, out.began) == (5400, moment(2))
    assert [c.index for c in out.cites] == [1]
    assert cooked([(1, 125)]).measured == "125 °F at 06:00"
    assert [c.index for c in cooked([(1, 125)]).cites] == [0]


def test_the_highest_reading_is_what_was_measured_when_nothing_was_reached() -> None:
    out = cooked([(0, 60), (2, 99), (4, 90)])
    assert out.measured == "highest 99 °F at 07:00"
    assert out.limit == ("100 °F (100 °C) for 1 h or 110 °F (110 °C) for 15 min or 120 °F (120 °C)")
    assert [c.index for c in out.cites] == [1]


@pytest.mark.parametrize(
    ("count", "said"),
    [
        (4, "100 °F (100 °C) or 101 °F (101 °C) or 102 °F (102 °C) or 103 °F (103 °C)"),
        (5, "any row from 100 °F (100 °C) to 104 °F (104 °C)"),
    ],
)
def test_a_long_ladder_is_named_by_its_ends(count: int, said: str) -> None:
    rows = tuple({"f": 100 + n, "c": 100 + n, "hold": "0 s"} for n in range(count))
    long = Reach.model_validate({"form": "reach", "rows": rows})
    assert cooked([(0, 60), (4, 70)], long).limit == said


def test_heat_that_rises_in_the_rest_counts() -> None:
    two = stages([("cook", 0, 4), ("rest", 4, 6)])
    readings: Readings = [(0, 60), (3, 90), (4.5, 121), (6, 99)]
    assert answer(LADDER, case(two), readings).verdict == "met"
    without = LADDER.model_copy(update={"carry": ()})
    assert answer(without, case(two), [(0, 60), (4, 95), (4.5, 121)]).verdict == "not_met"
    # Other stages carry nothing on, and stand between.
    three = stages([("cook", 0, 4), ("serve", 4, 5), ("rest", 5, 6)])
    assert answer(LADDER, case(three), [(0, 60), (4, 95), (5.5, 121)]).verdict == "not_met"


def test_a_running_cook_is_open_until_a_reading_is_overdue() -> None:
    running = stages([("cook", 0, 2)], closed=False)
    readings: Readings = [(0, 60), (2, 90)]
    assert answer(LADDER, case(running, asked=6), readings).verdict == "open"
    late = answer(LADDER, case(running, asked="6:00:01"), readings)
    assert late.verdict == "not_shown"
    assert late.settle is not None
    assert late.settle.what == "a reading of 120 °F or more"


def test_nothing_read_in_the_stage() -> None:
    assert cooked([(-3, 50), (5, 50)]).measured == "nothing was read"
    assert cooked([(-3, 50), (5, 50)]).verdict.value == "not_shown"


def test_a_disturbed_hold_is_two_holds() -> None:
    moved = case(COOK, notes=[note(2.5, event="probe_moved")])
    readings: Readings = [(0, 60), (2, 100), (3, 100), (4, 90)]
    assert answer(LADDER, moved, readings).verdict == "not_shown"


@pytest.mark.parametrize(
    ("test", "readings", "value"),
    [
        pytest.param(AT_ONCE, [(0, 60), (1, 90)], 120, id="no time to hold"),
        pytest.param(AT_ONCE, [(0, 60), (4.5, 130)], 120, id="before a reading after the stage"),
        pytest.param(LADDER, [(0, 60), (1, 90)], 120, id="the last row of a ladder"),
        pytest.param(ONE_ROW, [(0, 60), (2, 100), (3, 90)], 100, id="a second reading"),
        pytest.param(ONE_ROW, [(0, 60), (2, 100), (2.1, 90)], 100, id="only before the first"),
        pytest.param(ONE_ROW, [(0, 60), (3.75, 100)], 100, id="up to the stage's end"),
        pytest.param(ONE_ROW, [(0.25, 100), (0.3, 90)], 100, id="from the stage's start"),
    ],
)
def test_the_settling_reading_settles(test: Reach, readings: Readings, value: float) -> None:
    out = cooked(readings, test)
    assert out.verdict.value == "not_shown"
    assert out.settle is not None
    assert f"{value} °F or more" in out.settle.what
    assert settled(test, case(COOK), readings, value).verdict == "met"


def test_a_hold_without_room_for_one_more_reading_needs_two() -> None:
    """Read below at 0:00, 15 min before: the one reading would have to be of that very moment."""
    out = cooked([(0, 90), (0.25, 100), (0.3, 90), (0.4, 95)], ONE_ROW)
    assert out.settle is not None
    assert out.settle.what.startswith("two readings")


def test_a_hold_of_which_no_reading_exists_needs_two() -> None:
    out = cooked([(0, 60), (1, 90)], ONE_ROW)
    assert out.verdict.value == "not_shown"
    assert out.settle is not None
    assert out.settle.what == "two readings of 100 °F or more, 15 min apart"


PASSED = Reach.model_validate(
    {"form": "reach", "rows": ({"f": 100, "c": 100, "hold": "15 min", "op": ">"},)}
)
PASSED_AT_ONCE = Reach.model_validate(
    {"form": "reach", "rows": ({"f": 120, "c": 120, "hold": "0 s", "op": ">"},)}
)


@pytest.mark.parametrize(
    ("test", "readings", "expected"),
    [
        (PASSED, [(0, 60), (2, 100.1), (2.25, 100.1), (4, 90)], "met"),
        # Of 100 °F and never more: the row is not passed, however long.
        (PASSED, [(0, 60), (2, 100), (3, 100), (4, 90)], "not_met"),
        # At the end of the bracket it stands at 100.0 °F: above it for less than 15 min, surely.
        (PASSED, [(0, 60), (2, 100), (2.1, 100.1), (2.2, 100), (4, 90)], "not_met"),
        (PASSED, [(0, 60), (2, 100.1), (2.2, 100.1), (4, 90)], "not_shown"),
        (PASSED_AT_ONCE, [(0, 60), (2, 120.1), (4, 90)], "met"),
        (PASSED_AT_ONCE, [(0, 60), (2, 120), (4, 90)], "not_met"),
    ],
)
def test_a_row_that_must_be_passed(test: Reach, readings: Readings, expected: str) -> None:
    assert cooked(readings, test).verdict.value == expected


def test_what_is_said_of_a_row_that_must_be_passed() -> None:
    out = cooked([(0, 60), (2, 100.1), (2.25, 100.1), (4, 90)], PASSED)
    assert out.limit == "above 100 °F (100 °C) for 15 min"
    assert "held above 100 °F for at least 15 min" in out.measured
    short = cooked([(0, 60), (2, 100.1), (2.2, 100.1), (4, 90)], PASSED)
    assert short.settle is not None
    assert short.settle.what == "a reading above 100 °F"
    once = cooked([(0, 60)], PASSED_AT_ONCE)
    assert once.settle is not None
    assert once.settle.what == "a reading above 120 °F"
