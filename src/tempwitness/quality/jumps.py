"""Tests that look at how the temperature inside food changes: spikes and steps.

A probe that slips out of the food shows a change that conduction cannot make. From there on its
readings are doubted until it is back where it was, or a person notes that it was moved.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from tempwitness.model.vocabulary import Flag, Place
from tempwitness.quality.handled import explained, next_handling
from tempwitness.quality.step_words import step_words
from tempwitness.quality.trace import middle

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Bools, Floats, Ints, Note
    from tempwitness.model.lot import Food
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["Limits", "doubt_head", "jumps", "limits"]

_FOOD = (Place.CORE, Place.SURFACE)


class Limits(NamedTuple):
    """How fast the food of a lot can change.

    Parameters
    ----------
    rate : float
        [°F/min].
    longest : float
        Up to which interval two readings are compared [s].
    windows : tuple of float
        Spans over which the rate is taken besides that from reading to reading [s].
    """

    rate: float
    longest: float
    windows: tuple[float, ...]


def limits(food: Food | None, *, heated: bool, figures: Figures) -> Limits:
    """Return the fastest change of food whose smallest thickness the record states, or of any.

    Parameters
    ----------
    food : Food, optional
        ``None`` for whatever is not the middle of it.
    heated : bool
        Whether the food may have gone through a cook or a reheat.

    Notes
    -----
    The middle of a body whose surface takes on any history within a range ΔT changes by at most
    g ΔT α / L², with L half of its smallest thickness and g by its shape.
    """
    step, heat = figures.step, figures.conduction
    usual = Limits(step.rate, figures.gap.longest, (step.window,))
    if food is None or food.thickness is None:
        return usual
    width = step.heated if heated else step.unheated
    half = food.thickness / 2
    rate = step.margin * heat.factor[food.shape] * width * heat.diffusivity / half**2 * 60.0
    if rate >= step.rate:
        return usual
    return Limits(rate, np.inf, (step.window, step.long_window))


def jumps(trace: Trace, notes: Sequence[Note], fastest: Limits, figures: Figures) -> None:
    """Flag spikes, then steps, of every probe of a channel inside food."""
    if trace.channel.place not in _FOOD:
        return
    good = trace.degrees[trace.good()]
    if trace.channel.place is Place.SURFACE or bool((good < figures.conduction.ice_below).any()):
        fastest = limits(None, heated=True, figures=figures)
    for rows in trace.by_probe():
        kept = rows[~_spikes(trace, rows, figures)]
        _steps(trace, kept, notes, fastest, figures=figures)


def _spikes(trace: Trace, rows: Ints, figures: Figures) -> Bools:
    """Flag single readings off both neighbours; return which of `rows` they are."""
    found = np.zeros(len(rows), np.bool_)
    if len(rows) < 3:
        return found
    degrees, at = trace.degrees[rows], trace.channel.at[rows]
    change = np.diff(degrees)
    # Cheap first: in a clean log nothing leaves its neighbours on both sides by so much.
    far = np.abs(change) > figures.spike.least
    tips = np.flatnonzero(far[:-1] & far[1:] & (change[:-1] * change[1:] < 0)) + 1
    up, down = degrees[tips] - degrees[tips - 1], degrees[tips] - degrees[tips + 1]
    off = np.minimum(np.abs(up), np.abs(down))
    longest = figures.gap.longest
    close = (at[tips] - at[tips - 1] <= longest) & (at[tips + 1] - at[tips] <= longest)
    agree = np.abs(up - down) <= figures.spike.agree * off
    found[tips[close & agree]] = True
    for i in np.flatnonzero(found).tolist():
        before, here, after = (trace.words(int(rows[j])) for j in (i - 1, i, i + 1))
        trace.mark(
            rows[i : i + 1],
            Flag.SUSPECT,
            "spike",
            f"{here} stands alone between {before} and {after}",
        )
    return found


def _steps(
    trace: Trace, rows: Ints, notes: Sequence[Note], fastest: Limits, *, figures: Figures
) -> None:
    if len(rows) < 2:
        return
    starts, quick = _sudden(trace, rows, fastest, figures)
    free = 0
    for start in starts:
        # A step that begins among doubted readings is the way back, not a new one.
        if start - 1 < free or explained(trace, rows, start, notes, figures):
            continue
        head = rows[free:start]
        free, why_end = _end(trace, rows, start, quick, notes=notes, figures=figures)
        code, reason = step_words(trace, int(head[-1]), rows[start:free], why_end, figures)
        trace.mark(rows[start:free], Flag.SUSPECT, code, reason)
        doubt_head(trace, head, rows[start:free], code)


def doubt_head(trace: Trace, head: Ints, tail: Ints, code: str) -> None:
    """Doubt also what stands before a step if it is the shorter part.

    A probe put into food late steps as one does that slips out of it. Which of the two happened
    the figures alone do not tell.
    """
    at = trace.channel.at
    if at[head[-1]] - at[head[0]] >= at[tail[-1]] - at[tail[0]]:
        return
    trace.mark(
        head,
        Flag.SUSPECT,
        code,
        f"up to {trace.words(int(head[-1]))} the probe may not have been in the food yet: the next "
        "change is faster than heat moves inside food; note when the probe was moved",
    )


def _sudden(trace: Trace, rows: Ints, fastest: Limits, figures: Figures) -> tuple[list[int], Bools]:
    """Where changes begin that conduction cannot make, and which readings end one."""
    at, degrees = trace.channel.at[rows], trace.degrees[rows]
    usual = max(trace.usual if len(trace.channel.probe) == 1 else middle(np.diff(at)), 1.0)
    quick = np.zeros(len(rows), np.bool_)
    begins: set[int] = set()
    lags = {min(max(1, round(window / usual)), len(rows) - 1) for window in fastest.windows}
    for reach in sorted({1} | lags):
        change = np.abs(degrees[reach:] - degrees[:-reach])
        # Cheap first: a change below the least one needs no look at its span.
        found = np.flatnonzero(change > figures.step.least)
        span = at[found + reach] - at[found]
        found = found[(change[found] > fastest.rate / 60.0 * span) & (span <= fastest.longest)]
        quick[found + reach] = True
        begins |= {_onset(degrees, i, reach, figures) for i in found.tolist()}
    return sorted(begins), quick


def _onset(degrees: Floats, first: int, reach: int, figures: Figures) -> int:
    """First reading of a window that has left the level at which the window begins."""
    off = np.abs(degrees[first + 1 : first + reach + 1] - degrees[first])
    return first + 1 + int(np.argmax(off > figures.step.least / 2))


def _end(
    trace: Trace, rows: Ints, start: int, quick: Bools, *, notes: Sequence[Note], figures: Figures
) -> tuple[int, str]:
    """Where the doubt ends, and why there."""
    at, degrees = trace.channel.at[rows], trace.degrees[rows]
    away = (at[start + 1 :] - at[start - 1]) / 60.0
    off = np.abs(degrees[start + 1 :] - degrees[start - 1])
    near = off <= figures.step.back + figures.step.back_rate * away
    returned = np.flatnonzero(near & quick[start + 1 :])
    stop, why = len(rows), "to the end, as nothing shows that it came back"
    if len(returned):
        stop, why = start + 1 + int(returned[0]), "until it was back at its old level"
    moved = next_handling(notes, float(at[start]))
    if moved is not None:
        noted = int(np.searchsorted(at, moved))
        if noted < stop:
            stop, why = noted, "until a note says that probe or food were handled"
    return stop, why
