"""Traces with bounds at every moment, from those of the readings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.stretch import Stretch, enveloped
from tempwitness.calibration.error import reading_error
from tempwitness.model.lot import Probe
from tempwitness.model.vocabulary import Place
from tempwitness.strict.speeds import Ground, no_speeds, noted_steps, speeds

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.bounds.enveloped import EnvelopedTrace
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.logs import Bools, Floats, RawLog
    from tempwitness.strict.figures import RateFigures

__all__ = ["Bounded", "Ground", "bounded"]

# A trace with more readings than about this is thinned before it is bounded.
_MOST_READINGS = 6000


@dataclass(frozen=True, slots=True, eq=False)
class Bounded:
    """A trace with bounds at every moment.

    Parameters
    ----------
    trace : EnvelopedTrace
    conflicts : tuple of (float, float)
        Moments of pairs of readings that cannot both be true [s].
    rests_on : tuple of str
        Error and rates, in words.
    """

    trace: EnvelopedTrace
    conflicts: tuple[tuple[float, float], ...]
    rests_on: tuple[str, ...]


def bounded(trace: Trace, ground: Ground) -> Bounded:
    """Bound one trace of a piece at every moment.

    Air, medium and the surface of food can change at any speed: only their readings are bounded.
    """
    trace = _thinned(trace)
    error, words = _errors(trace, ground)
    lower, upper, celsius = _on_one_scale(trace, error, ground.figures)
    at, low, high = _at_moments(trace.at, lower, upper, _edges(ground))
    food = trace.place is Place.CORE and len(at) > 1
    fast = speeds(at, (low, high), ground, celsius=celsius) if food else no_speeds(len(at) - 1)
    limits = np.array(sorted({pair[1 if celsius else 0] for pair in ground.limits}))
    rows = Stretch(at, low, high, fast.up, fast.down, fast.law)
    made, conflicts = enveloped(trace, rows, limits)
    return Bounded(made, conflicts, (*words, *fast.words))


def _errors(trace: Trace, ground: Ground) -> tuple[Floats, tuple[str, ...]]:
    """Greatest error of each reading [°F difference], and what is known of it."""
    error = np.zeros(len(trace))
    words: dict[str, None] = {}
    for name, rows in _by_probe(trace, ground.raw):
        probe = next((p for p in ground.raw.probes if p.id == name), Probe(name))
        shown = trace.lower[rows] if trace.shown is None else trace.shown[rows]
        bound = reading_error(probe, np.where(trace.celsius[rows], shown * 1.8 + 32.0, shown))
        error[rows] = bound.f
        words[f"probe {name or '(unnamed)'}: {bound.words}"] = None
    return error, tuple(words)


def _by_probe(trace: Trace, raw: RawLog) -> list[tuple[str, Bools]]:
    taken: dict[str, Bools] = {}
    for index in np.flatnonzero(np.bincount(trace.channel)).tolist():
        probe = raw.channels[index].probe
        here = trace.channel == index
        names = np.full(len(trace), probe[0], dtype=object)
        if len(probe) > 1:
            names[here] = np.array(probe, dtype=object)[trace.row[here]]
        for name in dict.fromkeys(probe):
            taken[name] = taken.get(name, False) | (here & (names == name))
    return list(taken.items())


def _on_one_scale(trace: Trace, error: Floats, figures: RateFigures) -> tuple[Floats, Floats, bool]:
    """Bounds of the readings widened by their error, and whether they are in °C."""
    if bool(trace.celsius.all()):
        return trace.lower - error / 1.8, trace.upper + error / 1.8, True
    if not bool(trace.celsius.any()):
        return trace.lower - error, trace.upper + error, False
    # Each reading is compared in its own scale; one figure for all must hold in both.
    error = error + figures.widest_rounding
    low = np.where(trace.celsius, trace.lower * 1.8 + 32.0, trace.lower)
    high = np.where(trace.celsius, trace.upper * 1.8 + 32.0, trace.upper)
    return low - error, high + error, False


def _edges(ground: Ground) -> list[float]:
    """Moments about which the criteria ask, and from which other limits may hold."""
    found = [t for s in ground.stages for t in (s.start, s.end)]
    found += [t for s in ground.stages for span in s.unheated for t in span]
    found += [at for at, _ in noted_steps(ground.notes)]
    return found + [s.time_control.start for s in ground.stages if s.time_control is not None]


def _at_moments(
    at: Floats, lower: Floats, upper: Floats, edges: Sequence[float]
) -> tuple[Floats, Floats, Floats]:
    """Bounds at each moment once: readings of one moment are all true of it."""
    every = np.concatenate((at, edges))
    order = np.argsort(every, kind="stable")
    every = every[order]
    first = np.flatnonzero(np.concatenate(([True], np.diff(every) > 0)))
    low = np.concatenate((lower, np.full(len(edges), -np.inf)))[order]
    high = np.concatenate((upper, np.full(len(edges), np.inf)))[order]
    return every[first], np.maximum.reduceat(low, first), np.minimum.reduceat(high, first)


def _thinned(trace: Trace) -> Trace:
    """Leave out readings of a dense trace; of each run of them the lowest and the highest stay.

    A reading less only lets more histories through, so that no answer becomes bolder.
    """
    block = -(-2 * len(trace) // _MOST_READINGS)
    mixed = bool(trace.celsius.any()) and not bool(trace.celsius.all())
    if block <= 2 or mixed:
        return trace
    whole = len(trace) // block * block
    low = np.where(np.isfinite(trace.lower), trace.lower, np.inf)[:whole].reshape(-1, block)
    high = np.where(np.isfinite(trace.upper), trace.upper, -np.inf)[:whole].reshape(-1, block)
    start = np.arange(0, whole, block)
    kept = np.zeros(len(trace), np.bool_)
    kept[start + low.argmin(axis=1)] = kept[start + high.argmax(axis=1)] = True
    kept[[0, -1]] = kept[whole:] = True
    return trace.only(np.flatnonzero(kept))
