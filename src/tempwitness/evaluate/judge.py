"""Apply every requirement of a code to every stage of every piece it speaks of."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from tempwitness.bounds.gather import gather
from tempwitness.criteria import judge_test, on_readings
from tempwitness.criteria.applies import Applies, both, to_lot, to_stage
from tempwitness.criteria.case import Case, Local
from tempwitness.criteria.outcome import Outcome, Settling, not_applicable
from tempwitness.criteria.papers import instrument
from tempwitness.evaluate.alternatives import Met, with_alternatives
from tempwitness.evaluate.beyond import pieces_without_cook
from tempwitness.evaluate.points import over_points
from tempwitness.model.rule import BandClock, DayEnd, Instrument, Reach, TimeControl
from tempwitness.model.vocabulary import Place, StageName, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tempwitness.bounds.trace import Trace
    from tempwitness.model.logs import Note, Stage, StagedLog
    from tempwitness.model.lot import Lot
    from tempwitness.model.rule import Code, Requirement
    from tempwitness.model.vocabulary import Point

__all__ = ["Asking", "Judged", "Subject", "judge_code", "whole_record"]

#: Written time controls of a code: the option and the stage that it may cover.
Controls = frozenset[tuple[str, StageName]]

#: Forms that are answered once for a piece: at the last of its stages, or at the first.
_AT_LAST = frozenset({"band_clock", "shelf_life"})
_AT_FIRST = frozenset({"day_end"})
_SERVED = (StageName.COOK, StageName.REHEAT, StageName.HOT_HOLD, StageName.SERVE)


_BEARING: dict[tuple[object, ...], tuple[Code, list[Applies]]] = {}
_MOST_KEPT = 256


@dataclass(slots=True)
class Judged:
    """One requirement with its outcome for one stage of one piece."""

    requirement: Requirement
    stage: Stage | None
    piece: str
    outcome: Outcome
    by: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Subject:
    """A staged log, prepared once for all codes."""

    log: StagedLog
    traces: Mapping[str, tuple[Trace, ...]]
    stages: Mapping[str, tuple[Stage, ...]]
    notes: Mapping[str, tuple[Note, ...]]
    asked: float
    explicit: bool
    intervals: Mapping[StageName, float]
    local: Local
    _cases: dict[tuple[str, int, Point], Case] = field(default_factory=dict, repr=False)
    _chosen: dict[tuple[str, Point], tuple[tuple[Trace, ...], tuple[Trace, ...]]] = field(
        default_factory=dict, repr=False
    )

    def case(self, stage: Stage, requirement: Requirement) -> Case:
        """Return the case that a requirement has to judge at a stage; one for each point."""
        key = (stage.piece, stage.number, requirement.point)
        known = self._cases.get(key)
        if known is None:
            known = self._cases[key] = self._case(stage, requirement.point)
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
        )

    def _points(self, piece: str, point: Point) -> tuple[tuple[Trace, ...], tuple[Trace, ...]]:
        """Traces that can prove what a requirement says of a point, and those that disprove it."""
        known = self._chosen.get((piece, point))
        if known is None:
            places = point.places
            own = self.traces[piece]
            proving = tuple(t for t in (*own, *self.traces.get("", ())) if t.place in places)
            outside: tuple[Trace, ...] = ()
            if Place.CORE in places:  # the outside of the food says nothing of the air around it
                outside = tuple(t for t in own if t.place is Place.SURFACE)
            known = self._chosen[piece, point] = (proving, outside)
        return known


@dataclass(frozen=True, slots=True)
class Asking:
    """The moment of asking [s], and whether somebody named it."""

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


def judge_code(subject: Subject, code: Code) -> list[Judged]:
    """Judge all requirements of a code, in the order in which the code gives them.

    A requirement that the lot as a whole rules out is answered once, not for every stage.
    """
    met: Met = {}
    judged: list[Judged] = []
    controls = _time_controls(code) if subject.log.raw.lot.time_control else frozenset()
    present = {s.name for stages in subject.stages.values() for s in stages}
    for requirement, barred in zip(code.requirements, _bearing(subject, code), strict=True):
        if isinstance(requirement.test, Instrument):
            judged += _probes(subject, requirement, requirement.test)
            continue
        if requirement.stages and present.isdisjoint(requirement.stages):
            continue
        if barred.answer is False:
            judged.append(Judged(requirement, None, "", not_applicable(barred.why)))
            continue
        for stages in subject.stages.values():
            found = [
                _at_stage(subject, requirement, stage, met, barred, controls=controls)
                for stage in _stages_for(subject, requirement, stages)
            ]
            for one in found:
                if one.stage is not None:
                    key = (requirement.id, one.piece, one.stage.number)
                    met[key] = one.outcome.verdict
            judged += _last_cook_counts(requirement, found)
    judged += _unrecorded(subject, judged)
    return judged


def _unrecorded(subject: Subject, judged: list[Judged]) -> list[Judged]:
    """Answer for the pieces of which the record does not say what it says of others.

    Of a piece that it never speaks of, all that the others had to keep is not shown; of one whose
    cook alone is missing, the cook.
    """
    asked = {
        j.requirement.id: j.requirement
        for j in judged
        if j.stage is not None
        and j.requirement.weight.binds
        and j.outcome.verdict is not Verdict.NOT_APPLICABLE
    }
    silent = [p.id for p in subject.log.raw.lot.pieces if p.id not in subject.stages]
    missing = [(piece, r) for piece in silent for r in asked.values()]
    missing += [
        (piece, r)
        for piece in pieces_without_cook(subject)
        for r in asked.values()
        if isinstance(r.test, Reach) and StageName.COOK in r.stages
    ]
    return [Judged(r, None, piece, _nothing_on_record(piece, silent)) for piece, r in missing]


def _nothing_on_record(piece: str, silent: list[str]) -> Outcome:
    what = "says nothing of it" if piece in silent else "shows no cook of it, as of other pieces"
    return Outcome(
        Verdict.NOT_SHOWN,
        f"the record lists piece {piece} and {what}",
        measured="nothing was read",
        settle=Settling(f"notes and readings of piece {piece}"),
    )


def _bearing(subject: Subject, code: Code) -> list[Applies]:
    """Whether each requirement of a code bears on the lot at all; asked once for lots alike."""
    lot = subject.log.raw.lot
    food = lot.food
    alike = (
        id(code),
        food.species,
        food.forms,
        food.cut,
        lot.business,
        bool(lot.time_control),
        tuple(sorted(lot.facts.items())),
    )
    known = _BEARING.get(alike)
    # The code is kept beside the answers, so that its id cannot come to stand for another.
    if known is None or known[0] is not code:
        if len(_BEARING) >= _MOST_KEPT:
            _BEARING.clear()
        known = _BEARING[alike] = (code, [_barred(lot, r) for r in code.requirements])
    return known[1]


def _barred(lot: Lot, requirement: Requirement) -> Applies:
    """Whether the requirement bears on the lot at all."""
    if requirement.test.form == "time_control" and not lot.time_control:
        return Applies(answer=False, why="time is not used as the control")
    return to_lot(requirement.when, lot)


def _probes(subject: Subject, requirement: Requirement, test: Instrument) -> Iterator[Judged]:
    for probe in subject.log.raw.probes:
        yield Judged(requirement, None, "", instrument(test, probe), probe.id)


def _stages_for(
    subject: Subject, requirement: Requirement, stages: tuple[Stage, ...]
) -> Iterable[Stage]:
    form = requirement.test.form
    names = requirement.stages
    if isinstance(requirement.test, DayEnd) and not names:
        names = _SERVED
    if form == "duty" and not names:
        return stages[:1]
    matching = [s for s in stages if s.name in names]
    if form in _AT_LAST:
        # A stage for which it was not made must not stand for those before it.
        own = [s for s in matching if _bears_on(subject, requirement, s)]
        return (own or matching)[-1:]
    return matching[:1] if form in _AT_FIRST else matching


def _bears_on(subject: Subject, requirement: Requirement, stage: Stage) -> bool:
    """Whether the requirement may apply to a stage."""
    return to_stage(requirement.when, subject.case(stage, requirement)).answer is not False


def _own_stages(subject: Subject, requirement: Requirement, case: Case) -> Case:
    """Leave out of a clock that adds stages up those that the requirement does not speak of."""
    if not isinstance(requirement.test, BandClock):
        return case
    case.window()  # its edges depend on all stages, also on those left out below
    return replace(
        case,
        stages=tuple(
            s
            for s in case.stages
            if s.name not in requirement.stages or _bears_on(subject, requirement, s)
        ),
    )


def _at_stage(
    subject: Subject,
    requirement: Requirement,
    stage: Stage,
    met: Met,
    of_lot: Applies,
    *,
    controls: Controls,
) -> Judged:
    case = subject.case(stage, requirement)
    found = both(of_lot, to_stage(requirement.when, case))
    if found.answer is False:
        return Judged(requirement, stage, stage.piece, not_applicable(found.why))
    outcome = _tested(requirement, _own_stages(subject, requirement, case), controls)
    outcome = with_alternatives(requirement, case, outcome, met)
    if found.answer is None:
        outcome = _if_it_applies(outcome, found)
    if stage.question:
        outcome = _if_stage_is_so(outcome, stage)
    return Judged(requirement, stage, stage.piece, _asking(requirement, outcome, case))


def _tested(requirement: Requirement, case: Case, controls: Controls) -> Outcome:
    test = requirement.test
    if case.stage.time_control is not None and test.form in ("throughout", "outside_band"):
        shielded = _shielded(case, controls)
        if shielded:
            return not_applicable(shielded)
    if on_readings(test):
        outcome = over_points(test, case, requirement.stages, requirement.point)
        if not requirement.weight.binds and outcome.measured == "nothing was read":
            return not_applicable(f"{outcome.reason}, so the advice cannot be weighed")
        return outcome
    return judge_test(test, case, case.traces[0] if case.traces else None, requirement.stages)


def _time_controls(code: Code) -> Controls:
    """Return the written time controls that a code knows, and the stages that they may cover."""
    return frozenset(
        (r.test.option, stage)
        for r in code.requirements
        if isinstance(r.test, TimeControl) and r.test.part == "end"
        for stage in r.stages
    )


def _shielded(case: Case, controls: Controls) -> str:
    """Why a holding temperature does not bind under a time control written in advance.

    It binds on where the code has no such procedure, or none for this stage: a plan suspends a
    temperature only where the code's own time limit is judged in its place.
    """
    plan = case.stage.time_control
    if plan is None or plan.written is None or (plan.option, case.stage.name) not in controls:
        return ""
    if plan.written > case.local.when(plan.start).date():
        return ""
    return f"time is the control here ({plan.option} written procedure of {plan.written})"


def _if_it_applies(outcome: Outcome, found: Applies) -> Outcome:
    """Keep *met*; anything worse holds only if the requirement applies, which is not known."""
    if outcome.verdict in (Verdict.MET, Verdict.NOT_APPLICABLE):
        return outcome
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"{found.why}, and this decides whether the requirement applies; if it does: "
        f"{outcome.reason}",
        question=f"Say it in the record: {found.why}.",
    )


def _if_stage_is_so(outcome: Outcome, stage: Stage) -> Outcome:
    """Where the trace may be another stage as well, neither *met* nor *not met* is shown."""
    if outcome.verdict in (Verdict.NOT_SHOWN, Verdict.NOT_APPLICABLE):
        return outcome
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"the trace does not say whether this was {stage.name.words}; if it was: "
        f"{outcome.reason}",
        question=stage.question,
        deadline=None,
    )


def _asking(requirement: Requirement, outcome: Outcome, case: Case) -> Outcome:
    """Let a requirement that only the authority can weigh ask instead of judging."""
    kept = outcome.verdict is Verdict.MET
    if requirement.breaks_only and kept and outcome.most and _never_heated_again(case):
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason=f"{outcome.reason}; no note says that the heat came back before the end",
            question=requirement.question,
        )
    if requirement.breaks_only and outcome.verdict in (Verdict.MET, Verdict.OPEN):
        return outcome.but(verdict=Verdict.NOT_APPLICABLE, question=requirement.question)
    if not requirement.ask_instead:
        return outcome
    if outcome.verdict is Verdict.NOT_MET:
        return outcome.but(verdict=Verdict.NOT_SHOWN, question=requirement.question)
    if outcome.verdict in (Verdict.NOT_SHOWN, Verdict.OPEN):
        return outcome.but(verdict=Verdict.NOT_APPLICABLE, question=requirement.question)
    return outcome


def _never_heated_again(case: Case) -> bool:
    """Whether the stage ended while its heat was noted as lost: it was no resumed cook."""
    return any(end == case.stage.end for _, end in case.stage.unheated)


def _last_cook_counts(requirement: Requirement, found: list[Judged]) -> list[Judged]:
    """Of several cooks of one piece, one that was enough decides, else the last."""
    if not isinstance(requirement.test, Reach) or StageName.COOK not in requirement.stages:
        return found
    real = [j for j in found if j.outcome.verdict is not Verdict.NOT_APPLICABLE]
    if len(real) < 2:
        return found
    enough = [j for j in real if j.outcome.verdict is Verdict.MET]
    decides = enough[-1] if enough else real[-1]
    instead = not_applicable("another cook of this piece decides")
    return [
        j if j is decides or j not in real else Judged(j.requirement, j.stage, j.piece, instead)
        for j in found
    ]
