"""Boxes to tick and lines to sign."""

from __future__ import annotations

from reportlab.platypus import Flowable

from tempwitness.report.pdf.fonts import REGULAR, text_width
from tempwitness.report.pdf.styles import SMALL_SIZE

__all__ = ["SignLine", "Tick"]


class Tick(Flowable):
    """An empty box to tick by hand."""

    side = 9.0

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the room that it takes [pt]."""
        return self.side, self.side

    def draw(self) -> None:
        """Draw it."""
        self.canv.setLineWidth(1)
        self.canv.rect(0, -2, self.side, self.side)


class SignLine(Flowable):
    """Words with a line to write on behind each.

    Parameters
    ----------
    labels : str
        What each line is for.
    """

    room = 24.0

    def __init__(self, *labels: str) -> None:
        super().__init__()
        self.labels = labels
        self.width = 0.0

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """Return the room that it takes [pt]."""
        self.width = width
        return width, self.room

    def draw(self) -> None:
        """Draw it."""
        share = self.width / len(self.labels)
        self.canv.setFont(REGULAR, SMALL_SIZE + 1)
        self.canv.setLineWidth(0.6)
        for place, label in enumerate(self.labels):
            left = place * share
            self.canv.drawString(left, 4, label)
            after = left + text_width(label, SMALL_SIZE + 1) + 3
            self.canv.line(after, 2, left + share - 8, 2)
