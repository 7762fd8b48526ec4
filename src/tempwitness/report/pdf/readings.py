"""The list of readings, in narrow columns of small type."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from reportlab.platypus import Flowable, PageBreak

from tempwitness.model.vocabulary import Flag
from tempwitness.report.pdf.fonts import BOLD, REGULAR, drawable, fitted
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.selection import Choice, choose
from tempwitness.report.pdf.styles import BODY, SMALL_SIZE, title, words
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import Channel, StagedLog
    from tempwitness.report.localtime import LocalTime

__all__ = ["Listing", "readings_pages"]

_SIGNS = {Flag.SUSPECT: "S", Flag.FAIL: "F", Flag.MISSING: "M", Flag.NOT_EVALUATED: "n"}
_KEY = (
    "Behind a reading: → what it was corrected to; * a finding rests on it; S suspect, F failed, "
    "M missing: kept, but it does not decide; n not examined; no letter: passed."
)

Entry = tuple[str, str, str]

# Where a reading ends and what stands behind it begins, in shares of a column.
_READING, _BEHIND = 0.55, 0.565


class Listing(Flowable):
    """Entries of three parts each, set down the page in columns.

    Parameters
    ----------
    entries : list of (str, str, str)
        Moment, reading, and what stands behind it.
    """

    columns = 3
    leading = 10.0

    def __init__(self, entries: list[Entry]) -> None:
        super().__init__()
        self.entries = entries
        self.width = 0.0

    def _rows(self) -> int:
        return -(-len(self.entries) // self.columns)

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """Return the room that it takes [pt]."""
        self.width = width
        return width, self._rows() * self.leading

    def split(self, _width: float, height: float) -> list[Flowable]:
        """Divide it so that the first part fills the height [pt]."""
        fit = int(height // self.leading) * self.columns
        if fit < self.columns:
            return []
        return [Listing(self.entries[:fit]), Listing(self.entries[fit:])]

    def draw(self) -> None:
        """Draw it."""
        self.canv.setFont(REGULAR, SMALL_SIZE)
        rows, share = self._rows(), self.width / self.columns
        for place, (when, reading, behind) in enumerate(self.entries):
            column, row = divmod(place, rows)
            left, line = column * share, (rows - row - 1) * self.leading + 2
            self.canv.drawString(left, line, when)
            self.canv.drawRightString(left + _READING * share, line, reading)
            if behind:
                self.canv.setFont(BOLD, SMALL_SIZE)
                room = (0.98 - _BEHIND) * share
                text = fitted(behind, room, SMALL_SIZE, BOLD)
                self.canv.drawString(left + _BEHIND * share, line, text)
                self.canv.setFont(REGULAR, SMALL_SIZE)


def readings_pages(evaluation: Evaluation, log: StagedLog, clock: LocalTime) -> list[Flowable]:
    """Set the readings, all of them or those that matter, and say exactly which."""
    choices = choose(evaluation, log)
    parts: list[Flowable] = [PageBreak(), Heading("Readings", "readings")]
    parts += [words(_extent(choices, log), BODY), words(_KEY, BODY)]
    for choice in choices:
        channel = log.raw.channels[choice.channel]
        parts += title(_name(channel))
        parts.append(Listing(_entries(choice, channel, log, clock)))
    return parts


def _extent(choices: list[Choice], log: StagedLog) -> str:
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


def _name(channel: Channel) -> str:
    piece = f"Piece {channel.piece}, " if channel.piece else ""
    point = f" {channel.point}" if channel.point else ""
    probes = sorted(set(channel.probe))
    probe = f", probe {', '.join(probes)}" if any(probes) else ""
    return f"{piece}{channel.place}{point}{probe} ({channel.source})"


def _entries(choice: Choice, channel: Channel, log: StagedLog, clock: LocalTime) -> list[Entry]:
    index = choice.channel
    flags = log.corrected.qualified.flags[index]
    lower, upper = log.corrected.lower[index], log.corrected.upper[index]
    found: list[tuple[int, Entry]] = []
    for row in choice.single.tolist():
        when, hour = clock.row(float(channel.at[row]))
        marks = [
            hour,
            _corrected(channel, row, float(lower[row]), float(upper[row])),
            _SIGNS.get(Flag(int(flags[row])), ""),
            "*" if row in choice.cited else "",
        ]
        behind = " ".join(mark for mark in marks if mark)
        found.append((row, (when, _as_written(channel, row), behind)))
    for first, last in choice.runs:
        sign = _SIGNS[Flag(int(flags[first]))]
        when, until = (clock.row(float(channel.at[row]))[0] for row in (first, last))
        number = f"{last - first + 1} readings"
        found += [(first, (when, "from here", sign)), (last, (until, number, f"{sign} to here"))]
    return [entry for _, entry in sorted(found)]


def _as_written(channel: Channel, row: int) -> str:
    unit = Unit.C if channel.celsius[row] else Unit.F
    if channel.text is not None:
        text = drawable(channel.text[row])
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
