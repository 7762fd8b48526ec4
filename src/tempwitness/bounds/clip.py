"""A condition along one stage: where it certainly held, where it certainly did not.

The assumption that stands behind every claim: between two consecutive readings of the same
point, no further apart than the monitoring interval and with no note that the food was
disturbed between them, the temperature lies between the two. Then a condition that holds (or
fails) at both readings holds (or fails) between them; where the two differ, everything in
between is possible.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from tempwitness.bounds.trace import State, Trace
    from tempwitness.model.logs import Bools, Floats, Ints

__all__ = ["Clip", "Window", "clip", "longest_certain", "longest_possible", "runs"]


@dataclass(frozen=True, slots=True)
class Window:
    """The stretch of time over which a condition is asked.

    Parameters
    ----------
    start, end : float
        [s since 1970-01-01 UTC]
    interval : float
        Longest time between two readings over which the assumption is made [s].
    passive_from : float
        From this moment nothing heats the food, so that a reading that is still warm enough
        speaks for the time before it; infinite where that may not be inferred.
    own_end : bool
        Whether a reading exactly at `end` belongs to this stretch (the record ends there) and
        not to the next stage.
    """

    start: float
    end: float
    interval: float
    passive_from: float = np.inf
    own_end: bool = True


@dataclass(frozen=True, slots=True, eq=False)
class Clip:
    """A condition at m points and in the m - 1 stretches between them, covering a window whole.

    Parameters
    ----------
    at : Floats
        The window's edges and the readings within [s].
    yes, no : Bools, length m
        Certainly holds, certainly fails, at each point.
    between_yes, between_no : Bools, length m - 1
        The same for all of the stretch after each point.
    inferred : Bools, length m - 1
        Stretches that hold by passive physics alone.
    linked : Bools, length m - 1
        Stretches to which the assumption applies.
    reading : Ints, length m
        Index of the reading in its trace, -1 for an edge without one.
    """

    at: Floats
    yes: Bools
    no: Bools
    between_yes: Bools
    between_no: Bools
    inferred: Bools
    linked: Bools
    reading: Ints

    @property
    def always(self) -> bool:
        """Whether the condition certainly held all through."""
        return bool(self.between_yes.all() and self.yes.all())

    @property
    def never(self) -> bool:
        """Whether it certainly failed all through."""
        return bool(self.between_no.all() and self.no.all())

    @property
    def lengths(self) -> Floats:
        """Duration of each stretch [s]."""
        return np.diff(self.at)


def clip(
    trace: Trace, state: State, window: Window, *, infer: Literal["yes", "no"] | None = None
) -> Clip:
    """Cut a condition to a window.

    Parameters
    ----------
    trace : Trace
    state : State
        The condition at each of the trace's readings.
    window : Window
    infer : {"yes", "no"}, optional
        Whether a stretch in which the food was passive, too long to be bracketed, may be taken
        to hold ("yes") or to fail ("no") because it did so at the readings on both sides. Sound
        only where that means "not cooler than".

    Notes
    -----
    Readings just outside the window bracket its edges; an edge without such a reading stays
    unknown.
    """
    low, high = _around(trace.at, window)
    at, yes, no = trace.at[low:high], state.yes[low:high], state.no[low:high]
    before, after = len(at) > 0 and at[0] < window.start, len(at) > 0 and at[-1] > window.end
    if len(at) == 0 or (len(at) == 1 and (before or after)):
        return _unknown(window)
    linked = trace.linked(window.interval)[low : high - 1]
    between_yes, between_no = _between(state, linked, slice(low, high - 1))
    inferred = np.zeros(len(linked), bool)
    if infer is not None and window.passive_from < np.inf:
        side = yes if infer == "yes" else no
        inferred = ~linked & trace.undisturbed[low : high - 1] & side[:-1] & side[1:]
        inferred &= (at[1:] <= window.end) & (at[:-1] >= window.passive_from)
        if infer == "yes":
            between_yes = between_yes | inferred
        else:
            between_no = between_no | inferred
    reading = np.arange(low, high, dtype=np.int64)
    if before or after:
        at, yes, no = at.copy(), yes.copy(), no.copy()
    # Where the readings reach beyond the window, its edge is what lies between two of them.
    for edge, outside, moment in ((0, before, window.start), (-1, after, window.end)):
        if outside:
            at[edge], reading[edge] = moment, -1
            yes[edge], no[edge] = between_yes[edge], between_no[edge]
    body = Clip(at, yes, no, between_yes, between_no, inferred, linked, reading)
    if at[0] > window.start:
        body = _pad(body, window.start, front=True)
    return body if at[-1] >= window.end else _pad(body, window.end, front=False)


def _between(state: State, linked: Bools, gaps: slice) -> tuple[Bools, Bools]:
    """Where the condition certainly held, and certainly failed, between readings."""
    if state.between_yes is not None and state.between_no is not None:
        return linked & state.between_yes[gaps], linked & state.between_no[gaps]
    points = slice(gaps.start, gaps.stop + 1)
    yes, no = state.yes[points], state.no[points]
    return linked & yes[:-1] & yes[1:], linked & no[:-1] & no[1:]


def _around(at: Floats, window: Window) -> tuple[int, int]:
    """Slice of the readings within a window and of those next to it that bracket its edges."""
    first = int(at.searchsorted(window.start, "left"))
    last = int(at.searchsorted(window.end, "right"))
    if first > 0 and (first == len(at) or at[first] > window.start):
        first -= 1
    if last < len(at) and (last == 0 or at[last - 1] < window.end):
        last += 1
    return first, last


def _unknown(window: Window) -> Clip:
    at = np.array([window.start, window.end])
    two, one = np.zeros(2, bool), np.zeros(1, bool)
    return Clip(at, two, two, one, one, one, one, np.array([-1, -1]))


def _pad(body: Clip, moment: float, *, front: bool) -> Clip:
    """Add an unknown point, and an unknown stretch beside it, at the front or the back."""

    def joined(values: Bools) -> Bools:
        parts = [np.zeros(1, bool), values]
        return np.concatenate(parts if front else parts[::-1])

    at = [np.array([moment]), body.at]
    reading = [np.array([-1]), body.reading]
    return Clip(
        np.concatenate(at if front else at[::-1]),
        joined(body.yes),
        joined(body.no),
        joined(body.between_yes),
        joined(body.between_no),
        joined(body.inferred),
        joined(body.linked),
        np.concatenate(reading if front else reading[::-1]),
    )


def runs(mask: Bools) -> tuple[Ints, Ints]:
    """Return the first index of each run of True and the index after its last."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], mask, [False])).astype(np.int8)))
    return edges[0::2], edges[1::2]


def longest_certain(body: Clip) -> tuple[float, int, int]:
    """Return the longest time for which the condition certainly held without a break.

    Returns
    -------
    float, int, int
        Duration [s] and the points at which it begins and ends; (-1, 0, 0) if at no point.
    """
    firsts, lasts = runs(body.between_yes)
    if len(firsts) == 0:
        points = np.flatnonzero(body.yes)
        return (0.0, int(points[0]), int(points[0])) if len(points) else (-1.0, 0, 0)
    spans = body.at[lasts] - body.at[firsts]
    best = int(spans.argmax())
    return float(spans[best]), int(firsts[best]), int(lasts[best])


def longest_possible(body: Clip) -> float:
    """Return the longest time for which the condition may have held without a break [s].

    A negative answer means that it certainly never held, not even for a moment.
    """
    if body.never:
        return -1.0
    maybe = ~body.between_no
    best = 0.0
    firsts, lasts = runs(maybe)
    for first, last in zip(firsts.tolist(), lasts.tolist(), strict=True):
        # A reading inside the run at which the condition failed breaks it in two.
        cuts = [first, *(np.flatnonzero(body.no[first + 1 : last]) + first + 1).tolist(), last]
        best = max(best, float(np.diff(body.at[cuts]).max()))
    return best
