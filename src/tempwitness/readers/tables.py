"""From the columns of a table to channels and notes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Place
from tempwitness.readers.jobs import Job, Whose
from tempwitness.readers.marks import ditto_changes, repeated
from tempwitness.readers.moments import Column
from tempwitness.readers.remarks import read_remarks
from tempwitness.readers.resets import placed_between, without_moment
from tempwitness.readers.series import Series
from tempwitness.readers.timeline import Frame, day_assumption, place
from tempwitness.readers.timing import times
from tempwitness.readers.words import word
from tempwitness.readers.zones import UnplacedTimeError

if TYPE_CHECKING:
    from tempwitness.model.logs import Channel, Floats, Ints, Note
    from tempwitness.readers.columns import Cells
    from tempwitness.readers.sheets import Labels, Numbers

__all__ = ["Built", "build"]


@dataclass(frozen=True, slots=True)
class Built:
    """What a table held."""

    channels: tuple[Channel, ...]
    notes: tuple[Note, ...]
    assumptions: tuple[str, ...]
    #: The clock face with its day, if none of its times had a date.
    loose: Floats | None = None


def build(job: Job, frame: Frame) -> Built:
    """Turn a table into channels and notes.

    Raises
    ------
    InputError
        With all cells that cannot be read, all names that are not known, or the first time that
        cannot be placed.
    """
    groups = _groups(job)
    values = _numbers(job, groups)
    rows = [group.rows for group in groups]
    column = _on_clock(times(job, frame, rows), job.plan.offset)
    job.problems.check()
    if not len(job.sheet.lines):
        return Built((), (), ("the file holds no rows",))
    try:
        at, local = place(column, frame, groups=rows)
    except UnplacedTimeError as wrong:
        line = int(job.sheet.lines[wrong.row])
        job.problems.stop(wrong.what, wrong.hint, line=line, column=job.column("time"))
    at, lost = placed_between(job, at, local)
    if lost is not None:
        values = {key: without_moment(numbers, lost) for key, numbers in values.items()}
    notes, spoken = read_remarks(job, at)
    channels = Series(job, at, values).channels(groups, spoken)
    job.problems.check()
    said = day_assumption(
        column, local, lambda row: f"{job.problems.file}, line {job.sheet.lines[row]}"
    )
    loose = None if bool(column.dated.any()) else local
    return Built(tuple(channels), tuple(notes), (said,) if said else (), loose)


def _on_clock(column: Column, offset: float | None) -> Column:
    """Give times without an offset the one that the name of their column tells [s]."""
    if offset is None:
        return column
    told = np.where(np.isnan(column.offset), offset, column.offset)
    return Column(column.seconds, column.dated, told)


def _numbers(job: Job, groups: list[Whose]) -> dict[int, Numbers]:
    """Columns of temperatures by position; ditto marks take the reading above of the same point."""
    found = {}
    for cells in job.plan.cells:
        numbers = job.sheet.numbers(cells.column)
        if numbers.ditto is not None:
            numbers = _repeated(job, numbers, cells, _above(job, cells, groups))
        found[cells.column] = numbers
    return found


def _above(job: Job, cells: Cells, groups: list[Whose]) -> Ints:
    """For each row the one above it in the file if it is of the same point, else -1."""
    rows = len(job.sheet.lines)
    if cells.wide:
        return np.arange(-1, rows - 1)
    above = np.full(rows, -1, np.int64)
    for group in groups:
        above[group.rows[1:]] = np.where(np.diff(group.rows) == 1, group.rows[:-1], -1)
    return above


def _repeated(job: Job, numbers: Numbers, cells: Cells, above: Ints) -> Numbers:
    name = job.header[cells.column]
    numbers, nothing = repeated(numbers, above)
    for row in nothing.tolist():
        job.problems.add(
            "a ditto mark stands here, but no reading of the same point in the row above it",
            "write the temperature that was read",
            line=int(job.sheet.lines[row]),
            column=name,
        )
    job.problems.check()
    job.changes.extend(ditto_changes(job.problems.file, numbers, job.sheet.lines, name, cells.unit))
    return numbers


def _groups(job: Job) -> list[Whose]:
    """Rows of each point, by the words of the row or else what was said of the file."""
    pieces, places, points = (job.words(role) for role in ("piece", "place", "point"))
    found: dict[tuple[str, Place, str], list[Ints]] = {}
    for rows in _rows_by(pieces, places, points):
        first = int(rows[0])
        line = int(job.sheet.lines[first])
        where = _place(job, places.at(first), line)
        point = points.at(first) or job.said.point or ""
        named = pieces.at(first) or job.said.piece
        piece = _piece(job, named, where, line)
        found.setdefault((piece, where, point), []).append(rows)
    merged = {k: np.sort(np.concatenate(v)) if len(v) > 1 else v[0] for k, v in found.items()}
    return [Whose(*whose, rows) for whose, rows in merged.items()]


def _piece(job: Job, named: str | None, where: Place, line: int) -> str:
    if not job.long:
        # In a wide table a row belongs to a piece only if a column says so, for its notes.
        where = Place.CORE if named else Place.AIR
    return job.names.piece(named, where, job.problems, line=line, column=job.column("piece"))


def _place(job: Job, text: str, line: int) -> Place:
    if not text:
        return job.said.place or Place.CORE
    try:
        return word(text, Place, "place of a probe")
    except ValueError as why:
        job.problems.add(str(why), line=line, column=job.column("place"))
        return Place.CORE


def _rows_by(*columns: Labels) -> list[Ints]:
    """Rows that bear the same words, in the order in which they first appear."""
    wide = [c for c in columns if len(c.names) > 1]
    if len(wide) < 2:
        labels = wide[0] if wide else columns[0]
        found = [np.flatnonzero(labels.codes == code) for code in range(len(labels.names))]
    else:
        key = np.zeros(len(wide[0].codes), np.int64)
        for labels in wide:
            key = key * len(labels.names) + labels.codes
        found = [np.flatnonzero(key == k) for k in np.unique(key).tolist()]
    return sorted((rows for rows in found if len(rows)), key=lambda rows: int(rows[0]))
