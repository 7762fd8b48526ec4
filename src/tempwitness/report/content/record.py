"""What the answer rests on: stages, probes, corrections, changes, assumptions, files."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.brief import change_where, changes, check_words, understood, unsettled
from tempwitness.report.content.parts import Part, Sentences, Table
from tempwitness.report.noted import done_words, events
from tempwitness.report.second import strict_told
from tempwitness.report.wording import code_line, questions, stage_words

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.report.localtime import LocalTime

__all__ = ["doubts", "record_parts"]

# More would bury the rest of the report.
_MOST_CHANGES = 200


def record_parts(evaluation: Evaluation, clock: LocalTime) -> list[Part]:
    """Return everything behind the findings except the readings; what is empty is left out."""
    parts: tuple[Part, ...] = (
        Sentences("Codes judged beside", tuple(map(code_line, evaluation.beside))),
        Sentences("Could not be determined", unsettled(evaluation)),
        Sentences("To ask the authority or the cook", questions(evaluation)),
        _stages(evaluation, clock),
        _notes(evaluation, clock),
        _probes(evaluation, clock),
        _corrections(evaluation, clock),
        _changes_made(evaluation),
        _overrides(evaluation),
        Sentences("Assumptions", evaluation.assumptions),
        Sentences("Strict answers", strict_told(evaluation)),
        _sources(evaluation),
        _references(evaluation),
    )
    return [p for p in parts if (p.rows if isinstance(p, Table) else p.lines)]


def doubts(evaluation: Evaluation, clock: LocalTime) -> Table:
    """Return the readings that were kept but must not decide."""
    rows = [
        (clock.full(d.at), d.reading, f"{d.source} {d.lines}", f"{d.flag}, {d.code}", d.reason)
        for d in evaluation.doubts
    ]
    head = ("When", "Reading", "File, line", "Flag, test", "Why")
    return Table("Readings that were kept but do not decide", head, tuple(rows))


def _stages(evaluation: Evaluation, clock: LocalTime) -> Table:
    rows = [
        (
            s.piece or "all",
            f"{s.number} {stage_words(s.name)}",
            clock.short(s.start),
            clock.short(s.end) + ("" if s.closed else ", not closed"),
            f"{s.decided}: {s.reason}",
        )
        for s in evaluation.stages
    ]
    head = ("Piece", "Stage", "From", "To", "How it was decided")
    return Table("Stages", head, tuple(rows))


def _notes(evaluation: Evaluation, clock: LocalTime) -> Table:
    rows = [
        (clock.full(n.at), n.piece or "all", done_words(n), f"{n.source}, line {n.line}")
        for n in events(evaluation)
    ]
    head = ("When", "Piece", "What was noted", "Where")
    return Table("Done and remarked, beside the stages", head, tuple(rows))


def _probes(evaluation: Evaluation, clock: LocalTime) -> Table:
    rows = [
        (
            p.id or "unnamed",
            p.kind or "not named",
            p.accuracy or "not stated",
            "; ".join(check_words(c, clock) for c in p.checks) or "no check on record",
        )
        for p in evaluation.probes
    ]
    head = ("Probe", "Kind", "Accuracy", "Checks")
    return Table("Probes and their checks", head, tuple(rows))


def _corrections(evaluation: Evaluation, clock: LocalTime) -> Table:
    rows = [
        (
            c.probe or "unnamed",
            clock.full(c.start, "the beginning"),
            clock.full(c.end, "the end"),
            c.added,
            c.reason,
        )
        for c in evaluation.corrections
        if changes(c)
    ]
    head = ("Probe", "From", "Until", "Added", "Why")
    return Table("Corrections", head, tuple(rows))


def _changes_made(evaluation: Evaluation) -> Table:
    found = evaluation.changes
    rows = [
        (change_where(c), c.written or "the row", c.used or "left out", c.reason)
        for c in found[:_MOST_CHANGES]
    ]
    if len(found) > _MOST_CHANGES:
        more = f"and {len(found) - _MOST_CHANGES} more, all of which stand in the JSON document"
        rows.append((more, "", "", ""))
    head = ("File, line, column", "Written", "Taken as", "Why")
    return Table("Changed or left out when the files were read", head, tuple(rows))


def _overrides(evaluation: Evaluation) -> Table:
    titles = {finding.requirement: finding.title for finding in evaluation.findings}
    rows = [
        (
            f"{titles[o.requirement]} [{o.requirement}]"
            if o.requirement in titles
            else o.requirement,
            o.replaced or "nothing of the kind",
            o.by,
            f"{'in force' if o.in_force else 'NOT in force'}: {o.reason}",
            f"{o.authority}, {o.citation}; {o.file}",
        )
        for o in evaluation.overrides
    ]
    head = ("Requirement", "The code says", "The local change says", "Whether it holds", "Whose")
    return Table("Local changes to the code", head, tuple(rows))


def _sources(evaluation: Evaluation) -> Table:
    rows = [(s.name, str(s.rows), understood(s), s.sha256) for s in evaluation.sources]
    rows += [
        ("code", "", code_line(code), code.sha256) for code in (evaluation.code, *evaluation.beside)
    ]
    changed = dict.fromkeys((o.file, o.sha256) for o in evaluation.overrides)
    rows += [(file, "", "local changes to the code", sha256) for file, sha256 in changed]
    head = ("File", "Rows", "How it was understood", "Fingerprint (SHA-256)")
    return Table("Files and their fingerprints", head, tuple(rows))


def _references(evaluation: Evaluation) -> Table:
    rows = [(reference.key, reference.text) for reference in evaluation.references]
    return Table("References", ("Short name", "Text, and how it was read"), tuple(rows))
