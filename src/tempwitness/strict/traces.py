"""Traces with bounds at every moment, from those of the readings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.enveloped import EnvelopedTrace, Stretch, enveloped
from tempwitness.calibration.error import reading_error
from tempwitness.model.lot import Probe
from tempwitness.model.vocabulary import Place
from tempwitness.strict.rates import StageRate, stage_rate, what_bounds
from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.bounds.trace import Trace
    from tempwitness.model.logs import Bools, Floats, Note, RawLog, Stage
    from tempwitness.strict.figures import RateFigures

__all__ = ["Bounded", "Ground", "bounded"]

Figures = tuple[tuple[float, float], ...]
_NONE = float("inf")


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What the bounds of one piece rest on.

    Parameters
    ----------
    raw : RawLog
    stages : tuple of Stage
        Stages of the piece, in order.
    notes : tuple of Note
        What was noted of it.
    figures : RateFigures
    limits : tuple of (float, float)
        Figures with which the traces will be compared, in °F and °C.
    """

    raw: RawLog
    stages: tuple[Stage, ...]
    notes: tuple[Note, ...]
    figures: RateFigures
    limits: Figures


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
    up, down, rates = _rates(trace, at, low, high, celsius=celsius, ground=ground)
    limits = np.unique([pair[1 if celsius else 0] for pair in ground.limits])
    reach = ground.figures.otherwise
    if celsius:
        reach = (convert(reach[0], Unit.F, Unit.C), convert(reach[1], Unit.F, Unit.C))
    made, conflicts = enveloped(trace, Stretch(at, low, high, up, down, reach), limits)
    return Bounded(made, conflicts, (*words, *rates))


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


def _rates(
    trace: Trace, at: Floats, low: Floats, high: Floats, *, celsius: bool, ground: Ground
) -> tuple[Floats, Floats, tuple[str, ...]]:
    """How fast the trace can change in each gap [its scale / s]; infinite where unknown."""
    up, down = np.full(len(at) - 1, _NONE), np.full(len(at) - 1, _NONE)
    if trace.place is not Place.CORE or not len(up):
        return up, down, ()
    middle = (at[:-1] + at[1:]) / 2.0
    free = np.ones(len(middle), np.bool_)
    words: dict[str, list[str]] = {}
    for stage in ground.stages:
        gaps = (middle >= stage.start) & (middle < stage.end)
        free &= ~gaps
        rate = _of_stage(stage, at, low, high, celsius=celsius, ground=ground)
        up[gaps], down[gaps] = rate.up, rate.down
        words.setdefault(rate.words, []).append(stage.name.words)
    between = stage_rate(ground.raw.lot, None, ground.figures)
    up[free], down[free] = between.up, between.down
    unknown = ~np.isfinite(up + down) | ~_undisturbed(at, ground.notes)
    scale = 1.8 if celsius else 1.0
    up, down = np.where(unknown, _NONE, up / scale), np.where(unknown, _NONE, down / scale)
    lines = [f"{', '.join(dict.fromkeys(names))}: {said}" for said, names in words.items()]
    return up, down, (what_bounds(ground.raw.lot.food, ground.figures), *lines)


def _of_stage(
    stage: Stage, at: Floats, low: Floats, high: Floats, *, celsius: bool, ground: Ground
) -> StageRate:
    """Limits of a stage; none where ice may be in the food, which conducts better."""
    here = (at >= stage.start) & (at <= stage.end)
    # A reading written as "below 41" leaves room for ice.
    least = low[here & (np.isfinite(low) | np.isfinite(high))]
    ice = (ground.figures.ice_below - 32.0) / 1.8 if celsius else ground.figures.ice_below
    if len(least) and float(least.min()) < ice:
        return StageRate(_NONE, _NONE, "it may have held ice, which conducts better")
    return stage_rate(ground.raw.lot, stage, ground.figures)


def _undisturbed(at: Floats, notes: Sequence[Note]) -> Bools:
    calm = np.ones(len(at) - 1, np.bool_)
    for note in notes:
        if note.event is None or not note.event.disturbs:
            continue
        index = int(at.searchsorted(note.at, "right")) - 1
        if 0 <= index < len(calm):
            calm[index] = False
    return calm
