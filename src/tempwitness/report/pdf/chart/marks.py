"""Signs that stay apart in black and white: dashes, markers, hatching."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from reportlab.graphics.shapes import Circle, Line, Polygon, Rect, Shape, String
from reportlab.lib.colors import Color, black, white

from tempwitness.report.pdf.fonts import REGULAR, fitted, text_width
from tempwitness.report.pdf.styles import SMALL_SIZE

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["GREY", "dash_of", "doubted_sign", "hatched", "label", "marker", "plate", "rectangle"]

GREY = Color(0.6, 0.6, 0.6)
_SIZE = 3.2

Anchor = Literal["start", "middle", "end"]

_DASHES: tuple[Sequence[float], ...] = (
    (),
    [6, 2],
    [2, 2],
    [9, 2, 2, 2],
    [1, 2.5],
    [12, 4],
    [5, 2, 1, 2, 1, 2],
    [3, 5],
)

_OUTLINES: tuple[Sequence[tuple[float, float]], ...] = (
    (),
    ((-1, -1), (1, -1), (1, 1), (-1, 1)),
    ((-1, -1), (1, -1), (0, 1)),
    ((0, -1.2), (1.2, 0), (0, 1.2), (-1.2, 0)),
    ((-1, 1), (1, 1), (0, -1)),
)


def dash_of(place: int) -> Sequence[float]:
    """Return the dashes of the piece at a place in the lot; none for an unbroken line."""
    return _DASHES[place % len(_DASHES)]


def marker(place: int, x: float, y: float) -> Shape:
    """Return the marker of the piece at a place in the lot, filled for every other round."""
    shape, rounds = place % len(_OUTLINES), place // len(_OUTLINES)
    fill = white if rounds % 2 else black
    if shape == 0:
        return Circle(x, y, _SIZE * 0.8, fillColor=fill, strokeColor=black, strokeWidth=0.7)
    corners = [z for dx, dy in _OUTLINES[shape] for z in (x + dx * _SIZE, y + dy * _SIZE)]
    return Polygon(corners, fillColor=fill, strokeColor=black, strokeWidth=0.7)


def rectangle(edges: tuple[float, float, float, float], *, fill: Color | None, line: float) -> Rect:
    """Return a framed rectangle from left, bottom, width and height [pt]."""
    shape = Rect(*edges)
    shape.fillColor, shape.strokeColor, shape.strokeWidth = fill, black, line
    return shape


def doubted_sign(x: float, y: float) -> list[Shape]:
    """Return the hollow crossed circle of a reading that does not decide."""
    arm = _SIZE * 0.75
    return [
        Circle(x, y, _SIZE, fillColor=white, strokeColor=black, strokeWidth=0.8),
        Line(x - arm, y - arm, x + arm, y + arm, strokeColor=black, strokeWidth=0.8),
        Line(x - arm, y + arm, x + arm, y - arm, strokeColor=black, strokeWidth=0.8),
    ]


def hatched(left: float, bottom: float, width: float, height: float) -> list[Shape]:
    """Return slanted lines that fill a rectangle, and its two sides."""
    lines: list[Shape] = []
    step, offset = 6.0, -height
    while offset < width:
        # The line x - left = offset + (y - bottom), cut to the rectangle.
        first, last = max(0.0, offset), min(width, offset + height)
        if last > first:
            lines.append(
                _thin(left + first, bottom + first - offset, left + last, bottom + last - offset)
            )
        offset += step
    lines += [_thin(side, bottom, side, bottom + height) for side in (left, left + width)]
    return lines


def plate(x: float, y: float, text: str, *, room: float) -> list[Shape]:
    """Return words on a white ground, legible over lines and hatching."""
    words = label(x, y, text, room=room)
    ground = Rect(x - 1, y - 2, text_width(words.text, SMALL_SIZE) + 2, SMALL_SIZE + 1.5)
    ground.fillColor, ground.strokeColor = white, None
    return [ground, words] if words.text else []


def _thin(x1: float, y1: float, x2: float, y2: float) -> Line:
    return Line(x1, y1, x2, y2, strokeColor=black, strokeWidth=0.25)


def label(x: float, y: float, text: str, *, room: float, anchor: Anchor = "start") -> String:
    """Return words in small type, shortened to the room that they have [pt]."""
    line = fitted(text, room, SMALL_SIZE)
    return String(x, y, line, fontName=REGULAR, fontSize=SMALL_SIZE, textAnchor=anchor)
