"""One function for each form of requirement."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.criteria.clocks import band_clock, longest
from tempwitness.criteria.outcome import Outcome
from tempwitness.criteria.papers import day_end, duty, method, shelf_life
from tempwitness.criteria.reach import reach
from tempwitness.criteria.throughout import outside_band, throughout
from tempwitness.criteria.time_control import time_control
from tempwitness.criteria.transit import fall, rise
from tempwitness.model.rule import (
    BandClock,
    Conditions,
    DayEnd,
    Duty,
    Fall,
    Longest,
    Method,
    OutsideBand,
    Reach,
    Rise,
    ShelfLife,
    Throughout,
    TimeControl,
)
from tempwitness.model.vocabulary import Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.criteria.case import Case
    from tempwitness.model.rule import Test
    from tempwitness.model.vocabulary import StageName

__all__ = ["judge_test", "on_readings"]

_ON_READINGS = frozenset({"throughout", "outside_band", "reach", "fall", "rise", "band_clock"})


def on_readings(test: Test) -> bool:
    """Whether a test is judged on the readings of a point, so that the worst point decides."""
    return test.form in _ON_READINGS


def judge_test(  # noqa: C901, PLR0911, PLR0912
    test: Test, case: Case, trace: Trace | None, stages: tuple[StageName, ...]
) -> Outcome:
    """Give a test to the function of its form."""
    match test:
        case Longest():
            return longest(test, case)
        case Method():
            return method(test, case)
        case Duty():
            return duty(test, case)
        case ShelfLife():
            return shelf_life(test, case)
        case DayEnd():
            return day_end(test, case)
        case Conditions():
            return Outcome(Verdict.MET, "it asks for nothing beyond its conditions")
        case TimeControl():
            return time_control(test, case, trace)
        case _:
            pass
    if trace is None:
        raise ValueError(f"a test of form '{test.form}' needs readings")
    match test:
        case Throughout():
            return throughout(test, case, trace)
        case OutsideBand():
            return outside_band(test, case, trace)
        case Reach():
            return reach(test, case, trace)
        case Fall():
            return fall(test, case, trace)
        case Rise():
            return rise(test, case, trace)
        case BandClock():
            return band_clock(test, case, trace, stages)
        case _:
            raise ValueError(f"no criterion for a test of form '{test.form}'")
