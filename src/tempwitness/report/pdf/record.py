"""What the answer rests on: stages, probes, corrections, changes, assumptions, files."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from tempwitness.report.brief import change_where, changes, check_words, understood, unsettled
from tempwitness.report.noted import done_words, events
from tempwitness.report.pdf.forms import SignLine
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY, BODY_BOLD, grid, title, words
from tempwitness.report.second import strict_told
from tempwitness.report.wording import code_line, questions, stage_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tempwitness.model.finding import Evaluation
    from tempwitness.report.localtime import LocalTime

__all__ = ["doubts_table", "record_pages", "signatures"]

# More would bury the rest of the paper.
_MOST_CHANGES = 200


def record_pages(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
    """Set everything behind the findings except the readings."""
    parts: list[Flowable] = [PageBreak(), Heading("What the answer rests on", "record")]
    parts += _list("Codes judged beside", map(code_line, evaluation.beside))
    parts += _list("Could not be determined", unsettled(evaluation))
    parts += _list("To ask the authority or the cook", questions(evaluation))
    parts += _stages(evaluation, clock, width)
    parts += _notes(evaluation, clock, width)
    parts += _probes(evaluation, clock, width)
    parts += _corrections(evaluation, clock, width)
    parts += _changes_made(evaluation, width)
    parts += _overrides(evaluation, width)
    parts += _list("Assumptions", evaluation.assumptions)
    parts += _list("Strict answers", strict_told(evaluation))
    parts += _sources(evaluation, width)
    return parts + _references(evaluation, width)


def doubts_table(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
    """List the readings that were kept but must not decide."""
    if not evaluation.doubts:
        return []
    rows = [
        (clock.full(d.at), d.reading, f"{d.source} {d.lines}", f"{d.flag}, {d.code}", d.reason)
        for d in evaluation.doubts
    ]
    head = ("When", "Reading", "File, line", "Flag, test", "Why")
    columns = (110, 65, 95, 75, width - 345)
    return [*title("Readings that were kept but do not decide"), grid(head, rows, columns)]


def signatures(evaluation: Evaluation) -> list[Flowable]:
    """Set the deferral and the lines to sign."""
    caution = [words(sentence, BODY_BOLD) for sentence in evaluation.caution]
    return [
        KeepTogether(
            [
                *title("Signed"),
                *caution,
                Spacer(1, 6),
                SignLine("Prepared by", "Date"),
                SignLine("Reviewed by", "Date"),
                SignLine("Remarks of the authority"),
                SignLine(""),
            ]
        )
    ]


def _list(name: str, sentences: Iterable[str]) -> list[Flowable]:
    found = [words(f"– {sentence}", BODY) for sentence in sentences]
    return [*title(name), *found] if found else []


def _table(
    name: str, head: Sequence[str], rows: Sequence[tuple[str, ...]], columns: Sequence[float]
) -> list[Flowable]:
    return [*title(name), grid(head, rows, columns)] if rows else []


def _stages(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
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
    return _table("Stages", head, rows, (60, 80, 85, 110, width - 335))


def _notes(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
    rows = [
        (clock.full(n.at), n.piece or "all", done_words(n), f"{n.source}, line {n.line}")
        for n in events(evaluation)
    ]
    head = ("When", "Piece", "What was noted", "Where")
    return _table("Done and remarked, beside the stages", head, rows, (110, 70, width - 280, 100))


def _probes(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
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
    return _table("Probes and their checks", head, rows, (80, 90, 90, width - 260))


def _corrections(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
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
    return _table("Corrections", head, rows, (70, 110, 110, 70, width - 360))


def _changes_made(evaluation: Evaluation, width: float) -> list[Flowable]:
    found = evaluation.changes
    rows = [
        (change_where(c), c.written or "the row", c.used or "left out", c.reason)
        for c in found[:_MOST_CHANGES]
    ]
    if len(found) > _MOST_CHANGES:
        more = f"and {len(found) - _MOST_CHANGES} more, all of which stand in the JSON document"
        rows.append((more, "", "", ""))
    head = ("File, line, column", "Written", "Taken as", "Why")
    name = "Changed or left out when the files were read"
    return _table(name, head, rows, (130, 90, 110, width - 330))


def _overrides(evaluation: Evaluation, width: float) -> list[Flowable]:
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
    columns = [share * width for share in (0.24, 0.14, 0.14, 0.26, 0.22)]
    head = ("Requirement", "The code says", "The local change says", "Whether it holds", "Whose")
    return _table("Local changes to the code", head, rows, columns)


def _sources(evaluation: Evaluation, width: float) -> list[Flowable]:
    rows = [(s.name, str(s.rows), understood(s), s.sha256) for s in evaluation.sources]
    rows += [
        ("code", "", code_line(code), code.sha256) for code in (evaluation.code, *evaluation.beside)
    ]
    changed = dict.fromkeys((o.file, o.sha256) for o in evaluation.overrides)
    rows += [(file, "", "local changes to the code", sha256) for file, sha256 in changed]
    head = ("File", "Rows", "How it was understood", "Fingerprint (SHA-256)")
    return _table("Files and their fingerprints", head, rows, (100, 45, width - 345, 200))


def _references(evaluation: Evaluation, width: float) -> list[Flowable]:
    rows = [(reference.key, reference.text) for reference in evaluation.references]
    return _table(
        "References", ("Short name", "Text, and how it was read"), rows, (130, width - 130)
    )
