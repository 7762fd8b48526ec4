"""Papers of an event that are signed by hand: corrective actions, and what was discarded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from tempwitness.model.vocabulary import Event, Verdict
from tempwitness.report.brief import how_long
from tempwitness.report.content.account import to_explain
from tempwitness.report.groups import why
from tempwitness.report.localtime import LocalTime
from tempwitness.report.pdf.forms import SignLine, Tick
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY, BODY_BOLD, grid, title, words
from tempwitness.report.wording import BASIS, titled, verdict_word

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog
    from tempwitness.report.groups import Group

__all__ = ["discards", "statements"]

_EMPTY_ROWS = 4


def statements(evaluations: Sequence[Evaluation], width: float) -> list[Flowable]:
    """Set a statement to sign for every lot of which a requirement was broken."""
    broken = [e for e in evaluations if e.verdict is Verdict.NOT_MET]
    if not broken:
        return []
    parts: list[Flowable] = [PageBreak(), Heading("Corrective actions", "actions")]
    parts.append(
        words(
            "One statement for each lot of which a requirement was broken: what was found, what is "
            "to be done, and room to write what was done. It counts once it is signed.",
            BODY,
        )
    )
    for evaluation in broken:
        parts += _statement(evaluation, width)
    return parts


def _statement(evaluation: Evaluation, width: float) -> list[Flowable]:
    lot, clock = evaluation.lot, LocalTime(evaluation.lot.zone)
    groups = [g for g in to_explain(evaluation) if g.verdict is Verdict.NOT_MET]
    found = [words(f"– {_found(group, evaluation, clock)}", BODY) for group in groups]
    rows: list[list[str | Flowable]] = [
        [Tick(), clock.full(action.by, "now"), action.do, BASIS[action.basis]]
        for action in evaluation.do_now
    ]
    columns = (22.0, 105.0, width - 227.0, 100.0)
    told = [grid(("", "By", "What to do", "On whose word"), rows, columns)] if rows else []
    signed: list[Flowable] = [
        SignLine("What was done"),
        SignLine(""),
        SignLine("How it is kept from happening again"),
        SignLine("Done by", "Date and time"),
        SignLine("Seen by (person in charge)", "Date and time"),
        Spacer(1, 8),
    ]
    head = [*title(f"Lot {lot.id}: {lot.food}"), words("Found", BODY_BOLD)]
    # On one sheet, so that it can be handed over; one that is longer than a sheet is parted.
    return [KeepTogether([*head, *found, Spacer(1, 3), *told, *signed])]


def _found(group: Group, evaluation: Evaluation, clock: LocalTime) -> str:
    finding = group.first
    parts = [
        f"{verdict_word(group.verdict).lower()}: {titled(finding)}",
        f"{group.subject(len(evaluation.lot.pieces))}",
        clock.span(finding.stage_start, finding.stage_end),
        finding.measured or how_long(finding),
        f"limit: {finding.limit}" if finding.limit else "",
        "" if finding.measured else why(group.first),
        finding.citation,
    ]
    return "; ".join(part for part in parts if part)


def discards(lots: Sequence[tuple[Evaluation, StagedLog]], width: float) -> list[Flowable]:
    """Set the list of what was discarded, as noted, with room for what nobody wrote down."""
    rows = [row for evaluation, log in lots for row in _discarded(evaluation, log)]
    if not rows and all(e.verdict is Verdict.MET for e, _ in lots):
        return []
    empty = [("", "", "", "", "")] * _EMPTY_ROWS
    head = ("Lot, piece", "When", "Weight", "In the cook's words", "Why, by whom")
    columns = [share * width for share in (0.26, 0.2, 0.16, 0.2, 0.18)]
    return [
        PageBreak(),
        Heading("Discarded", "discards"),
        words(
            "What the records note as discarded. A weight is that of the whole piece as it was "
            "entered before cooking; strike it out and write the weighed one where less was thrown "
            "away.",
            BODY,
        ),
        Spacer(1, 4),
        grid(head, [*rows, *empty], columns),
        SignLine("Written by", "Date"),
    ]


def _discarded(evaluation: Evaluation, log: StagedLog) -> Iterator[tuple[str, str, str, str, str]]:
    clock = LocalTime(evaluation.lot.zone)
    pieces = log.raw.lot.pieces
    for note in evaluation.notes:
        if note.event != Event.DISCARDED.value:
            continue
        for piece in pieces:
            if note.piece in ("", piece.id):
                weight = "not on record" if piece.weight is None else str(piece.weight)
                name = evaluation.lot.id if len(pieces) == 1 else f"{evaluation.lot.id}, {piece.id}"
                yield name, clock.full(note.at), weight, note.text, ""
