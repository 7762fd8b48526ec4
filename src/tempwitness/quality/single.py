"""Tests that look at one reading, or at two of the same moment."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place

if TYPE_CHECKING:
    from tempwitness.model.logs import Bools, Ints
    from tempwitness.quality.settings import Figures, Mark
    from tempwitness.quality.trace import Trace

__all__ = ["missing", "out_of_range", "rough", "same_moment", "sentinels"]

_WHY_CORE = "food that still holds water does not pass its boiling point"


def missing(trace: Trace) -> None:
    """Flag cells without a number."""
    trace.mark_where(
        np.isnan(trace.degrees), Flag.MISSING, "missing", "no temperature was written down"
    )


def rough(trace: Trace) -> None:
    """Flag figures that the writer marked as approximate."""
    if trace.channel.rough is not None:
        trace.mark_where(
            trace.channel.rough,
            Flag.SUSPECT,
            "rough",
            "the figure was marked as approximate by its writer",
        )


def sentinels(trace: Trace, figures: Figures) -> None:
    """Flag figures that instruments write when they have no reading.

    Some of them no food can have; they fail. Others are ordinary temperatures as well, and are
    doubted only where they stand alone, a jump away from both neighbours.
    """
    for mark in figures.never:
        found = _equal(trace, mark, figures.same)
        if bool(found.any()):
            row = int(np.flatnonzero(found)[0])
            trace.mark_where(
                found, Flag.FAIL, "sentinel", f"{trace.words(row)} is no temperature but {mark.why}"
            )
    for mark in figures.sometimes:
        found = _equal(trace, mark, figures.same)
        if bool(found.any()):
            _alone(trace, found, mark, figures)


def _equal(trace: Trace, mark: Mark, same: float) -> Bools:
    near: Bools = np.abs(trace.channel.value - mark.value) < same
    if mark.scale == "any":
        return near
    written = trace.channel.celsius if mark.scale == "c" else ~trace.channel.celsius
    return near & written


def _alone(trace: Trace, found: Bools, mark: Mark, figures: Figures) -> None:
    others = np.flatnonzero(~found & (trace.flags == Flag.PASS))
    rows = np.flatnonzero(found)
    if len(others) < 2:
        return
    after = np.searchsorted(others, rows)
    inside = (after > 0) & (after < len(others))
    rows, after = rows[inside], after[inside]
    left, right = others[after - 1], others[after]
    at, degrees = trace.channel.at, trace.degrees
    close = (at[rows] - at[left] <= figures.gap) & (at[right] - at[rows] <= figures.gap)
    far = np.minimum(np.abs(degrees[rows] - degrees[left]), np.abs(degrees[rows] - degrees[right]))
    alone = rows[close & (far > figures.jump)]
    if len(alone):
        trace.mark(
            alone,
            Flag.SUSPECT,
            "sentinel",
            f"{trace.words(int(alone[0]))} stands apart from both neighbours and is {mark.why}",
        )


def out_of_range(trace: Trace, figures: Figures) -> None:
    """Flag figures that the place of the probe cannot have."""
    span = figures.spans[trace.channel.place]
    degrees = trace.degrees
    with_number = trace.flags == Flag.PASS
    failed = with_number & ((degrees < span.fail[0]) | (degrees > span.fail[1]))
    doubted = with_number & ~failed & ((degrees < span.suspect[0]) | (degrees > span.suspect[1]))
    place = trace.channel.place.value
    why = _WHY_CORE if trace.channel.place is Place.CORE else f"{place} readings lie between them"
    for found, flag, (low, high) in (
        (failed, Flag.FAIL, span.fail),
        (doubted, Flag.SUSPECT, span.suspect),
    ):
        if bool(found.any()):
            first = trace.words(int(np.flatnonzero(found)[0]))
            reason = f"{first} lies outside {low:g} to {high:g} °F: {why}"
            trace.mark_where(found, flag, "range", reason)


def same_moment(trace: Trace, figures: Figures) -> None:
    """Flag figures of one probe at one moment that contradict each other."""
    at = trace.channel.at
    repeated = np.flatnonzero(np.diff(at) == 0)
    if not len(repeated):
        return
    starts = repeated[np.flatnonzero(np.diff(repeated, prepend=-2) > 1)]
    for start in starts.tolist():
        stop = int(np.searchsorted(at, at[start], side="right"))
        _contradictions(trace, np.arange(start, stop), figures)


def _contradictions(trace: Trace, rows: Ints, figures: Figures) -> None:
    by_probe: dict[str, list[int]] = {}
    for row in rows.tolist():
        if trace.flags[row] == Flag.PASS:
            by_probe.setdefault(trace.channel.probe_of(row), []).append(row)
    for same in by_probe.values():
        values = trace.degrees[same]
        if float(values.max() - values.min()) > figures.differ:
            low, high = same[int(values.argmin())], same[int(values.argmax())]
            trace.mark(
                np.array(same),
                Flag.SUSPECT,
                "duplicate",
                f"{trace.words(low)} and {trace.words(high)} stand at the same moment",
            )
