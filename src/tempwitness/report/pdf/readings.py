"""The list of readings, in narrow columns of small type."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, PageBreak

from tempwitness.report.content.readings import KEY, Entry, channel_name, entries, extent
from tempwitness.report.content.selection import choose
from tempwitness.report.pdf.fonts import BOLD, REGULAR, drawable, fitted
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY, SMALL_SIZE, title, words

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog
    from tempwitness.report.localtime import LocalTime

__all__ = ["Listing", "readings_pages"]

# Where a reading ends and what stands behind it begins, in shares of a column.
_READING, _BEHIND = 0.55, 0.565


class Listing(Flowable):
    """Entries of three parts each, set down the page in columns.

    Parameters
    ----------
    entries : list of Entry
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
        for place, entry in enumerate(self.entries):
            column, row = divmod(place, rows)
            left, line = column * share, (rows - row - 1) * self.leading + 2
            self.canv.drawString(left, line, entry.when)
            self.canv.drawRightString(left + _READING * share, line, drawable(entry.reading))
            if entry.behind:
                self.canv.setFont(BOLD, SMALL_SIZE)
                room = (0.98 - _BEHIND) * share
                text = fitted(entry.behind, room, SMALL_SIZE, BOLD)
                self.canv.drawString(left + _BEHIND * share, line, text)
                self.canv.setFont(REGULAR, SMALL_SIZE)


def readings_pages(evaluation: Evaluation, log: StagedLog, clock: LocalTime) -> list[Flowable]:
    """Set the readings, all of them or those that matter, and say exactly which."""
    choices = choose(evaluation, log)
    parts: list[Flowable] = [PageBreak(), Heading("Readings", "readings")]
    parts += [words(extent(choices, log), BODY), words(KEY, BODY)]
    for choice in choices:
        channel = log.raw.channels[choice.channel]
        parts += title(channel_name(channel))
        parts.append(Listing(entries(choice, channel, log, clock)))
    return parts
