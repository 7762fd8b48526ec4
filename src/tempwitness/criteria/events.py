"""Moments in a lot's history that start a clock: the end of the cook, leaving the cold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.criteria.case import HEATING
from tempwitness.criteria.passage import Start
from tempwitness.model.vocabulary import StageName

if TYPE_CHECKING:
    from tempwitness.criteria.case import Case
    from tempwitness.model.logs import Stage

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
    earlier = [s for s in case.stages if s.number < stage.number]
    if clock == "left_cold":
        earlier = _since_heated(earlier)
    last = next((s for s in reversed(earlier) if s.name in names), None)
    if last is None:
        return Start(None, stage.start)
    # Until the stage itself begins the food may still have been kept hot, unsaid.
    latest = stage.start if clock == "heat_ended" else _noted_end(last, case)
    return Start(last.start if last.question else last.end, latest)


def _since_heated(earlier: list[Stage]) -> list[Stage]:
    """Stages after the food was last kept hot: it did not come from the cold before that."""
    hot = [k for k, s in enumerate(earlier) if s.name in _KEPT_HOT]
    return earlier[hot[-1] + 1 :] if hot else earlier


def _noted_end(last: Stage, case: Case) -> float:
    """End of a stage as it was noted: what only the trace seems to show may belong to it still."""
    end = last.end
    for s in case.stages:
        if s.start == end and s.question and s.number < case.stage.number:
            end = s.end
    return end
