"""Shapes of the drawing, in a few letters each; strokes and fills stand in the style sheet."""

from __future__ import annotations

import unicodedata
from html import escape
from typing import TYPE_CHECKING

from tempwitness.report.html.markup import Markup, element
from tempwitness.report.wording import plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = [
    "DASHES",
    "LETTER",
    "Point",
    "bare",
    "circle",
    "doubted",
    "hatching",
    "label",
    "line",
    "marker",
    "plate",
    "polyline",
    "rectangle",
    "wide",
]

Point = tuple[float, float]

#: Height of the letters, and the width that one is taken to have at most.
LETTER = 11.0
_BROAD = 0.62
_SIZE = 3.2

DASHES = ("", "6 2", "2 2", "9 2 2 2", "1 2.5", "12 4", "5 2 1 2 1 2", "3 5")

_OUTLINES: tuple[Sequence[Point], ...] = (
    (),
    ((-1, -1), (1, -1), (1, 1), (-1, 1)),
    ((-1, 1), (1, 1), (0, -1)),
    ((0, -1.2), (1.2, 0), (0, 1.2), (-1.2, 0)),
    ((-1, -1), (1, -1), (0, 1)),
)


def _figure(value: float) -> str:
    # A tenth of a unit is finer than any screen shows.
    return f"{value:.1f}".removesuffix(".0")


def line(start: Point, end: Point, kind: str) -> Markup:
    """Return a straight line."""
    x1, y1, x2, y2 = map(_figure, (*start, *end))
    return Markup(f'<path class="{kind}" d="M{x1} {y1}L{x2} {y2}"/>')


def polyline(points: Iterable[Point], kind: str, dashes: str = "") -> Markup:
    """Return a line through points."""
    way = "L".join(f"{_figure(x)} {_figure(y)}" for x, y in points)
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return Markup(f'<path class="{kind}"{dashed} d="M{way}"/>')


def rectangle(left: float, top: float, size: Point, kind: str) -> Markup:
    """Return a rectangle."""
    x, y, width, height = map(_figure, (left, top, *size))
    return Markup(f'<rect class="{kind}" x="{x}" y="{y}" width="{width}" height="{height}"/>')


def circle(centre: Point, radius: float, kind: str) -> Markup:
    """Return a circle."""
    x, y, r = map(_figure, (*centre, radius))
    return Markup(f'<circle class="{kind}" cx="{x}" cy="{y}" r="{r}"/>')


def marker(place: int, at: Point) -> Markup:
    """Return the marker of the piece at a place in the lot, hollow for every other round."""
    shape, rounds = place % len(_OUTLINES), place // len(_OUTLINES)
    kind = "hollow" if rounds % 2 else "full"
    if shape == 0:
        return circle(at, _SIZE * 0.8, kind)
    corners = ((at[0] + dx * _SIZE, at[1] + dy * _SIZE) for dx, dy in _OUTLINES[shape])
    way = "L".join(f"{_figure(x)} {_figure(y)}" for x, y in corners)
    return Markup(f'<path class="{kind}" d="M{way}z"/>')


def doubted(at: Point) -> Markup:
    """Return the hollow crossed circle of a reading that does not decide."""
    x, y, arm = *at, _SIZE * 0.75
    ring = circle(at, _SIZE, "hollow")
    return Markup(
        ring
        + line((x - arm, y - arm), (x + arm, y + arm), "thin")
        + line((x - arm, y + arm), (x + arm, y - arm), "thin")
    )


def hatching(left: float, top: float, size: Point) -> Markup:
    """Return slanted lines that fill a rectangle, and its two sides, as one path."""
    width, height = size
    strokes = [f"M{_figure(x)} {_figure(top)}v{_figure(height)}" for x in (left, left + width)]
    offset, step = -height, 6.0
    while offset < width:
        # The line x - left = offset + (bottom - y), cut to the rectangle.
        first, last = max(0.0, offset), min(width, offset + height)
        if last > first:
            ends = (
                left + first,
                top + height - (first - offset),
                left + last,
                top + height - (last - offset),
            )
            x1, y1, x2, y2 = map(_figure, ends)
            strokes.append(f"M{x1} {y1}L{x2} {y2}")
        offset += step
    return Markup(f'<path class="hatch" d="{"".join(strokes)}"/>')


def wide(words: str) -> float:
    """Return the width that words may have at most."""
    return sum(_broad(character) for character in words) * LETTER * _BROAD


def _broad(character: str) -> float:
    return 1.65 if unicodedata.east_asian_width(character) in "WF" else 1.0


def label(at: Point, words: str, *, room: float, anchor: str | None = None) -> Markup:
    """Return words, shortened with an ellipsis to the room that they have."""
    said = _fitted(plain(words), room)
    if not said:
        return Markup("")
    x, y = map(_figure, at)
    return element("text", bare(said), x=x, y=y, class_=anchor)


def bare(words: str) -> Markup:
    """Return words as they may stand in a drawing, where no other element is at home."""
    return Markup(escape(plain(words), quote=False))


def plate(at: Point, words: str, *, room: float) -> Markup:
    """Return words on a ground of their own, legible over lines and hatching."""
    said = _fitted(plain(words), room)
    if not said:
        return Markup("")
    ground = rectangle(at[0] - 1, at[1] - LETTER + 2, (wide(said) + 2, LETTER + 1), "ground")
    return Markup(ground + label(at, said, room=room))


def _fitted(words: str, room: float) -> str:
    if wide(words) <= room:
        return words
    kept = words
    while kept and wide(kept) + LETTER * _BROAD > room:
        kept = kept[:-1]
    return f"{kept}…" if kept else ""
