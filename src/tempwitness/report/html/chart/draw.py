"""One chart as a drawing: axes, bands of stages, limits, gaps and lines."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Decided, Place
from tempwitness.report.html.chart import shapes
from tempwitness.report.html.chart.shapes import LETTER, label, line, plate, rectangle, wide
from tempwitness.report.html.markup import Markup, element
from tempwitness.report.plot.bands import band_rows
from tempwitness.report.plot.scale import degree_marks, hour_marks
from tempwitness.report.plot.series import thinned
from tempwitness.report.plot.view import end_name, gap_names, stretches

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats, Stage
    from tempwitness.report.localtime import LocalTime
    from tempwitness.report.plot.bands import Row
    from tempwitness.report.plot.scale import Scale
    from tempwitness.report.plot.series import Series
    from tempwitness.report.plot.view import Plot, View

__all__ = ["Size", "drawing"]

_LEFT, _RIGHT, _FOOT, _BAND = 34.0, 62.0, 20.0, 15.0
_LIMIT_NAME = 44.0
_GAP_NAMES = 5
_MARKER_EVERY, _MARKER_ROOM, _NAME_STEP = 55.0, 9.0, 11.0


@dataclass(frozen=True, slots=True)
class Size:
    """How large a drawing is, and how many moments its axis names at most."""

    width: float
    height: float
    moments: int
    kind: str


def drawing(plot: Plot, view: View, clock: LocalTime, size: Size, said: tuple[str, str]) -> Markup:
    """Return a chart.

    Parameters
    ----------
    plot : Plot
    view : View
    clock : LocalTime
    size : Size
    said : (str, str)
        Its title and its description, each as an element with an id.
    """
    rows = band_rows(plot.log.stages, view.pieces)
    room = (size.width - _LEFT - _RIGHT, size.height - len(rows) * _BAND - 3 - _FOOT)
    sheet = _Sheet(plot, view, clock, view.scale((_LEFT, _FOOT, *room)), size)
    sheet.axes()
    sheet.gaps()
    sheet.bands(rows)
    sheet.limits()
    for series in view.series:
        sheet.trace(series)
    sheet.ends()
    sheet.frame()
    ids = " ".join(part.partition('id="')[2].partition('"')[0] for part in said)
    return element(
        "svg",
        *(Markup(part) for part in said),
        *sheet.drawn,
        viewBox=f"0 0 {size.width:g} {size.height:g}",
        role="img",
        aria_labelledby=ids,
        class_=f"chart {size.kind}",
    )


@dataclass(slots=True)
class _Sheet:
    plot: Plot
    view: View
    clock: LocalTime
    scale: Scale
    size: Size
    drawn: list[Markup] = field(default_factory=list)
    _ends: list[tuple[float, str]] = field(default_factory=list)

    @property
    def _top(self) -> float:
        return self.size.height - self.scale.top

    @property
    def _bottom(self) -> float:
        return self.size.height - self.scale.bottom

    def _y(self, degrees: float) -> float:
        # The scale counts upwards, the drawing downwards.
        return self.size.height - self.scale.y(degrees)

    def axes(self) -> None:
        """Draw the lines of degrees and hours with their figures."""
        scale = self.scale
        for degrees in degree_marks(scale.low, scale.high, int(scale.height / 18)):
            y = self._y(degrees)
            self.drawn.append(line((scale.left, y), (scale.right, y), "grid"))
            at = (scale.left - 4, y + 4)
            self.drawn.append(label(at, f"{degrees:g}", room=_LEFT, anchor="end"))
        for at_time, words, midnight in hour_marks(scale, self.clock, self.size.moments):
            x = scale.x(at_time)
            kind = "midnight" if midnight else "grid"
            self.drawn.append(line((x, self._bottom), (x, self._top), kind))
            self.drawn.append(label((x, self._bottom + 13), words, room=82, anchor="middle"))

    def gaps(self) -> None:
        """Hatch the stretches of which nothing is known, and name them where there is room."""
        height = self._bottom - self._top
        spans = gap_names(self.scale, self.plot.named_gaps(self.view))
        for left, right in spans:
            self.drawn.append(shapes.hatching(left, self._top, (right - left, height)))
        for place, ((left, right), words) in enumerate(spans.items()):
            y = self._top + 12 + place % _GAP_NAMES * (LETTER + 2)
            if wide(words) < right - left - 6:
                self.drawn.append(plate((left + 3, y), words, room=self.scale.width))

    def bands(self, rows: list[Row]) -> None:
        """Draw the stages above the plot, and a thin line where each begins."""
        for place, (pieces, stages) in enumerate(reversed(rows)):
            bottom = self._top - 3 - place * _BAND
            for stage in stages:
                self._band(stage, bottom)
            name = pieces if len(rows) > 1 else ""
            self.drawn.append(label((self.scale.right + 4, bottom - 4), name, room=_RIGHT - 6))

    def _band(self, stage: Stage, bottom: float) -> None:
        scale = self.scale
        end = stage.end if math.isfinite(stage.end) else scale.end
        if end <= scale.start or stage.start >= scale.end:
            return
        left, right = scale.x(stage.start), scale.x(end)
        self.drawn.append(rectangle(left, bottom - _BAND, (right - left, _BAND), "band"))
        words = f"{stage.name.words}{'?' if stage.decided is Decided.INFERRED else ''}"
        room = right - left - 4
        self.drawn.append(label((left + 2, bottom - 4), words, room=max(room, 0)))
        if stage.start > scale.start:
            self.drawn.append(line((left, self._bottom), (left, self._top), "begins"))

    def limits(self) -> None:
        """Draw each limit over the stages for which it holds."""
        scale, named = self.scale, dict[float, float]()
        for limit in sorted(self.view.limits, key=lambda one: one.start):
            if limit.end <= scale.start or limit.start >= scale.end:
                continue
            left, right, y = scale.x(limit.start), scale.x(limit.end), self._y(limit.degrees)
            self.drawn.append(line((left, y), (right, y), "limit"))
            self.drawn += [line((x, y - 3), (x, y + 3), "thin") for x in (left, right)]
            if left - named.get(y, -_LIMIT_NAME) < _LIMIT_NAME:
                continue
            # The name is not repeated where the same figure goes on in the next short stage.
            named[y] = left
            left = min(left + 3, scale.right - wide(limit.words) - 2)
            self.drawn.append(plate((left, y - 4), limit.words, room=60))

    def trace(self, series: Series) -> None:
        """Draw the line of one point and its doubtful readings."""
        inside = (series.at >= self.view.start) & (series.at <= self.scale.end)
        at, low, high = series.at[inside], series.low[inside], series.high[inside]
        for first, last in stretches(series, self.view, at):
            part = slice(first, last)
            self._stretch(
                series, *thinned(at[part], low[part], high[part], self.scale.seconds_per_point)
            )
        if len(at):
            self._ends.append((self._y(float(high[-1])), end_name(series)))
        previous = float("-inf")
        for moment, value in zip(series.doubted_at, series.doubted, strict=True):
            x = self.scale.x(float(moment))
            if self.view.start <= moment <= self.scale.end and x - previous >= 2.0:
                self.drawn.append(shapes.doubted((x, self._y(float(value)))))
                previous = x

    def _stretch(self, series: Series, at: Floats, values: Floats) -> None:
        points = [
            (self.scale.x(float(t)), self._y(float(v))) for t, v in zip(at, values, strict=True)
        ]
        pieces = self.plot.pieces
        place = pieces.index(series.piece) if series.piece in pieces else 0
        food = series.place in (Place.CORE, Place.SURFACE)
        if len(points) > 1:
            kind = "core" if series.place is Place.CORE else "surface" if food else "air"
            dashes = shapes.DASHES[place % len(shapes.DASHES)] if food else ""
            self.drawn.append(shapes.polyline(points, kind, dashes))
        if food:
            self._markers(points, place)

    def _markers(self, points: list[shapes.Point], place: int) -> None:
        # The markers of two pieces stand at different places, so that both are seen.
        sparse = len(points) * _MARKER_ROOM < self.scale.width
        due = points[0][0] + (0.0 if sparse else (place % 5) * _MARKER_EVERY / 5)
        for x, y in points:
            if x >= due:
                self.drawn.append(shapes.marker(place, (x, y)))
                due = x if sparse else x + _MARKER_EVERY

    def ends(self) -> None:
        """Write the names of the lines at their right ends, none over another."""
        y = float("inf")
        for wanted, name in sorted(dict.fromkeys(self._ends), reverse=True):
            y = min(wanted + 4, y - _NAME_STEP)
            self.drawn.append(label((self.scale.right + 4, y), name, room=_RIGHT - 6))

    def frame(self) -> None:
        """Draw the edge of the plot."""
        size = (self.scale.width, self.scale.height)
        self.drawn.append(rectangle(self.scale.left, self._top, size, "edge"))
