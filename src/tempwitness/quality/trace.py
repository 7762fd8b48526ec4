"""A channel while it is tested: readings in °F, flags that only get worse, and the doubts."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.logs import Doubt
from tempwitness.model.vocabulary import Flag
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from tempwitness.model.logs import Bools, Channel, Floats, Ints

__all__ = ["Trace"]


@dataclass(slots=True, eq=False)
class Trace:
    """A channel under test.

    Parameters
    ----------
    number : int
        Index of the channel in its log.
    channel : Channel
    degrees : Floats
        Readings [°F].
    flags : array of int8
        Flag of each reading so far.
    doubts : list of Doubt
    """

    number: int
    channel: Channel
    degrees: Floats
    flags: NDArray[np.int8]
    doubts: list[Doubt] = field(default_factory=list)

    @classmethod
    def of(cls, number: int, channel: Channel) -> Trace:
        """Begin with a channel of which nothing is doubted."""
        degrees = channel.value
        if bool(channel.celsius.any()):
            degrees = np.where(channel.celsius, channel.value * 1.8 + 32.0, channel.value)
        return cls(number, channel, degrees, np.full(len(channel), Flag.PASS, np.int8))

    def good(self) -> Ints:
        """Rows that nothing speaks against so far."""
        return np.flatnonzero(self.flags == Flag.PASS)

    def mark(self, rows: Ints, flag: Flag, code: str, reason: str) -> None:
        """Doubt rows; neighbouring ones become one entry. A worse flag is kept."""
        if not len(rows):
            return
        self.flags[rows] = np.maximum(self.flags[rows], np.int8(flag))
        breaks = np.flatnonzero(np.diff(rows) > 1)
        firsts = rows[np.concatenate(([0], breaks + 1))]
        lasts = rows[np.concatenate((breaks, [len(rows) - 1]))]
        self.doubts += [
            Doubt(self.number, first, last, flag, code, reason)
            for first, last in zip(firsts.tolist(), lasts.tolist(), strict=True)
        ]

    def mark_where(self, wrong: Bools, flag: Flag, code: str, reason: str) -> None:
        """Doubt the rows for which a test is true."""
        if bool(wrong.any()):
            self.mark(np.flatnonzero(wrong), flag, code, reason)

    def words(self, row: int) -> str:
        """Reading of a row as it was written, with its unit."""
        unit = Unit.C if self.channel.celsius[row] else Unit.F
        return format_degrees(float(self.channel.value[row]), unit)
