"""What kind of text file it is: encoding, separator, header, and what stands before it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tempwitness.model.logs import Change
from tempwitness.readers.encoding import as_utf8
from tempwitness.readers.grid import HEAD_BYTES, Row, head_rows, split_rows
from tempwitness.readers.layout import (
    Layout,
    find_header,
    is_names,
    preamble,
    stated_unit,
    without_names,
)

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from tempwitness.readers.layout import HeadRow
    from tempwitness.readers.problems import Problems
    from tempwitness.units import Unit

__all__ = ["SEPARATORS", "Text", "from_rows", "look"]

SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}
_DECLARED = re.compile(rb'"?sep=(.)"?[ \t]*(\r\n|\r|\n)', re.IGNORECASE)
_LINE_END = re.compile(rb"\r\n|\r|\n")
# So many rows show whether a column counts.
_SAMPLE = 50


@dataclass(frozen=True, slots=True)
class Text:
    """A table as text.

    Parameters
    ----------
    data : bytes
        Its content in UTF-8, without a byte-order mark; the first line is the header or stands
        for it.
    separator : str
    header : tuple of str
        Names of the columns, stripped.
    encoding : str
        How it was encoded before.
    before : int
        Lines of the file that were cut off before `data`.
    layout : Layout, optional
        Where the header stands.
    changes : tuple of Change
        Lines that were not taken as they stand.
    kind : str
        How the file is laid out, where it is no delimited text.
    rows : tuple of Row, optional
        The rows below the header, where they are split already.
    head : tuple of HeadRow
        The rows that were looked at.
    """

    data: bytes
    separator: str
    header: tuple[str, ...]
    encoding: str = "UTF-8"
    before: int = 0
    layout: Layout | None = None
    changes: tuple[Change, ...] = ()
    kind: str = ""
    rows: tuple[Row, ...] | None = None
    head: tuple[HeadRow, ...] = ()

    @property
    def line(self) -> int:
        """Line on which the header begins."""
        return self.head[self.layout.index].first if self.layout is not None else 1

    @property
    def turned(self) -> bool:
        """Whether the table lies on its side."""
        return self.layout is not None and self.layout.turned

    @property
    def sample(self) -> Sequence[Sequence[str]]:
        """First rows below the header."""
        if self.layout is None or self.turned:
            return ()
        return [row.cells for row in self.head[self.layout.body :] if any(row.cells)][:_SAMPLE]

    @property
    def stated_unit(self) -> tuple[Unit, int] | None:
        """Unit that a line before the header states, and that line."""
        return None if self.layout is None else stated_unit(self.head[: self.layout.index])

    @property
    def understood(self) -> str:
        """How the file is laid out."""
        parted = f"{self.encoding} text, columns separated by {SEPARATORS[self.separator]}"
        where = "" if self.line == 1 else f", header in line {self.line}"
        if self.layout is not None and len(self.layout.heads) > 1:
            where = f", header in lines {self.line} and {self.head[self.layout.body - 1].last}"
        return f"{self.kind or parted}{where}"


def look(raw: bytes, problems: Problems, named: Collection[str] = ()) -> Text:
    """Find out separator and header; one column alone is never accepted.

    Parameters
    ----------
    raw : bytes
    problems : Problems
    named : collection of str
        Columns that the record maps.

    Raises
    ------
    InputError
        If the file is empty, its encoding is not known, its separator is not plain to see, or
        two lines could be the header.
    """
    text = as_utf8(raw, problems)
    if not text.data or text.data.isspace():
        problems.stop(
            "the file is empty: there is no header in its first line",
            "begin it with the names of the columns, such as time,temp_f,piece",
            line=1,
        )
    declared = _DECLARED.match(text.data)
    signs, data = SEPARATORS, text.data
    if declared is not None:
        signs = _declared(declared, problems)
        # An empty line in its place keeps the numbers of the lines.
        data = b"\n" + data[declared.end() :]
    separator, rows, layout = _separate(data, signs, named, problems)
    changes = preamble(rows, layout, problems.file)
    if declared is not None:
        changes[0] = _said_separator(declared, problems.file)
    found = Text(
        data,
        separator,
        _trimmed(layout.header),
        text.encoding,
        layout=layout,
        changes=tuple(changes),
        head=tuple(rows),
    )
    return _turned(found, problems) if layout.turned else _cut(found, layout)


def from_rows(
    rows: Sequence[HeadRow], kind: str, problems: Problems, named: Collection[str] = ()
) -> Text:
    """Find the header among rows that are split already, such as those of a workbook.

    Raises
    ------
    InputError
        If no row is a header, or two are.
    """
    layout = find_header(rows[:200], named, problems)
    if layout is None:
        problems.stop(
            "no row names the columns: a time and what was read at it",
            "begin the table with the names of the columns, such as time, temp_f, piece",
            line=1,
        )
    changes = tuple(preamble(rows, layout, problems.file))
    body = rows[layout.index if layout.turned else layout.body :]
    below = tuple((row.last, list(row.cells)) for row in body if any(row.cells))
    header = _sideways(below) if layout.turned else _trimmed(layout.header)
    return Text(b"", "\t", header, "", 0, layout, changes, kind, rows=below, head=tuple(rows[:200]))


def _declared(match: re.Match[bytes], problems: Problems) -> dict[str, str]:
    sign = match[1].decode("utf-8", "replace")
    if sign not in SEPARATORS:
        problems.stop(
            f"the first line declares '{sign}' as the separator, which is not known",
            "separate the columns by commas, semicolons or tabs",
            line=1,
        )
    return {sign: SEPARATORS[sign]}


def _said_separator(match: re.Match[bytes], file: str) -> Change:
    written = match[0].decode("utf-8", "replace").strip()
    return Change(file, 1, "", written, "", "says how the columns are separated; no reading")


def _separate(
    data: bytes, signs: dict[str, str], named: Collection[str], problems: Problems
) -> tuple[str, list[HeadRow], Layout]:
    """Separator under which a header shows; among several only one may name a time."""
    found: dict[str, tuple[list[HeadRow], Layout]] = {}
    for sign in signs:
        if sign.encode() not in data[:HEAD_BYTES]:
            continue
        rows = head_rows(data, sign)
        layout = find_header(rows, named, problems)
        if layout is not None:
            found[sign] = (rows, layout)
    best = {s: f for s, f in found.items() if _sure(f[1], named)} or found
    if len(best) == 1:
        ((sign, (rows, layout)),) = best.items()
        return sign, rows, layout
    lone = _first_line(data, signs, problems)
    if not best and lone is not None:
        return lone
    first = next(
        filter(None, map(str.strip, data[:4096].decode("utf-8", "ignore").splitlines())), ""
    )
    problems.stop(
        f"the columns cannot be told apart: the first line is '{first[:80]}'",
        "separate them by commas, semicolons or tabs, only one of the three, and name them "
        "in one line above the readings, such as time,temp_f,piece",
        line=1,
    )


def _sure(layout: Layout, named: Collection[str]) -> bool:
    cells = layout.header
    return layout.turned or is_names(cells) or bool(named and set(named) <= set(cells))


def _first_line(
    data: bytes, signs: dict[str, str], problems: Problems
) -> tuple[str, list[HeadRow], Layout] | None:
    """Take the first line for the header where nothing better shows: its faults are then named."""
    wide: dict[str, list[HeadRow]] = {}
    for sign in signs:
        rows = head_rows(data, sign)
        if len(rows[0].cells) > 1:
            wide[sign] = rows
    if len(wide) != 1:
        return None
    ((sign, rows),) = wide.items()
    if without_names(rows[0].cells):
        problems.stop(
            f"no line names the columns; the first line is '{sign.join(rows[0].cells)[:80]}'",
            "write a line with the names of the columns above the readings, such as "
            "time,temp_f,piece",
            line=1,
        )
    return sign, rows, Layout(0, (rows[0].cells,), rows[0].cells)


def _cut(text: Text, layout: Layout) -> Text:
    """Cut off what stands before the last line of the header."""
    header = text.head[layout.body - 1]
    if header.last == 1:
        return text
    data, at = text.data, 0
    for _ in range(header.last - 1):
        match = _LINE_END.search(data, at)
        at = match.end() if match is not None else len(data)
    if header.first < header.last:
        # The header runs over several lines: an empty one stands for it.
        end = _LINE_END.search(data, at)
        data = b"\n" + (data[end.end() :] if end is not None else b"")
        at = 0
    return replace(text, data=data[at:], before=header.last - 1)


def _trimmed(header: tuple[str, ...]) -> tuple[str, ...]:
    """Leave out columns at the end that have no name; a filled cell below is refused later."""
    wide = len(header)
    while wide > 1 and not header[wide - 1]:
        wide -= 1
    return header[:wide]


def _turned(text: Text, problems: Problems) -> Text:
    """Split a table whose times run along a row."""
    body = split_rows(b"\n" + text.data, text.separator, problems, before=-1)
    below = tuple((line, cells) for line, cells in body if line >= text.line)
    return replace(text, data=b"", header=_sideways(below), rows=below)


def _sideways(rows: Sequence[Row]) -> tuple[str, ...]:
    return ("time", *(cells[0] for _, cells in rows[1:]))
