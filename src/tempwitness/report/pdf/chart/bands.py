"""Stages as labelled bands above the plot, one row for each piece that differs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Drawing, Line
from reportlab.lib.colors import white

from tempwitness.model.vocabulary import Decided
from tempwitness.report.pdf.chart.marks import GREY, label, rectangle

if TYPE_CHECKING:
    from tempwitness.model.logs import Stage
    from tempwitness.report.plot.bands import Row
    from tempwitness.report.plot.scale import Scale

__all__ = ["BAND", "draw_bands"]

BAND = 13.0


def draw_bands(drawing: Drawing, scale: Scale, rows: list[Row]) -> None:
    """Draw the rows above the plot, and a thin line down the plot where a stage begins."""
    for place, (pieces, stages) in enumerate(reversed(rows)):
        bottom = scale.top + 3 + place * BAND
        for stage in stages:
            _draw_band(drawing, scale, stage, bottom)
        name = pieces if len(rows) > 1 else ""
        drawing.add(label(scale.right + 4, bottom + 3, name, room=52))


def _draw_band(drawing: Drawing, scale: Scale, stage: Stage, bottom: float) -> None:
    end = stage.end if math.isfinite(stage.end) else scale.end
    if end <= scale.start or stage.start >= scale.end:
        return
    left, right = scale.x(stage.start), scale.x(end)
    drawing.add(rectangle((left, bottom, right - left, BAND), fill=white, line=0.6))
    inferred = "?" if stage.decided is Decided.INFERRED else ""
    room = right - left - 4
    words = f"{stage.name.words}{inferred}"
    drawing.add(label(left + 2, bottom + 3, words, room=max(room, 0)))
    if stage.start > scale.start:
        drawing.add(
            Line(
                left,
                scale.bottom,
                left,
                scale.top,
                strokeColor=GREY,
                strokeWidth=0.5,
                strokeDashArray=[1, 3],
            )
        )
