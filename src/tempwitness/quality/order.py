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
    from collections.abc import Sequence

    from tempwitness.quality.noted import NotedStage
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["hot_before_cold"]

_HEATING = (StageName.COOK, StageName.REHEAT)


def hot_before_cold(trace: Trace, stages: Sequence[NotedStage], figures: Figures) -> None:
    """Flag hot readings of the core that come before a cold one in the same cook or reheat."""
    if trace.channel.place is not Place.CORE:
        return
    for stage in stages:
        if stage.name not in _HEATING:
            continue
        rows = trace.good()
        at = trace.channel.at[rows]
        rows = rows[(at >= stage.start) & (at < stage.end)]
        cold = np.flatnonzero(trace.degrees[rows] <= figures.order.raw)
        if len(cold) == 0:
            continue
        before = rows[: cold[-1]]
        hot = before[trace.degrees[before] >= figures.order.raw + figures.order.apart]
        if len(hot):
            trace.mark(
                hot,
                Flag.SUSPECT,
                "order",
                f"{trace.words(int(hot[0]))} was read before {trace.words(int(rows[cold[-1]]))} in "
                "the same heating: the probe was not in the food yet, or one figure slipped",
            )
