"""The traces of any test at one stage, and those of the forms that count stages, days and notes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.model.forms import (
    BandClock,
    Count,
    DayEnd,
    Fall,
    Lethality,
    Longest,
    Method,
    Monitoring,
    Once,
    OutsideBand,
    Reach,
    ReachBy,
    Rise,
    ShelfLife,
    Throughout,
    TimeControl,
)
from tempwitness.model.vocabulary import StageName
from tests.published import trio_clocks, trio_logs
from tests.published.trio_logs import ANSWERS, answer, lasting, one_second
from tests.published.trio_scene import HOUR, Boundary, filler

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.published.trio_rules import Ask

__all__ = ["boundaries"]

DAY = 86400.0
#: From 0:00 of the tests, which is 05:00 in the record's zone, to midnight [s].
_TO_MIDNIGHT = 19 * HOUR
#: Stages that stand under their own name also if the food is warm and comes from a warm stage.
_PLAIN = ("prep", "rest", "hot_hold", "serve", "transport")


def boundaries(ask: Ask, stage: StageName, celsius: bool) -> Iterator[Boundary]:
    """Return three traces or more for every limit of a test, in one scale."""
    match ask.test:
        case Throughout():
            yield from trio_logs.throughout(ask.test, celsius)
        case OutsideBand():
            yield from trio_logs.outside_band(ask.test, celsius)
        case Reach():
            yield from trio_logs.reach(ask.test, celsius)
        case ReachBy():
            yield from trio_logs.reach_by(ask.test, celsius)
        case TimeControl():
            yield from trio_logs.time_control(ask.test, celsius)
        case Fall() | Rise():
            yield from trio_clocks.transit(ask.test, celsius)
        case BandClock():
            yield from trio_clocks.band_clock(
                ask.test, celsius, _other(ask, stage, ask.test.over), plain=stage.value in _PLAIN
            )
        case Once():
            yield from trio_clocks.once(ask.test, celsius, _other(ask, stage, ask.test.over))
        case Lethality():
            yield from trio_clocks.lethality(ask.test, celsius)
        case _:
            yield from _on_paper(ask, stage, celsius)


def _on_paper(ask: Ask, stage: StageName, celsius: bool) -> Iterator[Boundary]:
    cold = 0.5 if celsius else 33.0
    match ask.test:
        case Longest():
            yield from _longest(ask, ask.test, stage)
        case Count():
            yield from _count(ask, ask.test, stage)
        case Monitoring():
            yield from _monitoring(ask.test)
        case Method():
            yield from _method(ask, ask.test, cold)
        case ShelfLife():
            yield from _shelf_life(ask.test, cold)
        case DayEnd():
            for side, seconds in one_second(_TO_MIDNIGHT):
                expected = "not_met" if side == "more" else "met"
                yield answer("midnight", side, [(0.0, cold), (seconds, cold)], expected)
        case _:
            return


def _other(ask: Ask, stage: StageName, over: tuple[StageName, ...]) -> tuple[str, ...]:
    """Another stage that counts: one that any food may come from, else the first."""
    names = [s.value for s in over if s is not stage and s not in ask.when.not_after]
    return tuple(sorted(names, key=lambda n: n not in _PLAIN))


def _longest(ask: Ask, test: Longest, stage: StageName) -> Iterator[Boundary]:
    yield from lasting("at_most", test.at_most, test.op, 100.0)
    if not test.total:
        return
    stages = ask.requirement.stages
    other = [s.value for s in stages if s is not stage and s not in ask.when.not_after]
    if other:
        yield from trio_clocks.two_stages(test.at_most, test.op, 100.0, tuple(other), "total")
        return
    # One stage only, twice, with another one between that does not count.
    half, between = test.at_most / 2, filler(ask, stage)
    for side, seconds in one_second(test.at_most):
        end = seconds - half
        kept = end + half < test.at_most or (test.op == "<=" and end + half == test.at_most)
        made = answer("total", side, [(0.0, 100.0), (end, 100.0)], "met" if kept else "not_met")
        yield replace(made, before=((-half - HOUR, stage.value), (-HOUR, between)))


def _count(ask: Ask, test: Count, stage: StageName) -> Iterator[Boundary]:
    """Stages of the first name that is counted, with another one between each two of them."""
    between = filler(ask, stage)
    for side, more in (("less", -1), ("at", 0), ("more", 1)):
        times = test.at_most + more
        if times < 1:
            continue
        earlier: list[tuple[float, str]] = []
        for k in range(times - 1, 0, -1):
            earlier += [(-2 * k * HOUR, test.of[0].value), (-(2 * k - 1) * HOUR, between)]
        expected = "not_met" if side == "more" else "met"
        made = answer("at_most", side, [(0.0, 100.0), (HOUR, 100.0)], expected)
        yield replace(made, before=tuple(earlier))


def _monitoring(test: Monitoring) -> Iterator[Boundary]:
    """What is missing is never taken for broken: the reading may have been taken and not kept."""
    if test.every is not None:
        for side, gap in one_second(test.every):
            trace = [(0.0, 100.0), (gap, 100.0), (gap + 60.0, 100.0)]
            yield answer("every", side, trace, "not_shown" if side == "more" else "met")
    for name, wanted in (("per_day", test.per_day), ("at_least", test.at_least)):
        if wanted is None:
            continue
        whole = DAY if name == "per_day" else HOUR
        first = _TO_MIDNIGHT if name == "per_day" else 0.0
        for side, more in (("less", -1), ("at", 0), ("more", 1)):
            taken = [first + whole * (k + 0.5) / (wanted + 1) for k in range(wanted + more)]
            expected = ANSWERS["met" if more >= 0 else "not_shown"]
            trace = [(t, 100.0) for t in taken]
            yield Boundary(name, side, trace, expected, end=first + whole)


def _method(ask: Ask, test: Method, value: float) -> Iterator[Boundary]:
    """Each method that is allowed, one that is not, and none; some rules speak of one method."""
    trace = [(0.0, value), (HOUR, value)]
    spoken_of = ask.when.method
    other = next(m for m in (*spoken_of, "counter", "guesswork") if m not in test.allowed)
    for method in (*test.allowed, other, ""):
        expected = "met" if method in test.allowed else "not_met" if method else "not_shown"
        if spoken_of and method not in spoken_of:
            expected = "not_applicable"
        yield replace(answer("allowed", method, trace, expected), method=method)


def _shelf_life(test: ShelfLife, cold: float) -> Iterator[Boundary]:
    """The day of preparation is day 1, so n days end with the evening n - 1 days later.

    A mark is due for food that is kept longer than the time printed.
    """
    for side, more in (("less", -1), ("at", 0), ("more", 1)):
        end = (test.days - 1 + more) * DAY + 7 * HOUR
        short = test.mark_after is not None and end <= test.mark_after
        expected = "not_met" if more > 0 else "not_applicable" if short else "met"
        made = answer("days", side, [(0.0, cold)], expected)
        yield replace(made, end=end, marked=True)
    if test.mark_after is None:
        return
    for side, seconds in one_second(test.mark_after):
        made = answer("mark_after", side, [(0.0, cold)], "not_applicable")
        late = answer("mark_after", side, [(0.0, cold)], "not_shown")
        yield replace(late if side == "more" else made, end=seconds)
