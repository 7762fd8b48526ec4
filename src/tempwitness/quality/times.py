"""Tests of the moments: gaps, moments that cannot be, and lists that go back in time."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np

from tempwitness.model.logs import Remark
from tempwitness.model.vocabulary import Flag

if TYPE_CHECKING:
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["back_in_time", "gaps", "impossible_time"]


def _clock(seconds: float, zone: str) -> str:
    """Write a moment as the clocks of the lot's zone showed it."""
    return f"{datetime.fromtimestamp(seconds, UTC).astimezone(ZoneInfo(zone)):%Y-%m-%d %H:%M}"


def impossible_time(trace: Trace, asked: float | None, zone: str, figures: Figures) -> None:
    """Flag readings from before there were such logs, and from after the moment of asking.

    Parameters
    ----------
    asked : float, optional
        The latest moment at which anything can have been read [s]; ``None`` if nobody says.
    """
    at = trace.channel.at
    if not len(at):
        return
    if at[0] < figures.time.earliest:
        trace.mark_where(
            at < figures.time.earliest,
            Flag.SUSPECT,
            "time",
            f"{_clock(float(at[0]), zone)} is where a clock begins that lost its battery: when "
            "this was read is unknown",
        )
    if asked is not None and at[-1] > asked + figures.time.ahead:
        late = at > asked + figures.time.ahead
        first = float(at[int(np.argmax(late))])
        trace.mark_where(
            late,
            Flag.SUSPECT,
            "time",
            f"{_clock(first, zone)} lies after the moment of asking ({_clock(asked, zone)}): the "
            "clock of the log, its day or its zone is wrong",
        )


def gaps(trace: Trace, zone: str, figures: Figures) -> None:
    """Remark where a steady log stopped; the readings on both sides are good."""
    if trace.usual > figures.gap.steady:
        return
    at = trace.channel.at
    longest = max(figures.gap.longest, figures.gap.times * trace.usual)
    for row in np.flatnonzero(np.diff(at) > longest).tolist():
        start, end = float(at[row]), float(at[row + 1])
        trace.remarks.append(
            Remark(
                trace.number,
                row,
                row + 1,
                "gap",
                f"{trace.name}: nothing was read from {_clock(start, zone)} to "
                f"{_clock(end, zone)}, in a log that has a reading every {_span(trace.usual)}",
            )
        )


def _span(seconds: float) -> str:
    """Write a short span.

    Examples
    --------
    >>> _span(60.0), _span(90.0)
    ('1 min', '90 s')
    """
    return f"{seconds / 60:g} min" if seconds % 60 == 0 else f"{seconds:g} s"


def back_in_time(trace: Trace, figures: Figures) -> str:
    """Return the question why a list goes back in time, ``""`` if it does not or is sorted anew.

    Readings are always judged in order of time, whatever the order of the lines.
    """
    line = trace.channel.line
    falls = np.flatnonzero(line[1:] < line[:-1])
    if not len(falls) or len(falls) >= figures.time.back:
        return ""
    row = int(falls[0])
    return (
        f"{trace.name}: line {line[row + 1]} stands above line {line[row]} but bears a later "
        "time. Was a clock set back, or were two lists put together? The readings were taken in "
        "order of time."
    )
