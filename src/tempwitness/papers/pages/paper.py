"""The sheets of a packet: upright and wide frames, head and foot, parts with their page numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.lib.pagesizes import landscape
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
)

from tempwitness.report.pdf.fonts import BOLD, REGULAR, drawable, fitted, text_width
from tempwitness.report.pdf.paper import TOTAL, Heading
from tempwitness.report.pdf.styles import MARGIN, PAPER, SMALL_SIZE

if TYPE_CHECKING:
    from io import BytesIO

    from reportlab.pdfgen.canvas import Canvas

__all__ = ["Desk", "PacketSheets", "Part"]

_HEAD_ROOM = 20.0
_FOOT_ROOM = 26.0
_PREVAILS = (
    "Own layout, fit for any county. The county's own form prevails; the local health authority "
    "decides."
)


class Part(Heading):
    """A heading that remembers on which page it came to stand."""

    def __init__(self, text: str, key: str, pages: dict[str, int], level: int = 0) -> None:
        super().__init__(text, key, level)
        self._pages = pages

    def draw(self) -> None:
        """Draw it and note its page."""
        self._pages[self.key] = self.canv.getPageNumber()
        super().draw()


class Desk:
    """What every page is made on: room, and the parts of the packet as they come.

    Parameters
    ----------
    paper : {"letter", "a4"}
    pages : dict of str to int
        Pages of the parts, as an earlier making of the packet found them.
    """

    def __init__(self, paper: str, pages: dict[str, int]) -> None:
        width, height = PAPER[paper]
        self.width = width - 2 * MARGIN
        self.height = height - 2 * MARGIN - _HEAD_ROOM - _FOOT_ROOM
        self.wide = height - 2 * MARGIN
        self.low = width - 2 * MARGIN - _HEAD_ROOM - _FOOT_ROOM
        self.pages = pages
        self.parts: list[tuple[str, str]] = []
        self.found: dict[str, int] = {}

    def part(self, text: str, key: str, *, wide: bool = False, head: str = "") -> list[Flowable]:
        """Begin a part on a new page, upright or wide, under a heading of its own if it has one."""
        self.parts.append((key, text))
        turn = NextPageTemplate("wide" if wide else "upright")
        return [turn, PageBreak(), Part(head or text, key, self.found)]

    def further(self, text: str, key: str, *, wide: bool = False) -> list[Flowable]:
        """Begin a page of the same part that has a bookmark of its own."""
        turn = NextPageTemplate("wide" if wide else "upright")
        return [turn, PageBreak(), Part(text, key, self.found, level=1)]


class PacketSheets(BaseDocTemplate):
    """The document, with event and vendor at the head of every page and the caution at its foot."""

    def __init__(
        self, target: BytesIO, paper: str, *, title: str, head: str, tool: str, mark: str
    ) -> None:
        super().__init__(
            target,
            pagesize=PAPER[paper],
            leftMargin=MARGIN,
            rightMargin=MARGIN,
            topMargin=MARGIN,
            bottomMargin=MARGIN,
            title=drawable(title),
            author="tempwitness",
            subject="Food safety packet for a temporary event or a catered one",
            creator=drawable(tool),
            lang="en",
        )
        self._words = (head, f"{tool}; event file {mark}")
        for name, size in (("upright", PAPER[paper]), ("wide", landscape(PAPER[paper]))):
            frame = Frame(
                MARGIN,
                MARGIN + _FOOT_ROOM,
                size[0] - 2 * MARGIN,
                size[1] - 2 * MARGIN - _HEAD_ROOM - _FOOT_ROOM,
                leftPadding=0,
                rightPadding=0,
                topPadding=0,
                bottomPadding=0,
                id=name,
            )
            self.addPageTemplates(
                PageTemplate(name, [frame], onPage=self._draw_edges, pagesize=size)
            )

    def _draw_edges(self, canvas: Canvas, _: BaseDocTemplate) -> None:
        head, tool = self._words
        width, height = self.pageTemplate.pagesize
        right, top = width - MARGIN, height - MARGIN
        canvas.saveState()
        canvas.setLineWidth(0.6)
        canvas.line(MARGIN, top - 12, right, top - 12)
        canvas.line(MARGIN, MARGIN + 20, right, MARGIN + 20)
        canvas.setFont(BOLD, SMALL_SIZE)
        room = width - 2 * MARGIN
        canvas.drawString(MARGIN, top - 8, fitted(head, room - 90, SMALL_SIZE, BOLD))
        canvas.setFont(REGULAR, SMALL_SIZE)
        total = right - text_width("0000", SMALL_SIZE)
        canvas.drawRightString(total, top - 8, f"page {canvas.getPageNumber()} of ")
        canvas.translate(total, top - 8)
        canvas.doForm(TOTAL)
        canvas.translate(-total, 8 - top)
        canvas.drawString(MARGIN, MARGIN + 10, _PREVAILS)
        canvas.drawString(MARGIN, MARGIN, fitted(tool, room, SMALL_SIZE))
        canvas.restoreState()
