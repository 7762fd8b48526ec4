"""One chart: axes, bands of stages, limits, gaps and lines."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from reportlab.graphics.shapes import Drawing, Group, Line
from reportlab.lib.colors import Color, black

from tempwitness.report.pdf.chart.bands import BAND, band_rows, draw_bands
from tempwitness.report.pdf.chart.limits import LimitLine, limit_lines, moment
from tempwitness.report.pdf.chart.marks import hatched, label, plate, rectangle
from tempwitness.report.pdf.chart.scale import Scale, degree_marks, hour_marks
from tempwitness.report.pdf.chart.series import Series, converted, series_of, unit_of
from tempwitness.report.pdf.chart.traces import Gap, Pen
from tempwitness.report.pdf.fonts import drawable, text_width
from tempwitness.report.pdf.styles import SMALL_SIZE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.model.logs import StagedLog
    from tempwitness.report.localtime import LocalTime

__all__ = ["Charts"]

_LEFT, _RIGHT, _FOOT = 34.0, 58.0, 28.0
_GAP_NAMES = 5
_LIMIT_NAME = 40.0
_LIGHT = Color(0.88, 0.88, 0.88)


class Charts:
    """Draws the traces of one lot; what all charts share is worked out once."""

    def __init__(self, evaluation: Evaluation, log: StagedLog, clock: LocalTime) -> None:
        self.log = log
        self.clock = clock
        self.unit = unit_of(log, evaluation.code.unit)
        self.converted = converted(log, self.unit)
        self.series = series_of(log, self.unit)
        self.limits = limit_lines(evaluation.binding, self.unit)
        self.gaps: list[Gap] = [
            (f.piece, moment(u.start), moment(u.end))
            for f in evaluation.binding
            for u in f.evidence.unread
        ]
        self.pieces = tuple(
            dict.fromkeys((*evaluation.lot.pieces, *(s.piece for s in self.series if s.piece)))
        )

    def whole(self, width: float, height: float) -> Drawing | None:
        """Draw everything on record; ``None`` if there is nothing to draw."""
        moments = [at for s in self.series for at in (s.at, s.doubted_at) if len(at)]
        if not moments:
            return None
        ends = [float(z) for at in moments for z in (at[0], at[-1])]
        ends += [z for s in self.log.stages for z in (s.start, s.end) if math.isfinite(z)]
        return self._draw(_View(min(ends), max(ends), self.pieces, width, height), self.limits)

    def part(self, findings: Sequence[Finding], width: float, height: float) -> Drawing | None:
        """Draw the stage and the pieces of findings, with a little before and after."""
        staged = [f for f in findings if f.stage_start and f.stage_end]
        if not staged:
            return None
        start = min(moment(f.stage_start) for f in staged if f.stage_start)
        end = max(moment(f.stage_end) for f in staged if f.stage_end)
        margin = max((end - start) * 0.06, 300.0)
        pieces = tuple(f.piece for f in staged if f.piece) or self.pieces
        view = _View(start - margin, end + margin, pieces, width, height)
        if not any(_seen(series, view) for series in self.series):
            return None
        return self._draw(view, [line for line in self.limits if line.stage == staged[0].stage])

    def _draw(self, view: _View, limits: list[LimitLine]) -> Drawing:
        drawing = Drawing(view.width, view.height)
        rows = band_rows(self.log.stages, view.pieces)
        scale = self._scale(view, limits, len(rows))
        self._draw_axes(drawing, scale)
        gaps = [g for g in self.gaps if g[0] in ("", *view.pieces)]
        # The only piece needs no name.
        _draw_gaps(drawing, scale, gaps if len(self.pieces) > 1 else [("", *g[1:]) for g in gaps])
        draw_bands(drawing, scale, rows)
        _draw_limits(drawing, scale, limits)
        group = Group()
        pen = Pen(scale, self.pieces, gaps, group)
        for series in sorted(self.series, key=lambda s: s.piece != ""):
            if _seen(series, view):
                pen.draw(series)
        pen.name_ends(_RIGHT - 6)
        drawing.add(group)
        edges = (scale.left, scale.bottom, scale.width, scale.height)
        drawing.add(rectangle(edges, fill=None, line=0.8))
        return drawing

    def _scale(self, view: _View, limits: list[LimitLine], rows: int) -> Scale:
        values = [v for s in self.series if _seen(s, view) for v in _extremes(s, view)]
        values += [
            line.degrees for line in limits if line.start < view.end and line.end > view.start
        ]
        low, high = min(values, default=0.0), max(values, default=100.0)
        room = max((high - low) * 0.06, 4.0)
        start, end = view.start, max(view.end, view.start + 600.0)
        bottom, top = _FOOT, view.height - rows * BAND - 3
        width = view.width - _LEFT - _RIGHT
        return Scale(start, end, low - room, high + room, _LEFT, bottom, width, top - bottom)

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
        corrected = ", readings as corrected" if self.log.corrected.corrections else ""
        mixed = f", drawn in {self.unit.symbol} but judged as written" if self.converted else ""
        words = f"{self.unit.symbol}{corrected}{mixed}; local time, {self.clock.zone}"
        drawing.add(label(scale.left, 2, words, room=scale.width))


@dataclass(frozen=True, slots=True)
class _View:
    start: float
    end: float
    pieces: tuple[str, ...]
    width: float
    height: float


def _seen(series: Series, view: _View) -> bool:
    if series.piece and series.piece not in view.pieces:
        return False
    moments = (series.at, series.doubted_at)
    return any(bool(((at >= view.start) & (at <= view.end)).any()) for at in moments)


def _extremes(series: Series, view: _View) -> list[float]:
    inside = (series.at >= view.start) & (series.at <= view.end)
    if not inside.any():
        return []
    return [float(np.min(series.low[inside])), float(np.max(series.high[inside]))]


def _grid(x1: float, y1: float, x2: float, y2: float) -> Line:
    return Line(x1, y1, x2, y2, strokeColor=_LIGHT, strokeWidth=0.5)


def _draw_gaps(drawing: Drawing, scale: Scale, gaps: list[Gap]) -> None:
    spans: dict[tuple[float, float], list[str]] = {}
    for piece, start, end in dict.fromkeys(gaps):
        if end > scale.start and start < scale.end:
            spans.setdefault((scale.x(start), scale.x(end)), []).append(piece)
    for left, right in spans:
        for shape in hatched(left, scale.bottom, right - left, scale.height):
            drawing.add(shape)
    # Names stand one above the other, so that gaps which overlap keep theirs.
    for place, ((left, right), pieces) in enumerate(spans.items()):
        words = drawable(f"{', '.join(filter(None, pieces))} not read".strip())
        bottom = scale.top - 11 - place % _GAP_NAMES * 10
        if text_width(words, SMALL_SIZE) < right - left - 6:
            for shape in plate(left + 3, bottom, words, room=scale.width):
                drawing.add(shape)


def _draw_limits(drawing: Drawing, scale: Scale, lines: list[LimitLine]) -> None:
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
