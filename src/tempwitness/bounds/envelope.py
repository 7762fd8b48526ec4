"""What readings say of each other, if the temperature rises and falls no faster than some rates.

Readings within an error and limits on how fast the temperature can change leave, at each moment, a
least and a greatest possible temperature: the Lipschitz extension of McShane and Whitney in its
asymmetric form. Both are histories that the readings allow, so the bounds are attained and cannot
be made narrower.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats

__all__ = ["Conflict", "Rates", "find_conflict", "tightened"]

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


def tightened(at: Floats, lower: Floats, upper: Floats, rates: Rates) -> tuple[Floats, Floats]:
    """Tighten the bounds of readings by each other.

    Parameters
    ----------
    at : Floats, length n
        Moments [s], rising.
    lower, upper : Floats, length n
        Reading less and plus its error [degrees]; infinite where a reading says nothing.
    rates : Rates

    Returns
    -------
    tuple of Floats
        Least and greatest possible temperature at each moment.

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
    return np.minimum(low, high), np.maximum(low, high)


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
