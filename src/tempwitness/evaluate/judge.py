"""Apply every requirement of a code to every stage of every piece it speaks of."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from tempwitness.criteria.applies import Applies, both, to_stage
from tempwitness.criteria.outcome import Outcome, Settling, not_applicable
from tempwitness.criteria.papers import instrument
from tempwitness.evaluate.alike import asks_the_same
from tempwitness.evaluate.alternatives import Met, with_alternatives
from tempwitness.evaluate.bearing import bearing
from tempwitness.evaluate.beyond import pieces_without_cook
from tempwitness.evaluate.caveats import asking, if_it_applies, if_stage_is_so
from tempwitness.evaluate.points import NOTHING_READ, judge_on_record
from tempwitness.model.forms import COOKED, BandClock, DayEnd, Instrument, Longest, TimeControl
from tempwitness.model.vocabulary import StageName, Verdict

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from tempwitness.criteria.case import Case
    from tempwitness.evaluate.subject import Subject
    from tempwitness.model.logs import Stage
    from tempwitness.model.rule import Code, Requirement

__all__ = ["Controls", "Judged", "Memo", "at_stage", "judge_code", "time_controls"]

#: Written time controls of a code: the option and the stage that it may cover.
Controls = frozenset[tuple[str, StageName]]

#: Outcomes of requirements that ask the same, by what they ask, piece and number of the stage.
Memo = dict[tuple[int, str, int], Outcome]

#: Forms that are answered once for a piece: at the last of its stages, or at the first.
_AT_LAST = frozenset({"band_clock", "shelf_life"})
_AT_FIRST = frozenset({"day_end"})
_SERVED = (StageName.COOK, StageName.REHEAT, StageName.HOT_HOLD, StageName.SERVE)


@dataclass(slots=True)
class Judged:
    """One requirement with its outcome for one stage of one piece."""

    requirement: Requirement
    stage: Stage | None
    piece: str
    outcome: Outcome
    by: str = ""
    of_lot: Applies | None = None


def judge_code(subject: Subject, code: Code, memo: Memo | None = None) -> list[Judged]:
    """Judge all requirements of a code, in the order in which the code gives them.

    A requirement that the lot as a whole rules out is answered once, not for every stage. With a
    `memo`, what another code asked in the same words of data is not judged again.
    """
    met = Met()
    judged: list[Judged] = []
    controls = time_controls(code) if subject.log.raw.lot.time_control else frozenset()
    present = {s.name for stages in subject.stages.values() for s in stages}
    for requirement, barred in zip(
        code.requirements, bearing(subject.log.raw.lot, code), strict=True
    ):
        if isinstance(requirement.test, Instrument):
            judged += _probes(subject, requirement, requirement.test)
            continue
        if requirement.stages and present.isdisjoint(requirement.stages):
            continue
        if barred.answer is False:
            judged.append(Judged(requirement, None, "", not_applicable(barred.why)))
            continue
        for stages in subject.stages.values():
            judging = partial(
                at_stage, subject, requirement, met=met, of_lot=barred, controls=controls
            )
            found = [
                _remembered(memo, requirement, stage, barred, judging)
                for stage in _stages_for(subject, requirement, stages)
            ]
            for one in found:
                if one.stage is not None:
                    met.record(requirement, one.stage, one.outcome.verdict)
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
        if isinstance(r.test, COOKED) and StageName.COOK in r.stages
    ]
    return [Judged(r, None, piece, _nothing_on_record(piece, silent)) for piece, r in missing]


def _nothing_on_record(piece: str, silent: list[str]) -> Outcome:
    what = "says nothing of it" if piece in silent else "shows no cook of it, as of other pieces"
    return Outcome(
        Verdict.NOT_SHOWN,
        f"the record lists piece {piece} and {what}",
        measured=NOTHING_READ,
        settle=Settling(f"notes and readings of piece {piece}"),
    )


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
    if form in ("duty", "paper") and not names:
        return stages[:1]
    matching = [s for s in stages if s.name in names]
    test = requirement.test
    adds_up = isinstance(test, Longest) and (test.total or test.after_cook is not None)
    if form in _AT_LAST or adds_up:
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


def _remembered(
    memo: Memo | None,
    requirement: Requirement,
    stage: Stage,
    of_lot: Applies,
    judging: Callable[[Stage], Judged],
) -> Judged:
    """Judge one requirement at one stage, unless another code has asked the same.

    What rests on other requirements of its code, or on its time controls, is always judged anew.
    """
    if memo is None or stage.time_control is not None:
        return judging(stage)
    asked = asks_the_same(requirement)
    if asked is None:
        return judging(stage)
    key = asked, stage.piece, stage.number
    outcome = memo.get(key)
    if outcome is None:
        judged = judging(stage)
        memo[key] = judged.outcome
        return judged
    return Judged(requirement, stage, stage.piece, outcome, of_lot=of_lot)


def at_stage(
    subject: Subject,
    requirement: Requirement,
    stage: Stage,
    met: Met,
    of_lot: Applies,
    *,
    controls: Controls,
) -> Judged:
    """Judge one requirement at one stage of one piece."""
    case = subject.case(stage, requirement)
    out_of_date = _out_of_date(requirement, case)
    if out_of_date:
        return Judged(requirement, stage, stage.piece, not_applicable(out_of_date), of_lot=of_lot)
    found = both(of_lot, to_stage(requirement.when, case))
    if found.answer is False:
        return Judged(requirement, stage, stage.piece, not_applicable(found.why), of_lot=of_lot)
    outcome = _tested(requirement, _own_stages(subject, requirement, case), controls)
    elsewhere = partial(subject.at_point, stage)
    outcome = with_alternatives(requirement, case, outcome, met, elsewhere=elsewhere)
    if found.answer is None:
        outcome = if_it_applies(outcome, found)
    if stage.question:
        outcome = if_stage_is_so(outcome, stage)
    outcome = asking(requirement, outcome, case)
    return Judged(requirement, stage, stage.piece, outcome, of_lot=of_lot)


def _out_of_date(requirement: Requirement, case: Case) -> str:
    """Why a requirement with dates of its own is not in force on the days of a stage."""
    if requirement.begins is not None:
        last = case.local.when(case.stage.end).date()
        if last < requirement.begins:
            return f"it is in force from {requirement.begins} on"
    if requirement.ends is not None:
        first = case.local.when(case.stage.start).date()
        if first > requirement.ends:
            return f"it was in force until {requirement.ends}"
    return ""


def _tested(requirement: Requirement, case: Case, controls: Controls) -> Outcome:
    test = requirement.test
    if case.stage.time_control is not None and test.form in ("throughout", "outside_band"):
        shielded = _shielded(case, controls)
        if shielded:
            return not_applicable(shielded)
    outcome = judge_on_record(test, case, requirement.stages, requirement.point)
    if requirement.only_if_read and outcome.measured == NOTHING_READ:
        return not_applicable(f"{outcome.reason}; none is asked for")
    if not requirement.weight.binds and outcome.measured == NOTHING_READ:
        return not_applicable(f"{outcome.reason}, so the advice cannot be weighed")
    return outcome


def time_controls(code: Code) -> Controls:
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


def _last_cook_counts(requirement: Requirement, found: list[Judged]) -> list[Judged]:
    """Of several cooks of one piece, one that was enough decides, else the last.

    A last cook that was too cold breaks nothing as long as an earlier one may have been enough.
    """
    if not isinstance(requirement.test, COOKED) or StageName.COOK not in requirement.stages:
        return found
    real = [j for j in found if j.outcome.verdict is not Verdict.NOT_APPLICABLE]
    if len(real) < 2:
        return found
    enough = [j for j in real if j.outcome.verdict is Verdict.MET]
    possible = [j for j in real if j.outcome.verdict is not Verdict.NOT_MET]
    decides = enough[-1] if enough else real[-1]
    if decides.outcome.verdict is Verdict.NOT_MET and possible:
        decides = possible[-1]
    instead = not_applicable("another cook of this piece decides")
    return [j if j is decides or j not in real else replace(j, outcome=instead) for j in found]
