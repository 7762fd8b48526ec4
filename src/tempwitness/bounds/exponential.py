"""Bounds for food that only gives its heat to, or takes it from, its surroundings.

Where dT/dt = -k (T - A), with k and the temperature A of the surroundings each within a range, the
temperature between two bounded moments lies between curves that run forward from the first and
backward from the second. They hold whatever k and A did within their ranges. They hold for the
probed point only if it follows that law: thin or stirred food, or a point long after it settled.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats, Ints

__all__ = ["Ends", "Law", "crossings", "passive_at", "passive_between"]


@dataclass(frozen=True, slots=True, eq=False)
class Law:
    """Ranges of k [1/s] and of the surroundings [degrees], one of each for m gaps.

    NaN in every field of a gap for which no law is stated.
    """

    slow: Floats
    quick: Floats
    cold: Floats
    warm: Floats

    @property
    def stated(self) -> Ints:
        """Gaps for which a law is stated."""
        return np.flatnonzero(np.isfinite(self.slow))

    def of(self, gaps: Ints) -> Law:
        """Return the law of some gaps."""
        return Law(self.slow[gaps], self.quick[gaps], self.cold[gaps], self.warm[gaps])


@dataclass(frozen=True, slots=True, eq=False)
class Ends:
    """Length of m gaps [s], and bounds at both ends of each [degrees]."""

    length: Floats
    low: tuple[Floats, Floats]
    high: tuple[Floats, Floats]


@dataclass(frozen=True, slots=True, eq=False)
class _Curve:
    """A + (r - A) exp(-k x), x counted from the start, or backward exp(+k x) from the end.

    Where it does not hold, `known` is false.
    """

    level: Floats
    towards: Floats
    k: Floats
    forward: bool
    known: np.ndarray

    def at(self, moments: Floats, length: Floats) -> Floats:
        """Value at moments of each gap [s from its start]."""
        grown = -self.k * moments if self.forward else self.k * (length - moments)
        with np.errstate(over="ignore", invalid="ignore"):
            return np.asarray(self.towards + (self.level - self.towards) * np.exp(grown))

    def when(self, figure: float, length: Floats) -> Floats:
        """Moment of each gap at which it is at a figure [s from its start], NaN if never."""
        with np.errstate(divide="ignore", invalid="ignore"):
            span = np.log((self.level - self.towards) / (figure - self.towards)) / self.k
        return np.asarray(span if self.forward else length + span)


def _upper(ends: Ends, law: Law) -> tuple[_Curve, ...]:
    """Curves above which the temperature never is."""
    first, last = ends.high
    always = np.ones(len(first), bool)
    return (
        _Curve(np.maximum(first, law.warm), law.warm, law.slow, forward=True, known=always),
        _Curve(first, law.warm, law.quick, forward=True, known=first <= law.warm),
        _Curve(last, law.cold, law.quick, forward=False, known=last >= law.cold),
        _Curve(last, law.cold, law.slow, forward=False, known=last <= law.cold),
    )


def _lower(ends: Ends, law: Law) -> tuple[_Curve, ...]:
    """Curves below which it never is: those above the negated temperature, negated."""
    first, last = ends.low
    always = np.ones(len(first), bool)
    return (
        _Curve(np.minimum(first, law.cold), law.cold, law.slow, forward=True, known=always),
        _Curve(first, law.cold, law.quick, forward=True, known=first >= law.cold),
        _Curve(last, law.warm, law.quick, forward=False, known=last <= law.warm),
        _Curve(last, law.warm, law.slow, forward=False, known=last >= law.warm),
    )


def passive_at(moments: Floats, ends: Ends, law: Law) -> tuple[Floats, Floats]:
    """Bound the temperature at one moment of each gap [s from its start]."""
    low, high = np.full(len(moments), -np.inf), np.full(len(moments), np.inf)
    for curve in _lower(ends, law):
        value = curve.at(moments, ends.length)
        low = np.where(curve.known & (value > low), value, low)
    for curve in _upper(ends, law):
        value = curve.at(moments, ends.length)
        high = np.where(curve.known & (value < high), value, high)
    return low, high


def passive_between(ends: Ends, law: Law) -> tuple[Floats, Floats]:
    """Bound the temperature all through each gap: each curve runs one way only."""
    start, end = np.zeros(len(ends.length)), ends.length
    low, high = np.full(len(start), -np.inf), np.full(len(start), np.inf)
    for curve in _lower(ends, law):
        value = np.minimum(curve.at(start, end), curve.at(end, end))
        low = np.where(curve.known & (value > low), value, low)
    for curve in _upper(ends, law):
        value = np.maximum(curve.at(start, end), curve.at(end, end))
        high = np.where(curve.known & (value < high), value, high)
    return low, high


def crossings(figure: float, ends: Ends, law: Law) -> tuple[Ints, Floats]:
    """Gaps, and moments within them [s from the gap's start], at which a bound is at a figure."""
    gaps: list[Ints] = []
    moments: list[Floats] = []
    for curve in (*_lower(ends, law), *_upper(ends, law)):
        when = curve.when(figure, ends.length)
        inside = np.flatnonzero(curve.known & (when > 0) & (when < ends.length))
        gaps.append(inside)
        moments.append(when[inside])
    return np.concatenate(gaps), np.concatenate(moments)
