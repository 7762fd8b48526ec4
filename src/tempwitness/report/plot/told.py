"""What a chart shows, in words and tables for whoever does not see it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Place
from tempwitness.report.content.parts import Table
from tempwitness.report.plot.view import end_name
from tempwitness.report.wording import stage_words
from tempwitness.units import format_degrees

if TYPE_CHECKING:
    from tempwitness.report.localtime import LocalTime
    from tempwitness.report.plot.series import Series
    from tempwitness.report.plot.view import Plot, View
    from tempwitness.units import Unit

__all__ = ["described", "key_words", "limits_table", "lines_table"]


def key_words() -> tuple[str, ...]:
    """Return what the signs mean that all pieces share, in the order of the key."""
    return (
        "air or medium",
        "limit, over its stage",
        "nothing known from readings",
        "doubted reading, does not decide",
        "midnight",
        "stage inferred, not noted",
    )


def described(plot: Plot, view: View, clock: LocalTime) -> str:
    """Return what a chart shows in a few sentences."""
    said = [f"In {plot.axis_words(clock.zone)}."]
    said += [
        f"{name}: {first[1]} at {first[0]}, lowest {low[1]} at {low[0]}, highest {high[1]} at "
        f"{high[0]}, last {last[1]} at {last[0]}."
        for series in view.series
        if (found := _figures(series, view, plot.unit, clock))
        for name, (first, low, high, last) in [(line_name(series), found)]
    ]
    limits = dict.fromkeys(f"{one.words} in {stage_words(one.stage)}" for one in view.limits)
    said += [f"Limits drawn: {', '.join(limits)}."] if limits else []
    said += [
        f"Not read{f', {piece}' if piece else ''}: {clock.full(start)} to {clock.full(end)}."
        for piece, start, end in dict.fromkeys(view.gaps)
    ]
    return " ".join(said)


def line_name(series: Series) -> str:
    """Name a line of the chart."""
    name = end_name(series)
    if series.place is Place.CORE and not series.point:
        return f"Piece {series.piece}" if series.piece else "Core"
    return name[:1].upper() + name[1:]


def lines_table(plot: Plot, view: View, clock: LocalTime) -> Table:
    """Return the lines of a chart: how many readings, the first, lowest, highest and last."""
    head = ("Line", "Readings", "First", "Lowest", "Highest", "Last", "Doubted")
    rows = []
    for series in view.series:
        found = _figures(series, view, plot.unit, clock)
        cells = tuple(f"{degrees}, {when}" for when, degrees in found) or ("none",) * 4
        counts = (str(len(series.at)), str(len(series.doubted_at)))
        rows.append((line_name(series), counts[0], *cells, counts[1]))
    return Table("What the chart shows, line by line", head, tuple(rows))


def limits_table(view: View, clock: LocalTime) -> Table:
    """Return the limits of a chart over their stages, and the stretches that nobody read."""
    rows = [
        (f"limit {one.words}", stage_words(one.stage), clock.full(one.start), clock.full(one.end))
        for one in sorted(view.limits, key=lambda one: one.start)
    ]
    rows += [
        ("not read", f"piece {piece}" if piece else "all", clock.full(start), clock.full(end))
        for piece, start, end in dict.fromkeys(view.gaps)
    ]
    head = ("What", "Stage or piece", "From", "To")
    return Table("Limits of the chart, and stretches that nobody read", head, tuple(rows))


def _figures(
    series: Series, view: View, unit: Unit, clock: LocalTime
) -> tuple[tuple[str, str], ...]:
    """Return moment and words of the first, lowest, highest and last reading within a view."""
    rows = np.flatnonzero((series.at >= view.start) & (series.at <= view.end))
    if not len(rows):
        return ()
    low, high = series.low[rows], series.high[rows]
    places = (
        (0, high),
        (int(np.argmin(low)), low),
        (int(np.argmax(high)), high),
        (len(rows) - 1, high),
    )
    return tuple(
        (clock.full(float(series.at[rows[place]])), format_degrees(float(values[place]), unit))
        for place, values in places
    )
