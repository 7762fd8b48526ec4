"""Figures that fit the other scale: a unit that was switched, or a column named wrongly."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place, StageName
from tempwitness.quality.handled import explained
from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Bools, Floats, Ints, Note
    from tempwitness.quality.noted import NotedStage
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["other_scale", "same_on_other_scale", "switched", "unit_questions"]

_FOOD = (Place.CORE, Place.MEDIUM)


def same_on_other_scale(trace: Trace, row: int, other: int, near: float) -> bool:
    """Whether a reading is another one's temperature written on the other scale, either way."""
    channel = trace.channel
    if channel.celsius[row] != channel.celsius[other]:
        return False
    a, b = float(channel.value[row]), float(channel.value[other])
    return min(_misfit(a, b, Unit.F, Unit.C), _misfit(a, b, Unit.C, Unit.F)) <= near


def _misfit(a: float, b: float, unit: Unit, to: Unit) -> float:
    return abs(b - convert(a, unit, to))


def other_scale(trace: Trace, figures: Figures) -> None:
    """Flag a °C column with figures that no food has in °C and any food may have in °F.

    One figure that stands between two neighbours close by is a slip of its own. Otherwise nobody
    can tell which of the column's other figures are °F as well: all of that probe are doubted.
    """
    if trace.channel.place not in _FOOD or not bool(trace.channel.celsius.any()):
        return
    low, high = figures.range.suspect[trace.channel.place]
    for taken in trace.by_probe():
        rows = taken[trace.channel.celsius[taken]]
        value = trace.channel.value[rows]
        found = rows[(trace.degrees[rows] > high) & (value > low) & (value <= high)]
        if not len(found):
            continue
        figure = f"{trace.words(int(found[0]))} is too hot for food and ordinary in °F"
        if len(found) == 1 and _stands_alone(trace, rows, int(found[0]), figures):
            trace.mark(found, Flag.SUSPECT, "unit", f"{figure}: the unit may be wrong")
            continue
        trace.mark(
            rows,
            Flag.SUSPECT,
            "unit",
            f"{figure}: which other figures of this probe are °F nobody can tell; give the column "
            "its right unit, or write the unit into each cell",
        )


def _stands_alone(trace: Trace, rows: Ints, row: int, figures: Figures) -> bool:
    i = int(np.searchsorted(rows, row))
    if i in (0, len(rows) - 1):
        return False
    at, degrees = trace.channel.at[rows], trace.degrees[rows]
    close = at[i + 1] - at[i] <= figures.gap.longest and at[i] - at[i - 1] <= figures.gap.longest
    return bool(close and abs(degrees[i + 1] - degrees[i - 1]) <= figures.unit.apart)


def switched(trace: Trace, notes: Sequence[Note], figures: Figures) -> None:
    """Flag runs that begin with the reading before, written on the other scale.

    The scale of the column is believed for the part that agrees with it. Where that is the later
    part, the earlier one is doubted, and the other way round; until the figures switch back.
    """
    if trace.channel.place not in _FOOD:
        return
    for rows in trace.by_probe():
        switches = _switches(trace, rows, figures)
        free = [i for i in switches.tolist() if not explained(trace, rows, i + 1, notes, figures)]
        if not free:
            continue
        wrong = _wrong_scale(trace, rows, np.array(free))
        first = free[0]
        trace.mark(
            rows[wrong],
            Flag.SUSPECT,
            "unit",
            f"from {trace.words(int(rows[first]))} to {trace.words(int(rows[first + 1]))} is the "
            "same temperature on the other scale: the unit was switched; write the unit into each "
            "cell, or correct the column's name",
        )


def _switches(trace: Trace, rows: Ints, figures: Figures) -> Ints:
    """Positions before which and after which the same temperature stands on two scales."""
    at, value = trace.channel.at[rows], trace.channel.value[rows]
    celsius = trace.channel.celsius[rows]
    # Cells that bear their own units are read in them.
    apart = (np.abs(np.diff(value)) >= figures.unit.apart) & (celsius[1:] == celsius[:-1])
    found = np.flatnonzero(apart & (np.diff(at) <= figures.gap.longest))
    return found[_fits(value[found], value[found + 1], figures.unit.near)]


def _fits(a: Floats, b: Floats, near: float) -> Bools:
    fits: Bools = (np.abs((a - 32.0) / 1.8 - b) <= near) | (np.abs((b - 32.0) / 1.8 - a) <= near)
    return fits


def _wrong_scale(trace: Trace, rows: Ints, switches: Ints) -> Bools:
    """Which rows are on the other scale than the column: the lower figures of a °F column."""
    value = trace.channel.value[rows]
    wrong = np.zeros(len(rows), np.bool_)
    edges = [0, *(switches + 1).tolist(), len(rows)]
    falls = value[switches + 1] < value[switches]
    celsius = bool(trace.channel.celsius[rows[0]])
    # The first part is wrong if the figures then rise in a °F column or fall in a °C column.
    part_wrong = bool(falls[0]) if celsius else not bool(falls[0])
    for k, (start, end) in enumerate(pairwise(edges)):
        if k:
            part_wrong = bool(falls[k - 1]) != celsius
        wrong[start:end] = part_wrong
    at = trace.channel.at[rows]
    if at[edges[1] - 1] - at[0] < at[edges[2] - 1] - at[edges[1]]:
        # The shorter part before a switch may as well be a probe that was not in the food yet.
        wrong[: edges[1]] = True
    return wrong


def unit_questions(trace: Trace, stages: Sequence[NotedStage], figures: Figures) -> list[str]:
    """Return what must be asked of the unit where the figures alone do not tell."""
    if trace.channel.place is not Place.CORE:
        return []
    return [*_sparse_switch(trace, figures), *_odd_cold(trace, stages, figures)]


def _sparse_switch(trace: Trace, figures: Figures) -> list[str]:
    if trace.usual <= figures.gap.longest:
        return []
    rows = trace.good()
    value, celsius = trace.channel.value[rows], trace.channel.celsius[rows]
    fits = _fits(value[:-1], value[1:], figures.unit.asked) & (celsius[:-1] == celsius[1:])
    for i in np.flatnonzero(fits & (np.abs(np.diff(value)) >= figures.unit.apart)).tolist():
        before, after = trace.words(int(rows[i])), trace.words(int(rows[i + 1]))
        return [
            f"{trace.name}: {after} after {before} would be the same temperature on the other "
            "scale. Was the thermometer switched to the other unit?"
        ]
    return []


def _odd_cold(trace: Trace, stages: Sequence[NotedStage], figures: Figures) -> list[str]:
    low, high = figures.unit.odd_cold
    rows = trace.good()
    rows = rows[~trace.channel.celsius[rows]]
    at, value = trace.channel.at[rows], trace.channel.value[rows]
    for stage in stages:
        if stage.name is not StageName.COLD_HOLD:
            continue
        odd = rows[(at >= stage.start) & (at < stage.end) & (value > low) & (value < high)]
        if len(odd):
            return [
                f"{trace.name}: {trace.words(int(odd[0]))} in a cold hold is colder than a "
                "refrigerator and warmer than a freezer. Was it °C?"
            ]
    return []
