"""What the stages gain from the readings and the other notes.

Food put into the refrigerator warm is cooling, not being held cold; food that has cooled is held
cold from then on; a written time control and a loss of heat are laid over the stages.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Decided, Event, StageName
from tempwitness.stages.left import left_the_heat

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tempwitness.bounds.trace import Trace
    from tempwitness.model.logs import CorrectedLog, Note, Stage
    from tempwitness.model.lot import TimeControlPlan
    from tempwitness.stages.defaults import InferenceLimits

__all__ = ["refine"]

_WARM_BEFORE = frozenset(
    {StageName.COOK, StageName.REST, StageName.HOT_HOLD, StageName.SERVE, StageName.REHEAT}
)
_HEATING = frozenset({StageName.COOK, StageName.REHEAT})
_IN_BETWEEN = frozenset({StageName.PREP, StageName.TRANSPORT})
_UNDER_TIME = frozenset({StageName.SERVE, StageName.TRANSPORT, StageName.PREP})


def refine(
    stages: list[Stage], cores: tuple[Trace, ...], limits: InferenceLimits, log: CorrectedLog
) -> list[Stage]:
    """Return the stages of one piece as they are judged, numbered from 1."""
    stages = [
        part
        for s in stages
        for part in left_the_heat(s, cores, limits, log.raw.notes, last=s is stages[-1])
    ]
    stages = _cooling_on(stages, cores, limits)
    stages = [part for s in stages for part in _cooled(s, cores, limits, log.raw.notes)]
    for plan in log.raw.lot.time_control:
        stages = _under_time_control(stages, plan)
    stages = [_without_heat(s, log.raw.notes) for s in stages]
    return [replace(s, number=i + 1) for i, s in enumerate(stages)]


def _cooling_on(
    stages: Sequence[Stage], cores: tuple[Trace, ...], limits: InferenceLimits
) -> list[Stage]:
    """Take warm food that was noted as held cold, frozen or thawed for food that is cooling on."""
    kept: list[Stage] = []
    for s in stages:
        warm = _came_warm(kept)
        if (
            warm is None
            or s.name not in _put_cold(warm)
            or _first_cold(cores, limits, _warm_since(warm), s.start) is not None
        ):
            kept.append(s)
        elif kept[-1].name is StageName.COOL:
            kept[-1] = replace(kept[-1], end=s.end, closed=s.closed)
        else:
            reason = f"{s.reason}; the food was not yet cold, so it was cooling"
            kept.append(replace(s, name=StageName.COOL, reason=reason))
    return kept


def _warm_since(warm: Stage) -> float:
    """Moment from which a cold reading shows that warm food has cooled.

    Food that is being heated was cold before: what was read then says nothing of afterwards.
    """
    return warm.end if warm.name in _HEATING else warm.start


def _put_cold(after: Stage) -> frozenset[StageName]:
    """Stages that are a cooling for food that is still warm: nobody thaws what was just hot."""
    cold = {StageName.COLD_HOLD, StageName.FREEZE}
    return frozenset(cold if after.name is StageName.COOL else {*cold, StageName.THAW})


def _came_warm(kept: Sequence[Stage]) -> Stage | None:
    """Return the stage from which food comes warm; preparing and carrying it do not cool it."""
    for s in reversed(kept):
        if s.name not in _IN_BETWEEN:
            return s if s.name in (*_WARM_BEFORE, StageName.COOL) else None
    return None


def _first_cold(
    cores: tuple[Trace, ...], limits: InferenceLimits, start: float, end: float
) -> float | None:
    """First moment in a stretch at which every point has been read cold [s]."""
    moments = []
    for trace in cores:
        cold = trace.state(limits.cold).yes & (trace.at >= start) & (trace.at <= end)
        where = np.flatnonzero(cold)
        if len(where) == 0:
            return None
        moments.append(float(trace.at[where[0]]))
    return max(moments, default=None)


def _cooled(
    s: Stage, cores: tuple[Trace, ...], limits: InferenceLimits, notes: Iterable[Note]
) -> list[Stage]:
    """Split a cooling where the food was first read cold: from there it is held cold, or frozen."""
    if s.name is not StageName.COOL:
        return [s]
    moment = _first_cold(cores, limits, s.start, s.end)
    if moment is None or moment >= s.end or moment <= s.start:
        return [s]
    held = replace(
        s,
        name=_put_away(s, moment, notes),
        start=moment,
        decided=Decided.INFERRED,
        reason=f"cold enough ({limits.cold.words}) from this reading on",
    )
    return [replace(s, end=moment, closed=True), held]


def _put_away(s: Stage, moment: float, notes: Iterable[Note]) -> StageName:
    """How food that has become cold is kept: frozen if it was put to freeze while it cooled."""
    steps = [
        n for n in notes if n.step is not None and n.piece in (None, s.piece) and n.at <= moment
    ]
    last = max(steps, key=lambda n: n.at, default=None)
    frozen = last is not None and last.step is StageName.FREEZE
    return StageName.FREEZE if frozen else StageName.COLD_HOLD


def _under_time_control(stages: list[Stage], plan: TimeControlPlan) -> list[Stage]:
    """Lay a written time control over the stage in which it starts, and over what follows it."""
    kept: list[Stage] = []
    running = False
    for s in stages:
        if plan.pieces is not None and s.piece not in plan.pieces:
            kept.append(s)
            continue
        last = s is stages[-1]
        if s.start < plan.start < s.end:
            kept.append(replace(s, end=plan.start, closed=True))
            kept.append(replace(s, start=plan.start, time_control=plan))
            running = True
        elif s.start == plan.start or (running and s.name in _UNDER_TIME):
            kept.append(replace(s, time_control=plan))
            running = True
        elif last and s.end == plan.start:
            kept += [s, replace(s, start=plan.start, time_control=plan)]
        else:
            running = False
            kept.append(s)
    return kept


def _without_heat(s: Stage, notes: Iterable[Note]) -> Stage:
    """Note the stretches of a cook in which the heat was lost."""
    if s.name is not StageName.COOK:
        return s
    lost: float | None = None
    stretches = []
    for note in sorted(notes, key=lambda n: n.at):
        if note.piece not in (None, s.piece) or not s.start <= note.at <= s.end:
            continue
        if note.event is Event.HEAT_LOST and lost is None:
            lost = note.at
        elif note.event is Event.HEAT_BACK and lost is not None:
            stretches.append((lost, note.at))
            lost = None
    if lost is not None:
        stretches.append((lost, s.end))
    return replace(s, unheated=tuple(stretches)) if stretches else s
