"""What the answer rests on, as text: doubts, corrections, changes, questions, caution."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.wording import questions, stage_words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.finding import CorrectionMade, Evaluation, OverrideUsed
    from tempwitness.report.lines import Lines
    from tempwitness.report.localtime import LocalTime

__all__ = ["correction_words", "override_words", "put_record"]


def put_record(lines: Lines, evaluation: Evaluation, clock: LocalTime, *, full: bool) -> None:
    """Write all that stands behind the findings; `full` adds stages, probes and files."""
    _put_list(lines, "Could not be determined", evaluation.unsettled)
    doubts = (
        f"{clock.full(d.at)} {d.reading} ({d.source} {d.lines}): {d.flag}, {d.code}: {d.reason}"
        for d in evaluation.doubts
    )
    _put_list(lines, "Readings kept but doubted", doubts)
    corrections = (correction_words(c, clock) for c in evaluation.corrections)
    _put_list(lines, "Corrected readings", corrections)
    _put_list(lines, "Local changes to the code", map(override_words, evaluation.overrides))
    _put_list(lines, "To ask the authority or the cook", questions(evaluation))
    if full:
        _put_full(lines, evaluation, clock)
    _put_list(lines, "Assumptions", evaluation.assumptions)
    lines.blank()
    for sentence in evaluation.caution:
        lines.put(sentence)


def correction_words(correction: CorrectionMade, clock: LocalTime) -> str:
    """Say which readings of a probe were corrected, by how much and why."""
    since = f" from {clock.full(correction.start)}" if correction.start else ""
    until = f" until {clock.full(correction.end)}" if correction.end else ""
    probe = f"probe {correction.probe}" if correction.probe else "the unnamed probe"
    return f"{probe}{since}{until}: {correction.added} ({correction.reason})"


def override_words(override: OverrideUsed) -> str:
    """Say what a local change put in place of what, on whose word, and whether it holds."""
    holds = "in force" if override.in_force else "NOT in force"
    return (
        f"{override.requirement}: {override.by} in place of {override.replaced}; {holds}: "
        f"{override.reason}; {override.authority}, {override.citation} ({override.file})"
    )


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
        f"{p.accuracy or 'accuracy not stated'}; checks: {'; '.join(p.checks) or 'none on record'}"
        for p in evaluation.probes
    )
    _put_list(lines, "Probes", probes)
    files = (
        f"{s.name}: {s.rows} rows, sha256 {s.sha256}. {' '.join(s.understood)}"
        for s in evaluation.sources
    )
    _put_list(lines, "Files", files)


def _put_list(lines: Lines, heading: str, entries: Iterable[str]) -> None:
    found = tuple(entries)
    if not found:
        return
    lines.heading(heading)
    for entry in found:
        lines.put(entry, bullet="- ")
