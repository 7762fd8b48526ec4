"""JSON readings: an array of flat objects, or one object after another.

Keys are names of columns. Numbers keep the text in which they were written.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NoReturn

from tempwitness.readers.encoding import as_utf8
from tempwitness.readers.layout import HeadRow, Layout
from tempwitness.readers.sniff import Text

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from tempwitness.readers.problems import Problems

__all__ = ["as_text"]

_BLANK = " \t\r\n"
_FLAT = (
    'write one flat object for each reading, such as {"time": "2026-07-04 18:10", "temp_f": 138}, '
    "as an array or one a line"
)


class _Number(str):
    """Text of a number."""

    __slots__ = ()


class _TwiceError(ValueError):
    """A key stands twice in an object."""


def as_text(raw: bytes, sheet: str | None, problems: Problems, named: Collection[str] = ()) -> Text:
    """Read a JSON file as a table.

    Parameters
    ----------
    raw : bytes
    sheet : str, optional
        No sheet can be named here.
    problems : Problems
    named : collection of str
        Columns that the record maps; they need no finding here.

    Raises
    ------
    InputError
        If it is no JSON, is broken off, or its objects are not flat or not alike.
    """
    del named
    if sheet is not None:
        problems.stop(
            f"a JSON file has no sheet '{sheet}'", "leave 'sheet' out of the record's [[file]]"
        )
    text = as_utf8(raw, problems).data.decode("utf-8")
    table = _Table(problems)
    array = text.lstrip(_BLANK).startswith("[")
    for line, found in _objects(text, problems, array=array):
        table.take(line, found)
    if not table.rows:
        problems.stop("the file holds no object", _FLAT, line=1)
    header = tuple(table.columns)
    rows = tuple((line, [cells.get(name, "") for name in header]) for line, cells in table.rows)
    head = (HeadRow(1, 1, header), *(HeadRow(n, n, tuple(cells)) for n, cells in rows[:50]))
    kind = "JSON, " + ("an array of objects" if array else "one object after another")
    return Text(
        b"", "\t", header, layout=Layout(0, (header,), header), kind=kind, rows=rows, head=head
    )


def _objects(text: str, problems: Problems, *, array: bool) -> Iterator[tuple[int, object]]:
    """Yield each entry with the line on which it begins."""
    decoder = json.JSONDecoder(
        parse_float=_Number, parse_int=_Number, parse_constant=_Number, object_pairs_hook=_once
    )
    at = _skip(text, 0) + array
    seen, line = 0, 1
    first = True
    while (at := _skip(text, at)) < len(text):
        if array and text[at] == "]":
            _nothing_after(text, at + 1, problems)
            return
        if array and not first:
            at = _comma(text, at, problems)
        line += text.count("\n", seen, at)
        seen, first = at, False
        try:
            found, at = decoder.raw_decode(text, at)
        except _TwiceError as why:
            problems.stop(str(why), "keep one of the two", line=line)
        except json.JSONDecodeError as why:
            _refuse_broken(text, why.pos, why.msg, problems)
        except RecursionError:
            problems.stop("objects stand within objects without end", _FLAT, line=line)
        yield line, found
    if array:
        _refuse_broken(text, len(text), "the array is not closed", problems)


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found: dict[str, object] = {}
    for key, value in pairs:
        name = key.strip()
        if name in found:
            raise _TwiceError(f"the key '{name}' stands twice in one object")
        found[name] = value
    return found


def _skip(text: str, at: int) -> int:
    while at < len(text) and text[at] in _BLANK:
        at += 1
    return at


def _comma(text: str, at: int, problems: Problems) -> int:
    if text[at] != ",":
        _refuse_broken(text, at, "a comma is missing between two objects", problems)
    return _skip(text, at + 1)


def _nothing_after(text: str, at: int, problems: Problems) -> None:
    rest = _skip(text, at)
    if rest < len(text):
        _refuse_broken(text, rest, "something follows the end of the array", problems)


def _refuse_broken(text: str, at: int, what: str, problems: Problems) -> NoReturn:
    problems.stop(
        f"the file is no valid JSON from here on, or was broken off ({what})",
        "delete the broken entry, or export the file again",
        line=text.count("\n", 0, at) + 1,
    )


@dataclass(slots=True)
class _Table:
    """Objects on their way to rows."""

    problems: Problems
    columns: dict[str, str] = field(default_factory=dict)
    rows: list[tuple[int, dict[str, str]]] = field(default_factory=list)

    def take(self, line: int, found: object) -> None:
        """Add an object."""
        if not isinstance(found, dict):
            self.problems.stop(f"{_kind(found)} stands where an object should", _FLAT, line=line)
        if any("\ud800" <= sign <= "\udfff" for sign in "".join(_texts(found))):
            self.problems.stop(
                "the entry holds half of a character, which no text can hold",
                "write the names and words of this entry again",
                line=line,
            )
        cells = {name: self._cell(line, name, value) for name, value in found.items()}
        if any(cells.values()):
            self.rows.append((line, cells))

    def _cell(self, line: int, name: str, value: object) -> str:
        if value is None:
            self.columns.setdefault(name, "")
            return ""
        if not isinstance(value, str):
            self.problems.stop(
                f"the value is {_kind(value)}, not a text or a number",
                _FLAT,
                line=line,
                column=name,
            )
        kind = _kind(value)
        before = self.columns.get(name) or kind
        self.columns[name] = before
        if kind != before:
            self.problems.stop(
                f"'{value}' is {kind}, but earlier values of this key are each {before}",
                "write all values of a key in the same way",
                line=line,
                column=name,
            )
        return str(value).strip()


def _texts(found: dict[str, object]) -> Iterator[str]:
    for name, value in found.items():
        yield name
        if isinstance(value, str):
            yield value


def _kind(value: object) -> str:
    if isinstance(value, _Number):
        return "a number"
    if isinstance(value, str):
        return "a text"
    if isinstance(value, bool):
        return "true or false"
    return {dict: "an object", list: "an array", type(None): "null"}.get(type(value), "a value")
