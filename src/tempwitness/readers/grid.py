"""Text split into rows of cells, each with its line."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from tempwitness.readers.layout import HeadRow

if TYPE_CHECKING:
    from tempwitness.readers.problems import Problems

__all__ = ["HEAD_BYTES", "Row", "head_rows", "one_line", "split_rows"]

Row = tuple[int, list[str]]
# A header stands within the first lines; the text looked at is cut at a line's end.
HEAD_BYTES = 1 << 16
_HEAD_ROWS = 200


def one_line(cell: str) -> str:
    """Write a cell that runs over several lines in one."""
    return " ".join(filter(None, map(str.strip, cell.splitlines())))


def head_rows(data: bytes, separator: str) -> list[HeadRow]:
    """Split the beginning of a text; an open quotation mark is not yet refused here."""
    head = data[:HEAD_BYTES]
    if len(data) > len(head):
        head = head[: head.rfind(b"\n") + 1] or head
    text = head.decode("utf-8", "ignore")
    reader = csv.reader(io.StringIO(text, newline=None), delimiter=separator)
    rows: list[HeadRow] = []
    before = 0
    try:
        for cells in reader:
            rows.append(HeadRow(before + 1, reader.line_num, tuple(map(one_line, cells))))
            before = reader.line_num
            if len(rows) == _HEAD_ROWS:
                break
    except csv.Error:
        return rows
    return rows


def split_rows(data: bytes, separator: str, problems: Problems, *, before: int = 0) -> list[Row]:
    """Split a whole text into rows of cells; empty rows are left out.

    Parameters
    ----------
    data : bytes
        UTF-8; its first line is passed over.
    separator : str
    problems : Problems
    before : int
        Lines of the file that were cut off before `data`.

    Raises
    ------
    InputError
        If a line holds NUL bytes, or a quotation mark is left open.
    """
    whole = data.decode("utf-8")
    if "\0" in whole:
        problems.stop(
            "the line holds NUL bytes, as after a loss of power",
            "delete the broken line",
            line=before + whole.count("\n", 0, whole.index("\0")) + 1,
        )
    reader = csv.reader(io.StringIO(whole, newline=None), delimiter=separator, strict=True)
    rows: list[Row] = []
    try:
        next(reader)
        for cells in reader:
            stripped = [cell.strip() for cell in cells]
            if any(stripped):
                rows.append((before + reader.line_num, stripped))
    except csv.Error as why:
        problems.stop(
            f"the row cannot be split into cells ({why})",
            "close every quotation mark, or leave them out",
            line=before + reader.line_num,
        )
    return rows
