"""What is drawn: the readings of each point in one unit, thinned without losing an extreme."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place
from tempwitness.units import Unit

if TYPE_CHECKING:
    from tempwitness.model.logs import Bools, Floats, StagedLog

__all__ = ["Series", "series_of", "thinned", "unit_of"]


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """Readings of one point of one piece in the unit of the chart.

    Parameters
    ----------
    at : Floats
        Moments of the readings that decide [s since 1970-01-01 UTC].
    low, high : Floats
        Bounds of each corrected reading; equal for an ordinary one.
    doubted_at, doubted : Floats
        Moments and values of readings that do not decide.
    """

    piece: str
    place: Place
    point: str
    at: Floats
    low: Floats
    high: Floats
    doubted_at: Floats
    doubted: Floats


def unit_of(log: StagedLog) -> Unit:
    """Return °C if every reading was written in it, else °F."""
    channels = [c for c in log.raw.channels if len(c)]
    celsius = bool(channels) and all(bool(c.celsius.all()) for c in channels)
    return Unit.C if celsius else Unit.F


def series_of(log: StagedLog, unit: Unit) -> list[Series]:
    """Return the series of a log in the order of its channels."""
    found = []
    for k, channel in enumerate(log.raw.channels):
        low = _in_unit(log.corrected.lower[k], channel.celsius, unit)
        high = _in_unit(log.corrected.upper[k], channel.celsius, unit)
        value = _in_unit(channel.value, channel.celsius, unit)
        doubted = log.corrected.qualified.flags[k] >= Flag.SUSPECT
        decides = np.isfinite(low) & np.isfinite(high) & ~doubted
        shown = ~decides & np.isfinite(value)
        found.append(
            Series(
                channel.piece,
                channel.place,
                channel.point,
                channel.at[decides],
                low[decides],
                high[decides],
                channel.at[shown],
                value[shown],
            )
        )
    return found


def _in_unit(values: Floats, celsius: Bools, unit: Unit) -> Floats:
    if unit is Unit.C or not celsius.any():
        return values
    return np.where(celsius, values * 1.8 + 32.0, values)


def thinned(at: Floats, low: Floats, high: Floats, width: float) -> tuple[Floats, Floats]:
    """Return the moments and values of a line no finer than the paper can show.

    Parameters
    ----------
    at : Floats
        Moments in order of time [s].
    low, high : Floats
        Bounds of the readings.
    width : float
        Seconds that one column of the drawing stands for.

    Returns
    -------
    tuple of Floats
        Of every column the lowest and the highest reading, each at its own moment and in the
        order in which they came.
    """
    if len(at) == 0:
        return at, low
    column = np.floor((at - at[0]) / width).astype(np.int64)
    starts = np.flatnonzero(np.diff(column, prepend=column[0] - 1))
    if 2 * len(starts) >= len(at) and bool((low == high).all()):
        return at, low
    ends = np.append(starts[1:], len(at))
    lowest = [a + int(np.argmin(low[a:b])) for a, b in zip(starts, ends, strict=True)]
    highest = [a + int(np.argmax(high[a:b])) for a, b in zip(starts, ends, strict=True)]
    rows = np.column_stack((lowest, highest))
    values = np.column_stack((low[lowest], high[highest]))
    turned = rows[:, 0] > rows[:, 1]
    rows[turned] = rows[turned, ::-1]
    values[turned] = values[turned, ::-1]
    return at[rows.ravel()], values.ravel()
