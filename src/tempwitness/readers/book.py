"""A record in a workbook, read into the same tables as a TOML file, cell by cell.

Nothing is passed over: a sheet, a column or a cell that is not understood is refused by its name.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from tempwitness.errors import InputError
from tempwitness.readers.book_cells import column_letters, value_of
from tempwitness.readers.book_layout import (
    ASIDE,
    COUNT,
    FACTS,
    LOT,
    LOT_KEYS,
    MARK,
    SHEETS,
    UNIT_KEY,
    names_of_sheets,
)
from tempwitness.readers.cell_errors import failed_cells
from tempwitness.readers.intact import refuse_damaged
from tempwitness.readers.opening import bytes_of
from tempwitness.readers.problems import Problems, nearest

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tempwitness.readers.book_layout import SheetPlan

__all__ = ["BookRecord", "is_book", "read_book"]

SUFFIXES = (".xlsx", ".xlsm", ".ods")
#: Parts that name the sheets, in Office Open XML and in OpenDocument.
_BOOK = "xl/workbook.xml"
_OPEN_DOCUMENT = "content.xml"
_MOST_LOOKED_AT = 1 << 24
Rows = list[list[Any]]
Table = dict[str, Any]


@dataclass(slots=True)
class BookRecord:
    """The tables of a record, and the cell in which each key stands.

    Parameters
    ----------
    table : dict
        As a TOML file would give it.
    places : dict of str to str
        Sheet and cell of each dotted key, entries of lists counted from 1.
    raw : bytes
    """

    table: Table
    places: dict[str, str]
    raw: bytes


def is_book(path: Path) -> bool:
    """Whether a file is a workbook that holds a record; ``False`` if it cannot be told."""
    if path.suffix.lower() not in SUFFIXES or not path.is_file() or not _has_lot(path):
        return False
    try:
        rows = _opened(path.read_bytes(), str(path)).get(LOT, [])
    except InputError:
        return False
    return bool(rows and rows[0]) and str(rows[0][0]).strip() == MARK


def _has_lot(path: Path) -> bool:
    """Look for the sheet's name alone: a long table of readings is not opened twice."""
    try:
        with zipfile.ZipFile(path) as parts, parts.open(_list_of_sheets(parts)) as part:
            return f'name="{LOT}"'.encode() in part.read(_MOST_LOOKED_AT)
    except (zipfile.BadZipFile, KeyError, OSError, zlib.error, RuntimeError, ValueError):
        return False


def _list_of_sheets(parts: zipfile.ZipFile) -> str:
    return _BOOK if _BOOK in parts.namelist() else _OPEN_DOCUMENT


def read_book(path: Path) -> BookRecord:
    """Read a record's workbook.

    Raises
    ------
    InputError
        Naming sheet and cell of everything that is not understood.
    """
    raw = bytes_of(path, name=str(path))
    reading = _Reading(raw, _opened(raw, str(path)), Problems(str(path)))
    reading.refuse_unknown_sheets()
    reading.lot()
    reading.facts()
    for plan in SHEETS:
        reading.entries(plan)
    reading.problems.check()
    return BookRecord(reading.table, reading.problems.places, raw)


def _opened(raw: bytes, file: str) -> dict[str, Rows]:
    """Return the rows of every sheet by its name."""
    problems = Problems(file)
    try:
        from python_calamine import CalamineError, CalamineWorkbook  # noqa: PLC0415 - an extra
    except ImportError:
        problems.stop(
            "workbooks need a reader that is not installed",
            'run: pip install "tempwitness[excel]"',
        )
    try:
        refuse_damaged(raw)
        book = CalamineWorkbook.from_filelike(io.BytesIO(raw))
        return {
            name: book.get_sheet_by_name(name).to_python(skip_empty_area=False)
            for name in book.sheet_names
            if name not in ASIDE
        }
    except (ValueError, CalamineError) as why:
        problems.stop(f"the workbook cannot be read ({why})", "save it again as .xlsx")


@dataclass(slots=True)
class _Reading:
    """A workbook as it is read: what was found so far, and where."""

    raw: bytes
    sheets: dict[str, Rows]
    problems: Problems
    table: Table = field(default_factory=lambda: {"schema": 1, "food": {}})
    #: Rows of the lists by what other sheets call them: table, then number or id.
    named: dict[tuple[str, str], tuple[Table, str]] = field(default_factory=dict)
    unit: str = ""
    formats: dict[str, Any] | None = None
    failed: dict[str, dict[tuple[int, int], str]] = field(default_factory=dict)

    def refuse_unknown_sheets(self) -> None:
        """Refuse a sheet whose name is not known: a renamed one must not vanish in silence."""
        known = names_of_sheets()
        for name in self.sheets:
            if name not in known:
                self.problems.add(
                    f"the sheet '{name}' is not known here{nearest(name, known)}",
                    "give it its name back, or keep it in a workbook of its own",
                )

    def lot(self) -> None:
        """Read the sheet with a key and a value in each row."""
        seen: dict[str, str] = {}
        for row, key, cell in self._pairs(LOT, "key"):
            if key not in LOT_KEYS:
                self._add(LOT, row, 0, f"'{key}' is not a key of a lot{nearest(key, LOT_KEYS)}")
            elif key in seen:
                self._add(LOT, row, 0, f"'{key}' stands here twice; first in {seen[key]}")
            else:
                seen[key] = place = self._place(LOT, row, 1)
                self.problems.places[key] = place
                self._put_lot(key, cell, row)

    def _put_lot(self, key: str, cell: object, row: int) -> None:
        value = self._value(key, cell, (LOT, row, 1))
        if value is None:
            return
        if key == UNIT_KEY:
            if value not in ("F", "C"):
                self._add(LOT, row, 1, f"'{value}' is no unit; choose F or C")
            self.unit = str(value)
            return
        table, _, name = key.rpartition(".")
        (self.table.setdefault(table, {}) if table else self.table)[name] = value

    def facts(self) -> None:
        """Read the questions that were answered."""
        found: Table = {}
        for row, key, cell in self._pairs(FACTS, "fact"):
            if key in found:
                self._add(FACTS, row, 0, f"'{key}' stands here twice")
            value = self._value(key, cell, (FACTS, row, 1))
            if value is not None:
                found[key] = value
                self.problems.places.setdefault("facts", self._place(FACTS, row, 1))
                self.problems.places[f"facts.{key}"] = self._place(FACTS, row, 1)
        if found:
            self.table["facts"] = found

    def _pairs(self, sheet: str, head: str) -> Iterator[tuple[int, str, object]]:
        """Yield row, key and value of a sheet below its head."""
        rows = self.sheets.get(sheet, [])
        top = self._head(sheet, head)
        if top is None:
            return
        for row in range(top + 1, len(rows)):
            key = str(rows[row][0]).strip()
            cell = rows[row][1] if len(rows[row]) > 1 else None
            if key:
                yield row, key, cell
            elif not _empty(cell):
                self._add(sheet, row, 1, "the key before this value was taken away")

    def _head(self, sheet: str, word: str) -> int | None:
        """Return the row whose first cell is the head of its column."""
        rows = self.sheets.get(sheet)
        if rows is None:
            return None
        found = next((n for n, row in enumerate(rows) if row and str(row[0]).strip() == word), None)
        if found is None and any(not _empty(cell) for row in rows for cell in row):
            self._add(sheet, 0, 0, f"no row begins with '{word}', the head of the columns")
        return found

    def entries(self, plan: SheetPlan) -> None:
        """Read a sheet with an entry in each row."""
        top = self._head(plan.name, COUNT)
        if top is None:
            return
        rows = self.sheets[plan.name]
        columns = self._columns(plan, rows[top], top)
        for row in range(top + 1, len(rows)):
            failed = self._failed(plan.name)
            cells = {c for c, cell in enumerate(rows[row]) if c and not _empty(cell)}
            cells |= {column for at, column in failed if at == row and column}
            for column in sorted(cells - columns.keys()):
                self._add(plan.name, row, column, "this cell stands beyond the columns")
            if cells:
                self._entry(plan, row, columns)

    def _columns(self, plan: SheetPlan, heads: list[Any], row: int) -> dict[int, str]:
        columns: dict[int, str] = {}
        for column, cell in enumerate(heads):
            key = str(cell).strip()
            if not column or not key:
                continue
            if key not in plan.keys:
                what = f"'{key}' is not a column of this sheet{nearest(key, plan.keys)}"
                self._add(plan.name, row, column, what)
            elif key in columns.values():
                self._add(plan.name, row, column, f"the column '{key}' stands here twice")
            columns[column] = key
        return columns

    def _entry(self, plan: SheetPlan, row: int, columns: dict[int, str]) -> None:
        rows = self.sheets[plan.name]
        entry: Table = {}
        for column, key in columns.items():
            cell = rows[row][column] if column < len(rows[row]) else None
            value = self._value(key, cell, (plan.name, row, column))
            if value is not None:
                entry[key] = value
        path = self._keep(plan, entry, row)
        self.problems.places[path] = f"sheet '{plan.name}', row {row + 1}"
        for column, key in columns.items():
            self.problems.places[f"{path}.{key}"] = self._place(plan.name, row, column)

    def _keep(self, plan: SheetPlan, entry: Table, row: int) -> str:
        """Put an entry where it belongs, and return its dotted path."""
        if plan.within:
            return self._keep_within(plan, entry, row)
        kept = self.table.setdefault(plan.table, [])
        kept.append(entry)
        path = f"{plan.table}[{len(kept)}]"
        number = str(self.sheets[plan.name][row][0]).strip().removesuffix(".0")
        name = entry.get("id", "") if plan.table == "probe" else number
        if name:
            self.named.setdefault((plan.table, str(name)), (entry, path))
        return path

    def _keep_within(self, plan: SheetPlan, entry: Table, row: int) -> str:
        owner = str(entry.pop(plan.within, ""))
        found = self.named.get((plan.within, owner))
        lost = f"{plan.table}.{row}"
        if found is None:
            which = "id of a probe" if plan.within == "probe" else "number of a row in 'Files'"
            self._add(plan.name, row, 1, f"'{owner}' is not the {which}")
            return lost
        table, path = found
        if plan.table != "columns":
            kept = table.setdefault(plan.table, [])
            kept.append(entry)
            return f"{path}.{plan.table}[{len(kept)}]"
        column = str(entry.pop("column", ""))
        columns = table.setdefault("columns", {})
        if not column or column in columns:
            what = f"the column '{column}' stands here twice" if column else "no column is named"
            self._add(plan.name, row, 2, what)
            return lost
        columns[column] = entry
        return f"{path}.columns.{column}"

    def _value(self, key: str, cell: object, where: tuple[str, int, int]) -> object:
        sheet, row, column = where
        if _empty(cell):
            if fault := self._failed(sheet).get((row, column)):
                self._add(*where, f"the cell holds {fault}, a fault or a formula without its value")
            return None
        try:
            return value_of(key, cell, unit=self.unit, clocked=self._clocked(cell, where))
        except ValueError as why:
            self._add(*where, str(why))
            return None

    def _failed(self, sheet: str) -> dict[tuple[int, int], str]:
        if sheet not in self.failed:
            self.failed[sheet] = failed_cells(self.raw, sheet)
        return self.failed[sheet]

    def _clocked(self, cell: object, where: tuple[str, int, int]) -> bool:
        """Whether a cell with a bare date shows a time of day: midnight is stored as a date."""
        if type(cell).__name__ != "date":
            return False
        if self.formats is None:
            self.formats = _formats(self.raw)
        sheet, row, column = where
        shown = self.formats.get(sheet)
        return shown is not None and "h" in shown.cell(row + 1, column + 1).number_format.lower()

    def _place(self, sheet: str, row: int, column: int) -> str:
        return f"sheet '{sheet}', cell {column_letters(column)}{row + 1}"

    def _add(self, sheet: str, row: int, column: int, what: str) -> None:
        self.problems.add(what, cell=self._place(sheet, row, column))


def _formats(raw: bytes) -> dict[str, Any]:
    """Return the sheets with their cells' formats; none where they cannot be read."""
    try:
        from openpyxl import load_workbook  # noqa: PLC0415 - an extra, and few cells need it
    except ImportError:
        return {}
    try:
        book = load_workbook(io.BytesIO(raw))
    except (ValueError, KeyError, OSError):
        return {}
    return {sheet.title: sheet for sheet in book.worksheets}


def _empty(cell: object) -> bool:
    return cell is None or (isinstance(cell, str) and not cell.strip())
