"""A figure that stays the same to its last digit while all around it moves is a stuck display.

Food does rest at one temperature: in a stall, in melting ice, in a refrigerator. A display of whole
degrees shows one figure for hours. So a flat line is doubted only if it lasts far longer than the
display's own step allows, and if something beside it shows that the food cannot have rested.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place, StageName

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Floats, Ints
    from tempwitness.quality.noted import NotedStage
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.surroundings import Air
    from tempwitness.quality.trace import Trace

__all__ = ["flat_line"]

_FOOD = (Place.CORE, Place.SURFACE)
_HEATING = (StageName.COOK, StageName.REHEAT)
_ICE = "ice_bath"


def flat_line(
    trace: Trace,
    *,
    air: Air,
    others: Sequence[Trace],
    stages: Sequence[NotedStage],
    figures: Figures,
) -> None:
    """Flag runs of one figure that nothing explains, from their second reading on.

    Parameters
    ----------
    air : Air
        Readings of the air.
    others : sequence of Trace
        Further points of the same piece.
    """
    if trace.channel.place not in _FOOD:
        return
    at = trace.channel.at
    for rows in trace.by_probe():
        runs = _runs(trace, rows, figures)
        if not runs:
            continue
        longest = _longest(trace, rows, figures)
        for first, last in runs:
            start, end = float(at[rows[first]]), float(at[rows[last]])
            why = _moved(air, others, start, end, figures)
            stage = _stage_of(stages, start, end)
            if not _unexplained(end - start, longest, why, stage, figures):
                continue
            trace.mark(
                rows[first + 1 : last + 1],
                Flag.SUSPECT,
                "flat_line",
                f"{trace.words(int(rows[first]))} stands unchanged for {(end - start) / 60:.0f} min"
                f"{why}: the probe or its display is stuck",
            )


def _runs(trace: Trace, rows: Ints, figures: Figures) -> list[tuple[int, int]]:
    """Return first and last position of runs of one figure that no display explains, unbroken."""
    at, value = trace.channel.at[rows], trace.channel.value[rows]
    if len(rows) < figures.flat_line.least:
        return []
    breaks = np.flatnonzero((value[1:] != value[:-1]) | (np.diff(at) > figures.gap.longest))
    firsts = np.concatenate(([0], breaks + 1))
    lasts = np.concatenate((breaks, [len(rows) - 1]))
    shortest = _allowed(figures.flat_line.finest, figures)
    long = (at[lasts] - at[firsts] > shortest) & (lasts - firsts + 1 >= figures.flat_line.least)
    return list(zip(firsts[long].tolist(), lasts[long].tolist(), strict=True))


def _allowed(step: float, figures: Figures) -> float:
    """How long a display with steps [°F] may stand still [s]."""
    return figures.flat_line.times * step / figures.flat_line.slowest * 60.0


def _longest(trace: Trace, rows: Ints, figures: Figures) -> float:
    """How long this display may stand still [s], by the coarsest step that all figures keep."""
    value = trace.channel.value[rows]
    step = next((s for s in figures.flat_line.steps if _keeps(value, s)), figures.flat_line.finest)
    return _allowed(step * (1.8 if bool(trace.channel.celsius[rows[0]]) else 1.0), figures)


def _keeps(value: Floats, step: float) -> bool:
    parts = value / step
    return bool((np.abs(parts - np.round(parts)) < 1e-6).all())


def _moved(air: Air, others: Sequence[Trace], start: float, end: float, figures: Figures) -> str:
    """Say what moved meanwhile; ``""`` if nothing is known to have."""
    flat = figures.flat_line
    inside = air.degrees[(air.at >= start) & (air.at <= end)]
    if len(inside) and float(inside.max() - inside.min()) >= flat.air_moves:
        return f" while the air moved by {float(inside.max() - inside.min()):.0f} °F"
    for other in others:
        rows = other.good()
        at = other.channel.at[rows]
        degrees = other.degrees[rows[(at >= start) & (at <= end)]]
        if len(degrees) and float(degrees.max() - degrees.min()) >= flat.other_moves:
            moved = float(degrees.max() - degrees.min())
            return f" while another point of the piece moved by {moved:.0f} °F"
    return ""


def _stage_of(stages: Sequence[NotedStage], start: float, end: float) -> NotedStage | None:
    """Return the one noted stage in which a run lies, if there is one."""
    return next((s for s in stages if s.start <= start and end <= s.end), None)


def _unexplained(
    length: float, longest: float, moved: str, stage: NotedStage | None, figures: Figures
) -> bool:
    if length <= longest:
        return False
    if stage is not None and (stage.name in figures.flat_line.resting or stage.method == _ICE):
        return False
    if moved:
        return True
    heated = stage is not None and stage.name in _HEATING
    return heated and length > figures.flat_line.alone * longest
