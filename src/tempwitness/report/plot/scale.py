"""Where a moment and a temperature lie on the drawing, and where the axes are marked."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.report.localtime import LocalTime

__all__ = ["Scale", "degree_marks", "hour_marks"]

_MINUTES = (5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440)


@dataclass(frozen=True, slots=True)
class Scale:
    """The plot area and what it spans.

    Parameters
    ----------
    start, end : float
        Moments at its left and right edge [s since 1970-01-01 UTC].
    low, high : float
        Temperatures at its lower and upper edge [unit of the chart].
    left, bottom, width, height : float
        Its place [pt].
    """

    start: float
    end: float
    low: float
    high: float
    left: float
    bottom: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Right edge [pt]."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Upper edge [pt]."""
        return self.bottom + self.height

    @property
    def seconds_per_point(self) -> float:
        """Time that one point of width stands for [s]."""
        return (self.end - self.start) / self.width

    def x(self, at: float) -> float:
        """Return where a moment lies, kept within the plot [pt]."""
        share = (at - self.start) / (self.end - self.start)
        return self.left + self.width * min(max(share, 0.0), 1.0)

    def y(self, degrees: float) -> float:
        """Return where a temperature lies, kept within the plot [pt]."""
        share = (degrees - self.low) / (self.high - self.low)
        return self.bottom + self.height * min(max(share, 0.0), 1.0)


def degree_marks(low: float, high: float, most: int) -> list[float]:
    """Return round temperatures within a span, at most so many."""
    step = next((s for s in (1, 2, 5, 10, 20, 50, 100, 200, 500) if (high - low) / s < most), 1000)
    first = math.ceil(low / step)
    return [float(k * step) for k in range(first, math.floor(high / step) + 1)]


def hour_marks(scale: Scale, clock: LocalTime, most: int) -> list[tuple[float, str, bool]]:
    """Return moments at round local times: place in time [s], words, and whether midnight."""
    span = (scale.end - scale.start) / 60
    step = next((m for m in _MINUTES if span / m <= most), 0)
    if not step:
        return _day_marks(scale, clock, most)
    beat = min(step, 15) * 60
    marks = []
    for k in range(math.ceil(scale.start / beat), math.floor(scale.end / beat) + 1):
        at = clock.local(float(k * beat))
        if at is None:
            continue
        minutes = at.hour * 60 + at.minute
        if minutes % step == 0:
            name = f"{at:%H:%M}" if minutes else clock.day(float(k * beat))
            marks.append((float(k * beat), name, minutes == 0))
    return marks


def _day_marks(scale: Scale, clock: LocalTime, most: int) -> list[tuple[float, str, bool]]:
    """Mark a record of many days at equal steps, each by its date."""
    step = (scale.end - scale.start) / most
    moments = [scale.start + k * step for k in range(most)]
    return [(at, clock.day(at), False) for at in moments]
