"""A column of temperatures cell by cell, with everything said that is not used as it stands."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from tempwitness.model.logs import Bools, Change, Floats
from tempwitness.readers.cells import DITTO_WHY, Cell, Kind, read_cell
from tempwitness.readers.sheets import Numbers
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Ints
    from tempwitness.readers.problems import Problems

__all__ = ["Marks", "changed", "ditto_changes", "repeated"]

_HINT = (
    "write the temperature that was read as a number; leave the cell empty (or write NA) if "
    "nothing was read, and put words into the column 'note'"
)
_EMPTY = Cell(Kind.NONE)
_PLAIN = re.compile(r"[+-]?\d+(?:\.\d+)?")
Values = TypeVar("Values", Floats, Bools)


@dataclass(slots=True)
class Marks:
    """Cells of a file that need a closer look.

    Parameters
    ----------
    problems : Problems
        Takes what cannot be read.
    changes : list of Change
        Takes what is not used as it stands.
    comma, point : tuple of (int, str), optional
        First line, and column, with a decimal comma and with a decimal point.
    """

    problems: Problems
    changes: list[Change] = field(default_factory=list)
    comma: tuple[int, str] | None = None
    point: tuple[int, str] | None = None

    def numbers(self, text: Sequence[str], lines: Ints, name: str, unit: Unit) -> Numbers:
        """Read a column.

        Parameters
        ----------
        text : sequence of str
            Its cells.
        lines : Ints
            Line of each.
        name : str
        unit : Unit
            Scale of the cells that name none.
        """
        known = {"": _EMPTY}
        cells = []
        for line, cell in zip(lines.tolist(), text, strict=True):
            if cell not in known:
                known[cell] = self._read(cell, line, name)
                self._decimal(known[cell], line, name)
            cells.append(known[cell])
        self._refuse_both_signs()
        self.changes += _changes(self.problems.file, text, lines, name, (cells, unit))
        return _columns(cells, text, unit)

    def plain(self, text: Sequence[str], lines: Ints, name: str) -> None:
        """Take notice of a column of ordinary numbers: a decimal point is one for the file."""
        row = next((i for i, cell in enumerate(text) if "." in cell), None)
        if row is not None and self.point is None:
            self.point = (int(lines[row]), name)
            self._refuse_both_signs()

    def _read(self, cell: str, line: int, name: str) -> Cell:
        try:
            return read_cell(cell)
        except ValueError as why:
            self.problems.add(str(why), _HINT, line=line, column=name)
            return _EMPTY

    def _decimal(self, cell: Cell, line: int, name: str) -> None:
        if cell.comma and self.comma is None:
            self.comma = (line, name)
        if cell.point and self.point is None:
            self.point = (line, name)

    def _refuse_both_signs(self) -> None:
        if self.comma is None or self.point is None:
            return
        self.problems.stop(
            f"a comma stands for the decimal point here, and in line {self.point[0]} (column "
            f"'{self.point[1]}') a point does: one of them may part thousands",
            "write all figures of the file with the same sign",
            line=self.comma[0],
            column=self.comma[1],
        )


def _columns(cells: Sequence[Cell], text: Sequence[str], unit: Unit) -> Numbers:
    value = np.array([c.value for c in cells], np.float64)
    blank = np.array([t == "" for t in text], np.bool_)
    plain = all(cell == "" or _PLAIN.fullmatch(cell) for cell in text)
    found = Numbers(value, blank, None if plain else list(text))
    if any(c.unit not in (None, unit) for c in cells):
        written = np.array([(c.unit or unit) is Unit.C for c in cells], np.bool_)
        found = replace(found, celsius=written)
    if any(c.bounded and c.kind is Kind.FIGURE for c in cells):
        low = np.array([c.low for c in cells], np.float64)
        found = replace(found, low=low, high=np.array([c.high for c in cells], np.float64))
    if any(c.rough for c in cells):
        found = replace(found, rough=np.array([c.rough for c in cells], np.bool_))
    if any(c.kind is Kind.DITTO for c in cells):
        ditto = np.array([c.kind is Kind.DITTO for c in cells], np.bool_)
        found = replace(found, ditto=ditto)
    return found


def changed(cell: Cell, unit: Unit) -> str:
    """Say why a cell is not used as it stands; ``""`` if it is."""
    if cell.unit in (None, unit):
        return cell.why
    other = f"written in {cell.unit.symbol} in a column of {unit.symbol}, and taken as written"
    return f"{other}; {cell.why}" if cell.why else other


def _changes(
    file: str, text: Sequence[str], lines: Ints, name: str, read: tuple[Sequence[Cell], Unit]
) -> list[Change]:
    """One entry for each run of rows in which the same was done to the same cell."""
    cells, unit = read
    found: list[Change] = []
    last = -1
    for row, (cell, written) in enumerate(zip(cells, text, strict=True)):
        reason = changed(cell, unit)
        if not reason or cell.kind is Kind.DITTO:
            continue
        before = found[-1] if found and last == row - 1 else None
        last = row
        if before is not None and (before.written, before.reason) == (written, reason):
            found[-1] = replace(before, rows=before.rows + 1)
            continue
        used = cell.words(cell.unit or unit)
        found.append(Change(file, int(lines[row]), name, written, used, reason))
    return found


def repeated(numbers: Numbers, above: Ints) -> tuple[Numbers, Ints]:
    """Give every ditto mark the reading above it.

    Parameters
    ----------
    numbers : Numbers
    above : Ints
        For each row the row above it of the same point, -1 if there is none.

    Returns
    -------
    Numbers, Ints
        The column, and the rows above which nothing stands to be repeated.
    """
    if numbers.ditto is None:
        return numbers, np.zeros(0, np.int64)
    origin = np.arange(len(numbers.value))
    for row in np.flatnonzero(numbers.ditto).tolist():
        origin[row] = -1 if above[row] < 0 else origin[above[row]]
    bare = (origin < 0) | np.isnan(numbers.value[origin])
    nothing = np.flatnonzero(numbers.ditto & bare)
    return (
        replace(
            numbers,
            value=numbers.value[origin],
            celsius=_from(numbers.celsius, origin),
            low=_from(numbers.low, origin),
            high=_from(numbers.high, origin),
            rough=_from(numbers.rough, origin),
        ),
        nothing,
    )


def ditto_changes(file: str, numbers: Numbers, lines: Ints, name: str, unit: Unit) -> list[Change]:
    """Say what each ditto mark stands for."""
    found: list[Change] = []
    if numbers.ditto is None:
        return found
    for row in np.flatnonzero(numbers.ditto).tolist():
        celsius = unit is Unit.C if numbers.celsius is None else bool(numbers.celsius[row])
        value = float(numbers.value[row])
        low = value if numbers.low is None else float(numbers.low[row])
        high = value if numbers.high is None else float(numbers.high[row])
        rough = numbers.rough is not None and bool(numbers.rough[row])
        cell = Cell(Kind.FIGURE, value, low, high, rough=rough)
        written = "" if numbers.text is None else numbers.text[row]
        used = cell.words(Unit.C if celsius else Unit.F)
        found.append(Change(file, int(lines[row]), name, written, used, DITTO_WHY))
    return found


def _from(column: Values | None, origin: Ints) -> Values | None:
    return None if column is None else column[origin]
