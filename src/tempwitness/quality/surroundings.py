"""A core that is warmer than anything around it has ever been is not the core."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place, StageName
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Floats, Note
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["hotter_than_air"]


def hotter_than_air(
    trace: Trace, air: Sequence[Trace], notes: Sequence[Note], figures: Figures
) -> None:
    """Flag core readings of a noted cook above the hottest air recorded since it began.

    Tested only as far as air readings follow each other from the beginning of the cook without a
    gap; elsewhere the air may have been hotter unseen.
    """
    if trace.channel.place is not Place.CORE or not air:
        return
    mine = [n for n in notes if n.step is not None and n.piece in (None, trace.channel.piece)]
    at, degrees = _air(air)
    for i, note in enumerate(mine):
        if note.step is StageName.COOK and len(at):
            end = mine[i + 1].at if i + 1 < len(mine) else np.inf
            _stage(trace, at, degrees, note.at, end, figures=figures)


def _air(air: Sequence[Trace]) -> tuple[Floats, Floats]:
    good = [(t.channel.at[t.good()], t.degrees[t.good()]) for t in air]
    at = np.concatenate([a for a, _ in good])
    order = np.argsort(at, kind="stable")
    return at[order], np.concatenate([d for _, d in good])[order]


def _stage(
    trace: Trace, at: Floats, degrees: Floats, start: float, end: float, *, figures: Figures
) -> None:
    first = int(np.searchsorted(at, start - figures.gap))
    at, degrees = at[first:], degrees[first:]
    if not len(at) or at[0] > start + figures.gap:
        return
    holes = np.flatnonzero(np.diff(at) > figures.gap)
    covered = float(at[holes[0]]) if len(holes) else float(at[-1])
    rows = trace.good()
    when = trace.channel.at[rows]
    rows = rows[(when >= max(start, at[0])) & (when < end) & (when <= covered)]
    if not len(rows):
        return
    # The reading after counts as well: the air may have been at its hottest in between.
    after = np.minimum(np.searchsorted(at, trace.channel.at[rows]), len(at) - 1)
    hottest = np.maximum.accumulate(degrees)[after]
    above = rows[trace.degrees[rows] > hottest + figures.margin]
    if len(above):
        most = format_degrees(float(np.max(hottest)), Unit.F)
        trace.mark(
            above,
            Flag.SUSPECT,
            "surroundings",
            f"{trace.words(int(above[0]))} is warmer than the hottest air of this cook ({most}): "
            f"the core cannot be",
        )
