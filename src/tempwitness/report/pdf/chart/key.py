"""What the signs of the chart mean."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Drawing, Group, Line, Shape
from reportlab.lib.colors import black

from tempwitness.report.pdf.chart.marks import (
    GREY,
    dash_of,
    doubted_sign,
    hatched,
    label,
    marker,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["chart_key"]

_ROW, _COLUMNS, _SAMPLE = 13.0, 3, 34.0
_MOST_PIECES = 24


def chart_key(pieces: Sequence[str], width: float) -> Drawing:
    """Draw the key: every piece, then what all pieces share."""
    entries: list[tuple[list[Shape], str]] = [
        (_piece_sample(place), f"piece {piece}" if piece else "core")
        for place, piece in enumerate(pieces[:_MOST_PIECES])
    ]
    entries += [
        ([Line(0, 4, 28, 4, strokeColor=GREY, strokeWidth=0.6)], "air or medium"),
        (_limit_sample(), "limit, over its stage"),
        (hatched(0, 0, 28, 9), "nothing known from readings"),
        (doubted_sign(14, 4), "doubted reading, does not decide"),
        ([Line(14, 0, 14, 9, strokeColor=black, strokeWidth=0.9)], "midnight"),
        ([label(10, 1, "?", room=20)], "stage inferred, not noted"),
    ]
    rows = -(-len(entries) // _COLUMNS)
    drawing = Drawing(width, rows * _ROW)
    for place, (sample, words) in enumerate(entries):
        row, column = divmod(place, _COLUMNS)
        left, bottom = column * width / _COLUMNS, (rows - 1 - row) * _ROW + 2
        group = Group(*sample)
        group.translate(left, bottom)
        drawing.add(group)
        room = width / _COLUMNS - _SAMPLE - 4
        drawing.add(label(left + _SAMPLE, bottom + 1, words, room=room))
    return drawing


def _piece_sample(place: int) -> list[Shape]:
    line = Line(0, 4, 28, 4, strokeColor=black, strokeWidth=1.1, strokeDashArray=dash_of(place))
    return [line, marker(place, 14, 4)]


def _limit_sample() -> list[Shape]:
    return [Line(0, 4, 28, 4, strokeColor=black, strokeWidth=2, strokeDashArray=[1, 1.5])]
