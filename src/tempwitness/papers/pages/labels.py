"""Labels on sheets of labels, or one a page, with a square code that says the same words."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time
from io import BytesIO
from typing import TYPE_CHECKING

from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import inch, mm

from tempwitness.errors import ReportError
from tempwitness.papers.labels import BY
from tempwitness.report.pdf.build import dated
from tempwitness.report.pdf.fonts import BOLD, REGULAR, drawable, register, text_width
from tempwitness.report.pdf.paper import Paper
from tempwitness.report.wording import BOUND
from tempwitness.version import VERSION

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reportlab.pdfgen.canvas import Canvas

    from tempwitness.papers.labels import Label
    from tempwitness.papers.plan import Plan

__all__ = ["LAYOUTS", "Layout", "square_code", "to_labels"]

_PAD = 6.0
_HEAD = 12.0
_TEXT = 8.5
_DECIDES = 10.5
_LEADING = 1.25
_LEAST_FOR_CODE = 80.0
_LEAST_SIZE = 8.0
_DAY = re.compile(r"[A-Z][a-z]{2} \d{1,2} [A-Z][a-z]{2}(?: \d{4})?")
_LARGEST, _SMALLEST = 170, 75  # percent of the sizes above


@dataclass(frozen=True, slots=True)
class Layout:
    """Where labels lie on a sheet [pt]; figures of common die-cut sheets, no source.

    Parameters
    ----------
    page, size : (float, float)
        Width and height of the sheet and of a label.
    across, down : int
    left, top : float
        Margins before the first label.
    gap : float
        Room between two labels beside each other.
    """

    page: tuple[float, float]
    size: tuple[float, float]
    across: int
    down: int
    left: float
    top: float
    gap: float


LAYOUTS = {
    "letter-2x5": Layout(
        LETTER, (4 * inch, 2 * inch), 2, 5, 0.156 * inch, 0.5 * inch, 0.188 * inch
    ),
    "letter-3x10": Layout(
        LETTER, (2.625 * inch, 1 * inch), 3, 10, 0.188 * inch, 0.5 * inch, 0.125 * inch
    ),
    "a4-2x7": Layout(A4, (99.1 * mm, 38.1 * mm), 2, 7, 4.65 * mm, 15.15 * mm, 2.5 * mm),
    "a4-2x4": Layout(A4, (99.1 * mm, 67.7 * mm), 2, 4, 4.65 * mm, 13.1 * mm, 2.5 * mm),
    "single": Layout((4 * inch, 2 * inch), (4 * inch, 2 * inch), 1, 1, 0.0, 0.0, 0.0),
}


def to_labels(
    labels: Sequence[Label], plan: Plan, *, layout: str, copies: int = 1, first: int = 1
) -> bytes:
    """Set labels on paper.

    Parameters
    ----------
    labels : sequence of Label
    plan : Plan
    layout : str
        A key of `LAYOUTS`.
    copies : int
        How many of each.
    first : int
        Which label of the first sheet is the first that is still there, from 1.

    Raises
    ------
    ReportError
        If there is no label, or the sheet has no such place.
    """
    if layout not in LAYOUTS:
        raise ReportError(f"the layout {layout!r} is not known", hint=f"known are {list(LAYOUTS)}")
    place = LAYOUTS[layout]
    a_sheet = place.across * place.down
    if not 1 <= first <= a_sheet:
        raise ReportError(f"a sheet has {a_sheet} labels, so the first cannot be number {first}")
    if not labels:
        raise ReportError(
            "no food of this event is kept cold under a date mark, or held by time",
            hint="labels are for ready-to-eat food that is kept cold, and for written time control",
        )
    register()
    target = BytesIO()
    noon = datetime.combine(plan.file.first_day, time(12), UTC)
    with dated(int(noon.timestamp())):
        canvas = Paper(target, pagesize=place.page, lang="en")
        canvas.setTitle(drawable(f"Labels: {plan.file.table.event.name}"))
        canvas.setAuthor("tempwitness")
        canvas.setCreator(f"tempwitness {VERSION}")
        every = [label for label in labels for _ in range(copies)]
        for i, label in enumerate(every, first - 1):
            if i % a_sheet == 0 and i:
                canvas.showPage()
            _draw(canvas, label, place, i % a_sheet)
        canvas.showPage()
        canvas.save()
    return target.getvalue()


def _draw(canvas: Canvas, label: Label, place: Layout, number: int) -> None:
    row, column = divmod(number, place.across)
    width, high = place.size
    x = place.left + column * (width + place.gap)
    y = place.page[1] - place.top - (row + 1) * high
    inner = high - 2 * _PAD
    code = min(inner, width * 0.36) if inner >= _LEAST_FOR_CODE else 0.0
    if code:
        drawing = square_code(label.words, code)
        renderPDF.draw(drawing, canvas, x + width - _PAD - code, y + (high - code) / 2)
    room = width - 2 * _PAD - (code + _PAD if code else 0)
    at = y + high - _PAD
    for text, font, size in _set(label, room, inner):
        at -= size * _LEADING
        canvas.setFont(font, size)
        canvas.drawString(x + _PAD, at + 0.25 * size, text)


def _set(label: Label, room: float, high: float) -> list[tuple[str, str, float]]:
    """Break the lines into a room, as large as they go; nothing is ever cut off.

    Raises
    ------
    ReportError
        If the words do not go in at the least size that is read.
    """
    short = replace(label, lines=tuple(line for line in label.lines if line[0] != BY))
    for said in (label, short):
        for percent in range(_LARGEST, _SMALLEST - 1, -5):
            found = [
                (line, font, size)
                for text, font, size in _sized(said, percent / 100)
                for line in _broken(text, font, size, room)
            ]
            if _goes_in(found, room, high):
                return found
    raise ReportError(
        f"the label of '{label.head}' does not go on so small a label without being cut",
        hint="choose a layout with larger labels, or a shorter name",
    )


def _goes_in(lines: list[tuple[str, str, float]], room: float, high: float) -> bool:
    wide = all(text_width(text, size, font) <= room for text, font, size in lines)
    return wide and sum(size * _LEADING for *_, size in lines) <= high


def _sized(label: Label, scale: float) -> list[tuple[str, str, float]]:
    lines = [(label.head, BOLD, _HEAD)]
    lines += [(t, BOLD if d else REGULAR, _DECIDES if d else _TEXT) for t, d in label.lines]
    return [(drawable(t), font, max(_LEAST_SIZE, size * scale)) for t, font, size in lines]


def _broken(text: str, font: str, size: float, room: float) -> list[str]:
    lines: list[str] = []
    # A day is never torn apart.
    for word in _DAY.sub(lambda day: day[0].replace(" ", BOUND), text).split(" "):
        if lines and text_width(f"{lines[-1]} {word}", size, font) <= room:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return lines


def square_code(text: str, side: float) -> Drawing:
    """Return a QR code (ISO/IEC 18004) of a text, with the quiet room around it [pt]."""
    widget = QrCodeWidget(text, barLevel="M", barBorder=4)
    left, low, right, high = widget.getBounds()
    scale = side / max(right - left, high - low)
    drawing = Drawing(side, side, transform=[scale, 0, 0, scale, 0, 0])
    drawing.add(widget)
    return drawing
