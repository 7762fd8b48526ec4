"""What is drawn: the readings of each point in one unit, thinned without losing an extreme."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place
from tempwitness.units import Unit

if TYPE_CHECKING:
    from tempwitness.model.logs import Bools, Floats, StagedLog

__all__ = ["Series", "converted", "series_of", "thinned", "unit_of"]


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


def unit_of(log: StagedLog, home: str = "F") -> Unit:
    """Return the unit of the chart: °C for a code of a country that reckons in it.

    Else the one in which most readings of the food were written, °F if it is a draw. A reading
    of the other unit is converted to be drawn. A code's two figures are not the same
    to the tenth, so such a reading may stand on the other side of a line than it was judged.
    """
    if home == Unit.C.value:
        return Unit.C
    food = [c for c in log.raw.channels if c.piece] or log.raw.channels
    celsius = sum(int(c.celsius.sum()) for c in food)
    return Unit.C if 2 * celsius > sum(map(len, food)) else Unit.F


def converted(log: StagedLog, unit: Unit) -> bool:
    """Whether some readings of the food are drawn in another unit than they were written in."""
    food = [c.celsius for c in log.raw.channels if c.piece and len(c)]
    return any(bool((c != (unit is Unit.C)).any()) for c in food)


def series_of(log: StagedLog, unit: Unit) -> list[Series]:
    """Return one series for each point, whatever file or hand its readings came from."""
    groups: dict[tuple[str, Place, str], list[int]] = {}
    for index, channel in enumerate(log.raw.channels):
        groups.setdefault((channel.piece, channel.place, channel.point), []).append(index)
    return [_series(log, members, unit) for members in groups.values()]


def _series(log: StagedLog, members: list[int], unit: Unit) -> Series:
    channels = [log.raw.channels[k] for k in members]
    corrected = log.corrected
    at = np.concatenate([c.at for c in channels])
    order = np.argsort(at, kind="stable")
    celsius = np.concatenate([c.celsius for c in channels])

    def drawn(columns: list[Floats]) -> Floats:
        values: Floats = _in_unit(np.concatenate(columns), celsius, unit)[order]
        return values

    low = drawn([corrected.lower[k] for k in members])
    high = drawn([corrected.upper[k] for k in members])
    value = drawn([c.value for c in channels])
    flags = np.concatenate([corrected.qualified.flags[k] for k in members])[order]
    decides = np.isfinite(low) & np.isfinite(high) & (flags < Flag.SUSPECT)
    shown = ~decides & np.isfinite(value)
    at, first = at[order], channels[0]
    return Series(
        first.piece,
        first.place,
        first.point,
        at[decides],
        low[decides],
        high[decides],
        at[shown],
        value[shown],
    )


def _in_unit(values: Floats, celsius: Bools, unit: Unit) -> Floats:
    if unit is Unit.F:
        return np.where(celsius, values * 1.8 + 32.0, values) if celsius.any() else values
    return values if celsius.all() else np.where(celsius, values, (values - 32.0) / 1.8)


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
