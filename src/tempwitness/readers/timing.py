"""The times of a table: its columns of date and time, and what they say as a whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.logs import Change
from tempwitness.readers.moments import Column, Told, parse_all
from tempwitness.readers.sheets import Labels
from tempwitness.readers.stamps import parse_bytes
from tempwitness.readers.zones import UnplacedTimeError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Floats, Ints
    from tempwitness.readers.jobs import Job
    from tempwitness.readers.moments import Times
    from tempwitness.readers.timeline import Frame

__all__ = ["times"]

# A clock that is put back by an hour is no disorder.
_HOUR = 3600.0
_MIDNIGHT = " 00:00:00"


def times(job: Job, frame: Frame, groups: Sequence[Ints]) -> Column:
    """Read the times of all rows.

    Parameters
    ----------
    job : Job
        Takes what cannot be read, and what was understood.
    frame : Frame
        The order of day and month, if it was told.
    groups : sequence of Ints
        Rows of each point, in order.

    Raises
    ------
    InputError
        If the column fits two meanings.
    """
    quick = _quick(job)
    if quick is not None:
        return quick
    labels = _labels(job)
    used, first, rows = np.unique(labels.codes, return_index=True, return_inverse=True)
    texts = [labels.names[code] for code in used.tolist()]
    try:
        read = parse_all(texts, Told(job.pattern, frame.order))
    except UnplacedTimeError as why:
        line = int(job.sheet.lines[first[why.row]])
        job.problems.stop(why.what, why.remedy, line=line, column=job.column("time"))
    for position, what in read.wrong.items():
        empty = texts[position] == ""
        job.problems.add(
            "the row has no time" if empty else what,
            "give every row its time" if empty else "",
            line=int(job.sheet.lines[first[position]]),
            column=job.column("time"),
        )
    column = Column(read.column.seconds[rows], read.column.dated[rows], read.column.offset[rows])
    _say(job, read, texts, column, groups)
    return column


def _quick(job: Job) -> Column | None:
    """Stamps of one width are read at once."""
    if job.pattern is not None or "date" in job.plan.words:
        return None
    stamps = job.sheet.stamps(job.plan.words["time"])
    read = None if stamps is None else parse_bytes(stamps[1])
    if stamps is None or read is None:
        return None
    rows = stamps[0]
    return Column(read[0][rows], np.ones(len(rows), np.bool_), read[1][rows])


def _labels(job: Job) -> Labels:
    """Time of each row as text, after its date where that has a column of its own."""
    clock = job.words("time")
    if "date" not in job.plan.words:
        return clock
    days = job.words("date")
    dates = days.names
    if all(name.endswith(_MIDNIGHT) or not name for name in dates):
        # A workbook keeps a day as its first moment.
        dates = [name.removesuffix(_MIDNIGHT) for name in dates]
    pairs, codes = np.unique(
        days.codes.astype(np.int64) * len(clock.names) + clock.codes, return_inverse=True
    )
    names = []
    for pair in pairs.tolist():
        day, time = divmod(pair, len(clock.names))
        names.append(f"{dates[day]} {clock.names[time]}".strip() if clock.names[time] else "")
    return Labels(codes, names)


def _say(
    job: Job, read: Times, texts: Sequence[str], column: Column, groups: Sequence[Ints]
) -> None:
    """Pass on what the column decided, once its order bears it out."""
    if read.wrong:
        return
    job.understood.extend(read.understood)
    if read.forced is not None and not _in_order(column.seconds, groups):
        job.problems.stop(
            f"'{texts[read.forced]}' shows the order of day and month, but taken so, the times "
            f"of the file do not follow one another",
            "say which it is with --day-order day-first or --day-order month-first (for a file of "
            "a record, day_order under [[file]])",
            column=job.column("time"),
        )
    if read.comma:
        job.changes.append(
            Change(
                job.problems.file,
                int(job.sheet.lines[0]),
                job.column("time") or "",
                job.words("time").at(0),
                job.words("time").at(0).replace(",", ":", 1),
                "a comma stands between hour and minute in the whole column",
                rows=len(column.seconds),
            )
        )


def _in_order(seconds: Floats, groups: Sequence[Ints]) -> bool:
    """Whether all rows, or those of each point, go forward in time, or all go back."""
    return any(
        all(bool((np.diff(sign * seconds[rows]) >= -_HOUR).all()) for rows in parts)
        for parts in ([np.arange(len(seconds))], groups)
        for sign in (1.0, -1.0)
    )
