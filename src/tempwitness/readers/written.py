"""A record as it was written, checked key by key, before anything it points at is opened."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

from pydantic import ValidationError

from tempwitness.readers.problems import Problems
from tempwitness.readers.shape import RecordTable
from tempwitness.readers.toml import read_table, refuse

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.readers.book import BookRecord

__all__ = ["WrittenRecord", "is_record", "pointed_at", "written_record"]

_TOML = ".toml"
_BOOKS = (".xlsx", ".xlsm", ".ods")


@dataclass(frozen=True, slots=True)
class WrittenRecord:
    """A record's tables, its bytes, and where faults of it are noted."""

    table: RecordTable
    raw: bytes
    problems: Problems


def is_record(path: Path) -> bool:
    """Whether a file is a record, in TOML or a workbook, and not a bare table of readings."""
    if path.suffix.lower() == _TOML:
        return True
    if path.suffix.lower() not in _BOOKS:
        return False
    found: bool = import_module("tempwitness.readers.book").is_book(path)
    return found


def written_record(path: Path) -> WrittenRecord:
    """Read the tables of a record.

    Raises
    ------
    InputError
        If they cannot be understood; it lists all faults found.
    """
    problems = Problems(str(path))
    if path.suffix.lower() in _BOOKS:
        book: BookRecord = import_module("tempwitness.readers.book").read_book(path)
        table, raw, problems.places = book.table, book.raw, book.places
    else:
        table, raw = read_table(path)
    try:
        record = RecordTable.model_validate(table)
    except ValidationError as why:
        raise refuse(why, RecordTable, raw, problems) from None
    return WrittenRecord(record, raw, problems)


def pointed_at(path: Path) -> tuple[str, ...]:
    """Return the paths of the files that a record points at, as it writes them, each once.

    Raises
    ------
    InputError
        As `written_record`.
    """
    record = written_record(path).table
    return tuple(dict.fromkeys((*(file.path for file in record.file), *record.overrides)))
