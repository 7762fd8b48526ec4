"""For each form of requirement: traces exactly at each of its limits, just inside and just outside.

The expected side follows from the operator that the published rule prints ("at or above", "within",
"not more than"), not from the program. A figure that is printed in one scale only is converted here
as an exact fraction.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from tempwitness.model.figures import Degrees, Limit
from tests.published.traces import STEP, WITNESS
from tests.published.trio_scene import HOUR, Boundary, Trace

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.model.forms import OutsideBand, Reach, ReachBy, Throughout, TimeControl

__all__ = [
    "answer",
    "around",
    "broken_value",
    "dwell",
    "exact",
    "figure",
    "keeps",
    "kept_value",
    "lasting",
    "one_second",
    "outside_band",
    "reach",
    "reach_by",
    "steady",
    "throughout",
    "time_control",
]

ANSWERS = {
    "met": frozenset({"met"}),
    "not_met": frozenset({"not_met"}),
    "not_shown": frozenset({"not_shown"}),
    "not_applicable": frozenset({"not_applicable"}),
    "unmet": frozenset({"not_met", "not_shown"}),
}


def answer(limit: str, side: str, trace: Trace, expected: str) -> Boundary:
    return Boundary(limit, side, trace, ANSWERS[expected])


def exact(limit: Degrees, celsius: bool) -> Fraction:
    """A figure as printed, or converted from the scale in which it is printed."""
    if celsius:
        f = Fraction(limit.f)
        return Fraction(limit.c) if limit.printed != "f" else (f - 32) * 5 / 9
    return Fraction(limit.f) if limit.printed != "c" else Fraction(limit.c) * 9 / 5 + 32


def figure(limit: Degrees, celsius: bool) -> float:
    return float(exact(limit, celsius))


def keeps(limit: Limit, value: float, celsius: bool) -> bool:
    """Whether a value keeps a limit by the operator as printed."""
    at, read = exact(limit, celsius), Fraction(str(value))
    return {">=": read >= at, ">": read > at, "<=": read <= at, "<": read < at}[limit.op]


def around(limit: Degrees, celsius: bool) -> Iterator[tuple[str, float]]:
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


def hourly(start: float, end: float, value: float) -> Trace:
    """Readings of one value, one an hour, strictly between two moments."""
    hours = (start + h * HOUR for h in range(1, int((end - start) // HOUR) + 1))
    return [(t, value) for t in hours if t < end - 1]


def steady(value: float, seconds: float) -> Trace:
    """Readings of one value, one an hour, with a second one right at the start."""
    early = [(WITNESS, value)] if seconds > WITNESS else []
    return [(0.0, value), *early, *hourly(0.0, seconds, value), (seconds, value)]


def one_second(seconds: float) -> Iterator[tuple[str, float]]:
    """Just less than a time, the time, and just more; nothing is less than no time."""
    step = min(1.0, seconds / 2) or 1.0
    if seconds:
        yield "less", seconds - step
        yield "at", seconds
    yield "more", seconds + step


def lasting(name: str, at_most: float, op: str, value: float) -> Iterator[Boundary]:
    """A stage at one value that lasts just so long."""
    for side, seconds in one_second(at_most):
        kept = seconds < at_most or (op == "<=" and seconds == at_most)
        yield answer(name, side, steady(value, seconds), "met" if kept else "not_met")


def throughout(test: Throughout, celsius: bool) -> Iterator[Boundary]:
    left_out = test.but_last or 0.0
    for side, value in around(test.limit, celsius):
        good = keeps(test.limit, value, celsius)
        # Food that must only stay once it got there may still be on its way.
        broken = "not_shown" if test.once_reached else "not_met"
        yield answer("limit", side, steady(value, HOUR + left_out), "met" if good else broken)
    if test.but_last is None:
        return
    good_value, bad = kept_value(test.limit, celsius), broken_value(test.limit, celsius)
    for side, before_end in one_second(left_out):
        leaves = HOUR + left_out - before_end
        trace = [(0.0, good_value), (leaves - WITNESS, good_value), (leaves, bad)]
        trace += [*hourly(leaves, HOUR + left_out, bad), (HOUR + left_out, bad)]
        # Left just as the last part begins, it was left between two readings, one of them before.
        expected = {"less": "met", "at": "unmet", "more": "not_met"}[side]
        yield answer("but_last", side, trace, expected)


def outside_band(test: OutsideBand, celsius: bool) -> Iterator[Boundary]:
    for name, limit in (("cold", test.cold), ("hot", test.hot)):
        for side, value in around(limit, celsius):
            good = keeps(test.cold, value, celsius) or keeps(test.hot, value, celsius)
            yield answer(name, side, steady(value, HOUR), "met" if good else "not_met")


#: A row of a ladder: the figure in one scale, and the seconds for which it must last.
_Row = tuple[Degrees, float]


def _enough(rows: list[_Row], value: float, seconds: float, celsius: bool) -> str:
    read = Fraction(str(value))
    kept = any(_reaches(r, read, celsius) and hold <= seconds for r, hold in rows)
    return "met" if kept else "not_met"


def _row(
    rows: list[_Row], number: int, celsius: bool, names: tuple[str, str]
) -> Iterator[Boundary]:
    row, hold = rows[number]
    for side, value in around(row, celsius):
        trace = dwell(value, hold)
        yield answer(names[0], side, trace, _enough(rows, value, hold, celsius))
    if hold:
        value = _first_enough(row, celsius)
        for side, seconds in one_second(hold):
            trace = dwell(value, seconds)
            yield answer(names[1], side, trace, _enough(rows, value, seconds, celsius))


def _first_enough(row: Degrees, celsius: bool) -> float:
    """The lowest value with two decimals that reaches a row."""
    values = (v for _, v in around(row, celsius))
    return float(next(v for v in values if _reaches(row, Fraction(str(v)), celsius)))


def _reaches(row: Degrees, read: Fraction, celsius: bool) -> bool:
    at = exact(row, celsius)
    return read > at if getattr(row, "op", ">=") == ">" else read >= at


def dwell(value: float, seconds: float) -> Trace:
    """Stand at a value for exactly a time, with a reading one step lower on both sides."""
    low = round(value - STEP, 2)
    stay = [(WITNESS, value)]
    if seconds:
        end = WITNESS + seconds
        stay += [*hourly(WITNESS, end, value), (end, value)]
    return [(0.0, low), *stay, (2 * WITNESS + seconds, low)]


def reach(test: Reach, celsius: bool) -> Iterator[Boundary]:
    rows: list[_Row] = [(r, r.hold) for r in test.rows]
    for number in range(len(rows)):
        yield from _row(rows, number, celsius, (f"rows.{number}", f"rows.{number}.hold"))


def reach_by(test: ReachBy, celsius: bool) -> Iterator[Boundary]:
    """Each time of each column; the row's temperature itself in the last column."""
    last = len(test.columns) - 1
    for column, amount in enumerate(test.columns):
        rows: list[_Row] = [(r, r.holds[column]) for r in test.rows]
        for number, (_, hold) in enumerate(rows):
            names = (f"rows.{number}", f"rows.{number}.holds.{column}")
            for made in _row(rows, number, celsius, names):
                if made.limit == names[0] and column != last and hold:
                    continue
                # A time is walked in the scale in which the table's temperatures are printed.
                if made.limit != names[0] and celsius and test.rows[number].printed != "c":
                    continue
                facts = ((test.by, str(amount)),)
                yield Boundary(made.limit, made.side, made.trace, made.expected, facts=facts)


def time_control(test: TimeControl, celsius: bool) -> Iterator[Boundary]:
    if test.part == "start":
        for number, option in enumerate(test.start):
            for side, value in around(option, celsius):
                good = any(keeps(o, value, celsius) for o in test.start)
                trace = steady(value, 600.0)
                yield answer(f"start.{number}", side, trace, "met" if good else "not_met")
    if test.part == "end":
        value = 60.0
        if test.ceiling is not None:
            value = kept_value(test.ceiling, celsius)
            for side, other in around(test.ceiling, celsius):
                good = keeps(test.ceiling, other, celsius)
                yield answer("ceiling", side, steady(other, HOUR), "met" if good else "not_met")
            yield from _ceiling_for(test, celsius)
        yield from lasting("at_most", test.at_most, "<=", value)


def _ceiling_for(test: TimeControl, celsius: bool) -> Iterator[Boundary]:
    """The ceiling is broken just before it ends, just then, and just after."""
    if test.ceiling is None or test.ceiling_for is None:
        return
    good, bad = kept_value(test.ceiling, celsius), broken_value(test.ceiling, celsius)
    for side, moment in one_second(test.ceiling_for):
        trace = [(0.0, good), *hourly(0.0, moment, good), (moment - WITNESS, good), (moment, bad)]
        expected = {"less": "not_met", "at": "unmet", "more": "met"}[side]
        yield answer("ceiling_for", side, [*trace, (moment + 600.0, bad)], expected)
