"""Traces at the limits of the forms that count: passages, bands, stretches, heat, and numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.model.figures import Limit
from tempwitness.model.forms import Fall
from tests.published.traces import WITNESS
from tests.published.trio_logs import (
    ANSWERS,
    answer,
    around,
    broken_value,
    figure,
    hourly,
    keeps,
    kept_value,
    lasting,
    one_second,
    steady,
)
from tests.published.trio_scene import HOUR, Boundary, Trace

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.model.forms import BandClock, Lethality, Once, Rise

__all__ = ["band_clock", "lethality", "once", "transit", "two_stages"]

#: The stage that starts each clock when it ends.
_STARTERS = {"cooked": "cook", "heat_ended": "hot_hold", "left_cold": "cold_hold"}


def transit(test: Fall | Rise, celsius: bool) -> Iterator[Boundary]:
    """Food that leaves one limit and reaches another in a time."""
    starter = _STARTERS.get(test.clock)
    before = () if starter is None else ((-HOUR, starter),)
    room = figure(test.to, celsius=True)
    facts: tuple[tuple[str, str], ...] = ()
    if isinstance(test, Fall) and test.or_room:
        facts = (("room_temperature_c", f"{room:g}"),)
        yield from _in_room(test, celsius)
    made = [*_start(test, celsius), *_to(test, celsius), *_within(test, celsius)]
    if starter is not None:
        made += _clock(test, celsius)
    for one in [*made, *_hold(test, celsius)]:
        yield replace(one, before=one.before or before, facts=facts)


def _ten(test: Fall | Rise) -> float:
    return 10.0 if isinstance(test, Fall) else -10.0


def _stay(test: Fall | Rise) -> float:
    return 0.0 if isinstance(test, Fall) else test.hold


def _latest(test: Fall | Rise) -> float:
    """The longest time that is kept, to the second."""
    return test.within if test.op == "<=" else test.within - 1.0


def _leaves(test: Fall | Rise, celsius: bool) -> Trace:
    if test.clock != "crossing" or test.start is None:
        return [(0.0, round(figure(test.to, celsius) + 2 * _ten(test), 2))]
    good, bad = kept_value(test.start, celsius), broken_value(test.start, celsius)
    # Food that reads just the figure stands at its start; where the figure itself is beyond
    # it, the crossing is bracketed by two readings.
    return [(0.0, good)] if good == figure(test.start, celsius) else [(0.0, good), (0.2, bad)]


def _between(test: Fall | Rise, celsius: bool) -> float:
    return (_leaves(test, celsius)[-1][1] + figure(test.to, celsius)) / 2


def _arrive(moment: float, value: float, stay: float) -> Trace:
    return [(moment, value), *([(moment + stay, value)] if stay else [])]


def _start(test: Fall | Rise, celsius: bool) -> Iterator[Boundary]:
    if test.clock != "crossing" or test.start is None:
        return
    good = kept_value(test.to, celsius)
    for side, value in around(test.start, celsius):
        until = HOUR + _latest(test)
        trace: Trace = [(0.0, value + _ten(test)), (HOUR, value)]
        trace += hourly(HOUR, until, _between(test, celsius))
        trace += _arrive(until, good, _stay(test))
        fits = keeps(test.start, value, celsius)
        # Where the clock may have begun anywhere in the hour before, the readings leave room.
        yield answer("start", side, trace, "met" if fits else "not_shown")


def _to(test: Fall | Rise, celsius: bool) -> Iterator[Boundary]:
    until = _latest(test)
    stay = max(_stay(test), test.within - until + 1.0)
    for side, value in around(test.to, celsius):
        trace = _leaves(test, celsius) + hourly(0.0, until, _between(test, celsius))
        trace += _arrive(until, value, stay)
        yield answer("to", side, trace, "met" if keeps(test.to, value, celsius) else "not_met")


def _within(test: Fall | Rise, celsius: bool) -> Iterator[Boundary]:
    good, bad = kept_value(test.to, celsius), broken_value(test.to, celsius)
    for side, seconds in one_second(test.within):
        kept = seconds <= _latest(test)
        # What must take less than a time is short of its end just then.
        latest = _leaves(test, celsius)[-1][0]
        witness = seconds + latest if side == "at" and not kept else seconds - 0.5
        trace = _leaves(test, celsius) + hourly(0.0, seconds - 1, _between(test, celsius))
        trace += [(witness, bad), *_arrive(witness + 0.5, good, _stay(test))]
        yield answer("within", side, trace, "met" if kept else "not_met")
    if test.op == "<":
        # Read short of its end half a second before: it may have come then, or just in time.
        trace = _leaves(test, celsius) + hourly(0.0, test.within - 1, _between(test, celsius))
        trace += [(test.within - 0.5, bad), *_arrive(test.within, good, _stay(test))]
        yield answer("within", "brink", trace, "not_shown")


def _hold(test: Fall | Rise, celsius: bool) -> Iterator[Boundary]:
    if not _stay(test):
        return
    good, bad, until = kept_value(test.to, celsius), broken_value(test.to, celsius), _latest(test)
    for side, stay in one_second(_stay(test)):
        trace = _leaves(test, celsius) + hourly(0.0, until, _between(test, celsius))
        trace += [(until - 0.5, bad), *_arrive(until, good, stay)]
        trace.append((until + stay + WITNESS, bad))
        yield answer("hold", side, trace, "met" if stay >= _stay(test) else "unmet")


def _clock(test: Fall | Rise, celsius: bool) -> Iterator[Boundary]:
    """Ten minutes pass between the end of the stage that starts the clock and this one."""
    gap, starter = 600.0, _STARTERS[test.clock]
    filler = {"cooked": "hot_hold", "heat_ended": "rest", "left_cold": "prep"}[test.clock]
    before = ((-HOUR - gap, starter), (-gap, filler))
    good, bad = kept_value(test.to, celsius), broken_value(test.to, celsius)
    for side, seconds in one_second(test.within):
        kept = seconds <= _latest(test)
        witness = seconds if side == "at" and not kept else seconds - 0.5
        trace = _leaves(test, celsius) + hourly(0.0, seconds - gap - 1, _between(test, celsius))
        trace += [(witness - gap, bad), *_arrive(witness - gap + 0.5, good, _stay(test))]
        # Food may have been kept hot unsaid until it was put to cool.
        late = "unmet" if test.clock == "heat_ended" else "not_met"
        yield replace(answer("clock", side, trace, "met" if kept else late), before=before)


def _in_room(test: Fall, celsius: bool) -> Iterator[Boundary]:
    """A room 5 °C colder than the limit must be reached; one of which nothing is said, too."""
    room = Limit.model_validate({"c": str(test.to.c - 5), "op": test.to.op})
    there = _with_limit(test, room)
    facts = (("room_temperature_c", str(test.to.c - 5)),)
    for one in _to(there, celsius):
        yield replace(one, limit="or_room", facts=facts)
    unsaid = next(b for b in _within(there, celsius) if b.side == "less")
    yield replace(unsaid, limit="or_room", side="unsaid", expected=ANSWERS["not_shown"])


def _with_limit(test: Fall, to: Limit) -> Fall:
    return test.model_copy(update={"to": to, "or_room": False})


def _inside(test: BandClock, celsius: bool) -> float:
    """A value well within the band."""
    edges = [figure(e, celsius) for e in (test.low, test.high) if e is not None]
    if len(edges) == 2:
        return round(sum(edges) / 2, 2)
    return round(edges[0] + (5.0 if test.low else -5.0), 2)


def band_clock(
    test: BandClock, celsius: bool, other: tuple[str, ...], *, plain: bool
) -> Iterator[Boundary]:
    """At its edges, at its time, and with a part of the time in another stage that counts."""
    edges = [(n, e) for n, e in (("low", test.low), ("high", test.high)) if e is not None]
    middle = _inside(test, celsius)
    for name, edge in edges:
        for side, value in around(edge, celsius):
            inside = all(keeps(e, value, celsius) for _, e in edges)
            trace = steady(value, test.at_most + HOUR)
            yield answer(name, side, trace, "not_met" if inside else "met")
    yield from lasting("at_most", test.at_most, test.op, middle)
    edge = edges[0][1]
    yield _brink(test, kept_value(edge, celsius), broken_value(edge, celsius))
    if len(test.over) > 1:
        if (plain and other[0] != "cold_hold") or test.low is None:
            yield from two_stages(test.at_most, test.op, middle, other)
            return
        # Food that came from the heat is held cold, not cooling, only if it was read cold.
        just_in, just_out = kept_value(test.low, celsius), broken_value(test.low, celsius)
        yield from _joined(two_stages(test.at_most, test.op, just_in, other), just_out)


def _brink(test: BandClock | Once, counts: float, counts_not: float) -> Boundary:
    """The whole time to a moment, of which the first moment lies between two readings."""
    trace = [(0.0, counts_not), (WITNESS, counts), *hourly(WITNESS, test.at_most, counts)]
    trace.append((test.at_most, counts))
    return answer("at_most", "brink", trace, "met" if test.op == "<=" else "not_shown")


def two_stages(
    at_most: float, op: str, value: float, other: tuple[str, ...], limit: str = "over"
) -> Iterator[Boundary]:
    """Half of the time in another stage that counts, and the other half in this one."""
    for name in other[:1]:
        half = at_most / 2
        for side, seconds in one_second(at_most):
            kept = seconds < at_most or (op == "<=" and seconds == at_most)
            trace = [(t - half, v) for t, v in steady(value, seconds)]
            trace = sorted({*trace, (0.0, value)})
            made = answer(limit, side, trace, "met" if kept else "not_met")
            yield replace(made, before=((-half, name),))


def once(test: Once, celsius: bool, other: tuple[str, ...]) -> Iterator[Boundary]:
    """At its limit, at its time, at what holds even then, and a second time beyond."""
    good, bad = kept_value(test.limit, celsius), broken_value(test.limit, celsius)
    for side, value in around(test.limit, celsius):
        kept = keeps(test.limit, value, celsius)
        trace = steady(value, test.at_most + HOUR)
        yield answer("limit", side, trace, "met" if kept else "not_met")
    yield from lasting("at_most", test.at_most, test.op, bad)
    yield _brink(test, bad, good)
    if test.beyond is not None:
        for side, value in around(test.beyond, celsius):
            kept = keeps(test.beyond, value, celsius)
            trace = [(0.0, good), (60.0, value), (120.0, value), (180.0, good)]
            yield answer("beyond", side, trace, "met" if kept else "not_met")
    for side, back in (("once", bad), ("twice", good)):
        trace = [(0.0, good), (60.0, bad), (120.0, back), (180.0, bad), (240.0, good)]
        yield answer("once", side, trace, "met" if back == bad else "not_met")
    if len(test.over) > 1:
        yield from _joined(two_stages(test.at_most, test.op, bad, other), good)


def _joined(made: Iterator[Boundary], good: float) -> Iterator[Boundary]:
    """The same, read within the limit as the first of the two stages begins."""
    for one in made:
        first = one.trace[0][0]
        # What was read within the limit adds a moment in which it may have been beyond it.
        moment = first - WITNESS if "not_met" in one.expected else first
        trace = [(moment, good), *((t, v) for t, v in one.trace if t > first)]
        if "not_met" in one.expected:
            trace.insert(1, one.trace[0])
        start = min(moment, one.before[0][0])
        yield replace(one, trace=trace, before=((start, one.before[0][1]),))


def lethality(test: Lethality, celsius: bool) -> Iterator[Boundary]:
    """At the reference, one z above it, and at the coldest that counts."""
    reference, z = figure(test.at, celsius=True), float(test.z_c)
    coldest = figure(test.counts_from, celsius=True)

    def scaled(value: float) -> float:
        return value if celsius else round(value * 1.8 + 32, 6)

    def needed(value: float) -> float:
        """Seconds at a temperature that are as much as the rule asks for."""
        return float(test.hold * 10 ** ((reference - value) / z))

    for side, value in around(test.at, celsius):
        yield answer("at", side, steady(value, test.hold), "unmet" if side == "below" else "met")
    for side, seconds in one_second(test.hold):
        trace = steady(scaled(reference), seconds)
        yield answer("hold", side, trace, "met" if seconds >= test.hold else "unmet")
    for side, share in (("less", 0.99), ("at", 1.0), ("more", 1.01)):
        trace = steady(scaled(reference + z), needed(reference + z) * share)
        yield answer("z_c", side, trace, "met" if share >= 1 else "unmet")
    for side, value in (("below", coldest - 0.1), ("at", coldest), ("above", coldest + 0.1)):
        trace = steady(scaled(round(value, 6)), needed(coldest) * 1.001)
        yield answer("counts_from", side, trace, "met" if value >= coldest else "not_met")
