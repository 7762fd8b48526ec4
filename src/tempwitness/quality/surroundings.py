"""A core that is warmer or colder than anything around it has ever been is not the core."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from tempwitness.model.vocabulary import Flag, Place, StageName
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Floats, Ints
    from tempwitness.quality.noted import NotedStage
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["Air", "against_air", "all_air"]

# By which methods the air is what the food is in; "" is a stage noted without one. A pot is
# reheated and an ice bath cools whatever the air does.
_HOT = {
    StageName.COOK: ("", "oven", "smoker"),
    StageName.REHEAT: ("oven", "smoker"),
    StageName.HOT_HOLD: ("", "oven", "smoker", "cabinet"),
}
_COLD = {
    StageName.COLD_HOLD: ("", "refrigerator"),
    StageName.COOL: ("refrigerator",),
}


class Air(NamedTuple):
    """All good readings of the air, in order of time [s, °F]."""

    at: Floats
    degrees: Floats


def all_air(traces: Sequence[Trace]) -> Air:
    """Gather the air readings that nothing speaks against."""
    rows = [(t, t.good()) for t in traces if t.channel.place is Place.AIR]
    if not rows:
        return Air(np.zeros(0), np.zeros(0))
    at = np.concatenate([t.channel.at[good] for t, good in rows])
    degrees = np.concatenate([t.degrees[good] for t, good in rows])
    if len(rows) == 1:
        return Air(at, degrees)
    order = np.argsort(at, kind="stable")
    return Air(at[order], degrees[order])


def against_air(trace: Trace, air: Air, stages: Sequence[NotedStage], figures: Figures) -> None:
    """Flag core readings beyond all air since a noted stage began, and beyond their own start.

    Tested only as far as air readings follow each other from the beginning of the stage without a
    gap; elsewhere the air may have been hotter or colder unseen. A core was never tested here that
    was not read as the stage began, unless food goes in raw.
    """
    if trace.channel.place is not Place.CORE or not len(air.at):
        return
    for stage in stages:
        if stage.method in _HOT.get(stage.name, ()):
            _stage(trace, air, stage, 1.0, figures=figures)
        elif stage.method in _COLD.get(stage.name, ()):
            _stage(trace, air, stage, -1.0, figures=figures)


def _stage(trace: Trace, air: Air, stage: NotedStage, sign: float, *, figures: Figures) -> None:
    at, degrees = _watched(air, stage, figures)
    if not len(at):
        return
    rows = trace.good()
    when = trace.channel.at[rows]
    rows = rows[(when >= max(stage.start, at[0])) & (when < stage.end) & (when <= at[-1])]
    bound = _first_level(trace, rows, stage, sign, figures)
    if not len(rows) or bound is None:
        return
    # The reading after counts as well: the air may have been at its hottest in between.
    after = np.minimum(np.searchsorted(at, trace.channel.at[rows]), len(at) - 1)
    extreme = np.maximum(np.maximum.accumulate(sign * degrees)[after], bound)
    margin = figures.surroundings.margin if sign > 0 else figures.surroundings.colder
    beyond = rows[sign * trace.degrees[rows] > extreme + margin]
    if len(beyond):
        _doubt(trace, beyond, float(sign * np.max(extreme)), sign, stage)


def _doubt(trace: Trace, rows: Ints, extreme: float, sign: float, stage: NotedStage) -> None:
    than = "warmer than the hottest" if sign > 0 else "colder than the coldest"
    air = format_degrees(extreme, Unit.F)
    trace.mark(
        rows,
        Flag.SUSPECT,
        "surroundings",
        f"{trace.words(int(rows[0]))} is {than} air of this {stage.name.words} ({air}), and than "
        "it was at its start: the core cannot be",
    )


def _watched(air: Air, stage: NotedStage, figures: Figures) -> Air:
    """Return the air from the beginning of a stage to the first gap; empty if it came later."""
    gap = figures.gap.longest
    first = int(np.searchsorted(air.at, stage.start - gap))
    at, degrees = air.at[first:], air.degrees[first:]
    if not len(at) or at[0] > stage.start + gap:
        return Air(at[:0], degrees[:0])
    holes = np.flatnonzero(np.diff(at) > gap)
    stop = int(holes[0]) + 1 if len(holes) else len(at)
    return Air(at[:stop], degrees[:stop])


def _first_level(
    trace: Trace, rows: Ints, stage: NotedStage, sign: float, figures: Figures
) -> float | None:
    """Return how warm the food was as the stage began; ``None`` if that is not known.

    Food goes raw into a cook. Into anything else it brings what it had.
    """
    if stage.name is StageName.COOK:
        return -np.inf
    good = trace.good()
    at = trace.channel.at[good]
    near = good[np.abs(at - stage.start) <= figures.gap.longest]
    if not len(near):
        return None
    return float(np.max(sign * trace.degrees[near]))
