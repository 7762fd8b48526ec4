"""A file of readings: its bytes, its layout, and what became of them."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from tempwitness.model.logs import Change, Channel, Floats, Note, Source
from tempwitness.readers.body import MARKS, tidy
from tempwitness.readers.careful import CarefulSheet
from tempwitness.readers.columns import Plan, Said, plan_columns
from tempwitness.readers.encoding import GZIP_SUFFIX, unzipped
from tempwitness.readers.grid import split_rows
from tempwitness.readers.jobs import Job
from tempwitness.readers.moments import check_pattern
from tempwitness.readers.opening import bytes_of
from tempwitness.readers.problems import Problems
from tempwitness.readers.sniff import Text, look
from tempwitness.readers.tables import Built, build
from tempwitness.readers.turned import turn
from tempwitness.readers.widths import refuse_open_end
from tempwitness.readers.zones import find_zone

if TYPE_CHECKING:
    from collections.abc import Collection

    from tempwitness.readers.names import Names
    from tempwitness.readers.shape import FileTable
    from tempwitness.readers.sheets import Sheet
    from tempwitness.readers.timeline import Frame

__all__ = [
    "JSON_SUFFIXES",
    "TEXT_SUFFIXES",
    "WORKBOOK_SUFFIXES",
    "Part",
    "read_file",
    "read_rows",
    "text_of",
]

TEXT_SUFFIXES = (".csv", ".tsv", ".txt")
WORKBOOK_SUFFIXES = (".xlsx", ".xlsm", ".xls", ".xlsb", ".ods")
JSON_SUFFIXES = (".json", ".jsonl", ".ndjson")
_ROOMS = dict.fromkeys(WORKBOOK_SUFFIXES, "workbook") | dict.fromkeys(JSON_SUFFIXES, "json_rows")
# Below this size reading cell by cell takes no time worth saving.
_SMALL_BYTES = 20_000
# So much of the end shows how long the figures of a table are.
_TAIL_BYTES = 1 << 13


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
    frame = replace(
        frame,
        begin=table.date or frame.begin,
        fold=table.fold or frame.fold,
        order=table.day_order or frame.order,
    )
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
    text = text_of(path, raw, sheet, problems, tuple(said.columns))
    plan = plan_columns(text.header, said, problems, sample=text.sample, line=text.line)
    _refuse_other_unit(text, plan, problems)
    if text.turned:
        text, plan = turn(text, plan)
    changes = list(text.changes)
    opened = _open(text, plan, problems, changes)
    job = Job(opened, text.header, plan, said, names, problems, pattern, changes)
    built = build(job, frame)
    understood = [text.understood, *plan.understood, *job.understood, frame.understood]
    return _part(job, built, understood, hashlib.sha256(raw).hexdigest())


def _part(job: Job, built: Built, understood: list[str], digest: str) -> Part:
    changes = job.changes
    if isinstance(job.sheet, CarefulSheet):
        changes = [*changes, *job.sheet.changes]
        if job.sheet.commas_seen:
            understood.append("a comma stands for the decimal point")
    return Part(
        built.channels,
        built.notes,
        Source(job.problems.file, digest, len(job.sheet.lines), tuple(understood)),
        built.assumptions,
        built.loose,
        tuple(sorted(changes, key=lambda change: change.line)),
    )


def _refuse_other_unit(text: Text, plan: Plan, problems: Problems) -> None:
    """Refuse a column in another unit than a line before the header states."""
    if text.stated_unit is None:
        return
    unit, line = text.stated_unit
    for cells in plan.cells:
        if cells.unit is not unit:
            name = text.header[cells.column]
            problems.stop(
                f"line {line} states {unit.symbol}, but the column '{name}' is taken in "
                f"{cells.unit.symbol}: which of the two is right?",
                f"correct the name of the column, or delete line {line} if it does not hold",
                line=text.line,
                column=name,
            )


def text_of(
    path: Path, raw: bytes, sheet: str | None, problems: Problems, named: Collection[str] = ()
) -> Text:
    """Return the table that a file holds as text, told by its suffix.

    Parameters
    ----------
    path : Path
    raw : bytes
    sheet : str, optional
        Sheet of a workbook.
    problems : Problems
    named : collection of str
        Columns that the record maps.

    Raises
    ------
    InputError
        If files of this kind are not read, or its layout is not plain to see.
    """
    suffix = path.suffix.lower()
    if suffix == GZIP_SUFFIX:
        return text_of(path.with_suffix(""), unzipped(raw, problems), sheet, problems, named)
    room = _ROOMS.get(suffix)
    if room is not None:
        found: Text = import_module(f"tempwitness.readers.{room}").as_text(
            raw, sheet, problems, named
        )
        return found
    if suffix not in TEXT_SUFFIXES:
        problems.stop(
            f"files that end in '{suffix}' are not read",
            f"save it as one of {', '.join((*TEXT_SUFFIXES, *_ROOMS))}; text may be packed by "
            f"gzip ({TEXT_SUFFIXES[0]}{GZIP_SUFFIX})",
        )
    return look(raw, problems, named)


def _open(text: Text, plan: Plan, problems: Problems, changes: list[Change]) -> Sheet:
    """Choose a reader: each that is quicker leaves what it does not know to the next one."""
    if len(text.data) > _SMALL_BYTES:
        for room, name in (("plain", "read_plainly"), ("swift", "read_swiftly")):
            quick = getattr(import_module(f"tempwitness.readers.{room}"), name)
            sheet: Sheet | None = quick(text, plan.asked)
            if sheet is not None and not _has_marks(sheet, plan):
                if not text.data.endswith((b"\n", b"\r")):
                    _refuse_open_end(text, plan, problems, sheet)
                return sheet
    rows = text.rows
    if rows is None:
        rows = tuple(split_rows(text.data, text.separator, problems, before=text.before))
    kept = tidy(rows, text, plan, problems, changes)
    return CarefulSheet(kept, text.header, plan.asked, problems)


def _has_marks(sheet: Sheet, plan: Plan) -> bool:
    """Whether a table that was read at once holds rows that are no readings."""
    time = plan.words["time"]
    if sheet.stamps(time) is None and any(
        name and not name[0].isdigit() for name in sheet.labels(time).names
    ):
        return True
    event = plan.words.get("event")
    return event is not None and any(n.lower() in MARKS for n in sheet.labels(event).names)


def _refuse_open_end(text: Text, plan: Plan, problems: Problems, sheet: Sheet) -> None:
    """Look at the last rows of a long text that ends without a line break."""
    tail = text.data[-_TAIL_BYTES:]
    rows = split_rows(tail, text.separator, Problems(problems.file))
    last = int(sheet.lines[-1])
    placed = [(last - len(rows) + 1 + i, cells) for i, (_, cells) in enumerate(rows)]
    refuse_open_end(placed, plan, problems)
