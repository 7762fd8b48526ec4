"""Traces with bounds at every moment, from those of the readings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.stretch import Stretch, enveloped
from tempwitness.calibration.error import reading_error
from tempwitness.model.lot import Probe
from tempwitness.model.vocabulary import Place
from tempwitness.strict.speeds import Ground, no_speeds, speeds
from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.bounds.enveloped import EnvelopedTrace
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.logs import Bools, Floats, RawLog, Stage
    from tempwitness.strict.figures import RateFigures

__all__ = ["Bounded", "Ground", "bounded"]


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
    error, words = _errors(trace, ground)
    lower, upper, celsius = _on_one_scale(trace, error, ground.figures)
    at, low, high = _at_moments(trace.at, lower, upper, _edges(ground.stages))
    food = trace.place is Place.CORE and len(at) > 1
    fast = speeds(at, (low, high), ground, celsius=celsius) if food else no_speeds(len(at) - 1)
    limits = np.unique([pair[1 if celsius else 0] for pair in ground.limits])
    reach = ground.figures.otherwise
    if celsius:
        reach = (convert(reach[0], Unit.F, Unit.C), convert(reach[1], Unit.F, Unit.C))
    rows = Stretch(at, low, high, fast.up, fast.down, reach, fast.law)
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
    for index in np.unique(trace.channel).tolist():
        channel = raw.channels[index]
        here = trace.channel == index
        if len(channel.probe) == 1:
            taken[channel.probe[0]] = taken.get(channel.probe[0], False) | here
            continue
        names = np.array(channel.probe, dtype=object)[trace.row]
        for name in dict.fromkeys(names[here].tolist()):
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


def _edges(stages: Sequence[Stage]) -> list[float]:
    """Moments about which the criteria ask."""
    found = [t for s in stages for t in (s.start, s.end)]
    found += [t for s in stages for span in s.unheated for t in span]
    return found + [s.time_control.start for s in stages if s.time_control is not None]


def _at_moments(
    at: Floats, lower: Floats, upper: Floats, edges: Sequence[float]
) -> tuple[Floats, Floats, Floats]:
    """Bounds at each moment once: readings of one moment are all true of it."""
    moments, where = np.unique(np.concatenate((at, edges)), return_inverse=True)
    where = where[: len(at)]
    low, high = np.full(len(moments), -np.inf), np.full(len(moments), np.inf)
    np.maximum.at(low, where, lower)
    np.minimum.at(high, where, upper)
    return moments, low, high
