"""A record as it was written, checked key by key, before anything it points at is opened."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pydantic import ValidationError

from tempwitness.readers.problems import Problems
from tempwitness.readers.shape import RecordTable
from tempwitness.readers.toml import read_table, refuse

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["WrittenRecord", "is_record", "pointed_at", "written_record"]

_SUFFIX = ".toml"


@dataclass(frozen=True, slots=True)
class WrittenRecord:
    """A record's tables, its bytes, and where faults of it are noted."""

    table: RecordTable
    raw: bytes
    problems: Problems


def is_record(path: Path) -> bool:
    """Whether a file is a record, and not a bare table of readings."""
    return path.suffix.lower() == _SUFFIX


def written_record(path: Path) -> WrittenRecord:
    """Read the tables of a record.

    Raises
    ------
    InputError
        If they cannot be understood; it lists all faults found.
    """
    table, raw = read_table(path)
    try:
        record = RecordTable.model_validate(table)
    except ValidationError as why:
        raise refuse(why, RecordTable, raw, str(path)) from None
    return WrittenRecord(record, raw, Problems(str(path)))


def pointed_at(path: Path) -> tuple[str, ...]:
    """Return the paths of the files that a record points at, as it writes them, each once.

    Raises
    ------
    InputError
        As `written_record`.
    """
    record = written_record(path).table
    return tuple(dict.fromkeys((*(file.path for file in record.file), *record.overrides)))
