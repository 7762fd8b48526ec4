"""A channel while it is tested: readings in °F, flags that only get worse, and the doubts."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.logs import Doubt, Remark
from tempwitness.model.vocabulary import Flag
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from tempwitness.model.logs import Bools, Channel, Floats, Ints

__all__ = ["Trace", "middle"]


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
    typed : bool
        Whether a person typed the readings into the record.
    origin : Ints, optional
        Channel of each reading where several are tested as one.
    doubts : list of Doubt
    remarks : list of Remark
    """

    number: int
    channel: Channel
    degrees: Floats
    flags: NDArray[np.int8]
    typed: bool
    origin: Ints | None = None
    doubts: list[Doubt] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)
    _usual: float | None = None

    @classmethod
    def of(cls, number: int, channel: Channel) -> Trace:
        """Begin with a channel of which nothing is doubted."""
        degrees = channel.value
        if bool(channel.celsius.any()):
            degrees = np.where(channel.celsius, channel.value * 1.8 + 32.0, channel.value)
        flags = np.full(len(channel), Flag.PASS, np.int8)
        return cls(number, channel, degrees, flags, channel.source == "record")

    @property
    def usual(self) -> float:
        """Usual interval from a reading to the next: their median [s]; infinite for one reading."""
        if self._usual is None:
            self._usual = middle(np.diff(self.channel.at)) if len(self.channel) > 1 else np.inf
        return self._usual

    def good(self) -> Ints:
        """Rows that nothing speaks against so far."""
        return np.flatnonzero(self.flags == Flag.PASS)

    def by_probe(self) -> Iterator[Ints]:
        """Yield the good rows of each probe."""
        good = self.good()
        probes = self.channel.probe
        if len(probes) == 1:
            yield good
            return
        taken = np.array([probes[row] for row in good.tolist()], dtype=object)
        for probe in dict.fromkeys(taken.tolist()):
            yield good[taken == probe]

    def by_instrument(self, rows: Ints, apart: float) -> Bools:
        """Mark the rows that an instrument wrote: others of its readings lie close on both sides.

        Parameters
        ----------
        apart : float
            The longest interval between readings of an instrument [s].
        """
        if self.typed or len(self.channel) < 2:
            return np.zeros(len(rows), np.bool_)
        at = self.channel.at
        last = len(at) - 1
        before = np.where(rows > 0, at[rows] - at[np.maximum(rows - 1, 0)], 0.0)
        after = np.where(rows < last, at[np.minimum(rows + 1, last)] - at[rows], 0.0)
        close: Bools = (before <= apart) & (after <= apart)
        return close

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

    @property
    def name(self) -> str:
        """What is read and where it is written, for a sentence."""
        what = self.channel.place.value
        piece = f" of piece {self.channel.piece}" if self.channel.piece else ""
        point = f" ({self.channel.point})" if self.channel.point else ""
        return f"{self.channel.source}, {what}{piece}{point}"


def middle(values: Floats) -> float:
    """Lower median; numpy's own would load all of its masked arrays first."""
    half = (len(values) - 1) // 2
    return float(np.partition(values, half)[half])
