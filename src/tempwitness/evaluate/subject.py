"""A staged log prepared for judging: traces, stages and notes by piece; the moment of asking."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from tempwitness.bounds.gather import gather
from tempwitness.criteria.case import Case, Local
from tempwitness.model.vocabulary import Place, Point, StageName

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tempwitness.bounds.trace import Trace
    from tempwitness.model.logs import Note, Stage, StagedLog
    from tempwitness.model.rule import Requirement

__all__ = ["Asking", "Subject", "again", "local_of", "whole_record"]


@dataclass(frozen=True, slots=True, eq=False)
class Subject:
    """A staged log, prepared once for all codes.

    Parameters
    ----------
    infer : bool
        Whether a reading may speak for an unread time in which nothing heated the food.
    """

    log: StagedLog
    traces: Mapping[str, tuple[Trace, ...]]
    stages: Mapping[str, tuple[Stage, ...]]
    notes: Mapping[str, tuple[Note, ...]]
    asked: float
    explicit: bool
    intervals: Mapping[StageName, float]
    local: Local
    infer: bool = True
    _cases: dict[tuple[str, int, Point], Case] = field(default_factory=dict, repr=False)
    _chosen: dict[tuple[str, Point], tuple[tuple[Trace, ...], tuple[Trace, ...]]] = field(
        default_factory=dict, repr=False
    )

    def case(self, stage: Stage, requirement: Requirement) -> Case:
        """Return the case that a requirement has to judge at a stage; one for each point."""
        return self.at_point(stage, requirement.point)

    def at_point(self, stage: Stage, point: Point) -> Case:
        """Return the case of a stage with the readings that bear on a point."""
        key = (stage.piece, stage.number, point)
        known = self._cases.get(key)
        if known is None:
            known = self._cases[key] = self._case(stage, point)
        return known

    def _case(self, stage: Stage, point: Point) -> Case:
        proving, others = self._points(stage.piece, point)
        raw = self.log.raw
        return Case(
            raw.lot,
            stage,
            self.stages[stage.piece],
            proving,
            others,
            self.notes[stage.piece],
            raw.probes,
            self.asked,
            self.intervals,
            self.local,
            self.explicit,
            self.infer,
        )

    def _points(self, piece: str, point: Point) -> tuple[tuple[Trace, ...], tuple[Trace, ...]]:
        """Traces that can prove what a requirement says of a point, and those that disprove it."""
        known = self._chosen.get((piece, point))
        if known is None:
            places = point.places
            own = self.traces[piece]
            proving = tuple(t for t in (*own, *self.traces.get("", ())) if t.place in places)
            outside: tuple[Trace, ...] = ()
            # The outside of the food says nothing of the air around it.
            if Place.CORE in places and point is not Point.CORE:
                outside = tuple(t for t in own if t.place is Place.SURFACE)
            known = self._chosen[piece, point] = (proving, outside)
        return known


@dataclass(frozen=True, slots=True)
class Asking:
    """The moment of asking, and whether somebody named it.

    Parameters
    ----------
    moment : float
        [s since 1970-01-01 UTC]
    explicit : bool
        Whether somebody named it. Then a limit that must be kept throughout is asked up to it;
        else a record that has ended is judged up to its last entry.
    """

    moment: float
    explicit: bool = False


def whole_record(
    log: StagedLog, asking: Asking, intervals: Mapping[StageName, float], local: Local
) -> Subject:
    """Prepare a staged log: traces by piece, stages by piece."""
    traces: dict[str, list[Trace]] = {}
    for trace in gather(log.corrected):
        traces.setdefault(trace.piece, []).append(trace)
    stages: dict[str, list[Stage]] = {}
    for stage in log.stages:
        stages.setdefault(stage.piece, []).append(stage)
    for piece in stages:
        traces.setdefault(piece, [])
    return Subject(
        log,
        {p: tuple(t) for p, t in traces.items()},
        {p: tuple(s) for p, s in stages.items()},
        # What was done to another piece says nothing of this one.
        {p: tuple(n for n in log.raw.notes if n.piece in (None, p)) for p in stages},
        asking.moment,
        asking.explicit,
        intervals,
        local,
    )


def local_of(log: StagedLog) -> Local:
    """Return the zone's writer of moments, which names the day if the record has several."""
    plain = Local(log.raw.lot.zone, many_days=False)
    edges = [t for s in (*log.stages[:1], *log.stages[-1:]) for t in (s.start, s.end)]
    days = {plain.when(t).date() for t in edges}
    return Local(log.raw.lot.zone, many_days=len(days) > 1)


def again(subject: Subject, log: StagedLog) -> Subject:
    """Return the same readings with the stages of another staging of them."""
    stages: dict[str, list[Stage]] = {}
    for stage in log.stages:
        stages.setdefault(stage.piece, []).append(stage)
    found = {p: tuple(s) for p, s in stages.items()}
    return replace(subject, log=log, stages=found, _cases={})
