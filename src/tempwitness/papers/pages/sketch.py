"""The sketch of the booth: a grid to scale, with what the event file places on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.lib.colors import Color, black, white
from reportlab.platypus import Flowable

from tempwitness.report.pdf.fonts import BOLD, REGULAR, fitted
from tempwitness.report.pdf.styles import SMALL_SIZE

if TYPE_CHECKING:
    from tempwitness.readers.event.shape import EventTable

__all__ = ["Sketch"]

_LINE = Color(0.6, 0.6, 0.6)
_MARGIN_SQUARES = 2.0
_LEAST = 20.0  # squares each way where the event file gives no measure
_PAD = 2.0


class Sketch(Flowable):
    """A grid of one foot or one metre a square, with booth and equipment.

    Parameters
    ----------
    event : EventTable
    width, height : float
        Room for it [pt].
    """

    def __init__(self, event: EventTable, width: float, height: float) -> None:
        super().__init__()
        self.event = event
        self.width = width
        self.height = height

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the room that it takes [pt]."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw grid, booth and equipment; the guests' side is below."""
        across, up = self._squares()
        side = min(self.width / across, (self.height - 14) / up)
        across, up = int(self.width / side), int((self.height - 14) / side)
        canvas = self.canv
        canvas.saveState()
        canvas.translate(0, 14)
        canvas.setStrokeColor(_LINE)
        canvas.setLineWidth(0.3)
        for i in range(across + 1):
            canvas.line(i * side, 0, i * side, up * side)
        for i in range(up + 1):
            canvas.line(0, i * side, across * side, i * side)
        canvas.setStrokeColor(black)
        canvas.translate(_MARGIN_SQUARES * side, _MARGIN_SQUARES * side)
        self._booth(side)
        self._equipment(side)
        canvas.restoreState()
        unit = self.event.structure.unit
        canvas.setFont(REGULAR, SMALL_SIZE)
        canvas.drawString(0, 2, f"One square is 1 {unit}. The front, where guests stand, is below.")

    def _squares(self) -> tuple[float, float]:
        structure = self.event.structure
        placed = [u for u in self.event.equipment if u.corner and u.size]
        rights = [u.corner[0] + u.size[0] for u in placed if u.corner and u.size]
        tops = [u.corner[1] + u.size[1] for u in placed if u.corner and u.size]
        across = max([structure.width or _LEAST, *rights])
        up = max([structure.depth or _LEAST, *tops])
        return across + 2 * _MARGIN_SQUARES, up + 2 * _MARGIN_SQUARES

    def _booth(self, side: float) -> None:
        structure = self.event.structure
        if structure.width and structure.depth:
            self.canv.setLineWidth(1.8)
            self.canv.rect(0, 0, structure.width * side, structure.depth * side)
            self.canv.setFont(BOLD, SMALL_SIZE)
            measure = f"{structure.width:g} × {structure.depth:g} {structure.unit}"
            self.canv.drawString(2, structure.depth * side + 3, measure)

    def _equipment(self, side: float) -> None:
        for i, unit in enumerate(self.event.equipment, 1):
            if unit.corner is None or unit.size is None:
                continue
            x, y = unit.corner[0] * side, unit.corner[1] * side
            wide, high = unit.size[0] * side, unit.size[1] * side
            self.canv.setLineWidth(1.2)
            self.canv.setFillColor(white)
            self.canv.rect(x, y, wide, high, fill=1)
            self.canv.setFillColor(black)
            self._named(f"{i}", unit.name or unit.id, (x, y, wide, high))

    def _named(self, number: str, name: str, where: tuple[float, float, float, float]) -> None:
        """Write the number, and the name in as many lines as there is room for."""
        x, y, wide, high = where
        canvas = self.canv
        canvas.setFont(BOLD, SMALL_SIZE + 1)
        canvas.drawString(x + _PAD, y + high - SMALL_SIZE - 2, number)
        canvas.setFont(REGULAR, SMALL_SIZE)
        top = y + high - 2 * SMALL_SIZE - 4
        rest = name.split()
        while rest and top > y:
            line = rest.pop(0)
            while rest and fitted(f"{line} {rest[0]}", wide - 2 * _PAD, SMALL_SIZE)[-1:] != "…":
                line = f"{line} {rest.pop(0)}"
            canvas.drawString(x + _PAD, top, fitted(line, wide - 2 * _PAD, SMALL_SIZE))
            top -= SMALL_SIZE + 1
