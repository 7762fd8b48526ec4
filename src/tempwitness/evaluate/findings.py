"""Turn an outcome into a finding: moments into local time, readings into citations."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.criteria.case import reading_words
from tempwitness.evaluate.actions import action_for, rescue_for
from tempwitness.evaluate.doubt import doubt_words, guard_of
from tempwitness.evaluate.words import citation_words
from tempwitness.model.finding import (
    CitedReading,
    Evidence,
    Figure,
    Finding,
    SettlingReading,
    Unread,
)
from tempwitness.model.vocabulary import Verdict

if TYPE_CHECKING:
    from tempwitness.criteria.outcome import Cite, Outcome, Settling
    from tempwitness.evaluate.judge import Judged
    from tempwitness.evaluate.subject import Subject
    from tempwitness.model.finding import Strict
    from tempwitness.model.rule import Code

__all__ = ["finding"]

_NO_EVIDENCE = Evidence()
_NOT_APPLICABLE = Verdict.NOT_APPLICABLE


#: Findings of requirements that a lot as a whole rules out: the same for every such lot.
_RULED_OUT: dict[tuple[str, str, str, str, str], Finding] = {}


def finding(judged: Judged, subject: Subject, code: Code, strict: Strict | None = None) -> Finding:
    """Return the finding of one judged requirement, with its strict answer."""
    if judged.stage is not None or judged.by or judged.outcome.verdict is not _NOT_APPLICABLE:
        return _made(judged, subject, code, strict)
    requirement = judged.requirement
    # A local change may rewrite the limit and the section of a requirement of the same code.
    changed = (requirement.replaced, requirement.section)
    key = (code.sha256, requirement.id, *changed, judged.outcome.reason)
    known = _RULED_OUT.get(key)
    if known is None:
        known = _RULED_OUT[key] = _made(judged, subject, code)
    return known


def _made(judged: Judged, subject: Subject, code: Code, strict: Strict | None = None) -> Finding:
    requirement, outcome, stage = judged.requirement, judged.outcome, judged.stage
    applies = outcome.verdict is not _NOT_APPLICABLE
    iso = subject.local.iso
    return Finding(
        requirement=f"{code.head.id}#{requirement.id}",
        title=requirement.title,
        stage="" if stage is None else stage.name.value,
        stage_number=0 if stage is None else stage.number,
        stage_start=None if stage is None else iso(stage.start),
        stage_end=None if stage is None else iso(stage.end),
        piece=judged.piece,
        verdict=outcome.verdict,
        weight=requirement.weight,
        reason=_reason(judged),
        measured=outcome.measured,
        limit=outcome.limit,
        evidence=_evidence(outcome, subject) if applies else _NO_EVIDENCE,
        action=action_for(judged, subject),
        citation=citation_words(code.head, requirement),
        confirmed=requirement.confirmed,
        source=", ".join(requirement.source),
        settle=_settle(outcome.settle, outcome, subject),
        against=_settle(outcome.against, outcome, subject),
        allowance=outcome.allowance,
        replaces=requirement.replaced,
        deadline=None if outcome.deadline is None else iso(outcome.deadline),
        note=requirement.note,
        effect=requirement.effect,
        term=requirement.term,
        figures=tuple(Figure(f, c) for f, c in outcome.figures) if applies else (),
        strict=strict,
        clock=None if outcome.deadline is None else outcome.clock,
        rescue=rescue_for(judged, subject),
    )


def _reason(judged: Judged) -> str:
    return f"probe {judged.by}: {judged.outcome.reason}" if judged.by else judged.outcome.reason


def _settle(reading: Settling | None, outcome: Outcome, subject: Subject) -> SettlingReading | None:
    if reading is None or outcome.verdict is not Verdict.NOT_SHOWN:
        return None
    at = reading.at
    return SettlingReading(None if at is None else subject.local.iso(at), reading.what)


def _evidence(outcome: Outcome, subject: Subject) -> Evidence:
    iso = subject.local.iso
    guard = guard_of(outcome, subject)
    return Evidence(
        readings=tuple(_cited(c, subject) for c in outcome.cites),
        least_s=outcome.least,
        most_s=outcome.most,
        unread=tuple(Unread(iso(a), iso(b), why) for a, b, why in outcome.unread),
        inference=outcome.inference,
        doubt=doubt_words(guard),
        guard=guard,
    )


def _cited(cite: Cite, subject: Subject) -> CitedReading:
    trace, index = cite.trace, cite.index
    channel = subject.log.raw.channels[int(trace.channel[index])]
    row = int(trace.row[index])
    return CitedReading(
        at=subject.local.iso(float(trace.at[index])),
        reading=reading_words(trace, index),
        source=channel.source,
        line=int(channel.line[row]),
        probe=channel.probe_of(row),
    )
