"""Rises within a time: where the clock begins and when it stops. Limits are those of `cases`."""

from __future__ import annotations

import pytest

from tempwitness.criteria.outcome import Outcome
from tempwitness.model.forms import Rise
from tests.criteria.cases import answer, case, limit, moment, settled, stages
from tests.support import Readings

#: From 40 °F to 100 °F, held for 15 min, within 2 h.
RISE = Rise.model_validate(
    {
        "form": "rise",
        "start": limit(40, "<=").model_dump(),
        "to": limit(100, ">=").model_dump(),
        "hold": "15 min",
        "within": "2 h",
    }
)


def warmed(readings: Readings, *before: tuple[str, float, float]) -> Outcome:
    """Four hours of a reheat that is over."""
    every = stages([*before, ("reheat", 0, 4)])
    return answer(RISE, case(every, len(every)), readings)


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 40), (2, 100), (2.25, 100)], "met", id="in time and held"),
        pytest.param([(0, 40), (2, 100), (2.2, 100)], "not_shown", id="not held long enough"),
        pytest.param([(0, 40), (2, 99), (2.5, 110), (3, 110)], "not_met", id="late"),
        pytest.param([(0, 38), (1, 60), (2.5, 100), (3, 100)], "not_shown", id="start in doubt"),
        pytest.param([(0, 40), (2, 100), (2.1, 99), (2.5, 100), (3, 100)], "not_shown",
                     id="fell back before the hold was over"),
    ],
)  # fmt: skip
def test_a_rise(readings: Readings, expected: str) -> None:
    assert warmed(readings).verdict.value == expected


def test_where_the_clock_of_a_rise_begins() -> None:
    """From the cold: at the last cold reading. From elsewhere: with the reheat itself."""
    readings: Readings = [(-1, 40), (0, 50), (1.5, 100), (2, 100)]
    cold = warmed(readings, ("cold_hold", -2, 0))
    assert (cold.verdict.value, cold.began) == ("not_shown", moment(-1))
    warm = warmed(readings, ("hot_hold", -2, 0))
    assert (warm.verdict.value, warm.began) == ("met", moment(0))
    carried = warmed(readings, ("cold_hold", -2, -0.5), ("transport", -0.5, 0))
    assert carried.began == moment(-1)


def test_the_settling_reading_of_a_rise_settles() -> None:
    doubt: Readings = [(0, 38), (1, 60), (2.5, 100), (3, 100)]
    out = warmed(doubt)
    assert out.settle is not None
    assert out.settle.what == "a reading of 40 °F or less"
    assert settled(RISE, case(stages([("reheat", 0, 4)])), doubt, 40).verdict == "met"


def test_food_that_had_warmed_before_its_reheat_is_asked_for_its_arrival() -> None:
    """Cold at -1:15, at 70 °F at -1:00: the clock ran then, and 100 °F was due at 0:45."""
    for arrival in (1, 3.25):
        hot: Readings = [(arrival, 100), (arrival + 0.25, 100)]
        out = warmed([(-1.25, 40), (-1, 70), *hot], ("cold_hold", -2, 0))
        assert out.settle is not None
        assert out.settle.what.startswith("two readings of 100 °F or more, 15 min apart")
        assert out.settle.at == moment(0.75)


def test_a_rise_whose_start_is_too_far_from_the_last_reading_is_asked_for_twice() -> None:
    """At 100 °F at 5:00, so the clock may start at 3:00: 4 h after -1:00, more after -1:15."""
    every = stages([("cold_hold", -2, 0), ("reheat", 0, 6)])
    late: Readings = [(5, 100), (5.5, 100)]
    once = answer(RISE, case(every, 2), [(-1, 40), *late])
    assert once.settle is not None
    assert (once.settle.what, once.settle.at) == ("a reading of 40 °F or less", moment(3))
    assert settled(RISE, case(every, 2), [(-1, 40), *late], 40).verdict == "met"
    twice = answer(RISE, case(every, 2), [(-1.25, 40), *late])
    assert twice.settle is not None
    assert twice.settle.what == (
        "a reading of 40 °F or less at 05:00, when the stage began, and another one"
    )


def test_a_start_that_was_not_read_is_asked_for_when_the_reheat_begins() -> None:
    """At 100 °F at 2:00, held for 15 min: 40 °F at 0:00 would be 2 h before."""
    out = warmed([(1, 60), (2, 100), (2.25, 100)])
    assert out.settle is not None
    assert (out.settle.what, out.settle.at) == ("a reading of 40 °F or less", moment(0))


#: To 100 °F, held for 15 min, within 2 h of the stage's start: the code names no first limit.
FROM_STAGE = Rise.model_validate(
    {
        "form": "rise",
        "to": limit(100, ">=").model_dump(),
        "hold": "15 min",
        "within": "2 h",
        "clock": "stage",
    }
)


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 40), (2, 100), (2.25, 100), (4, 100)], "met"),
        # Once it was there it may cool.
        ([(0, 40), (2, 100), (2.25, 100), (4, 90)], "met"),
        ([(0, 40), (2, 99), (2.5, 100), (3, 100)], "not_met"),
        # It was hot before, and came back too late: that was another passage.
        ([(0, 110), (0.5, 110), (1, 60), (3, 100), (3.5, 100)], "not_shown"),
        ([(0, 40), (1, 100), (1.5, 100), (1.6, 99), (3, 100), (3.5, 100)], "met"),
        ([(0, 40), (1, 100), (1.5, 100), (1.6, 69), (3, 100), (3.5, 100)], "not_shown"),
    ],
)
def test_a_clock_that_the_stage_starts_needs_no_first_limit(
    readings: Readings, expected: str
) -> None:
    every = stages([("reheat", 0, 4)])
    assert answer(FROM_STAGE, case(every), readings).verdict.value == expected
