"""What the answer rests on, as text: doubts, corrections, changes, questions, caution."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.brief import change_words, changes, check_words, understood, unsettled
from tempwitness.report.noted import done_words, events
from tempwitness.report.second import strict_told
from tempwitness.report.wording import questions, stage_words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.finding import CorrectionMade, Evaluation, NoteMade, OverrideUsed
    from tempwitness.report.lines import Lines
    from tempwitness.report.localtime import LocalTime

__all__ = ["put_record"]

_MOST_DOUBTS = 8


def put_record(lines: Lines, evaluation: Evaluation, clock: LocalTime, *, full: bool) -> None:
    """Write all that stands behind the findings; `full` adds stages, probes and files."""
    _put_list(lines, "Could not be determined", unsettled(evaluation))
    _put_doubts(lines, evaluation, clock, full=full)
    _put_changes(lines, evaluation, full=full)
    corrections = (
        _correction_words(c, clock) for c in evaluation.corrections if full or changes(c)
    )
    _put_list(lines, "Corrected readings", corrections)
    _put_overrides(lines, evaluation, full=full)
    _put_list(lines, "To ask the authority or the cook", questions(evaluation))
    noted = evaluation.notes if full else events(evaluation)
    _put_list(lines, "Noted", (_note_words(n, clock) for n in noted))
    if full:
        _put_full(lines, evaluation, clock)
    _put_list(lines, "Assumptions", evaluation.assumptions)
    told = strict_told(evaluation)
    _put_list(lines, "Strict answers", told if full else told[:1])
    lines.blank()
    for sentence in evaluation.caution:
        lines.put(sentence)


def _note_words(note: NoteMade, clock: LocalTime) -> str:
    piece = f", piece {note.piece}" if note.piece else ""
    return f"{clock.full(note.at)}{piece}: {done_words(note)}"


def _put_doubts(lines: Lines, evaluation: Evaluation, clock: LocalTime, *, full: bool) -> None:
    doubts = [
        f"{clock.full(d.at)} {d.reading} ({d.source} {d.lines}): {d.flag}, {d.code}: {d.reason}"
        for d in evaluation.doubts
    ]
    if not full and len(doubts) > _MOST_DOUBTS:
        more = len(doubts) - _MOST_DOUBTS
        doubts = [*doubts[:_MOST_DOUBTS], f"and {more} more (--full lists them)"]
    _put_list(lines, "Readings kept but doubted", doubts)


def _put_changes(lines: Lines, evaluation: Evaluation, *, full: bool) -> None:
    """Write what in the files was not taken as it stands; in short only how much."""
    count = len(evaluation.changes)
    if not full and count:
        _put_list(
            lines,
            "Changed or left out in the files",
            (f"{count} {'entry' if count == 1 else 'entries'} (--full lists them)",),
        )
        return
    _put_list(lines, "Changed or left out in the files", map(change_words, evaluation.changes))


def _correction_words(correction: CorrectionMade, clock: LocalTime) -> str:
    """Say which readings of a probe were corrected, by how much and why."""
    since = f" from {clock.full(correction.start)}" if correction.start else ""
    until = f" until {clock.full(correction.end)}" if correction.end else ""
    probe = f"probe {correction.probe}" if correction.probe else "the unnamed probe"
    return f"{probe}{since}{until}: {correction.added} ({correction.reason})"


def _override_words(override: OverrideUsed, titles: dict[str, str]) -> str:
    """Say what a local change put in place of what, on whose word, and whether it holds."""
    holds = "in force" if override.in_force else "NOT in force"
    name = titles.get(override.requirement, override.requirement)
    change = f"{override.by} in place of {override.replaced}" if override.replaced else "added"
    return (
        f"{name}: {change}; {holds}: {override.reason}; "
        f"{override.authority}, {override.citation} ({override.file})"
    )


def _put_overrides(lines: Lines, evaluation: Evaluation, *, full: bool) -> None:
    """Write the local changes; in short only those that touch this lot or do not hold."""
    titles = {f.requirement: f.title for f in (*evaluation.binding, *evaluation.advice)}
    shown = [
        _override_words(o, {} if full else titles)
        for o in evaluation.overrides
        if full or o.requirement in titles or not o.in_force
    ]
    more = len(evaluation.overrides) - len(shown)
    shown += [f"{more} more that do not touch this lot (--full lists them)"] if more else []
    _put_list(lines, "Local changes to the code", shown)


def _put_full(lines: Lines, evaluation: Evaluation, clock: LocalTime) -> None:
    stages = (
        f"{s.piece or 'all pieces'} {s.number}: {stage_words(s.name)}, "
        f"{clock.span(s.start, s.end)}{'' if s.closed else ' (not closed)'}, "
        f"{s.decided}: {s.reason}"
        for s in evaluation.stages
    )
    _put_list(lines, "Stages", stages)
    probes = (
        f"{p.id or 'unnamed'}: {p.kind or 'kind not named'}, "
        f"accuracy {p.accuracy or 'not stated'}; {p.resolution + '; ' if p.resolution else ''}"
        f"{p.remark + '; ' if p.remark else ''}checks: "
        f"{'; '.join(check_words(c, clock) for c in p.checks) or 'none on record'}"
        for p in evaluation.probes
    )
    _put_list(lines, "Probes", probes)
    files = (
        f"{s.name}: {s.rows} rows, sha256 {s.sha256}; {understood(s)}" for s in evaluation.sources
    )
    _put_list(lines, "Files", files)
    _put_list(lines, "References", (f"{r.key}: {r.text}" for r in evaluation.references))


def _put_list(lines: Lines, heading: str, entries: Iterable[str]) -> None:
    found = tuple(entries)
    if not found:
        return
    lines.heading(heading)
    for entry in found:
        lines.put(entry, bullet="- ")
