"""A table read cell by cell: for small files, and to say which cell of a large one is wrong."""

from __future__ import annotations

import csv
import io
import re
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.readers.sheets import Asked, Labels, Numbers
from tempwitness.readers.words import temperature

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.model.logs import Ints
    from tempwitness.readers.problems import Problems
    from tempwitness.readers.sniff import Text
    from tempwitness.units import Unit

__all__ = ["NO_READING", "CarefulSheet", "split_rows"]

NO_READING = frozenset({"", "-", "--", "---", "na", "n/a", "nan"})
_PLAIN = re.compile(r"[+-]?\d+(?:\.\d+)?")
_COMMA = re.compile(r"[+-]?\d+,\d{1,2}")

Row = tuple[int, list[str]]


def split_rows(text: Text, problems: Problems) -> list[Row]:
    """Split a text file into rows of cells, each with its line; empty rows are left out.

    Raises
    ------
    InputError
        If a line holds NUL bytes, or a quotation mark is left open.
    """
    whole = text.data.decode("utf-8")
    if "\0" in whole:
        line = whole.count("\n", 0, whole.index("\0")) + 1
        problems.stop(
            "the line holds NUL bytes, as after a loss of power",
            "delete the broken line",
            line=line,
        )
    reader = csv.reader(io.StringIO(whole, newline=None), delimiter=text.separator, strict=True)
    rows: list[Row] = []
    try:
        next(reader)
        for cells in reader:
            stripped = [cell.strip() for cell in cells]
            if any(stripped):
                rows.append((reader.line_num, stripped))
    except csv.Error as why:
        problems.stop(
            f"the row cannot be split into cells ({why})",
            "close every quotation mark, or leave them out",
            line=reader.line_num,
        )
    return rows


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
    decimal_comma : bool
        Whether a comma may stand for the decimal point.
    """

    def __init__(
        self,
        rows: Sequence[Row],
        header: Sequence[str],
        asked: Asked,
        problems: Problems,
        *,
        decimal_comma: bool,
    ) -> None:
        self._rows = [cells for _, cells in rows]
        self._header = header
        self._units = dict(asked.numbers)
        self._problems = problems
        self._decimal_comma = decimal_comma
        self.lines: Ints = np.array([line for line, _ in rows], np.int64)
        self.commas_seen = False
        self._square()

    def _square(self) -> None:
        """Fill short rows; refuse long ones."""
        wide = len(self._header)
        for line, cells in zip(self.lines.tolist(), self._rows, strict=True):
            if len(cells) > wide and any(cells[wide:]):
                self._problems.add(
                    f"the row has {len(cells)} cells where the header names {wide} columns",
                    "a comma inside a cell needs quotation marks around the cell",
                    line=line,
                )
            cells.extend([""] * (wide - len(cells)))
        self._problems.check()

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
            plain = np.array(text, np.float64) if text else np.zeros(0)
            return Numbers(plain, np.zeros(len(text), np.bool_), None)
        unit = self._units[column]
        value = np.array([self._number(i, cell, column, unit) for i, cell in enumerate(text)])
        blank = np.array([cell == "" for cell in text], np.bool_)
        clean = all(cell == "" or _PLAIN.fullmatch(cell) for cell in text)
        return Numbers(value, blank, None if clean else text)

    def _number(self, row: int, cell: str, column: int, unit: Unit) -> float:
        if _PLAIN.fullmatch(cell):
            return float(cell)
        if cell.lower() in NO_READING:
            return float("nan")
        if self._decimal_comma and _COMMA.fullmatch(cell):
            self.commas_seen = True
            return float(cell.replace(",", "."))
        return self._with_unit(row, cell, column, unit)

    def _with_unit(self, row: int, cell: str, column: int, unit: Unit) -> float:
        line, name = int(self.lines[row]), self._header[column]
        try:
            value, written = temperature(cell)
        except ValueError:
            self._problems.add(
                f"'{cell}' is not a number",
                "write the temperature that was read as a number; leave the cell empty (or write "
                "NA) if nothing was read, and put words into the column 'note'",
                line=line,
                column=name,
            )
            return float("nan")
        if written is not unit:
            self._problems.add(
                f"'{cell}' is in {written.symbol} but the column is in {unit.symbol}",
                f"put it into a column of its own unit, such as temp_{written.value.lower()}",
                line=line,
                column=name,
            )
        return value
