"""Sizes, paragraph styles and tables of the paper: black on white, no meaning in a shade."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, TypeAlias

from reportlab.lib.colors import black, white
from reportlab.lib.enums import TA_CENTER
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Table, TableStyle

from tempwitness.report.pdf.fonts import BOLD, REGULAR, drawable, text_width
from tempwitness.report.wording import bound

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = [
    "BIG",
    "BIG_REVERSED",
    "BODY",
    "BODY_BOLD",
    "COUNT",
    "COUNT_NAME",
    "HEAD",
    "LEAD",
    "MARGIN",
    "PAPER",
    "RULED",
    "SMALL",
    "SMALL_BOLD",
    "SMALL_SIZE",
    "Cell",
    "box",
    "grid",
    "pairs",
    "title",
    "words",
]

#: What stands in a table: words, a drawing, or several one below the other.
Cell: TypeAlias = str | Flowable | list[Flowable]

PAPER = {"letter": LETTER, "a4": A4}
MARGIN = 45.0
SMALL_SIZE = 8.0
_PAD = 3.0
_TITLE_ROOM = 75.0
_LONG = 900

BODY = ParagraphStyle("body", fontName=REGULAR, fontSize=9.5, leading=12.5)
BODY_BOLD = ParagraphStyle("body bold", parent=BODY, fontName=BOLD)
SMALL = ParagraphStyle("small", parent=BODY, fontSize=SMALL_SIZE, leading=10)
SMALL_BOLD = ParagraphStyle("small bold", parent=SMALL, fontName=BOLD)
HEAD = ParagraphStyle("head", fontName=BOLD, fontSize=14, leading=18, spaceBefore=10, spaceAfter=4)
SUBHEAD = ParagraphStyle(
    "subhead", fontName=BOLD, fontSize=10.5, leading=14, spaceBefore=8, spaceAfter=3
)
BIG = ParagraphStyle("big", fontName=BOLD, fontSize=34, leading=42, alignment=TA_CENTER)
BIG_REVERSED = ParagraphStyle("big reversed", parent=BIG, textColor=white)
LEAD = ParagraphStyle("lead", fontName=BOLD, fontSize=12.5, leading=16, alignment=TA_CENTER)
COUNT = ParagraphStyle("count", fontName=BOLD, fontSize=16, leading=18, alignment=TA_CENTER)
COUNT_NAME = ParagraphStyle("count name", parent=SMALL, alignment=TA_CENTER)


def words(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """Set a text as a paragraph; whatever looks like markup in it is printed as it stands."""
    return Paragraph(escape(bound(drawable(text)), quote=False), style)


def title(text: str) -> list[Flowable]:
    """Set the title of a part, never alone at the foot of a page."""
    return [CondPageBreak(_TITLE_ROOM), words(text, SUBHEAD)]


def grid(head: Sequence[str], rows: Sequence[Sequence[Cell]], widths: Sequence[float]) -> Table:
    """Set a ruled table in small type whose head is repeated on every page.

    Parameters
    ----------
    head : sequence of str
        Names of the columns.
    rows : sequence
        Cells; a text is wrapped within its column.
    widths : sequence of float
        Widths of the columns [pt].
    """
    top = [words(name, SMALL_BOLD) for name in head]
    body = [[_cell(c, w) for c, w in zip(row, widths, strict=True)] for row in rows]
    # A row is torn apart at the foot of a page only if it would not fit a page of its own.
    tall = any(_length(cell) > _LONG for row in rows for cell in row)
    table = Table([top, *body], colWidths=list(widths), repeatRows=1, splitInRow=int(tall))
    table.setStyle(TableStyle([("LINEBELOW", (0, 0), (-1, 0), 1.6, black)], parent=RULED))
    return table


def pairs(rows: Sequence[tuple[str, str | Flowable]], widths: tuple[float, float]) -> Table:
    """Set names and values side by side; a pair without a value is left out."""
    body = [
        [words(name, BODY_BOLD), words(value) if isinstance(value, str) else value]
        for name, value in rows
        if value
    ]
    table = Table(body or [["", ""]], colWidths=list(widths), splitInRow=1)
    table.setStyle(_TIGHT)
    return table


def box(parts: list[Flowable], width: float, *, line: float, reverse: bool = False) -> Table:
    """Put a frame around parts, white on black if `reverse`; `line` is its thickness [pt]."""
    table = Table([[part] for part in parts], colWidths=[width], splitInRow=1)
    table.setStyle(
        TableStyle(
            [
                ("BOX", (0, 0), (-1, -1), line, black),
                ("BACKGROUND", (0, 0), (-1, 0), black if reverse else white),
                ("LEFTPADDING", (0, 0), (-1, -1), 10),
                ("RIGHTPADDING", (0, 0), (-1, -1), 10),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 7),
            ]
        )
    )
    return table


_TIGHT = TableStyle(
    [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 1),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
    ]
)

RULED = TableStyle(
    [
        ("GRID", (0, 0), (-1, -1), 0.4, black),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("FONT", (0, 0), (-1, -1), REGULAR, SMALL_SIZE, 10),
        ("LEFTPADDING", (0, 0), (-1, -1), _PAD),
        ("RIGHTPADDING", (0, 0), (-1, -1), _PAD),
        ("TOPPADDING", (0, 0), (-1, -1), 2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
    ]
)


def _length(content: Cell) -> int:
    return len(content) if isinstance(content, str) else len(getattr(content, "text", ""))


def _cell(content: Cell, width: float) -> Cell:
    """Leave a short text to the table, which is much faster than a paragraph."""
    if not isinstance(content, str):
        return content
    line = drawable(content)
    if text_width(line, SMALL_SIZE) <= width - 2 * _PAD - 0.5:
        return line
    return Paragraph(escape(bound(line), quote=False), SMALL)
