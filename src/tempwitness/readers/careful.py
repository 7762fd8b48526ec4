"""A table read cell by cell: for small files, and to say which cell of a large one is wrong."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.readers.marks import Marks
from tempwitness.readers.sheets import Asked, Labels, Numbers

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.model.logs import Change, Ints
    from tempwitness.readers.grid import Row
    from tempwitness.readers.problems import Problems

__all__ = ["CarefulSheet"]

_PLAIN = re.compile(r"[+-]?\d+(?:\.\d+)?")


class CarefulSheet:
    """Rows of cells as text.

    Parameters
    ----------
    rows : sequence of Row
        Line and cells.
    header : sequence of str
    asked : Asked
        Columns that are wanted.
    problems : Problems
        Takes every cell that cannot be read.
    """

    def __init__(
        self,
        rows: Sequence[Row],
        header: Sequence[str],
        asked: Asked,
        problems: Problems,
    ) -> None:
        self._rows = [cells for _, cells in rows]
        self._header = header
        self._units = dict(asked.numbers)
        self._marks = Marks(problems)
        self.lines: Ints = np.array([line for line, _ in rows], np.int64)

    def _cells(self, column: int) -> Iterator[str]:
        return (cells[column] for cells in self._rows)

    def labels(self, column: int) -> Labels:
        """Column of words."""
        known: dict[str, int] = {}
        codes = [known.setdefault(cell, len(known)) for cell in self._cells(column)]
        return Labels(np.array(codes, np.int64), list(known))

    def stamps(self, column: int) -> None:
        """Tell that stamps are kept as words here."""

    def numbers(self, column: int) -> Numbers:
        """Column of temperatures."""
        text = list(self._cells(column))
        if all(map(_PLAIN.fullmatch, text)):
            self._marks.plain(text, self.lines, self._header[column])
            plain = np.array(text, np.float64) if text else np.zeros(0)
            # So many digits that no number is left are looked at like any other odd cell.
            if np.isfinite(plain).all():
                return Numbers(plain, np.zeros(len(text), np.bool_), None)
        return self._marks.numbers(text, self.lines, self._header[column], self._units[column])

    @property
    def changes(self) -> list[Change]:
        """What in the cells is not used as it stands."""
        return self._marks.changes

    @property
    def commas_seen(self) -> bool:
        """Whether a comma stands for the decimal point."""
        return self._marks.comma is not None
