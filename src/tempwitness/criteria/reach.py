"""Ladders of temperature and time: any one row must be reached and held."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.clip import Clip, Window, clip, longest_certain, longest_possible
from tempwitness.criteria.case import Case, distance, figure, reading_words
from tempwitness.criteria.outcome import Cite, Outcome, Settling
from tempwitness.criteria.throughout import unread_stretches
from tempwitness.model.figures import Limit, duration_words
from tempwitness.model.vocabulary import Decided, Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.figures import Row
    from tempwitness.model.forms import Reach
    from tempwitness.model.vocabulary import StageName

__all__ = [
    "as_long_as_it_may_be",
    "highest",
    "highest_words",
    "reach",
    "row_limit",
    "row_reading",
    "row_words",
    "span",
]

_TICK = 1e-6  # moments are kept to a quarter of a microsecond, times are told to a tenth [s]


@lru_cache(maxsize=512)
def row_limit(row: Row) -> Limit:
    """Return the row's temperature as a lower limit: inclusive, unless it must be passed."""
    return Limit(f=row.f, c=row.c, printed=row.printed, op=row.op)


def row_words(row: Row) -> str:
    """Write a row as a ladder prints it."""
    held = f" for {duration_words(row.hold)}" if row.hold else ""
    return f"{'above ' if row.op == '>' else ''}{row.figures}{held}"


def row_reading(row: Row, trace: Trace | None) -> str:
    """Write what a reading must be to stand for the row: "of 75 °C or more", "above 75 °C"."""
    words = figure(row_limit(row), trace)
    return f"above {words}" if row.op == ">" else f"of {words} or more"


def reach(test: Reach, case: Case, trace: Trace) -> Outcome:
    """Judge whether any row of the ladder was reached at the point that was read, and held.

    Rows stand by themselves: times at different temperatures are never added, and nothing is
    interpolated between two rows. A row without a time needs one reading.
    """
    window, last = span(test.carry, case)
    longer = as_long_as_it_may_be(test.carry, case, window)
    best: tuple[Row, Clip] | None = None
    for row in reversed(test.rows):
        body = clip(trace, trace.state(row_limit(row)), window)
        held, start, _end = longest_certain(body)
        if held >= row.hold - _TICK:
            return _reached(case, trace, body, row, held=held, start=start)
        if longer is not window:
            body = clip(trace, trace.state(row_limit(row)), longer)
        if best is None and longest_possible(body) >= row.hold - _TICK:
            best = row, body
    return _not_reached(test, case, trace, window, best, closed=last)


def span(carry: tuple[StageName, ...], case: Case) -> tuple[Window, bool]:
    """Return the stage with those that may carry its heat on, and whether the last is closed."""
    end, closed = case.stage.end, case.stage.closed
    own_end = case.following is None
    for later in case.stages[case.stages.index(case.stage) + 1 :]:
        if later.name not in carry:
            break
        end, closed = later.end, later.closed
        own_end = later is case.stages[-1]
    window = case.window(end=end)
    return Window(window.start, end, window.interval, own_end=own_end), closed


def as_long_as_it_may_be(carry: tuple[StageName, ...], case: Case, window: Window) -> Window:
    """Return the window with what followed and may have been the same stage still.

    A heating that the trace seems to leave was noted to go on. Nothing is shown by what came then,
    but what may have been reached there was not missed.
    """
    end = window.end
    for later in case.stages[case.stages.index(case.stage) + 1 :]:
        if later.end <= end:
            continue
        in_doubt = bool(later.question) and later.decided is Decided.INFERRED
        if later.start != end or not (in_doubt or later.name in carry):
            break
        end = later.end
    return window if end == window.end else replace(window, end=end)


def _reached(case: Case, trace: Trace, body: Clip, row: Row, *, held: float, start: int) -> Outcome:
    index, top = int(body.reading[start]), _top(trace, body, row)
    moment = float(body.at[start])
    at, strictly = figure(row_limit(row), trace), row.op == ">"
    found = f"{'above' if strictly else 'at least'} {at}"
    if index >= 0:
        found = reading_words(trace, index)
    for_how_long = ""
    if row.hold:
        side = "above" if strictly else "at or above"
        for_how_long = f", held {side} {at} for at least {duration_words(held)}"
    return Outcome(
        Verdict.MET,
        f"{row_words(row)} was reached at {case.local.say(moment)}",
        measured=f"{found} at {case.local.say(moment)}{for_how_long}",
        limit=row_words(row),
        least=held,
        began=moment,
        cites=(Cite(trace, index),) if index >= 0 else (),
        margin=None if top is None else distance(trace, top, row_limit(row)),
        closest=None if top is None else Cite(trace, top),
    )


def _top(trace: Trace, body: Clip, row: Row) -> int | None:
    """Index of the highest reading, where a row needs no time; else no single reading decides."""
    indices = body.reading[body.reading >= 0]
    indices = indices[np.isfinite(trace.lower[indices])]
    if row.hold or not len(indices):
        return None
    low = trace.lower[indices]
    return int(indices[np.where(trace.celsius[indices], low * 1.8 + 32.0, low).argmax()])


def _not_reached(
    test: Reach,
    case: Case,
    trace: Trace,
    window: Window,
    best: tuple[Row, Clip] | None,
    *,
    closed: bool,
) -> Outcome:
    limit = _ladder(test.rows)
    top = highest(trace, window)
    measured = highest_words(case, trace, top)
    cites = () if top is None else (Cite(trace, top),)
    wanted = _wanted(test.rows[-1], trace)
    base = Outcome(Verdict.NOT_SHOWN, "", measured=measured, limit=limit, cites=cites, least=0.0)
    if not closed and case.asked - window.end <= case.interval:
        return base.but(
            verdict=Verdict.OPEN,
            reason=f"{measured}; the stage is still running and {limit} has not been reached yet",
            settle=Settling(wanted),
        )
    if best is None and closed:
        return base.but(
            verdict=Verdict.NOT_MET,
            reason=f"{measured}; no row of {limit} was reached before the stage ended",
            margin=None if test.rows[-1].hold else distance(trace, top, row_limit(test.rows[-1])),
        )
    if not closed:
        return base.but(
            reason=f"{measured}; the record stops before {limit} was reached",
            settle=Settling(wanted),
        )
    return base.but(
        reason=f"{measured}; the readings leave room for {limit}, but do not show it",
        unread=() if best is None else unread_stretches(best[1]),
        settle=Settling(wanted) if best is None else _settling(trace, window, *best),
    )


def highest_words(case: Case, trace: Trace, top: int | None) -> str:
    """Write the highest reading and when it was taken."""
    if top is None:
        return "nothing was read"
    return f"highest {reading_words(trace, top)} at {case.local.say(float(trace.at[top]))}"


def _ladder(rows: tuple[Row, ...]) -> str:
    if len(rows) > 4:
        return f"any row from {row_words(rows[0])} to {row_words(rows[-1])}"
    return " or ".join(row_words(r) for r in rows)


def _wanted(row: Row, trace: Trace) -> str:
    """The reading, or the two, that show a row from nothing."""
    words = row_reading(row, trace)
    if row.hold:
        return f"two readings {words}, {duration_words(row.hold)} apart"
    return f"a reading {words}"


def _settling(trace: Trace, window: Window, row: Row, body: Clip) -> Settling:
    """Name the reading that would show the highest row for which the readings leave room."""
    if not row.hold:
        open_ = np.flatnonzero(~(body.between_yes | body.between_no))
        moment = float(body.at[open_[-1] + 1]) if len(open_) else None
        return Settling(_wanted(row, trace), moment)
    moment = _completing(body, row.hold, window.interval)
    if moment is None:
        return Settling(_wanted(row, trace))
    return Settling(f"a reading {row_reading(row, trace)}", moment)


def _completing(body: Clip, hold: float, interval: float) -> float | None:
    """Moment at which one more reading makes the longest certain hold long enough."""
    held, first, last = longest_certain(body)
    if held < 0:
        return None
    missing = hold - held
    if missing <= _room(body, last, last + 1, interval):
        return float(body.at[last]) + missing
    if missing <= _room(body, first - 1, first - 1, interval):
        return float(body.at[first]) - missing
    return None


def _room(body: Clip, stretch: int, far: int, interval: float) -> float:
    """Time within a stretch in which one more reading would be bracketed with the hold [s].

    A reading at the far end is another one: the new one must come a moment before it.
    """
    if not 0 <= stretch < len(body.linked):
        return -1.0
    length = float(body.lengths[stretch])
    if body.reading[far] < 0:
        return min(length, interval)
    return length - 1.0 if body.linked[stretch] else -1.0


def highest(trace: Trace, window: Window) -> int | None:
    """Return the index of the highest reading of a window, ``None`` if there is none."""
    first = int(trace.at.searchsorted(window.start, "left"))
    last = int(trace.at.searchsorted(window.end, "right"))
    values = np.where(
        trace.celsius[first:last], trace.lower[first:last] * 1.8 + 32.0, trace.lower[first:last]
    )
    values = np.where(np.isfinite(values), values, -np.inf)
    return first + int(values.argmax()) if len(values) else None
