"""Readings on their way to a trace that is bounded at every moment.

The readings of a stretch without disturbance tighten each other; then rows are added where a bound
crosses a figure, and each gap gets its least and its greatest possible temperature.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds import exponential
from tempwitness.bounds.envelope import Conflict, Rates, find_conflict, tightened
from tempwitness.bounds.enveloped import EnvelopedTrace

if TYPE_CHECKING:
    from tempwitness.bounds.exponential import Ends, Law
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.logs import Bools, Floats, Ints

__all__ = ["Stretch", "enveloped"]

# A bound is asked for just before and just after it crosses a figure [s].
_BESIDE = 1e-3
# In a gap no longer than this no crossing is sought: all of it then counts as open [s].
_SHORT = 61.0
# What rounding in binary may take from a bound [degrees].
_ROUNDING = 1e-7


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """Rows of a trace that is being built, n moments, and what is known of the n - 1 gaps.

    Parameters
    ----------
    at : Floats
        Moments, rising [s].
    lower, upper : Floats
        Bounds of the readings; infinite at moments without one [degrees].
    up, down : Floats, length n - 1
        How fast the temperature can change [degrees/s]; infinite where nothing bounds it.
    law : Law, optional
        Law of passive food, for the n - 1 gaps.
    """

    at: Floats
    lower: Floats
    upper: Floats
    up: Floats
    down: Floats
    law: Law | None = None

    @property
    def passive(self) -> Ints:
        """Gaps with a law of passive food."""
        return np.zeros(0, np.int64) if self.law is None else self.law.stated

    def ends(self, gaps: Ints) -> Ends:
        """Length of gaps, and bounds at their ends."""
        after = gaps + 1
        return exponential.Ends(
            self.at[after] - self.at[gaps],
            (self.lower[gaps], self.lower[after]),
            (self.upper[gaps], self.upper[after]),
        )


def enveloped(
    trace: Trace, rows: Stretch, figures: Floats
) -> tuple[EnvelopedTrace, tuple[tuple[float, float], ...]]:
    """Bound a trace at every moment.

    Parameters
    ----------
    trace : Trace
        Whose readings they are.
    rows : Stretch
        In the scale of the trace; °F if it holds readings in both.
    figures : Floats
        Figures with which it will be compared, in the same scale, rising.

    Returns
    -------
    EnvelopedTrace
    tuple of (float, float)
        Moments of pairs of readings that cannot both be true [s]; nothing is bounded around them.
    """
    linked = np.isfinite(rows.up) & np.isfinite(rows.down)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], linked, [False])).astype(np.int8)))
    lower, upper = rows.lower.copy(), rows.upper.copy()
    conflicts: list[tuple[float, float]] = []
    for first, last in zip(edges[0::2].tolist(), edges[1::2].tolist(), strict=True):
        found = _tighten(rows, slice(first, last + 1), lower, upper)
        if found is None:
            continue
        conflicts.append(
            (float(rows.at[first + found.first]), float(rows.at[first + found.second]))
        )
        linked[first:last] = False
    up, down = np.maximum(rows.up, _ROUNDING), np.maximum(rows.down, _ROUNDING)
    body = replace(rows, lower=lower, upper=upper, up=up, down=down)
    body, linked = _with_crossings(body, linked, figures)
    least, most = _between(body, linked)
    count = len(body.at)
    none = np.full(count, -1, np.int64)
    celsius = np.full(count, bool(trace.celsius.all()) and len(trace) > 0)
    made = EnvelopedTrace(
        trace.piece,
        trace.place,
        trace.point,
        body.at,
        body.lower,
        body.upper,
        celsius,
        linked,
        none,
        none,
        least=least,
        most=most,
        read_from=trace.first,
        read_until=trace.last,
    )
    return made, tuple(conflicts)


def _tighten(rows: Stretch, part: slice, lower: Floats, upper: Floats) -> Conflict | None:
    """Tighten the bounds of some rows by each other, in place, unless two of them conflict."""
    gaps = slice(part.start, part.stop - 1)
    rates = Rates(np.maximum(rows.up[gaps], _ROUNDING), np.maximum(rows.down[gaps], _ROUNDING))
    at, low, high = rows.at[part], lower[part], upper[part]
    conflict = _at_one_moment(low, high) or find_conflict(at, low, high, rates)
    if conflict is not None:
        low[:], high[:] = -np.inf, np.inf
        return conflict
    least, most = tightened(at, low, high, rates)
    # What one reading says of another is a sum of many steps: it may be off by their rounding.
    low[:], high[:] = np.maximum(low, least - _ROUNDING), np.minimum(high, most + _ROUNDING)
    return None


def _at_one_moment(lower: Floats, upper: Floats) -> Conflict | None:
    """Return the moment of which two readings say what cannot both be true."""
    excess = lower - upper
    worst = int(np.argmax(excess))
    return Conflict(worst, worst, float(excess[worst])) if excess[worst] > _ROUNDING else None


def _with_crossings(rows: Stretch, linked: Bools, figures: Floats) -> tuple[Stretch, Bools]:
    """Add rows just before and just after each moment at which a bound crosses a figure."""
    least, most = _between(rows, linked)
    sought = linked & (np.diff(rows.at) > _SHORT)
    crossed = sought & (figures.searchsorted(least) < figures.searchsorted(most, "right"))
    gaps = np.flatnonzero(crossed)
    if not len(gaps) or not len(figures):
        return rows, linked
    gap, moment = _crossings(rows, gaps, figures)
    gap, moment = np.repeat(gap, 2), np.concatenate((moment - _BESIDE, moment + _BESIDE), axis=1)
    moment = moment.reshape(-1)
    inside = (moment > rows.at[gap]) & (moment < rows.at[gap + 1])
    gap, moment = gap[inside], moment[inside]
    low, high = _bounds_at(rows, gap, moment)
    at = np.concatenate((rows.at, moment))
    order = np.argsort(at, kind="stable")
    order = order[np.concatenate(([True], np.diff(at[order]) > 0))]
    origin = np.concatenate((np.arange(len(rows.at)), gap))[order][:-1]
    return (
        Stretch(
            at[order],
            np.concatenate((rows.lower, low - _ROUNDING))[order],
            np.concatenate((rows.upper, high + _ROUNDING))[order],
            rows.up[origin],
            rows.down[origin],
            None if rows.law is None else rows.law.of(origin),
        ),
        linked[origin],
    )


def _bounds_at(rows: Stretch, gap: Ints, moment: Floats) -> tuple[Floats, Floats]:
    """Bounds at moments, each within the gap named beside it."""
    before, after = moment - rows.at[gap], rows.at[gap + 1] - moment
    high = np.minimum(
        rows.upper[gap] + rows.up[gap] * before, rows.upper[gap + 1] + rows.down[gap] * after
    )
    low = np.maximum(
        rows.lower[gap] - rows.down[gap] * before, rows.lower[gap + 1] - rows.up[gap] * after
    )
    if rows.law is not None:
        lawful = np.flatnonzero(np.isin(gap, rows.passive))
        inside = gap[lawful]
        least, most = exponential.passive_at(before[lawful], rows.ends(inside), rows.law.of(inside))
        low[lawful] = np.maximum(low[lawful], least)
        high[lawful] = np.minimum(high[lawful], most)
    return low, high


def _crossings(rows: Stretch, gaps: Ints, figures: Floats) -> tuple[Ints, Floats]:
    """Moments at which a bound is at a figure: of each gap, one column for each bound's side."""
    start, end = rows.at[gaps, None], rows.at[gaps + 1, None]
    up, down = rows.up[gaps, None], rows.down[gaps, None]
    with np.errstate(invalid="ignore"):
        sides = (
            start + (rows.lower[gaps, None] - figures) / down,
            end - (rows.lower[gaps + 1, None] - figures) / up,
            start + (figures - rows.upper[gaps, None]) / up,
            end - (figures - rows.upper[gaps + 1, None]) / down,
        )
    found = np.concatenate(sides, axis=1)
    inside = (found > start) & (found < end)
    row, column = np.nonzero(inside)
    gap, moment = [gaps[row]], [found[row, column]]
    lawful = np.intersect1d(gaps, rows.passive)
    if rows.law is not None and len(lawful):
        for figure in figures.tolist():
            which, after = exponential.crossings(figure, rows.ends(lawful), rows.law.of(lawful))
            gap.append(lawful[which])
            moment.append(rows.at[lawful[which]] + after)
    return np.concatenate(gap), np.concatenate(moment)[:, None]


def _between(rows: Stretch, linked: Bools) -> tuple[Floats, Floats]:
    """Least and greatest possible temperature in each gap."""
    up, down, length = rows.up, rows.down, np.diff(rows.at)
    low, high = (rows.lower[:-1], rows.lower[1:]), (rows.upper[:-1], rows.upper[1:])
    coldest, hottest = np.minimum(*low), np.maximum(*high)
    with np.errstate(invalid="ignore"):
        both = up + down
        travel = up * down * length
        valley = (up * low[0] + down * low[1] - travel) / both
        peak = (down * high[0] + up * high[1] + travel) / both
    least = np.where(linked, np.minimum(valley, coldest) - _ROUNDING, -np.inf)
    most = np.where(linked, np.maximum(peak, hottest) + _ROUNDING, np.inf)
    if rows.law is not None:
        lawful = rows.passive[linked[rows.passive]]
        cold, warm = exponential.passive_between(rows.ends(lawful), rows.law.of(lawful))
        least[lawful] = np.maximum(least[lawful], cold - _ROUNDING)
        most[lawful] = np.minimum(most[lawful], warm + _ROUNDING)
    return least, most
