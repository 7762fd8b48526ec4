"""A record as a workbook: empty, to be filled in, or filled with what a record says."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from typing import Any, NoReturn

from openpyxl import Workbook

from tempwitness.drafting.book_sheets import Sheets
from tempwitness.errors import InputError, Location
from tempwitness.readers.book_cells import listed
from tempwitness.readers.book_layout import LOT_KEYS, SHEETS, SheetPlan

__all__ = ["book_of"]

Table = Mapping[str, Any]
#: What XML 1.0 cannot hold (2.2), and a return, which it would turn into a line feed.
_NOT_XML = re.compile("[\x00-\x08\x0b-\x1f\ufffe\uffff\ud800-\udfff]")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(<)")
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)
_A_DAY = b"1980-01-01T00:00:00Z"
_FREE = frozenset({"text", "reason"})
_LONGEST = 32767


def book_of(record: Table | None = None, *, spare: bool = True) -> bytes:
    """Return a workbook for a record; the same record gives the same bytes.

    Parameters
    ----------
    record : mapping, optional
        The tables of a record, as its TOML file holds them; an empty one if left out.
    spare : bool
        Whether empty rows stand below the entries, to be filled in.

    Returns
    -------
    bytes
        Of an .xlsx file, which reads back as the same record.

    Raises
    ------
    InputError
        If something in the record cannot stand in a cell without loss.
    """
    record = record or {}
    sheets = Sheets(Workbook(), spare=spare)
    sheets.read_me()
    sheets.lot({key: _cell(key, value) for key, value in _of_lot(record).items()})
    sheets.facts({key: _cell(f"facts.{key}", value) for key, value in _facts(record).items()})
    for plan in SHEETS:
        rows = [
            {key: _cell(f"{plan.table}.{key}", value) for key, value in row.items()}
            for row in _rows(plan, record)
        ]
        sheets.entries(plan, rows)
    sheets.lists()
    return _the_same_bytes(sheets.book)


def _of_lot(record: Table) -> dict[str, Any]:
    food = record.get("food", {})
    flat = {**record, **{f"food.{key}": value for key, value in food.items()}}
    return {key: flat[key] for key in LOT_KEYS if key in flat}


def _facts(record: Table) -> dict[str, Any]:
    return {**record.get("facts", {}), **record.get("food", {}).get("facts", {})}


def _rows(plan: SheetPlan, record: Table) -> list[dict[str, Any]]:
    if not plan.within:
        inner = ("check", "columns")
        return [
            {key: value for key, value in entry.items() if key not in inner}
            for entry in record.get(plan.table, ())
        ]
    owners = enumerate(record.get(plan.within, ()), 1)
    if plan.table == "check":
        return [
            {"probe": probe["id"], **check}
            for _, probe in owners
            for check in probe.get("check", ())
        ]
    return [
        {"file": number, "column": name, **column}
        for number, file in owners
        for name, column in file.get("columns", {}).items()
    ]


def _cell(key: str, value: object) -> object:
    """Return what is written into a cell; it must read back as the same value."""
    name = key.rpartition(".")[2]
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return _text(key, value, free=name in _FREE)
    if isinstance(value, Sequence):
        parts = [_text(key, str(part)) for part in value]
        if not parts and name != "also":
            _refuse(key, "an empty list")
        if any(listed(part) != [part] for part in parts):
            _refuse(key, "a semicolon or a line break within one of several texts")
        return "; ".join(parts)
    if isinstance(value, datetime):
        plain = value.tzinfo is None and not value.microsecond
        return value if plain else value.isoformat(" ")
    if isinstance(value, time):
        return value.isoformat()
    if isinstance(value, date | int | float):
        return value
    _refuse(key, f"a value of the kind {type(value).__name__}")


def _text(key: str, text: str, *, free: bool = False) -> str:
    if not text:
        return ""
    if _NOT_XML.search(text):
        _refuse(key, "a control character")
    if not text.strip() or (text != text.strip() and not free):
        _refuse(key, "blanks at an end, which nobody sees in a cell")
    if len(text) > _LONGEST:
        _refuse(key, f"more than {_LONGEST} characters")
    # Workbooks write a control character as _x000D_: a text that looks so is escaped itself.
    return _ESCAPED.sub(r"_x005F_x\1_", text)


def _refuse(key: str, what: str) -> NoReturn:
    raise InputError(
        f"a workbook cannot hold {what} without loss",
        location=Location("record", key=key),
        hint="change it in the record, or keep the record as TOML",
    )


def _the_same_bytes(book: Workbook) -> bytes:
    """Return a workbook without the moments at which it was written."""
    written, target = io.BytesIO(), io.BytesIO()
    book.save(written)
    with zipfile.ZipFile(written) as parts, zipfile.ZipFile(target, "w") as anew:
        for name in sorted(parts.namelist()):
            data = parts.read(name)
            if name == "docProps/core.xml":
                data = _MODIFIED.sub(rb"\g<1>" + _A_DAY + rb"\g<2>", data)
            info = zipfile.ZipInfo(name, _FIRST_DAY)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.create_system = 3
            anew.writestr(info, data)
    return target.getvalue()
