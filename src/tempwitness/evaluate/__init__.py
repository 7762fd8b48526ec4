"""From a staged log and a code to the evaluation that every output is drawn from."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from tempwitness.evaluate import summary
from tempwitness.evaluate.beyond import absent_cooks, ends_unsaid, points_unread
from tempwitness.evaluate.findings import finding
from tempwitness.evaluate.fitted import fitted
from tempwitness.evaluate.instruments import checks_rest_on, not_vouched_for, probe_summaries
from tempwitness.evaluate.judge import Judged, judge_code
from tempwitness.evaluate.notes import notes_made
from tempwitness.evaluate.strict import prepared, strict_answers
from tempwitness.evaluate.subject import Asking, Subject, local_of, whole_record
from tempwitness.evaluate.wall_clock import clocks_changed
from tempwitness.model.finding import SCHEMA, Evaluation, Finding, OverrideUsed
from tempwitness.model.vocabulary import Verdict, worst
from tempwitness.version import VERSION

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.model.logs import StagedLog
    from tempwitness.model.rule import Code
    from tempwitness.model.vocabulary import StageName

__all__ = ["Asking", "evaluate"]

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
    asking: Asking,
    beside: Sequence[Code] = (),
    overrides: Sequence[OverrideUsed] = (),
    strict: bool = True,
) -> Evaluation:
    """Judge a staged log under a code, and under others beside it.

    Parameters
    ----------
    log : StagedLog
    code : Code
        The code in force, with its local overrides applied.
    intervals : mapping of StageName to float
        Monitoring interval of each stage [s].
    asking : Asking
        The moment of asking; it decides between *open* and *not shown*.
    beside : sequence of Code
        Codes judged too, which never change the verdict.
    overrides : sequence of OverrideUsed
        What was changed locally, printed with both values.
    strict : bool
        Whether findings on readings get their second, strict answer.

    Returns
    -------
    Evaluation
    """
    subject = whole_record(log, asking, intervals, local_of(log))
    codes = [fitted(c, log.raw.lot) for c in (code, *beside)]
    judged, own, others, rests_on = _found(subject, codes, strict=strict)
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
        asked_at=_asked_at(subject, (*own, *others)),
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


def _found(
    subject: Subject, codes: Sequence[Code], *, strict: bool
) -> tuple[list[Judged], tuple[Finding, ...], tuple[Finding, ...], tuple[str, ...]]:
    """Judge all codes, the one in force first.

    Returns
    -------
    list of Judged
        What was judged under the code in force.
    tuple of Finding, tuple of Finding
        Findings of the code in force, and of those beside it.
    tuple of str
        What the strict answers rest on.
    """
    judged = [_judged(subject, code) for code in codes]
    second = prepared(subject, chain(*judged)) if strict else None
    found = []
    for of_code, code in zip(judged, codes, strict=True):
        answers = zip(of_code, strict_answers(second, of_code, code), strict=True)
        found.append(tuple(finding(j, subject, code, answer) for j, answer in answers))
    rests_on = () if second is None else second.rests_on
    return judged[0], found[0], tuple(chain(*found[1:])), rests_on


def _binding(own: tuple[Finding, ...]) -> tuple[tuple[Finding, ...], Verdict]:
    """Return the findings that decide, and what they decide.

    Where none speaks of the food, nothing is shown: a true thermometer proves nothing of what it
    was not put into.
    """
    binding = tuple(f for f in own if f.weight.binds and f.verdict is not Verdict.NOT_APPLICABLE)
    verdict = worst([f.verdict for f in binding])
    of_food = any(f.stage or f.piece for f in binding)
    return binding, verdict if of_food or verdict is Verdict.NOT_MET else Verdict.NOT_SHOWN


def _judged(subject: Subject, code: Code) -> list[Judged]:
    """Judge a code, in the order in which the food went: by stage, then as the code gives it."""
    judged = judge_code(subject, code)
    return sorted(judged, key=lambda j: float("inf") if j.stage is None else j.stage.start)


def _asked_at(subject: Subject, findings: tuple[Finding, ...]) -> str | None:
    """Return the moment of asking if somebody named it, or an answer hangs on it."""
    told = subject.explicit or _any_open(findings)
    return subject.local.iso(subject.asked) if told else None


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
