"""Figures that instruments write when they have no reading.

Some of them nothing can have; where an instrument wrote them they fail. Others are ordinary
temperatures as well, and are doubted only where they stand alone, a jump away from what is around.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag

if TYPE_CHECKING:
    from tempwitness.model.logs import Bools, Ints
    from tempwitness.quality.settings import Figures, Mark
    from tempwitness.quality.trace import Trace

__all__ = ["sentinels"]

_SLIP = "; a hand may have slipped as it wrote, so what it was is unknown"


def sentinels(trace: Trace, figures: Figures) -> None:
    """Flag the marks of instruments; a figure equals a mark if it does so as it is printed."""
    value = trace.channel.value
    low, high = figures.sentinel.inner
    rows = np.flatnonzero((value <= low) | (value >= high))
    for mark in figures.sentinel.never if len(rows) else ():
        found = rows[_equal(trace, rows, mark, figures.sentinel.same)]
        _no_reading(trace, found, mark.why, figures)
    over = rows[np.abs(value[rows]) >= figures.sentinel.overload]
    _no_reading(trace, over, "an overload", figures)
    if _leaps(trace, figures.sentinel.jump):
        for mark in figures.sentinel.sometimes:
            _alone(trace, mark, figures)


def _leaps(trace: Trace, jump: float) -> bool:
    """Whether anything in the channel jumps; what stands alone does so by a jump."""
    degrees = trace.degrees[trace.flags == Flag.PASS]
    return len(degrees) > 1 and bool((np.abs(np.diff(degrees)) > jump).any())


def _equal(trace: Trace, rows: Ints, mark: Mark, same: float) -> Bools:
    near: Bools = np.abs(trace.channel.value[rows] - mark.value) < same
    if mark.scale == "any":
        return near
    celsius = trace.channel.celsius[rows]
    return near & (celsius if mark.scale == "c" else ~celsius)


def _no_reading(trace: Trace, rows: Ints, why: str, figures: Figures) -> None:
    """Fail what an instrument wrote; a person may have meant another figure, which is doubted."""
    if not len(rows):
        return
    instrument = trace.by_instrument(rows, figures.written_apart)
    # Nobody slips into a figure far below any freezer.
    instrument |= (trace.channel.value[rows] < 0) & (not trace.typed)
    for found, flag, more in (
        (rows[instrument], Flag.FAIL, ""),
        (rows[~instrument], Flag.SUSPECT, _SLIP),
    ):
        if len(found):
            first = trace.words(int(found[0]))
            trace.mark(found, flag, "sentinel", f"{first} is no temperature but {why}{more}")


def _alone(trace: Trace, mark: Mark, figures: Figures) -> None:
    """Doubt a figure whose run is a jump away from the readings before and after it.

    At either end of a log the one neighbour there is speaks alone: probes wake up with such a
    figure, and die with one.
    """
    good = trace.flags == Flag.PASS
    rows = np.flatnonzero(good)
    same = _equal(trace, rows, mark, figures.sentinel.same)
    found, others = rows[same], rows[~same]
    if not len(found) or not len(others):
        return
    at, degrees = trace.channel.at, trace.degrees
    after = np.searchsorted(others, found)
    ends = (after == 0) | (after == len(others))
    left = others[np.maximum(after - 1, 0)]
    right = others[np.minimum(after, len(others) - 1)]
    left, right = np.where(after == 0, right, left), np.where(after == len(others), left, right)
    close = (np.abs(at[found] - at[left]) <= figures.gap.longest) & (
        np.abs(at[right] - at[found]) <= figures.gap.longest
    )
    off = np.abs(degrees[found] - degrees[left]), np.abs(degrees[found] - degrees[right])
    alone = found[close & (np.minimum(*off) > figures.sentinel.jump)]
    if len(alone):
        both = "the reading beside it" if bool(ends.all()) else "both neighbours"
        trace.mark(
            alone,
            Flag.SUSPECT,
            "sentinel",
            f"{trace.words(int(alone[0]))} stands apart from {both} and is {mark.why}",
        )
