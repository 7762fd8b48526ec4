"""From the columns of a table to channels and notes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Place
from tempwitness.readers.jobs import Job, Whose
from tempwitness.readers.moments import DAY, Column, parse_all
from tempwitness.readers.remarks import read_remarks
from tempwitness.readers.series import Series
from tempwitness.readers.stamps import parse_bytes
from tempwitness.readers.timeline import Frame, day_assumption, place
from tempwitness.readers.words import word
from tempwitness.readers.zones import UnplacedTimeError

if TYPE_CHECKING:
    from tempwitness.model.logs import Channel, Floats, Ints, Note
    from tempwitness.readers.sheets import Labels

    pass

__all__ = ["Built", "build"]


@dataclass(frozen=True, slots=True)
class Built:
    """What a table held."""

    channels: tuple[Channel, ...]
    notes: tuple[Note, ...]
    assumptions: tuple[str, ...]
    #: The clock face with its day, if none of its times had a date.
    loose: Floats | None = None


# A log that seems to last longer than this holds a time of a clock that was reset, or a slip:
# common practice, no source.
_LONGEST = 400 * DAY


def build(job: Job, frame: Frame) -> Built:
    """Turn a table into channels and notes.

    Raises
    ------
    InputError
        With all cells that cannot be read, all names that are not known, or the first time that
        cannot be placed.
    """
    values = {cells.column: job.sheet.numbers(cells.column) for cells in job.plan.cells}
    groups = _groups(job)
    column = _times(job)
    job.problems.check()
    if not len(job.sheet.lines):
        return Built((), (), ("the file holds no rows",))
    try:
        at, local = place(column, frame, groups=[g.rows for g in groups])
    except UnplacedTimeError as wrong:
        line = int(job.sheet.lines[wrong.row])
        job.problems.stop(wrong.what, wrong.hint, line=line, column=job.column("time"))
    _refuse_far(job, at, local)
    notes, spoken = read_remarks(job, at)
    channels = Series(job, at, values).channels(groups, spoken)
    job.problems.check()
    said = day_assumption(
        column, local, lambda row: f"{job.problems.file}, line {job.sheet.lines[row]}"
    )
    loose = None if bool(column.dated.any()) else local
    return Built(tuple(channels), tuple(notes), (said,) if said else (), loose)


def _refuse_far(job: Job, at: Floats, local: Floats) -> None:
    """Refuse a time that lies years from the others."""
    if float(at.max() - at.min()) <= _LONGEST:
        return
    row = int(np.argmax(np.abs(at - np.median(at))))
    day = np.datetime64(int(local[row]), "s").astype("datetime64[D]")
    job.problems.stop(
        f"the day {day} lies more than a year from the other times of the file",
        "correct it, or delete the row if the clock was reset",
        line=int(job.sheet.lines[row]),
        column=job.column("time"),
    )


def _times(job: Job) -> Column:
    stamps = job.sheet.stamps(job.plan.words["time"]) if job.pattern is None else None
    read = None if stamps is None else parse_bytes(stamps[1])
    if stamps is not None and read is not None:
        rows = stamps[0]
        return Column(read[0][rows], np.ones(len(rows), np.bool_), read[1][rows])
    labels = job.words("time")
    parsed, wrong = parse_all(labels.names, job.pattern)
    for code, what in wrong.items():
        row = np.flatnonzero(labels.codes == code)
        if not len(row):
            continue
        empty = labels.names[code] == ""
        job.problems.add(
            "the row has no time" if empty else what,
            "" if not empty else "give every row its time",
            line=int(job.sheet.lines[row[0]]),
            column=job.column("time"),
        )
    codes = labels.codes
    return Column(parsed.seconds[codes], parsed.dated[codes], parsed.offset[codes])


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
