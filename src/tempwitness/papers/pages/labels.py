"""Labels on sheets of labels, or one a page, with a square code that says the same words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, time
from io import BytesIO
from typing import TYPE_CHECKING

from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import inch, mm

from tempwitness.errors import ReportError
from tempwitness.report.pdf.build import dated
from tempwitness.report.pdf.fonts import BOLD, REGULAR, drawable, fitted, register
from tempwitness.report.pdf.paper import Paper
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
_LEAST_FOR_CODE = 60.0


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
    "letter-2x5": Layout(LETTER, (4 * inch, 2 * inch), 2, 5, 0.156 * inch, 0.5 * inch, 0.188 * inch),
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
    code = high - 2 * _PAD if high - 2 * _PAD >= _LEAST_FOR_CODE else 0.0
    code = min(code, width * 0.36)
    if code:
        drawing = square_code(label.words, code)
        renderPDF.draw(drawing, canvas, x + width - _PAD - code, y + (high - code) / 2)
    room = width - 2 * _PAD - (code + _PAD if code else 0)
    _write(canvas, label, (x + _PAD, y + high - _PAD), room)


def _write(canvas: Canvas, label: Label, corner: tuple[float, float], room: float) -> None:
    x, at = corner
    for text, font, size in (
        (label.head, BOLD, _HEAD),
        *((t, BOLD if d else REGULAR, _DECIDES if d else _TEXT) for t, d in label.lines),
    ):
        # A line that decides is never cut: it becomes smaller, down to the least that is read.
        while size > _LEAST_SIZE and fitted(text, room, size, font)[-1:] == "…":
            size -= 0.25  # noqa: PLW2901 - the size that fits
        at -= size * _LEADING
        canvas.setFont(font, size)
        canvas.drawString(x, at, fitted(text, room, size, font))


_LEAST_SIZE = 8.0


def square_code(text: str, side: float) -> Drawing:
    """Return a QR code (ISO/IEC 18004) of a text, with the quiet room around it [pt]."""
    widget = QrCodeWidget(text, barLevel="M", barBorder=4)
    left, low, right, high = widget.getBounds()
    scale = side / max(right - left, high - low)
    drawing = Drawing(side, side, transform=[scale, 0, 0, scale, 0, 0])
    drawing.add(widget)
    return drawing
