"""What one chart shows: a stretch of time, some pieces, and all that lies within."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Place
from tempwitness.report.plot.limits import LimitLine, limit_lines, moment
from tempwitness.report.plot.scale import Scale
from tempwitness.report.plot.series import Series, converted, series_of, unit_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.model.logs import Floats, StagedLog

__all__ = ["NOTHING_TO_DRAW", "Gap", "Plot", "View", "end_name", "gap_names", "stretches"]

NOTHING_TO_DRAW = "No reading is on record, so there is nothing to draw."

#: A stretch that no line may cross: piece (``""`` for all), start and end [s].
Gap = tuple[str, float, float]


@dataclass(frozen=True, slots=True)
class View:
    """The stretch of time and the pieces of a chart, its limits and its gaps.

    Parameters
    ----------
    start, end : float
        [s since 1970-01-01 UTC].
    pieces : tuple of str
    limits : tuple of LimitLine
    gaps : tuple of Gap
        Of its pieces.
    series : tuple of Series
        Those that are seen, the air before the food.
    """

    start: float
    end: float
    pieces: tuple[str, ...]
    limits: tuple[LimitLine, ...]
    gaps: tuple[Gap, ...]
    series: tuple[Series, ...]

    def span(self) -> tuple[float, float]:
        """Return the lowest and highest temperature to be drawn, with a margin [unit]."""
        values = [v for s in self.series for v in _extremes(s, self.start, self.end)]
        values += [
            line.degrees for line in self.limits if line.start < self.end and line.end > self.start
        ]
        low, high = min(values, default=0.0), max(values, default=100.0)
        room = max((high - low) * 0.06, 4.0)
        return low - room, high + room

    def scale(self, edges: tuple[float, float, float, float]) -> Scale:
        """Lay it into a plot of left, bottom, width and height."""
        low, high = self.span()
        left, bottom, width, height = edges
        end = max(self.end, self.start + 600.0)
        return Scale(self.start, end, low, high, left, bottom, width, height)


class Plot:
    """What all charts of one lot share."""

    def __init__(self, evaluation: Evaluation, log: StagedLog) -> None:
        self.log = log
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

    def whole(self) -> View | None:
        """Return everything on record; ``None`` if there is nothing to draw."""
        moments = [at for s in self.series for at in (s.at, s.doubted_at) if len(at)]
        if not moments:
            return None
        ends = [float(z) for at in moments for z in (at[0], at[-1])]
        ends += [z for s in self.log.stages for z in (s.start, s.end) if math.isfinite(z)]
        return self._view(min(ends), max(ends), self.pieces, self.limits)

    def part(self, findings: Sequence[Finding]) -> View | None:
        """Return the stage and the pieces of findings, with a little before and after."""
        staged = [f for f in findings if f.stage_start and f.stage_end]
        if not staged:
            return None
        start = min(moment(f.stage_start) for f in staged if f.stage_start)
        end = max(moment(f.stage_end) for f in staged if f.stage_end)
        margin = max((end - start) * 0.06, 300.0)
        pieces = tuple(f.piece for f in staged if f.piece) or self.pieces
        limits = [line for line in self.limits if line.stage == staged[0].stage]
        view = self._view(start - margin, end + margin, pieces, limits)
        return view if view.series else None

    def axis_words(self, zone: str) -> str:
        """Say what the axes stand for."""
        corrected = ", readings as corrected" if self.log.corrected.corrections else ""
        mixed = f", drawn in {self.unit.symbol} but judged as written" if self.converted else ""
        return f"{self.unit.symbol}{corrected}{mixed}; local time, {zone}"

    def named_gaps(self, view: View) -> list[Gap]:
        """Return the gaps of a view with the names to print; the only piece needs none."""
        return list(view.gaps) if len(self.pieces) > 1 else [("", *g[1:]) for g in view.gaps]

    def _view(
        self, start: float, end: float, pieces: tuple[str, ...], limits: list[LimitLine]
    ) -> View:
        gaps = tuple(g for g in self.gaps if g[0] in ("", *pieces))
        seen = [s for s in self.series if _seen(s, start, end, pieces)]
        ordered = tuple(sorted(seen, key=lambda s: s.piece != ""))
        return View(start, end, pieces, tuple(limits), gaps, ordered)


def stretches(series: Series, view: View, at: Floats) -> list[tuple[int, int]]:
    """Divide readings wherever a stretch without knowledge begins."""
    starts = [start for whose, start, _ in view.gaps if whose in ("", series.piece)]
    cuts = np.searchsorted(at, starts, side="right")
    edges = sorted({0, len(at), *(int(cut) for cut in cuts)})
    return [(a, b) for a, b in pairwise(edges) if b > a]


def end_name(series: Series) -> str:
    """Name a line at its right end."""
    name = series.piece if series.place is Place.CORE else f"{series.piece} {series.place}"
    return f"{name} {series.point}".strip()


def gap_names(scale: Scale, gaps: Sequence[Gap]) -> dict[tuple[float, float], str]:
    """Return where gaps lie from left to right on the drawing, each with its words."""
    spans: dict[tuple[float, float], list[str]] = {}
    for piece, start, end in dict.fromkeys(gaps):
        if end > scale.start and start < scale.end:
            spans.setdefault((scale.x(start), scale.x(end)), []).append(piece)
    return {
        edges: f"{', '.join(filter(None, pieces))} not read".strip()
        for edges, pieces in spans.items()
    }


def _seen(series: Series, start: float, end: float, pieces: tuple[str, ...]) -> bool:
    if series.piece and series.piece not in pieces:
        return False
    moments = (series.at, series.doubted_at)
    return any(bool(((at >= start) & (at <= end)).any()) for at in moments)


def _extremes(series: Series, start: float, end: float) -> list[float]:
    inside = (series.at >= start) & (series.at <= end)
    if not inside.any():
        return []
    return [float(np.min(series.low[inside])), float(np.max(series.high[inside]))]
