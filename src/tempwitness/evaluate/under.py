"""One lot under many codes: for each, the answer and the one row that decides it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.evaluate.bearing import bearing
from tempwitness.evaluate.fitted import fitted
from tempwitness.evaluate.judge import Judged, Memo, judge_code
from tempwitness.evaluate.subject import again, local_of, whole_record
from tempwitness.evaluate.words import citation_words
from tempwitness.model.under import UnderCode
from tempwitness.model.vocabulary import Verdict, Weight, worst
from tempwitness.stages import stage

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from tempwitness.criteria.applies import Applies
    from tempwitness.evaluate.subject import Asking, Subject
    from tempwitness.model.figures import Limit
    from tempwitness.model.logs import StagedLog
    from tempwitness.model.lot import Lot
    from tempwitness.model.rule import Code, CodeHead
    from tempwitness.model.vocabulary import StageName

__all__ = ["under_codes"]

_WEIGHTIEST = tuple(Weight)


def under_codes(
    log: StagedLog,
    codes: Iterable[Code],
    *,
    intervals: Mapping[StageName, float],
    asking: Asking,
) -> tuple[UnderCode, ...]:
    """Judge a lot under many codes, the first answer alone.

    Codes that call food cold at another temperature see other stages.

    Parameters
    ----------
    log : StagedLog
    codes : iterable of Code
    intervals : mapping of StageName to float
        Monitoring interval of each stage [s].
    asking : Asking

    Returns
    -------
    tuple of UnderCode
        In the order in which the codes were given.
    """
    subject = whole_record(log, asking, intervals, local_of(log))
    subjects: dict[Limit | None, Subject] = {}
    memos: dict[object, Memo] = {}
    found = []
    for code in codes:
        cold = code.head.cold
        if cold not in subjects:
            subjects[cold] = again(subject, stage(log.corrected, cold))
        found.append(_under(code, subjects[cold], memos))
    return tuple(found)


def _under(code: Code, subject: Subject, memos: dict[object, Memo]) -> UnderCode:
    # What was asked of the same stages need not be asked again.
    memo = memos.setdefault(tuple(sorted(subject.stages.items())), {})
    present = frozenset(s.name for stages in subject.stages.values() for s in stages)
    lot = subject.log.raw.lot
    own = _bearing_part(fitted(code, lot), lot, present)
    return replace(_one(judge_code(subject, own, memo), code), dated=_dated(code.head, subject))


_PARTS: dict[tuple[int, frozenset[StageName]], tuple[list[Applies], Code]] = {}
_MOST_KEPT = 1024


def _bearing_part(code: Code, lot: Lot, present: frozenset[StageName]) -> Code:
    """Return the part of a code that speaks of this lot and its stages at all."""
    bears = bearing(lot, code)
    key = id(bears), present
    known = _PARTS.get(key)
    # The answers are kept beside the part, so that their id cannot come to stand for others.
    if known is None or known[0] is not bears:
        part = tuple(
            r
            for r, applies in zip(code.requirements, bears, strict=True)
            if applies.answer is not False and (not r.stages or present & set(r.stages))
        )
        if len(_PARTS) >= _MOST_KEPT:
            _PARTS.clear()
        known = _PARTS[key] = (bears, code.model_copy(update={"requirements": part}))
    return known[1]


def _one(judged: list[Judged], code: Code) -> UnderCode:
    """Return the answer under one code.

    Where it has law, law alone decides; guidance and yardsticks are answered by themselves, and
    the answer says of which weight it is.
    """
    real = [j for j in judged if j.outcome.verdict is not Verdict.NOT_APPLICABLE]
    binding = [j for j in real if j.requirement.weight.binds]
    deciding = binding or ([] if _has_law(code) else real)
    of_food = [j for j in deciding if j.stage is not None]
    verdict = worst([j.outcome.verdict for j in deciding])
    if not of_food and verdict is not Verdict.NOT_MET:
        return _nothing(code)
    row = min(
        (j for j in deciding if j.outcome.verdict is verdict),
        key=lambda j: _WEIGHTIEST.index(j.requirement.weight),
    )
    requirement, head = row.requirement, code.head
    return UnderCode(
        id=head.id,
        title=head.title,
        edition=head.edition,
        place=head.place,
        verdict=verdict,
        weight=requirement.weight,
        requirement=requirement.id,
        row=requirement.title,
        stage="" if row.stage is None else row.stage.name.value,
        piece=row.piece,
        reason=row.outcome.reason,
        limit=row.outcome.limit,
        citation=citation_words(head, requirement),
        confirmed=requirement.confirmed,
        others=sum(j.outcome.verdict is verdict for j in deciding) - 1,
    )


def _dated(head: CodeHead, subject: Subject) -> str:
    """Say that a code was not in force on any day of a lot."""
    stages = [s for own in subject.stages.values() for s in own]
    if not stages:
        return ""
    first = subject.local.when(min(s.start for s in stages)).date()
    last = subject.local.when(max(s.end for s in stages)).date()
    if head.effective_to is not None and head.effective_to < first:
        return f"in force until {head.effective_to}"
    if head.effective_from is not None and head.effective_from > last:
        return f"in force from {head.effective_from}"
    return ""


def _has_law(code: Code) -> bool:
    return any(r.weight.binds for r in code.requirements)


def _nothing(code: Code) -> UnderCode:
    head = code.head
    return UnderCode(
        id=head.id,
        title=head.title,
        edition=head.edition,
        place=head.place,
        verdict=Verdict.NOT_APPLICABLE,
        reason="nothing in it speaks of this food",
    )
