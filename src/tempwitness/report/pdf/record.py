"""What the answer rests on: stages, probes, corrections, changes, assumptions, files."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from tempwitness.report.content.parts import Table
from tempwitness.report.content.record import doubts, record_parts
from tempwitness.report.pdf.forms import SignLine
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY, BODY_BOLD, grid, title, words

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.report.localtime import LocalTime

__all__ = ["doubts_table", "record_pages", "signatures"]

#: Widths of the columns [pt], 0 for what is left over; or shares of the whole.
_COLUMNS: dict[str, tuple[float, ...]] = {
    "Stages": (60, 80, 85, 110, 0),
    "Done and remarked, beside the stages": (110, 70, 0, 100),
    "Probes and their checks": (80, 90, 90, 0),
    "Corrections": (70, 110, 110, 70, 0),
    "Changed or left out when the files were read": (130, 90, 110, 0),
    "Local changes to the code": (0.24, 0.14, 0.14, 0.26, 0.22),
    "Files and their fingerprints": (100, 45, 0, 200),
    "References": (130, 0),
    "Readings that were kept but do not decide": (110, 65, 95, 75, 0),
}


def record_pages(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
    """Set everything behind the findings except the readings."""
    parts: list[Flowable] = [PageBreak(), Heading("What the answer rests on", "record")]
    for part in record_parts(evaluation, clock):
        parts += title(part.name)
        if isinstance(part, Table):
            parts.append(_grid(part, width))
        else:
            parts += [words(f"– {sentence}", BODY) for sentence in part.lines]
    return parts


def doubts_table(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
    """List the readings that were kept but must not decide."""
    table = doubts(evaluation, clock)
    return [*title(table.name), _grid(table, width)] if table.rows else []


def _grid(table: Table, width: float) -> Flowable:
    columns = _COLUMNS[table.name]
    if max(columns) < 1:
        widths = [share * width for share in columns]
    else:
        widths = [column or width - sum(columns) for column in columns]
    return grid(table.head, table.rows, widths)


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
