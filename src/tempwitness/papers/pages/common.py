"""Tables and lines that several pages share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.lib.colors import black
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph, Spacer, Table, TableStyle

from tempwitness.readers.event.said import printed
from tempwitness.report.pdf.forms import SignLine
from tempwitness.report.pdf.styles import BODY, BODY_BOLD, RULED, SMALL, SMALL_BOLD, words

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tempwitness.model.base import Written


__all__ = [
    "BLANK",
    "answer_rows",
    "blank_grid",
    "facts",
    "said_or_blank",
    "signed",
    "spaced",
]

#: What stands where nothing was answered: a line to write on.
BLANK = "not answered: ______________________"
_ROW = 20.0

_FACTS = TableStyle(
    [
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, black),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 2),
        ("TOPPADDING", (0, 0), (-1, -1), 2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
    ]
)
_OPEN = ParagraphStyle("open", parent=SMALL, textColor=black)


def said_or_blank(text: str) -> str:
    """Return an answer, or a line to write it on."""
    return text or BLANK


def facts(rows: Iterable[tuple[str, str]], width: float, *, label: float = 0.3) -> Table:
    """Set labels and answers; a missing answer gets a line to write on."""
    body: list[list[Paragraph]] = [
        [words(name, BODY_BOLD), words(said_or_blank(text), BODY if text else _OPEN)]
        for name, text in rows
    ]
    table = Table(body, colWidths=[label * width, (1 - label) * width], splitInRow=1)
    table.setStyle(_FACTS)
    return table


def answer_rows(part: Written, *left_out: str) -> list[tuple[str, str]]:
    """Return label and answer of each key of a part; what nobody asks for is left out if empty."""
    rows = []
    for name, info in type(part).model_fields.items():
        text = printed(getattr(part, name))
        extra = info.json_schema_extra
        wanted = text or (isinstance(extra, dict) and extra.get("asked"))
        if name not in left_out and wanted:
            rows.append((info.title or name, text))
    return rows


def blank_grid(
    head: Sequence[str],
    widths: Sequence[float],
    *,
    rows: int = 0,
    filled: Sequence[Sequence[str | Flowable]] = (),
    high: float = _ROW,
) -> Table:
    """Set a table to be filled by hand, with empty rows or with rows begun already."""
    body: list[list[str | Flowable]] = [[words(name, SMALL_BOLD) for name in head]]
    body += [list(row) for row in (filled or [[""] * len(head)] * rows)]
    high_rows = [None, *[high] * (len(body) - 1)]
    table = Table(body, colWidths=list(widths), rowHeights=high_rows, repeatRows=1)
    table.setStyle(TableStyle([("LINEBELOW", (0, 0), (-1, 0), 1.6, black)], parent=RULED))
    return table


def signed(*labels: str) -> list[Flowable]:
    """Set lines to sign on, one for each label, with the date."""
    return [SignLine(label, "Date") for label in labels]


def spaced(*parts: Flowable, room: float = 6.0) -> list[Flowable]:
    """Put room between parts."""
    found: list[Flowable] = []
    for part in parts:
        found += [part, Spacer(1, room)]
    return found
