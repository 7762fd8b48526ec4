"""Rows of a log as they are shown: every reading with what is known of it, in order of time."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag
from tempwitness.readers.zones import find_zone
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from collections.abc import Iterator
    from zoneinfo import ZoneInfo

    from tempwitness.model.logs import CorrectedLog, Doubt

__all__ = ["Row", "count", "moment", "rows", "zone_of"]


@dataclass(frozen=True, slots=True)
class Row:
    """A reading as it is shown.

    Parameters
    ----------
    at : str
        Moment with its offset (ISO 8601).
    written, used : str
        The reading as written, and what is judged: corrected, a range, or nothing.
    flag, reason : str
        Quality flag in words, and why it is not plain.
    """

    at: str
    written: str
    unit: str
    used: str
    piece: str
    place: str
    point: str
    probe: str
    flag: str
    reason: str
    source: str
    line: int


def zone_of(log: CorrectedLog) -> ZoneInfo:
    """Zone in which moments are shown."""
    return find_zone(log.raw.lot.zone)


def moment(seconds: float, zone: ZoneInfo) -> str:
    """Write a moment as ISO 8601 with its offset."""
    shown = datetime.fromtimestamp(seconds, zone)
    return shown.isoformat(sep=" ", timespec="auto" if shown.microsecond else "seconds")


def count(log: CorrectedLog) -> int:
    """How many readings there are."""
    return sum(len(channel) for channel in log.raw.channels)


def rows(log: CorrectedLog, limit: int | None) -> Iterator[Row]:
    """Yield the readings in order of time, at most `limit` of them."""
    channels = log.raw.channels
    if not channels:
        return
    number = np.concatenate([np.full(len(c), i) for i, c in enumerate(channels)])
    inside = np.concatenate([np.arange(len(c)) for c in channels])
    order = np.lexsort((number, np.concatenate([c.at for c in channels])))
    reasons = _reasons(log)
    zone = zone_of(log)
    for k in order[:limit].tolist():
        yield _row(log, int(number[k]), int(inside[k]), reasons, zone)


def _reasons(log: CorrectedLog) -> dict[int, list[Doubt]]:
    found: dict[int, list[Doubt]] = {}
    for doubt in log.qualified.doubts:
        found.setdefault(doubt.channel, []).append(doubt)
    return found


def _row(
    log: CorrectedLog, number: int, row: int, reasons: dict[int, list[Doubt]], zone: ZoneInfo
) -> Row:
    channel = log.raw.channels[number]
    unit = Unit.C if channel.celsius[row] else Unit.F
    value = float(channel.value[row])
    flag = Flag(int(log.qualified.flags[number][row]))
    why = [d.reason for d in reasons.get(number, []) if d.first <= row <= d.last]
    return Row(
        at=moment(float(channel.at[row]), zone),
        written=channel.written(row) or "(empty)",
        unit=unit.value,
        used=_used(value, float(log.lower[number][row]), float(log.upper[number][row]), unit),
        piece=channel.piece,
        place=channel.place.value,
        point=channel.point,
        probe=channel.probe_of(row),
        flag=flag.name.lower().replace("_", " "),
        reason="; ".join(dict.fromkeys(why)),
        source=channel.source,
        line=int(channel.line[row]),
    )


def _used(value: float, low: float, high: float, unit: Unit) -> str:
    """What is judged in place of the reading; ``""`` if it stands as written."""
    if math.isnan(low):
        return "nothing"
    if math.isinf(low) and math.isinf(high):
        return "unknown"
    # A side that was left out is the next number that the machine knows beside the figure.
    if math.isinf(low):
        return f"{'at most' if high == round(high, 6) else 'below'} {format_degrees(high, unit)}"
    if math.isinf(high):
        return f"{'at least' if low == round(low, 6) else 'above'} {format_degrees(low, unit)}"
    if low == high:
        return "" if low == value else format_degrees(low, unit)
    return f"{format_degrees(low, unit).split()[0]} to {format_degrees(high, unit)}"
