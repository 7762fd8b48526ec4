"""The lines of the readings, with gaps where nothing is known."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Group, PolyLine, Shape
from reportlab.lib.colors import black

from tempwitness.model.vocabulary import Place
from tempwitness.report.pdf.chart.marks import GREY, dash_of, doubted_sign, label, marker
from tempwitness.report.plot.series import Series, thinned
from tempwitness.report.plot.view import View, end_name, stretches

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats
    from tempwitness.report.plot.scale import Scale

__all__ = ["Pen"]

_MARKER_EVERY = 55.0
_MARKER_ROOM = 9.0
_LABEL_STEP = 9.0


@dataclass(slots=True)
class Pen:
    """Draws series into a group.

    Parameters
    ----------
    scale : Scale
    pieces : tuple of str
        All pieces of the lot: the place of each decides its dashes and marker.
    view : View
        What is drawn, with the stretches that no line may cross.
    """

    scale: Scale
    pieces: tuple[str, ...]
    view: View
    into: Group
    _ends: list[tuple[float, str]] = field(default_factory=list)

    def draw(self, series: Series) -> None:
        """Draw the line of one series and its doubtful readings."""
        inside = (series.at >= self.scale.start) & (series.at <= self.scale.end)
        at, low, high = series.at[inside], series.low[inside], series.high[inside]
        food = series.place in (Place.CORE, Place.SURFACE)
        for first, last in stretches(series, self.view, at):
            moments, values = thinned(
                at[first:last], low[first:last], high[first:last], self.scale.seconds_per_point
            )
            self._line(moments, values, series, food=food)
        if len(at):
            self._ends.append((self.scale.y(float(high[-1])), end_name(series)))
        self._doubted(series)

    def _line(self, at: Floats, values: Floats, series: Series, *, food: bool) -> None:
        points = [(self.scale.x(t), self.scale.y(v)) for t, v in zip(at, values, strict=True)]
        place = self.pieces.index(series.piece) if series.piece in self.pieces else 0
        if len(points) > 1:
            self.into.add(
                PolyLine(
                    [z for point in points for z in point],
                    strokeColor=black if food else GREY,
                    strokeWidth=1.1 if series.place is Place.CORE else 0.6,
                    strokeDashArray=dash_of(place) if food else (),
                    strokeLineJoin=1,
                )
            )
        if food:
            self._markers(points, place)

    def _markers(self, points: list[tuple[float, float]], place: int) -> None:
        # The markers of two pieces stand at different places, so that both are seen.
        sparse = len(points) * _MARKER_ROOM < self.scale.width
        due = points[0][0] + (0.0 if sparse else (place % 5) * _MARKER_EVERY / 5)
        for x, y in points:
            if x >= due:
                self.into.add(marker(place, x, y))
                due = x if sparse else x + _MARKER_EVERY

    def _doubted(self, series: Series) -> None:
        previous = float("-inf")
        for t, value in zip(series.doubted_at, series.doubted, strict=True):
            x = self.scale.x(float(t))
            if self.scale.start <= t <= self.scale.end and x - previous >= 2.0:
                _add(self.into, doubted_sign(x, self.scale.y(float(value))))
                previous = x

    def name_ends(self, room: float) -> None:
        """Write the names of the lines at their right ends, one above the other."""
        y = float("-inf")
        for wanted, name in sorted(dict.fromkeys(self._ends)):
            y = max(wanted - 3, y + _LABEL_STEP)
            self.into.add(label(self.scale.right + 4, y, name, room=room))


def _add(group: Group, shapes: list[Shape]) -> None:
    for shape in shapes:
        group.add(shape)
