"""For each form of requirement: traces exactly at each of its limits, just inside and just outside.

The expected side follows from the operator that the published rule prints ("at or above", "within",
"not more than"), not from the program.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.figures import Limit
from tempwitness.model.forms import (
    BandClock,
    Fall,
    Longest,
    OutsideBand,
    Reach,
    Rise,
    Throughout,
    TimeControl,
)
from tests.published.traces import STEP, WITNESS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.model.figures import Row
    from tempwitness.model.forms import Test

__all__ = ["Boundary", "boundaries", "keeps"]

HOUR = 3600.0
Trace = list[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Boundary:
    """A trace at one side of a limit.

    Parameters
    ----------
    limit : str
        Name of the limit within the test.
    side : str
    trace : list of (float, float)
        Seconds from the stage's start, and temperature.
    expected : frozenset of str
        Verdicts that the published rule allows.
    """

    limit: str
    side: str
    trace: Trace
    expected: frozenset[str]


_ANSWERS = {
    "met": frozenset({"met"}),
    "not_met": frozenset({"not_met"}),
    "not_shown": frozenset({"not_shown"}),
    "unmet": frozenset({"not_met", "not_shown"}),
}


def _at(limit: str, side: str, trace: Trace, expected: str) -> Boundary:
    return Boundary(limit, side, trace, _ANSWERS[expected])


def figure(limit: Limit | Row, celsius: bool) -> float:
    return float(limit.c if celsius else limit.f)


def keeps(limit: Limit, value: float, celsius: bool) -> bool:
    """Whether a value keeps a limit by the operator as printed."""
    at = figure(limit, celsius)
    return {">=": value >= at, ">": value > at, "<=": value <= at, "<": value < at}[limit.op]


def around(limit: Limit | Row, celsius: bool) -> Iterator[tuple[str, float]]:
    at = figure(limit, celsius)
    for side, value in (("below", at - STEP), ("at", at), ("above", at + STEP)):
        yield side, round(value, 2)


def kept_value(limit: Limit, celsius: bool) -> float:
    """The value closest to a limit that keeps it."""
    return min(
        (v for _, v in around(limit, celsius) if keeps(limit, v, celsius)),
        key=lambda v: abs(v - figure(limit, celsius)),
    )


def broken_value(limit: Limit, celsius: bool) -> float:
    """The value closest to a limit that breaks it."""
    return min(
        (v for _, v in around(limit, celsius) if not keeps(limit, v, celsius)),
        key=lambda v: abs(v - figure(limit, celsius)),
    )


def steady(value: float, seconds: float) -> Trace:
    """Readings of one value, one an hour, with a second one right at the start."""
    inner = [h * HOUR for h in range(1, int(seconds // HOUR) + 1) if h * HOUR < seconds]
    return [(t, value) for t in (0.0, WITNESS, *inner, seconds)]


def boundaries(test: Test, celsius: bool) -> Iterator[Boundary]:
    """Return three traces or more for every limit of a test, in one scale."""
    match test:
        case Throughout():
            for side, value in around(test.limit, celsius):
                good = keeps(test.limit, value, celsius)
                yield _at("limit", side, steady(value, HOUR), "met" if good else "not_met")
        case OutsideBand():
            yield from _outside_band(test, celsius)
        case Reach():
            for number in range(len(test.rows)):
                yield from _row(test, number, celsius)
        case Fall() | Rise():
            yield from _transit(test, celsius)
        case BandClock():
            yield from _band_clock(test, celsius)
        case TimeControl():
            yield from _time_control(test, celsius)
        case Longest():
            yield from _lasting("at_most", test.at_most, 100.0)
        case _:
            return


def _outside_band(test: OutsideBand, celsius: bool) -> Iterator[Boundary]:
    for name, limit in (("cold", test.cold), ("hot", test.hot)):
        for side, value in around(limit, celsius):
            good = keeps(test.cold, value, celsius) or keeps(test.hot, value, celsius)
            yield _at(name, side, steady(value, HOUR), "met" if good else "not_met")


def _row(test: Reach, number: int, celsius: bool) -> Iterator[Boundary]:
    row = test.rows[number]

    def enough(value: float, seconds: float) -> str:
        kept = any(figure(r, celsius) <= value and r.hold <= seconds for r in test.rows)
        return "met" if kept else "not_met"

    for side, value in around(row, celsius):
        yield _at(f"rows.{number}", side, _dwell(value, row.hold), enough(value, row.hold))
    if row.hold:
        value = figure(row, celsius)
        for side, seconds in _one_second(row.hold):
            trace = _dwell(value, seconds)
            yield _at(f"rows.{number}.hold", side, trace, enough(value, seconds))


def _dwell(value: float, seconds: float) -> Trace:
    """Stand at a value for exactly a time, with a reading one step lower on both sides."""
    low = round(value - STEP, 2)
    stay = [(WITNESS, value), (WITNESS + seconds, value)] if seconds else [(WITNESS, value)]
    return [(0.0, low), *stay, (2 * WITNESS + seconds, low)]


def _one_second(seconds: float) -> Iterator[tuple[str, float]]:
    yield from (("less", seconds - 1), ("at", seconds), ("more", seconds + 1))


def _transit(test: Fall | Rise, celsius: bool) -> Iterator[Boundary]:
    """Food that leaves one limit and reaches another in a time."""
    falling = isinstance(test, Fall)
    hold = 0.0 if isinstance(test, Fall) else test.hold
    by_stage = isinstance(test, Fall) and test.clock == "stage"
    ten = 10.0 if falling else -10.0
    to_good, to_bad = kept_value(test.to, celsius), broken_value(test.to, celsius)
    if by_stage:
        leaves: Trace = [(0.0, figure(test.to, celsius) + 2 * ten)]
    else:
        assert test.start is not None
        good, bad = kept_value(test.start, celsius), broken_value(test.start, celsius)
        # Food that reads just the figure stands at its start; where the figure itself is beyond
        # it, the crossing is bracketed by two readings.
        leaves = [(0.0, good)] if good == figure(test.start, celsius) else [(0.0, good), (0.2, bad)]
    between = (leaves[-1][1] + figure(test.to, celsius)) / 2

    def fill(start: float, end: float) -> Trace:
        hours = [start + h * HOUR for h in range(1, int((end - start) // HOUR) + 1)]
        return [(t, between) for t in hours if t < end - 1]

    def arrive(moment: float, value: float, stay: float) -> Trace:
        end = [(moment + stay, value)] if stay else []
        return [(moment, value), *end]

    if not by_stage:
        assert test.start is not None
        for side, value in around(test.start, celsius):
            begin: Trace = [(0.0, value + ten), (HOUR, value)]
            until = HOUR + test.within
            trace = [*begin, *fill(HOUR, until), *arrive(until, to_good, hold)]
            fits = keeps(test.start, value, celsius)
            # Where the clock may have begun anywhere in the hour before, the readings leave room.
            yield _at("start", side, trace, "met" if fits else "not_shown")
    for side, value in around(test.to, celsius):
        trace = [*leaves, *fill(0.0, test.within), *arrive(test.within, value, max(hold, 1.0))]
        yield _at("to", side, trace, "met" if keeps(test.to, value, celsius) else "not_met")
    for side, seconds in _one_second(test.within):
        witness = [(seconds - 0.5, to_bad)]
        trace = [*leaves, *fill(0.0, seconds - 1), *witness, *arrive(seconds, to_good, hold)]
        yield _at("within", side, trace, "met" if seconds <= test.within else "not_met")
    if hold:
        for side, stay in _one_second(hold):
            last = [(test.within + stay + WITNESS, to_bad)]
            trace = [*leaves, *fill(0.0, test.within), (test.within - 0.5, to_bad)]
            trace = [*trace, *arrive(test.within, to_good, stay), *last]
            yield _at("hold", side, trace, "met" if stay >= hold else "unmet")


def _band_clock(test: BandClock, celsius: bool) -> Iterator[Boundary]:
    edges = [(n, e) for n, e in (("low", test.low), ("high", test.high)) if e is not None]
    figures = [figure(e, celsius) for _, e in edges]
    middle = sum(figures) / 2 if len(figures) == 2 else figures[0] + (5.0 if test.low else -5.0)
    for name, edge in edges:
        for side, value in around(edge, celsius):
            inside = all(keeps(e, value, celsius) for _, e in edges)
            trace = steady(value, test.at_most + HOUR)
            yield _at(name, side, trace, "not_met" if inside else "met")
    yield from _lasting("at_most", test.at_most, middle)


def _lasting(name: str, at_most: float, value: float) -> Iterator[Boundary]:
    for side, seconds in _one_second(at_most):
        expected = "met" if seconds <= at_most else "not_met"
        yield _at(name, side, steady(value, seconds), expected)


def _time_control(test: TimeControl, celsius: bool) -> Iterator[Boundary]:
    if test.part == "start":
        for number, option in enumerate(test.start):
            for side, value in around(option, celsius):
                good = any(keeps(o, value, celsius) for o in test.start)
                trace = steady(value, 600.0)
                yield _at(f"start.{number}", side, trace, "met" if good else "not_met")
    if test.part == "end":
        value = 60.0
        if test.ceiling is not None:
            value = kept_value(test.ceiling, celsius)
            for side, other in around(test.ceiling, celsius):
                good = keeps(test.ceiling, other, celsius)
                yield _at("ceiling", side, steady(other, HOUR), "met" if good else "not_met")
        yield from _lasting("at_most", test.at_most, value)
