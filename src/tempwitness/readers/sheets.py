"""A table as columns: labels and numbers, whichever way it was read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from tempwitness.model.logs import Bools, Floats, Ints
    from tempwitness.units import Unit

__all__ = ["Asked", "Labels", "Numbers", "Sheet", "no_labels"]


@dataclass(frozen=True, slots=True, eq=False)
class Labels:
    """A column of words: for each row the position of its word in `names`.

    Words are stripped of blanks around them; an empty cell is the word ``""``.
    """

    codes: NDArray[np.integer]
    names: list[str]

    def blank(self) -> Bools:
        """Rows whose cell is empty."""
        empty = np.array([name == "" for name in self.names], np.bool_)
        return empty[self.codes] if len(empty) else np.ones(len(self.codes), np.bool_)

    def at(self, row: int) -> str:
        """Word of a row."""
        return self.names[int(self.codes[row])]


@dataclass(frozen=True, slots=True, eq=False)
class Numbers:
    """A column of temperatures.

    Parameters
    ----------
    value : Floats
        NaN where the cell holds no number.
    blank : Bools
        Rows whose cell is empty.
    text : list of str, optional
        The cells as written; ``None`` when each is the plain text of its number or empty.
    celsius : Bools, optional
        Rows in °C, where cells name their unit; ``None`` when all have that of the column.
    low, high : Floats, optional
        Bounds that were written in place of a figure, as in `tempwitness.model.logs.Channel`.
    rough : Bools, optional
        Rows whose figure was marked as approximate.
    ditto : Bools, optional
        Rows that repeat the one above; their value is not known yet.
    """

    value: Floats
    blank: Bools
    text: list[str] | None
    celsius: Bools | None = None
    low: Floats | None = None
    high: Floats | None = None
    rough: Bools | None = None
    ditto: Bools | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """Which columns are wanted, by position: words, among them the time, and numbers."""

    words: tuple[int, ...]
    numbers: tuple[tuple[int, Unit], ...]
    time: int | None = None


class Sheet(Protocol):
    """Rows of a table, those that are wholly empty left out."""

    @property
    def lines(self) -> Ints:
        """Line of each row in the file, from 1."""

    def labels(self, column: int) -> Labels:
        """Column of words."""

    def stamps(self, column: int) -> tuple[Ints, NDArray[np.uint8]] | None:
        """Column of stamps of one width: for each row its place in a table of bytes.

        ``None`` where the reader keeps them as words.
        """

    def numbers(self, column: int) -> Numbers:
        """Column of temperatures."""


def no_labels(rows: int) -> Labels:
    """Column that the file does not have: every cell is empty."""
    return Labels(np.zeros(rows, np.int8), [""])
