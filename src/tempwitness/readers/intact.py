"""Whether a workbook is whole and of a size that can be read, before anything else opens it.

The reader of workbooks sets aside room for every cell up to the last one that is named, and may
wait for ever for the end of a part that is broken off. Both are looked for beforehand, in the
parts as ECMA-376 (part 1, 18.3.1.4) and OpenDocument 1.3 (part 3, 9.1) describe them.
"""

from __future__ import annotations

import re
import zipfile
import zlib
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING
from xml.parsers import expat

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["refuse_damaged"]

# Unpacked, a workbook of a log is shorter than this; a packed file may claim any length.
_LONGEST = 1 << 30
# A full sheet of 1,048,576 rows and 16 columns.
_MOST_CELLS = 1 << 24
_SHEET = b"sheetData"
_CONTENT = "content.xml"
_WRITTEN = re.compile(rb"""<(?:\w+:)?(?:c|row)\b[^<]*?\sr\s*=\s*["']([^"']*)["']""")
_NAME = re.compile(rb"([A-Z]*)([0-9]*)")
# The last cell of a sheet is XFD1048576; what is a little longer is refused as too far away.
_LONGEST_NAME = 20
_ROWS = "table:number-rows-repeated"
_COLUMNS = "table:number-columns-repeated"
_DRESS = {_COLUMNS, "table:style-name", "table:content-validation-name"}


def refuse_damaged(raw: bytes) -> None:
    """Refuse a workbook of zipped parts that is broken, or holds a cell far away from all others.

    Parameters
    ----------
    raw : bytes
        The file; one that is no zip archive is passed.

    Raises
    ------
    ValueError
        If it cannot be read.
    """
    if not zipfile.is_zipfile(BytesIO(raw)):
        return
    try:
        with zipfile.ZipFile(BytesIO(raw)) as book:
            if sum(part.file_size for part in book.infolist()) > _LONGEST:
                raise ValueError(f"unpacked, it is longer than {_LONGEST >> 20} MiB")
            for name in book.namelist():
                if name.endswith((".xml", ".rels")):
                    _check(name, book.read(name))
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, RuntimeError, KeyError) as why:
        raise ValueError(str(why)) from None


def _check(name: str, part: bytes) -> None:
    if name == _CONTENT:
        extent = _Extent()
        _parse(name, part, extent.begin, extent.end)
        _refuse_far(extent.rows, extent.columns)
        return
    _parse(name, part)
    if _SHEET in part:
        _refuse_far(*_corner(part))


def _parse(
    name: str,
    part: bytes,
    begin: Callable[[str, dict[str, str]], None] | None = None,
    end: Callable[[str], None] | None = None,
) -> None:
    parser = expat.ParserCreate()
    parser.StartElementHandler = begin
    parser.EndElementHandler = end
    try:
        parser.Parse(part, True)  # noqa: FBT003 - the parser takes no names
    except (expat.ExpatError, LookupError, ValueError) as why:
        raise ValueError(f"{name}: {why}") from None


def _corner(part: bytes) -> tuple[int, int]:
    """Last row and last column that a sheet of Office Open XML names."""
    rows = columns = 0
    for written in set(_WRITTEN.findall(part)):
        match = _NAME.fullmatch(written)
        if match is None or len(written) > _LONGEST_NAME:
            raise ValueError(f"no cell is named '{written[:40].decode('utf-8', 'replace')}'")
        rows = max(rows, int(match[2] or 0))
        columns = max(columns, len(match[1]) and _number(match[1]))
    return rows, columns


def _number(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - ord("A") + 1
    return number


def _refuse_far(rows: int, columns: int) -> None:
    if rows * max(columns, 1) > _MOST_CELLS:
        raise ValueError(
            f"it reaches to row {rows} and column {columns}: there may be a stray cell far from "
            f"the others"
        )


@dataclass(slots=True)
class _Extent:
    """Counts rows and columns up to the last cell of an OpenDocument table that holds something."""

    rows: int = 0
    columns: int = 0
    row: int = 0
    column: int = 0
    repeated: int = 1
    filled: int = 0

    def begin(self, name: str, told: dict[str, str]) -> None:
        """Take notice of the beginning of an element."""
        if name == "table:table":
            self.row = 0
        elif name == "table:table-row":
            self.repeated, self.column, self.filled = _times(told, _ROWS), 0, 0
        elif name in {"table:table-cell", "table:covered-table-cell"}:
            self.column += _times(told, _COLUMNS)
            if set(told) - _DRESS:
                self.filled = self.column
        elif name == "text:p":
            self.filled = self.column

    def end(self, name: str) -> None:
        """Take notice of the end of an element."""
        if name == "table:table-row":
            self.row += self.repeated
            if self.filled:
                self.rows = max(self.rows, self.row)
                self.columns = max(self.columns, self.filled)


def _times(told: dict[str, str], key: str) -> int:
    written = told.get(key, "1")
    if not re.fullmatch(r"[0-9]{1,9}", written):
        raise ValueError(f"{key} is '{written[:20]}'")
    return int(written)
