"""A test that looks at the order of readings: food is not hot before it is cold in one cook.

Food that is being heated does not fall from cooked to cold. Where a record says so, the hot
readings were of something else: a probe not yet in the food, or a slip of the pen. They must not
show that the food was cooked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place, StageName

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.model.logs import Note
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["hot_before_cold"]

_HEATING = (StageName.COOK, StageName.REHEAT)


def hot_before_cold(trace: Trace, notes: Sequence[Note], figures: Figures) -> None:
    """Flag hot readings of the core that come before a cold one in the same cook or reheat."""
    if trace.channel.place is not Place.CORE:
        return
    for start, end in _heatings(trace, notes):
        rows = trace.good()
        at = trace.channel.at[rows]
        rows = rows[(at >= start) & (at < end)]
        cold = np.flatnonzero(trace.degrees[rows] <= figures.raw)
        if len(cold) == 0:
            continue
        before = rows[: cold[-1]]
        hot = before[trace.degrees[before] >= figures.raw + figures.apart]
        if len(hot):
            trace.mark(
                hot,
                Flag.SUSPECT,
                "order",
                f"{trace.words(int(hot[0]))} was read before {trace.words(int(rows[cold[-1]]))} in "
                "the same heating: the probe was not in the food yet, or one figure slipped",
            )


def _heatings(trace: Trace, notes: Sequence[Note]) -> Iterator[tuple[float, float]]:
    """Stretches between a noted start of heating and the next noted step."""
    steps = sorted(
        (n for n in notes if n.step is not None and n.piece in (None, trace.channel.piece)),
        key=lambda n: n.at,
    )
    for index, note in enumerate(steps):
        if note.step in _HEATING:
            yield note.at, steps[index + 1].at if index + 1 < len(steps) else np.inf
