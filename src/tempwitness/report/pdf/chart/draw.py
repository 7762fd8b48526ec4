"""One chart: axes, bands of stages, limits, gaps and lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Drawing, Group, Line
from reportlab.lib.colors import Color, black

from tempwitness.report.pdf.chart.bands import BAND, draw_bands
from tempwitness.report.pdf.chart.marks import hatched, label, plate, rectangle
from tempwitness.report.pdf.chart.traces import Pen
from tempwitness.report.pdf.fonts import drawable, text_width
from tempwitness.report.pdf.styles import SMALL_SIZE
from tempwitness.report.plot.bands import band_rows
from tempwitness.report.plot.scale import Scale, degree_marks, hour_marks
from tempwitness.report.plot.view import Gap, Plot, View, gap_names

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.model.logs import StagedLog
    from tempwitness.report.localtime import LocalTime
    from tempwitness.report.plot.limits import LimitLine

__all__ = ["Charts"]

_LEFT, _RIGHT, _FOOT = 34.0, 58.0, 28.0
_GAP_NAMES = 5
_LIMIT_NAME = 40.0
_LIGHT = Color(0.88, 0.88, 0.88)


class Charts:
    """Draws the traces of one lot; what all charts share is worked out once."""

    def __init__(self, evaluation: Evaluation, log: StagedLog, clock: LocalTime) -> None:
        self.plot = Plot(evaluation, log)
        self.clock = clock
        self.pieces = self.plot.pieces

    def whole(self, width: float, height: float) -> Drawing | None:
        """Draw everything on record; ``None`` if there is nothing to draw."""
        view = self.plot.whole()
        return self._draw(view, width, height) if view else None

    def part(self, findings: Sequence[Finding], width: float, height: float) -> Drawing | None:
        """Draw the stage and the pieces of findings, with a little before and after."""
        view = self.plot.part(findings)
        return self._draw(view, width, height) if view else None

    def _draw(self, view: View, width: float, height: float) -> Drawing:
        drawing = Drawing(width, height)
        rows = band_rows(self.plot.log.stages, view.pieces)
        room = (width - _LEFT - _RIGHT, height - len(rows) * BAND - 3 - _FOOT)
        scale = view.scale((_LEFT, _FOOT, *room))
        self._draw_axes(drawing, scale)
        _draw_gaps(drawing, scale, self.plot.named_gaps(view))
        draw_bands(drawing, scale, rows)
        _draw_limits(drawing, scale, view.limits)
        group = Group()
        pen = Pen(scale, self.pieces, view, group)
        for series in view.series:
            pen.draw(series)
        pen.name_ends(_RIGHT - 6)
        drawing.add(group)
        edges = (scale.left, scale.bottom, scale.width, scale.height)
        drawing.add(rectangle(edges, fill=None, line=0.8))
        return drawing

    def _draw_axes(self, drawing: Drawing, scale: Scale) -> None:
        for degrees in degree_marks(scale.low, scale.high, int(scale.height / 16)):
            y = scale.y(degrees)
            drawing.add(_grid(scale.left, y, scale.right, y))
            text = f"{degrees:g}"
            drawing.add(label(scale.left - 4, y - 3, text, room=_LEFT, anchor="end"))
        for at, text, midnight in hour_marks(scale, self.clock, 10):
            x = scale.x(at)
            line = _grid(x, scale.bottom, x, scale.top)
            if midnight:
                line.strokeColor, line.strokeWidth = black, 0.9
            drawing.add(line)
            drawing.add(label(x, scale.bottom - 11, text, room=60, anchor="middle"))
        words = self.plot.axis_words(self.clock.zone)
        drawing.add(label(scale.left, 2, words, room=scale.width))


def _grid(x1: float, y1: float, x2: float, y2: float) -> Line:
    return Line(x1, y1, x2, y2, strokeColor=_LIGHT, strokeWidth=0.5)


def _draw_gaps(drawing: Drawing, scale: Scale, gaps: list[Gap]) -> None:
    spans = gap_names(scale, gaps)
    for left, right in spans:
        for shape in hatched(left, scale.bottom, right - left, scale.height):
            drawing.add(shape)
    # Names stand one above the other, so that gaps which overlap keep theirs.
    for place, ((left, right), said) in enumerate(spans.items()):
        words = drawable(said)
        bottom = scale.top - 11 - place % _GAP_NAMES * 10
        if text_width(words, SMALL_SIZE) < right - left - 6:
            for shape in plate(left + 3, bottom, words, room=scale.width):
                drawing.add(shape)


def _draw_limits(drawing: Drawing, scale: Scale, lines: Sequence[LimitLine]) -> None:
    named: dict[float, float] = {}
    for line in sorted(lines, key=lambda line: line.start):
        if line.end <= scale.start or line.start >= scale.end:
            continue
        left, right, y = scale.x(line.start), scale.x(line.end), scale.y(line.degrees)
        drawing.add(
            Line(left, y, right, y, strokeColor=black, strokeWidth=2, strokeDashArray=[1, 1.5])
        )
        for x in (left, right):
            drawing.add(Line(x, y - 3, x, y + 3, strokeColor=black, strokeWidth=1))
        if left - named.get(y, -_LIMIT_NAME) < _LIMIT_NAME:
            continue
        # The name is not repeated where the same figure goes on in the next short stage.
        named[y] = left
        for shape in plate(left + 3, y + 4, line.words, room=60):
            drawing.add(shape)
