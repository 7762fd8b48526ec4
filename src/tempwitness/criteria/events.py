"""Moments in a lot's history that start a clock: the end of the cook, leaving the cold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.criteria.case import HEATING
from tempwitness.criteria.passage import Start
from tempwitness.model.vocabulary import StageName

if TYPE_CHECKING:
    from tempwitness.criteria.case import Case

__all__ = ["SINCE", "clock_start"]

#: What starts a clock that no crossing of a limit starts.
SINCE = {
    "stage": "when the stage began",
    "cooked": "when the cook ended",
    "heat_ended": "when the food left the heat",
    "left_cold": "when the food left the cold",
}
_KEPT_HOT = frozenset({*HEATING, StageName.HOT_HOLD})
_KEPT_COLD = frozenset({StageName.COLD_HOLD, StageName.FREEZE, StageName.THAW})


def clock_start(clock: str, case: Case) -> Start | None:
    """Return when a clock started that no crossing of a limit starts; ``None`` for a crossing.

    Where the record shows no such stage before, the moment is unknown.
    """
    if clock == "crossing":
        return None
    stage = case.stage
    if clock == "stage":
        return Start(stage.start, stage.start)
    names = {"cooked": HEATING, "heat_ended": _KEPT_HOT, "left_cold": _KEPT_COLD}[clock]
    ends = [s.end for s in case.stages if s.name in names and s.number < stage.number]
    if not ends:
        return Start(None, stage.start)
    # Until the stage itself begins the food may still have been kept hot, unsaid.
    return Start(ends[-1], stage.start if clock == "heat_ended" else ends[-1])
