"""Several probes at one point: where they disagree, they sat in different spots of the food.

The coldest part counts for cooking and the warmest for cooling. Readings of one probe are one
history of one spot; those of two probes that are said to be at one point are so only as long as
they agree. From where they do not, each has to show by itself what is asked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.forms import COOKED, Fall, Lethality, Reach
from tempwitness.quality.settings import figures

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.criteria.case import Case
    from tempwitness.model.logs import Ints

__all__ = ["other_spots"]


def other_spots(test: Reach | Lethality | Fall, case: Case, trace: Trace) -> list[Trace]:
    """Return what was read of each spot that lagged behind another probe's: colder or warmer.

    A fall keeps the readings before, except those that had reached its second limit already: its
    clock started for all of the food.
    """
    if trace.probe is None:
        return []
    first = int(trace.at.searchsorted(case.stage.start, "left"))
    last = int(trace.at.searchsorted(case.stage.end, "right" if case.window().own_end else "left"))
    part = trace.only(np.arange(first, last, dtype=np.int64))
    found = _behind(part, colder=isinstance(test, COOKED))
    return [trace.only(_rows(test, trace, first + row)) for row in found]


def _behind(trace: Trace, *, colder: bool) -> list[int]:
    """Rows at which a probe lagged behind the one read just before or after; its last for each."""
    if trace.probe is None or len(trace) < 2:
        return []
    scale, shift = np.where(trace.celsius, 1.8, 1.0), np.where(trace.celsius, 32.0, 0.0)
    low, high = trace.lower * scale + shift, trace.upper * scale + shift
    if not colder:
        low, high = -high, -low
    apart = np.diff(trace.at)
    known = figures()
    # Both probes may be off by their own tolerance, and the food may change in between.
    allowed = 2.0 * known.differ + known.step.back_rate * apart / 60.0
    asked = (trace.probe[1:] != trace.probe[:-1]) & (apart <= known.gap.longest)
    later = np.flatnonzero(asked & (low[:-1] - high[1:] > allowed)) + 1
    earlier = np.flatnonzero(asked & (low[1:] - high[:-1] > allowed))
    behind = np.sort(np.concatenate((earlier, later))).tolist()
    return list({int(trace.probe[row]): row for row in behind}.values())


def _rows(test: Reach | Lethality | Fall, trace: Trace, row: int) -> Ints:
    """Readings that speak of the spot that was read in a row."""
    numbers = np.arange(len(trace))
    mine = numbers >= row
    if trace.probe is not None:
        mine &= trace.probe == trace.probe[row]
    if isinstance(test, Fall):
        mine |= (numbers < row) & ~trace.state(test.to).yes
    return np.flatnonzero(mine)
