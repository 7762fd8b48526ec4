"""The parts of an evaluation that speak of the record as a whole."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.figures import duration_words
from tempwitness.model.finding import (
    Action,
    ChangeMade,
    CodeUsed,
    CorrectionMade,
    DoubtfulReading,
    Finding,
    LotSummary,
    Reference,
    SourceFile,
    StageSummary,
)
from tempwitness.model.vocabulary import Decided, Flag, Verdict
from tempwitness.rulebook.sources import citation

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.evaluate.subject import Subject
    from tempwitness.model.logs import Channel, Correction, Doubt, Stage
    from tempwitness.model.rule import Code

__all__ = [
    "changes_made",
    "code_used",
    "corrections",
    "do_now",
    "doubts",
    "headline",
    "lot_summary",
    "monitoring",
    "references",
    "sources",
    "stage_summaries",
]

_URGENT = (Verdict.NOT_MET, Verdict.NOT_SHOWN, Verdict.OPEN, Verdict.NEEDS_LIMIT)


def lot_summary(subject: Subject) -> LotSummary:
    """Return the head of every output."""
    raw = subject.log.raw
    food = raw.lot.food
    forms = sorted(f.value for f in food.forms) if food.forms is not None else []
    moments = [float(c.at[i]) for c in raw.channels if len(c) for i in (0, -1)]
    moments += [n.at for n in raw.notes]
    iso = subject.local.iso
    return LotSummary(
        id=raw.lot.id,
        food=food.name,
        species=food.species.value,
        form=", ".join(forms),
        weight="" if food.weight is None else str(food.weight),
        pieces=tuple(p.id for p in raw.lot.pieces),
        zone=raw.lot.zone,
        event=raw.lot.event,
        business=raw.lot.business or "",
        cook=raw.lot.cook,
        first_entry=iso(min(moments)) if moments else None,
        last_entry=iso(max(moments)) if moments else None,
    )


def code_used(code: Code) -> CodeUsed:
    """Return a code's identity."""
    head = code.head
    return CodeUsed(head.id, head.title, head.edition, head.authority, code.sha256, head.unit)


def headline(verdict: Verdict, findings: tuple[Finding, ...], subject: Subject) -> str:
    """Give the answer in one sentence, with the finding that decides.

    Where nobody noted what was done with a piece, a second sentence says so: the answer then
    hangs on stages that were read from the trace.
    """
    if not findings:
        return "Nothing in this record could be judged under this code."
    if verdict not in {f.verdict for f in findings}:
        return "Nothing of the food in this record could be judged under this code."
    guessed = [p for p, stages in subject.stages.items() if stages and not _any_noted(stages)]
    inferred = ""
    if guessed:
        inferred = " Nobody noted the stages; they were read from the trace."
    if verdict is Verdict.MET:
        if len(findings) == 1:
            return f"The one requirement that applies is shown to be met.{inferred}"
        return f"All {len(findings)} findings under this code are shown to be met.{inferred}"
    return f"{_deciding(verdict, findings, len(subject.log.raw.lot.pieces))}.{inferred}"


def _any_noted(stages: Iterable[Stage]) -> bool:
    return any(s.decided is Decided.NOTED for s in stages)


def _deciding(verdict: Verdict, findings: tuple[Finding, ...], pieces: int) -> str:
    deciding = [f for f in findings if f.verdict is verdict]
    first = deciding[0]
    where = first.stage.replace("_", " ") or "the lot"
    piece = f", piece {first.piece}" if pieces > 1 and first.piece else ""
    more = len(deciding) - 1
    rest = f" ({more} more below)" if more else ""
    return f"{first.title} ({where}{piece}): {first.reason}{rest}"


def do_now(findings: tuple[Finding, ...], pieces: int) -> tuple[Action, ...]:
    """Return the actions of the binding findings, each once, the most urgent first.

    Where an action concerns some pieces of several only, it names them.
    """
    ordered = sorted(
        (f for f in findings if f.action is not None and f.verdict in _URGENT),
        key=lambda f: (_URGENT.index(f.verdict), (f.action and f.action.by) or "9"),
    )
    concerned: dict[Action, list[str]] = {}
    for found in ordered:
        if found.action is not None:
            names = concerned.setdefault(found.action, [])
            if found.piece and found.piece not in names:
                names.append(found.piece)
    return tuple(_for_pieces(action, names, pieces) for action, names in concerned.items())


def _for_pieces(action: Action, names: list[str], pieces: int) -> Action:
    if not names or len(names) == pieces:
        return action
    which = "Piece" if len(names) == 1 else "Pieces"
    return replace(action, do=f"{which} {', '.join(names)}: {action.do}")


def stage_summaries(subject: Subject) -> tuple[StageSummary, ...]:
    """Return all stages with how each was decided."""
    iso = subject.local.iso
    return tuple(
        StageSummary(
            s.piece,
            s.number,
            s.name.value,
            iso(s.start),
            iso(s.end),
            s.closed,
            s.decided.value,
            s.reason,
            s.question,
        )
        for s in subject.log.stages
    )


def doubts(subject: Subject) -> tuple[DoubtfulReading, ...]:
    """Return the readings that were kept but do not decide."""
    qualified = subject.log.corrected.qualified
    return tuple(
        _doubtful(d, qualified.raw.channels[d.channel], subject)
        for d in qualified.doubts
        if d.flag is not Flag.NOT_EVALUATED
    )


def _doubtful(doubt: Doubt, channel: Channel, subject: Subject) -> DoubtfulReading:
    first, last = int(channel.line[doubt.first]), int(channel.line[doubt.last])
    return DoubtfulReading(
        source=channel.source,
        lines=str(first) if first == last else f"{first} to {last}",
        at=subject.local.iso(float(channel.at[doubt.first])),
        reading=channel.written(doubt.first) or "nothing",
        flag=Flag(doubt.flag).name.lower(),
        code=doubt.code,
        reason=doubt.reason,
    )


def corrections(subject: Subject) -> tuple[CorrectionMade, ...]:
    """Return what was added to readings of which probe, and why."""
    return tuple(_correction(c, subject) for c in subject.log.corrected.corrections)


def _correction(made: Correction, subject: Subject) -> CorrectionMade:
    iso = subject.local.iso
    added = f"{made.least:+.1f} °F"
    if made.least != made.most:
        added = f"{made.least:+.1f} to {made.most:+.1f} °F"
    return CorrectionMade(
        made.probe,
        iso(made.start) if np.isfinite(made.start) else None,
        iso(made.end) if np.isfinite(made.end) else None,
        added,
        made.reason,
    )


def sources(subject: Subject) -> tuple[SourceFile, ...]:
    """Return the files that were read."""
    return tuple(
        SourceFile(s.name, s.sha256, s.rows, s.understood) for s in subject.log.raw.sources
    )


def changes_made(subject: Subject) -> tuple[ChangeMade, ...]:
    """Return what in the files was not taken as it stands."""
    return tuple(
        ChangeMade(
            c.source,
            "" if not c.line else f"{c.line}-{c.line + c.rows - 1}" if c.rows > 1 else str(c.line),
            c.column,
            c.written,
            c.used,
            c.reason,
        )
        for c in subject.log.raw.changes
    )


def monitoring(subject: Subject) -> str:
    """Write the intervals over which the bracketing assumption is made, for the stages present."""
    names = sorted({s.name for s in subject.log.stages})
    return ", ".join(f"{n.words} {duration_words(subject.intervals[n])}" for n in names)


def references(findings: Iterable[Finding]) -> tuple[Reference, ...]:
    """Return the texts that the findings which apply name as their source."""
    keys = {
        key
        for found in findings
        if found.verdict is not Verdict.NOT_APPLICABLE
        for key in found.source.split(", ")
    }
    return tuple(Reference(key, citation(key)) for key in sorted(keys))
