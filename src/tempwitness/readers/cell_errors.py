"""Cells of a workbook that hold an error, or a formula without its value.

The reader of workbooks hands them over as empty cells. An empty cell and a failed one are not the
same, so they are looked for in the part of the sheet itself (ECMA-376 part 1, 18.3.1.4).
"""

from __future__ import annotations

import html
import re
import zipfile
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["failed_cells"]

_BOOK = "xl/workbook.xml"
_RELATIONS = "xl/_rels/workbook.xml.rels"
_TAG = re.compile(r"<(?:\w+:)?(sheet|Relationship)\b([^>]*)>")
_ATTRIBUTE = re.compile(r'([\w:]+)\s*=\s*"([^"]*)"')
_CELL = re.compile(r"<(?:\w+:)?c\b([^>/]*)>(.*?)</(?:\w+:)?c>", re.DOTALL)
_VALUE = re.compile(r"<(?:\w+:)?v\b[^>/]*>([^<]*)<|<(?:\w+:)?t\b[^>/]*>([^<]+)<")
_FORMULA = re.compile(r"<(?:\w+:)?f\b[^>]*?(?:/>|>([^<]*)<)")
_PLACE = re.compile(r"([A-Z]+)(\d+)")


def failed_cells(raw: bytes, sheet: str) -> dict[tuple[int, int], str]:
    """Find the cells of a sheet that failed.

    Parameters
    ----------
    raw : bytes
        The workbook; kinds other than Office Open XML have none that could be found.
    sheet : str

    Returns
    -------
    dict of (int, int) to str
        Row and column, both from 0, with the name of the error or the formula.
    """
    part = _part(raw, sheet)
    return {} if part is None else dict(_failed(part))


def _part(raw: bytes, sheet: str) -> str | None:
    """Text of the part that holds a sheet."""
    if not zipfile.is_zipfile(BytesIO(raw)):
        return None
    with zipfile.ZipFile(BytesIO(raw)) as parts:
        names = set(parts.namelist())
        if not {_BOOK, _RELATIONS} <= names:
            return None
        key = None
        for _, told in _tags(parts.read(_BOOK).decode("utf-8", "replace"), "sheet"):
            if html.unescape(told.get("name", "")) == sheet:
                key = next((v for k, v in told.items() if k.endswith(":id")), None)
        for _, told in _tags(parts.read(_RELATIONS).decode("utf-8", "replace"), "Relationship"):
            target = told.get("Target", "")
            path = target[1:] if target.startswith("/") else f"xl/{target}"
            if told.get("Id") == key and path in names:
                return parts.read(path).decode("utf-8", "replace")
    return None


def _tags(text: str, name: str) -> Iterator[tuple[str, dict[str, str]]]:
    for match in _TAG.finditer(text):
        if match[1] == name:
            yield match[1], dict(_ATTRIBUTE.findall(match[2]))


def _failed(part: str) -> Iterator[tuple[tuple[int, int], str]]:
    for match in _CELL.finditer(part):
        told = dict(_ATTRIBUTE.findall(match[1]))
        value = _VALUE.search(match[2])
        written = (value[1] or value[2] or "") if value is not None else ""
        formula = _FORMULA.search(match[2])
        if told.get("t") == "e":
            said = html.unescape(written) or "#ERROR"
        elif formula is not None and not written:
            said = f"={html.unescape(formula[1] or '')}"
        else:
            continue
        place = _PLACE.fullmatch(told.get("r", ""))
        if place is not None:
            yield (int(place[2]) - 1, _column(place[1])), said


def _column(letters: str) -> int:
    """Number of a column from 0: A, B … Z, AA."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1
