"""The sheets: frames, head and foot of every page, bookmarks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Paragraph

from tempwitness.report.pdf.fonts import BOLD, REGULAR, drawable, fitted, text_width
from tempwitness.report.pdf.styles import HEAD, MARGIN, PAPER, SMALL_SIZE, words

if TYPE_CHECKING:
    from io import BytesIO

    from tempwitness.model.finding import Evaluation

__all__ = ["TOTAL", "Heading", "Paper", "Sheets"]

_HEAD_ROOM = 20.0
_FOOT_ROOM = 16.0
TOTAL = "pagesInAll"


class Heading(Flowable):
    """A heading that the list of bookmarks leads to."""

    def __init__(self, text: str, key: str, level: int = 0) -> None:
        super().__init__()
        self.text = text
        self.key = key
        self.level = level
        self._set: Paragraph = words(text, HEAD)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the room that the heading takes [pt]."""
        return self._set.wrap(width, height)

    def getSpaceBefore(self) -> float:  # noqa: N802 - reportlab's name
        """Return the room above it [pt]."""
        return float(HEAD.spaceBefore)

    def getSpaceAfter(self) -> float:  # noqa: N802 - reportlab's name
        """Return the room below it [pt]."""
        return float(HEAD.spaceAfter)

    def draw(self) -> None:
        """Draw it and note the place."""
        self.canv.bookmarkPage(self.key)
        self.canv.addOutlineEntry(drawable(self.text), self.key, self.level, closed=False)
        self._set.drawOn(self.canv, 0, 0)


class Paper(Canvas):
    """A canvas that knows at the end how many pages there are, and then fills the number in."""

    def save(self) -> None:
        """Write the number of pages where every page refers to it, and finish."""
        self.beginForm(TOTAL)
        self.setFont(REGULAR, SMALL_SIZE)
        self.drawString(0, 0, str(self.getPageNumber() - 1))
        self.endForm()
        super().save()


class Sheets(BaseDocTemplate):
    """The document, with the lot at the head of every page and the program at its foot."""

    def __init__(self, target: BytesIO, evaluation: Evaluation, paper: str) -> None:
        lot = evaluation.lot
        super().__init__(
            target,
            pagesize=PAPER[paper],
            leftMargin=MARGIN,
            rightMargin=MARGIN,
            topMargin=MARGIN,
            bottomMargin=MARGIN,
            title=drawable(f"Lot {lot.id}: {lot.food}"),
            author="tempwitness",
            subject=drawable(f"Holding and cooling checked against {evaluation.code.title}"),
            creator=drawable(evaluation.tool),
            lang="en",
        )
        self._names = (f"Lot {lot.id} – {lot.food}", evaluation.tool, evaluation.code.id)
        frame = Frame(
            MARGIN,
            MARGIN + _FOOT_ROOM,
            self.width,
            self.height - _HEAD_ROOM - _FOOT_ROOM,
            leftPadding=0,
            rightPadding=0,
            topPadding=0,
            bottomPadding=0,
        )
        self.addPageTemplates(PageTemplate("sheet", [frame], onPage=self._draw_edges))

    def _draw_edges(self, canvas: Canvas, _: BaseDocTemplate) -> None:
        lot, tool, code = self._names
        width, height = self.pagesize
        right, top = width - MARGIN, height - MARGIN
        canvas.saveState()
        canvas.setLineWidth(0.6)
        canvas.line(MARGIN, top - 12, right, top - 12)
        canvas.line(MARGIN, MARGIN + 10, right, MARGIN + 10)
        canvas.setFont(BOLD, SMALL_SIZE)
        canvas.drawString(MARGIN, top - 8, fitted(lot, self.width - 90, SMALL_SIZE, BOLD))
        canvas.setFont(REGULAR, SMALL_SIZE)
        total = right - text_width("0000", SMALL_SIZE)
        canvas.drawRightString(total, top - 8, f"page {canvas.getPageNumber()} of ")
        canvas.translate(total, top - 8)
        canvas.doForm(TOTAL)
        canvas.translate(-total, 8 - top)
        canvas.drawString(MARGIN, MARGIN, fitted(tool, self.width / 2, SMALL_SIZE))
        canvas.drawRightString(right, MARGIN, fitted(code, self.width / 2 - 10, SMALL_SIZE))
        canvas.restoreState()
