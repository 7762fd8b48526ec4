"""The list of readings: which are printed, and what stands behind each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag
from tempwitness.report.wording import plain
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from tempwitness.model.logs import Channel, StagedLog
    from tempwitness.report.content.selection import Choice
    from tempwitness.report.localtime import LocalTime

__all__ = ["KEY", "Entry", "channel_name", "entries", "extent"]

_SIGNS = {Flag.SUSPECT: "S", Flag.FAIL: "F", Flag.MISSING: "M", Flag.NOT_EVALUATED: "n"}
KEY = (
    "Behind a reading: → what it was corrected to; * a finding rests on it; S suspect, F failed, "
    "M missing: kept, but it does not decide; n not examined; no letter: passed."
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One reading, or one end of a run of readings under one flag.

    Parameters
    ----------
    when : str
        The moment, in short.
    reading : str
        As it was written.
    marks : tuple of str
        Name of an hour that comes twice; what it was corrected to; flag; star of a cited one.
    """

    when: str
    reading: str
    marks: tuple[str, str, str, str]

    @property
    def behind(self) -> str:
        """The marks in one line."""
        return " ".join(mark for mark in self.marks if mark)


def extent(choices: list[Choice], log: StagedLog) -> str:
    """Say which readings are printed."""
    total = sum(len(channel) for channel in log.raw.channels)
    single = sum(len(choice.single) for choice in choices)
    every = max((choice.every for choice in choices), default=1)
    if every == 1:
        return f"All {total} readings are printed."
    cited = sum(len(set(range(a, b + 1)) & c.cited) for c in choices for a, b in c.runs)
    in_runs = sum(b - a + 1 for c in choices for a, b in c.runs) - cited
    runs = sum(len(choice.runs) for choice in choices)
    grouped = (
        f" {in_runs} more stand in {runs} runs under one flag, a run as one entry." if runs else ""
    )
    return (
        f"{single} of {total} readings are printed one by one: every one under a flag, every one "
        f"on which a finding rests, the first, last, lowest and highest of each probe, and one in "
        f"{every} of the others.{grouped} For the rest stands the hash of the file, printed above."
    )


def channel_name(channel: Channel) -> str:
    """Name the point, the probes and the file of a channel."""
    piece = f"Piece {channel.piece}, " if channel.piece else ""
    point = f" {channel.point}" if channel.point else ""
    probes = sorted(set(channel.probe))
    probe = f", probe {', '.join(probes)}" if any(probes) else ""
    return f"{piece}{channel.place}{point}{probe} ({channel.source})"


def entries(choice: Choice, channel: Channel, log: StagedLog, clock: LocalTime) -> list[Entry]:
    """Return what is printed of a channel, in order of time."""
    index = choice.channel
    flags = log.corrected.qualified.flags[index]
    lower, upper = log.corrected.lower[index], log.corrected.upper[index]
    found: list[tuple[int, Entry]] = []
    for row in choice.single.tolist():
        when, hour = clock.row(float(channel.at[row]))
        corrected = _corrected(channel, row, float(lower[row]), float(upper[row]))
        sign = _SIGNS.get(Flag(int(flags[row])), "")
        star = "*" if row in choice.cited else ""
        entry = Entry(when, _as_written(channel, row), (hour, corrected, sign, star))
        found.append((row, entry))
    for first, last in choice.runs:
        sign = _SIGNS[Flag(int(flags[first]))]
        when, until = (clock.row(float(channel.at[row]))[0] for row in (first, last))
        number = f"{last - first + 1} readings"
        found.append((first, Entry(when, "from here", ("", "", sign, ""))))
        found.append((last, Entry(until, number, ("", "", f"{sign} to here", ""))))
    return [entry for _, entry in sorted(found, key=lambda one: one[0])]


def _as_written(channel: Channel, row: int) -> str:
    unit = Unit.C if channel.celsius[row] else Unit.F
    if channel.text is not None:
        text = plain(channel.text[row])
        return f"{text} {unit.symbol}" if text[-1:].isdigit() else text or "empty"
    value = float(channel.value[row])
    return format_degrees(value, unit) if np.isfinite(value) else "no number"


def _corrected(channel: Channel, row: int, lower: float, upper: float) -> str:
    if not (np.isfinite(lower) and np.isfinite(upper)):
        return ""
    least, most = _figure(lower), _figure(upper)
    if channel.low is not None and channel.high is not None:
        as_given = (_figure(float(channel.low[row])), _figure(float(channel.high[row])))
        if as_given == (least, most):
            return ""
    if least == most:
        return "" if least == _figure(float(channel.value[row])) else f"→ {least}"
    return f"→ {least}–{most}"


def _figure(value: float) -> str:
    # Two decimals where there are two, so that 134.96 never reads as 135.
    return f"{value:.2f}".rstrip("0").rstrip(".")
