"""From a staged log and a code to the evaluation that every output is drawn from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.criteria.case import Local
from tempwitness.evaluate import summary
from tempwitness.evaluate.beyond import absent_cooks, ends_unsaid, points_unread
from tempwitness.evaluate.findings import finding
from tempwitness.evaluate.instruments import checks_rest_on, not_vouched_for, probe_summaries
from tempwitness.evaluate.judge import Judged, judge_code
from tempwitness.evaluate.notes import notes_made
from tempwitness.evaluate.strict import strict_answers
from tempwitness.evaluate.subject import Asking, Subject, whole_record
from tempwitness.evaluate.wall_clock import clocks_changed
from tempwitness.model.finding import SCHEMA, Evaluation, Finding, OverrideUsed
from tempwitness.model.vocabulary import Verdict, worst
from tempwitness.version import VERSION

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.model.logs import StagedLog
    from tempwitness.model.rule import Code
    from tempwitness.model.vocabulary import StageName

__all__ = ["evaluate"]

_CAUTION = (
    "Met speaks of the points that were read and of nothing else. A thermometer that nobody "
    "checked, a colder spot or a warmer core can hide what is not written here.",
    "When in doubt, throw it out. Looks, smell, steam and touch prove nothing.",
)


def evaluate(
    log: StagedLog,
    code: Code,
    *,
    intervals: Mapping[StageName, float],
    asked: float,
    explicit: bool = False,
    beside: Sequence[Code] = (),
    overrides: Sequence[OverrideUsed] = (),
) -> Evaluation:
    """Judge a staged log under a code, and under others beside it.

    Parameters
    ----------
    log : StagedLog
    code : Code
        The code in force, with its local overrides applied.
    intervals : mapping of StageName to float
        Monitoring interval of each stage [s].
    asked : float
        Moment of asking [s since 1970-01-01 UTC]; it decides between *open* and *not shown*.
    explicit : bool
        Whether somebody named that moment. Then a limit that must be kept throughout is asked up
        to it; else a record that has ended is judged up to its last entry.
    beside : sequence of Code
        Codes judged too, which never change the verdict.
    overrides : sequence of OverrideUsed
        What was changed locally, printed with both values.

    Returns
    -------
    Evaluation
    """
    subject = whole_record(log, Asking(asked, explicit), intervals, _local(log))
    judged = _judged(subject, code)
    own, rests_on = _findings(subject, judged, code)
    others = tuple(f for o in beside for f in _findings(subject, _judged(subject, o), o)[0])
    binding, verdict = _binding(own)
    return Evaluation(
        schema=SCHEMA,
        tool=f"tempwitness {VERSION}",
        lot=summary.lot_summary(subject),
        code=summary.code_used(code),
        beside=tuple(summary.code_used(c) for c in beside),
        verdict=verdict,
        headline=summary.headline(verdict, binding, subject),
        do_now=summary.do_now(binding, len(log.raw.lot.pieces)),
        asked_at=subject.local.iso(asked) if explicit or _any_open((*own, *others)) else None,
        findings=(*own, *others),
        stages=summary.stage_summaries(subject),
        unsettled=_unsettled(subject, binding),
        questions=_questions(subject, judged),
        doubts=summary.doubts(subject),
        probes=probe_summaries(subject),
        corrections=summary.corrections(subject),
        overrides=tuple(overrides),
        assumptions=_assumptions(subject),
        sources=summary.sources(subject),
        references=summary.references((*own, *others)),
        caution=(code.head.authority, *_CAUTION),
        notes=notes_made(subject),
        strict_basis=rests_on,
        changes=summary.changes_made(subject),
    )


def _findings(
    subject: Subject, judged: list[Judged], code: Code
) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """Return the findings of a code with both answers, and what the strict ones rest on."""
    strict = strict_answers(subject, judged, code)
    made = zip(judged, strict.answers, strict=True)
    return tuple(finding(j, subject, code, second) for j, second in made), strict.rests_on


def _binding(own: tuple[Finding, ...]) -> tuple[tuple[Finding, ...], Verdict]:
    """Return the findings that decide, and what they decide.

    Where none speaks of the food, nothing is shown: a true thermometer proves nothing of what it
    was not put into.
    """
    binding = tuple(f for f in own if f.weight.binds and f.verdict is not Verdict.NOT_APPLICABLE)
    verdict = worst([f.verdict for f in binding])
    of_food = any(f.stage or f.piece for f in binding)
    return binding, verdict if of_food or verdict is Verdict.NOT_MET else Verdict.NOT_SHOWN


def _local(log: StagedLog) -> Local:
    """Return the zone's writer of moments, which names the day if the record has several."""
    plain = Local(log.raw.lot.zone, many_days=False)
    edges = [t for s in (*log.stages[:1], *log.stages[-1:]) for t in (s.start, s.end)]
    days = {plain.when(t).date() for t in edges}
    return Local(log.raw.lot.zone, many_days=len(days) > 1)


def _judged(subject: Subject, code: Code) -> list[Judged]:
    """Judge a code, in the order in which the food went: by stage, then as the code gives it."""
    judged = judge_code(subject, code)
    return sorted(judged, key=lambda j: float("inf") if j.stage is None else j.stage.start)


def _any_open(findings: tuple[Finding, ...]) -> bool:
    """Whether an answer hangs on the moment of asking."""
    return any(f.verdict is Verdict.OPEN for f in findings)


def _unsettled(subject: Subject, binding: tuple[Finding, ...]) -> tuple[str, ...]:
    lines = [
        f"{f.title} ({f.stage or 'lot'} {f.piece}): {f.reason}"
        for f in binding
        if f.verdict is Verdict.NOT_SHOWN
    ]
    return (
        *lines,
        *not_vouched_for(subject),
        *(r.reason for r in subject.log.corrected.qualified.remarks),
        *absent_cooks(subject),
        *points_unread(subject),
        *ends_unsaid(subject),
    )


def _questions(subject: Subject, judged: list[Judged]) -> tuple[str, ...]:
    lines = [s.question for s in subject.log.stages if s.question]
    lines += [j.outcome.question for j in judged if j.outcome.question]
    lines += subject.log.corrected.qualified.questions
    return tuple(dict.fromkeys(lines))


def _assumptions(subject: Subject) -> tuple[str, ...]:
    return (
        "Between two readings of the same point, with no note that the food was disturbed and no "
        "longer apart than the monitoring interval of the stage, the temperature lies between "
        f"the two. Intervals (house defaults, common practice): {summary.monitoring(subject)}.",
        "In a wrapped rest or a cooling nothing heats the food: a point that is still warm at one "
        "reading was not cooler at the unread time before it, and food that is being cooled was "
        "not warmer than it was read before. Such a claim is marked as inferred.",
        "Each reading is compared with the figure that the code prints in the unit in which the "
        "reading was written.",
        *clocks_changed(subject),
        *checks_rest_on(subject),
        *subject.log.raw.assumptions,
        *subject.log.assumptions,
    )
