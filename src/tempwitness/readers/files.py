"""A file of readings: its bytes, its layout, and what became of them."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from tempwitness.model.logs import Change, Channel, Floats, Note, Source
from tempwitness.readers.careful import CarefulSheet, split_rows
from tempwitness.readers.columns import Plan, Said, plan_columns
from tempwitness.readers.encoding import GZIP_SUFFIX, unzipped
from tempwitness.readers.jobs import Job
from tempwitness.readers.moments import check_pattern
from tempwitness.readers.opening import bytes_of
from tempwitness.readers.problems import Problems
from tempwitness.readers.sniff import Text, look
from tempwitness.readers.tables import build
from tempwitness.readers.zones import find_zone

if TYPE_CHECKING:
    from tempwitness.readers.names import Names
    from tempwitness.readers.shape import FileTable
    from tempwitness.readers.sheets import Sheet
    from tempwitness.readers.timeline import Frame

__all__ = ["TEXT_SUFFIXES", "WORKBOOK_SUFFIXES", "Part", "read_file", "read_rows", "text_of"]

TEXT_SUFFIXES = (".csv", ".tsv", ".txt")
WORKBOOK_SUFFIXES = (".xlsx", ".xlsm", ".xls", ".xlsb", ".ods")
# Below this size reading cell by cell takes no time worth saving.
_SMALL_BYTES = 20_000


@dataclass(frozen=True, slots=True)
class Part:
    """What a file of readings adds to a log."""

    channels: tuple[Channel, ...]
    notes: tuple[Note, ...]
    source: Source
    assumptions: tuple[str, ...]
    #: The clock face with its day, if none of its times had a date, nor the file.
    loose: Floats | None = None
    changes: tuple[Change, ...] = ()


def read_file(folder: Path, table: FileTable, frame: Frame, names: Names) -> Part:
    """Read a file that a record points at.

    Parameters
    ----------
    folder : Path
        Folder of the record; the file's path is relative to it.
    table : FileTable
        What the record says of the file.
    frame : Frame
        Zone and first day of the record.
    names : Names
        Pieces and probes of the record; those met here are added.
    """
    problems = Problems(Path(table.path).name if Path(table.path).is_absolute() else table.path)
    if table.zone is not None:
        try:
            frame = replace(frame, zone=find_zone(table.zone))
        except ValueError as why:
            problems.stop(str(why), key="file.zone")
    frame = replace(frame, begin=table.date or frame.begin, fold=table.fold or frame.fold)
    said = Said(
        table.place, table.piece, table.probe, table.point, table.unit, table.columns, table.ignore
    )
    path = folder / table.path
    part = read_rows(
        path, problems, said, names, frame, pattern=table.time_format, sheet=table.sheet
    )
    return part if table.date is None else replace(part, loose=None)


def read_rows(
    path: Path,
    problems: Problems,
    said: Said,
    names: Names,
    frame: Frame,
    *,
    pattern: str | None = None,
    sheet: str | None = None,
) -> Part:
    """Read a file of readings, text or workbook."""
    if pattern is not None:
        try:
            check_pattern(pattern)
        except ValueError as why:
            problems.stop(str(why), "correct the time format")
    raw = bytes_of(
        path,
        name=problems.file,
        hint="check its name; a path in a record is relative to the record's folder",
    )
    text = text_of(path, raw, sheet, problems)
    plan = plan_columns(text.header, said, problems)
    opened = _open(text, plan, problems)
    job = Job(opened, text.header, plan, said, names, problems, pattern)
    built = build(job, frame)
    understood = [text.understood, *plan.understood, f"clock times are those of {frame.zone.key}"]
    if isinstance(opened, CarefulSheet) and opened.commas_seen:
        understood.append("a comma stands for the decimal point")
    if pattern is not None:
        understood.append(f"times follow the format '{pattern}'")
    source = Source(
        problems.file, hashlib.sha256(raw).hexdigest(), len(opened.lines), tuple(understood)
    )
    return Part(
        built.channels,
        built.notes,
        source,
        built.assumptions,
        built.loose,
        tuple(sorted(job.changes, key=lambda change: change.line)),
    )


def text_of(path: Path, raw: bytes, sheet: str | None, problems: Problems) -> Text:
    """Return the table that a file holds as text, told by its suffix.

    Raises
    ------
    InputError
        If files of this kind are not read, or its layout is not plain to see.
    """
    suffix = path.suffix.lower()
    if suffix == GZIP_SUFFIX:
        return text_of(path.with_suffix(""), unzipped(raw, problems), sheet, problems)
    if suffix in WORKBOOK_SUFFIXES:
        found: Text = import_module("tempwitness.readers.workbook").as_text(raw, sheet, problems)
        return found
    if suffix not in TEXT_SUFFIXES:
        problems.stop(
            f"files that end in '{suffix}' are not read",
            f"save it as one of {', '.join((*TEXT_SUFFIXES, *WORKBOOK_SUFFIXES))}, or as one of "
            f"the first three packed by gzip ({TEXT_SUFFIXES[0]}{GZIP_SUFFIX})",
        )
    return look(raw, problems)


def _open(text: Text, plan: Plan, problems: Problems) -> Sheet:
    """Choose a reader: each that is quicker leaves what it does not know to the next one."""
    if len(text.data) > _SMALL_BYTES:
        for room, name in (("plain", "read_plainly"), ("swift", "read_swiftly")):
            quick = getattr(import_module(f"tempwitness.readers.{room}"), name)
            sheet: Sheet | None = quick(text, plan.asked)
            if sheet is not None:
                return sheet
    rows = split_rows(text, problems)
    comma = text.separator != ","
    return CarefulSheet(rows, text.header, plan.asked, problems, decimal_comma=comma)
