"""What every temperature history consistent with the readings must have done between them.

Readings within an error and limits on how fast the temperature can rise and fall leave, at each
moment, a least and a greatest possible temperature: the Lipschitz extension of McShane and Whitney
in its asymmetric form. Both are histories that the readings allow, so the bounds below are
attained and cannot be made narrower.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats, Ints

__all__ = ["Conflict", "Envelope", "Rates", "envelope", "find_conflict"]

# What rounding in binary may add to a difference of decimals.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Rates:
    """How fast the temperature can change: `up` and `down` [degrees/s], both finite, one above 0.

    Each is one figure for all, or an array with one for each gap between two readings.

    Raises
    ------
    ValueError
        If a rate is negative or not finite, or both are zero.
    """

    up: float | Floats
    down: float | Floats

    def __post_init__(self) -> None:
        up, down = np.asarray(self.up), np.asarray(self.down)
        if not bool(np.all((up >= 0) & (down >= 0) & (up + down > 0) & (up + down < np.inf))):
            raise ValueError("rates are finite, not negative, and not both zero")

    def in_gaps(self, count: int) -> tuple[Floats, Floats]:
        """Return both rates for each of `count` gaps."""
        return np.broadcast_to(self.up, count), np.broadcast_to(self.down, count)

    def possible_change(self, at: Floats) -> tuple[Floats, Floats]:
        """Return the furthest rise and fall from the first moment to each [degrees]."""
        gaps = np.diff(at)
        up, down = self.in_gaps(len(gaps))
        start = np.zeros(min(len(at), 1))
        return (
            np.concatenate((start, np.cumsum(up * gaps))),
            np.concatenate((start, np.cumsum(down * gaps))),
        )


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two readings that no history can both have given.

    Parameters
    ----------
    first, second : int
        Their positions.
    excess : float
        How far they lie apart beyond what rate and error allow [degrees].
    """

    first: int
    second: int
    excess: float


@dataclass(frozen=True, slots=True, eq=False)
class Envelope:
    """Least and greatest possible temperature from the first to the last of n readings.

    Parameters
    ----------
    at : Floats, length n
        Moments [s], rising.
    lower, upper : Floats, length n
        Bounds at the readings, tightened by all the others [degrees].
    rates : Rates
    """

    at: Floats
    lower: Floats
    upper: Floats
    rates: Rates

    @property
    def gaps(self) -> Floats:
        """Time between neighbouring readings [s]."""
        return np.diff(self.at)

    def rate_in_gap(self, k: int) -> tuple[float, float]:
        """Return both rates within a gap [degrees/s]."""
        up, down = self.rates.in_gaps(len(self.at) - 1)
        return float(up[k]), float(down[k])

    @property
    def peaks(self) -> Floats:
        """Greatest possible temperature in each gap [degrees], length n - 1."""
        up, down = self.rates.in_gaps(len(self.at) - 1)
        ends = down * self.upper[:-1] + up * self.upper[1:]
        return np.asarray((ends + up * down * self.gaps) / (up + down))

    @property
    def valleys(self) -> Floats:
        """Least possible temperature in each gap [degrees], length n - 1."""
        up, down = self.rates.in_gaps(len(self.at) - 1)
        ends = up * self.lower[:-1] + down * self.lower[1:]
        return np.asarray((ends - up * down * self.gaps) / (up + down))

    def upper_at(self, moments: Floats) -> Floats:
        """Greatest possible temperature at moments within the readings [degrees]."""
        i, before, after = self._around(moments)
        up, down = self.rates.in_gaps(len(self.at) - 1)
        rising = self.upper[i] + up[i] * before
        return np.asarray(np.minimum(rising, self.upper[i + 1] + down[i] * after))

    def lower_at(self, moments: Floats) -> Floats:
        """Least possible temperature at moments within the readings [degrees]."""
        i, before, after = self._around(moments)
        up, down = self.rates.in_gaps(len(self.at) - 1)
        falling = self.lower[i] - down[i] * before
        return np.asarray(np.maximum(falling, self.lower[i + 1] - up[i] * after))

    def _around(self, moments: Floats) -> tuple[Ints, Floats, Floats]:
        if len(self.at) < 2 or np.any((moments < self.at[0]) | (moments > self.at[-1])):
            raise ValueError("moments lie within the readings, of which there are at least two")
        i: Ints = np.clip(self.at.searchsorted(moments, "right") - 1, 0, len(self.at) - 2)
        return i, moments - self.at[i], self.at[i + 1] - moments

    def time_at_or_above(self, limit: float) -> tuple[float, float]:
        """Return the least and the most time spent at or above a limit [s].

        Notes
        -----
        The gaps are independent of each other once the ends are tightened: the most is reached by
        the upper bound itself, the least by the lower one.
        """
        return _certain(self, limit), _possible(self, limit)

    def time_below(self, limit: float) -> tuple[float, float]:
        """Return the least and the most time spent below a limit [s]."""
        whole = float(self.at[-1] - self.at[0])
        least, most = self.time_at_or_above(limit)
        return whole - most, whole - least

    def time_within(self, low: float, high: float) -> tuple[float, float]:
        """Return certain and possible time between two limits, both included [s].

        The possible time is attained; the certain one is a valid bound that is not always the
        narrowest, because a passage through the band takes time of its own.
        """
        above, below = self.spans_above(low), self.spans_not_above(high)
        certain = _overlap(above[0], below[0])
        possible = _overlap(above[1], below[1])
        return certain, possible

    def spans_above(self, limit: float) -> tuple[list[Span], list[Span]]:
        """Stretches certainly, and those possibly, at or above a limit, as (start, end) [s]."""
        certain, possible = [], []
        for k, (start, end) in enumerate(zip(self.at[:-1], self.at[1:], strict=True)):
            on, off = _possible_in_gap(self, limit, k)
            if off > on:
                possible.append((float(start + on), float(start + off)))
            first, last = _certain_in_gap(self, limit, k)
            certain += _two_ends(float(start), float(end), first, last)
        return certain, possible

    def spans_not_above(self, limit: float) -> tuple[list[Span], list[Span]]:
        """Stretches certainly, and those possibly, at or below a limit, as (start, end) [s]."""
        return self.mirrored().spans_above(-limit)

    def mirrored(self) -> Envelope:
        """Return the envelope of the negated temperature."""
        return Envelope(self.at, -self.upper, -self.lower, Rates(self.rates.down, self.rates.up))

    def first_at_or_below(self, limit: float) -> tuple[float | None, float | None]:
        """Return the first moment possible, and that by which it is certain, at or below a limit.

        Either is ``None`` if the readings do not show it [s].
        """
        certain, possible = self.spans_not_above(limit)
        at_a_reading = self.at[self.upper <= limit]
        moments = [certain[0][0]] if certain else []
        moments += [float(at_a_reading[0])] if len(at_a_reading) else []
        may = [possible[0][0]] if possible else []
        touched = self.at[self.lower <= limit]
        may += [float(touched[0])] if len(touched) else []
        return min(may, default=None), min(moments, default=None)


Span = tuple[float, float]


def envelope(at: Floats, lower: Floats, upper: Floats, rates: Rates) -> Envelope:
    """Tighten the bounds of readings by each other.

    Parameters
    ----------
    at : Floats, length n
        Moments [s], rising.
    lower, upper : Floats, length n
        Reading less and plus its error [degrees]; infinite where a reading says nothing.
    rates : Rates

    Raises
    ------
    ValueError
        If lengths differ, moments do not rise, or two readings conflict (see `find_conflict`).
    """
    if not len(at) == len(lower) == len(upper) or np.any(np.diff(at) <= 0):
        raise ValueError("moments rise, and each has a lower and an upper bound")
    rise, fall = rates.possible_change(at)
    forward = np.minimum.accumulate(upper - rise) + rise
    backward = _from_the_end(upper + fall) - fall
    high = np.minimum(np.minimum(forward, backward), upper)
    forward = np.maximum.accumulate(lower + fall) - fall
    backward = -_from_the_end(-(lower - rise)) + rise
    low = np.maximum(np.maximum(forward, backward), lower)
    if np.any(low > high + _ROUNDING):
        raise ValueError("two readings conflict: no history within these rates gives both")
    return Envelope(at, np.minimum(low, high), np.maximum(low, high), rates)


def find_conflict(at: Floats, lower: Floats, upper: Floats, rates: Rates) -> Conflict | None:
    """Return the pair of readings that conflicts most, ``None`` if all can be true.

    Notes
    -----
    Each pair counts, not only neighbours: a reading's own error may bridge to both sides what
    the two beside it cannot bridge between them.
    """
    if len(at) < 2:
        return None
    rise, fall = rates.possible_change(at)
    rose = _worst_pair(upper - rise, lower - rise)
    fell = _worst_pair(-(lower + fall), -(upper + fall))
    worst = max(rose, fell, key=lambda c: c.excess)
    return worst if worst.excess > _ROUNDING else None


def _worst_pair(most: Floats, least: Floats) -> Conflict:
    """Pair of an earlier and a later reading for which `least` exceeds `most` furthest."""
    lowest = np.minimum.accumulate(most)[:-1]
    excess = np.where(np.isfinite(lowest) & np.isfinite(least[1:]), least[1:] - lowest, -np.inf)
    second = int(np.argmax(excess)) + 1
    first = int(np.argmin(most[:second]))
    return Conflict(first, second, float(excess[second - 1]))


def _from_the_end(values: Floats) -> Floats:
    return np.asarray(np.minimum.accumulate(values[::-1])[::-1])


def _possible(body: Envelope, limit: float) -> float:
    spans = [_possible_in_gap(body, limit, k) for k in range(len(body.at) - 1)]
    return sum(max(0.0, off - on) for on, off in spans)


def _possible_in_gap(body: Envelope, limit: float, k: int) -> Span:
    """When the upper bound is at or above a limit within a gap, from the gap's start [s]."""
    length = float(body.at[k + 1] - body.at[k])
    up, down = body.rate_in_gap(k)
    on = _to_cover(limit - float(body.upper[k]), up)
    off = length - _to_cover(limit - float(body.upper[k + 1]), down)
    return min(length, on), max(0.0, min(length, off))


def _certain(body: Envelope, limit: float) -> float:
    total = 0.0
    for k, length in enumerate(body.gaps.tolist()):
        first, last = _certain_in_gap(body, limit, k)
        total += min(length, first + last)
    return total


def _certain_in_gap(body: Envelope, limit: float, k: int) -> Span:
    """How long the lower bound stays at or above a limit after, and before, a gap's ends [s]."""
    length = float(body.at[k + 1] - body.at[k])
    before, after = float(body.lower[k]) - limit, float(body.lower[k + 1]) - limit
    up, down = body.rate_in_gap(k)
    first = _to_cover(before, down) if before >= 0 else 0.0
    last = _to_cover(after, up) if after >= 0 else 0.0
    return min(length, first), min(length, last)


def _to_cover(degrees: float, rate: float) -> float:
    """Time that a change takes [s]: none for one that is not needed, for ever without a rate."""
    if degrees <= 0:
        return 0.0
    return degrees / rate if rate > 0 else np.inf


def _two_ends(start: float, end: float, first: float, last: float) -> list[Span]:
    if first + last >= end - start:
        return [(start, end)]
    spans = [(start, start + first), (end - last, end)]
    return [(a, b) for a, b in spans if b > a]


def _overlap(one: list[Span], other: list[Span]) -> float:
    """Total time that lies in both of two lists of stretches [s]."""
    pairs = ((max(a, c), min(b, d)) for a, b in one for c, d in other)
    return sum(max(0.0, end - start) for start, end in pairs)
