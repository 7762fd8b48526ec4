"""Clock times without a date: from the day on which the log begins, across midnight.

Entries are taken in the order in which they were written. A time that is far behind the one
before it belongs to the next day; one that is a little behind is a slip of the pen or a
disorder, and is asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.readers.moments import DAY, Column, start_of
from tempwitness.readers.zones import UnplacedTimeError

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from tempwitness.model.logs import Floats, Ints

__all__ = ["NIGHT", "place_on_days", "refuse_loose_list"]

# More than this far back is taken for the next day: common practice, no source.
NIGHT = 6 * 3600.0
_NEEDS_DATE = (
    "say on which day the log begins (date = 2026-07-04 in the record, --date on the command "
    "line), or write each time with its date"
)


def place_on_days(column: Column, begin: date | None, groups: Sequence[Ints]) -> Floats:
    """Give every time its day.

    Parameters
    ----------
    column : Column
        Times in the order in which they were written.
    begin : date, optional
        Day on which the log begins.
    groups : sequence of Ints
        Rows of each piece, in order.

    Returns
    -------
    Floats
        Clock face [s since 1970-01-01].

    Raises
    ------
    UnplacedTimeError
        If a day is missing, or the order of the rows allows more than one reading.
    """
    if bool(column.dated.all()):
        return column.seconds
    everything = np.arange(len(column.seconds))
    local = _walk(column, everything, begin)
    if len(groups) > 1 and _in_blocks(groups):
        for group in groups:
            apart = _walk(column, group, begin)
            differ = np.flatnonzero(apart != local[group])
            if len(differ):
                row = int(group[differ[0]])
                raise UnplacedTimeError(
                    row,
                    "the rows are sorted by piece and hold clock times only, so the day of this "
                    "one cannot be told",
                    "write the times with their dates, or sort the rows by time",
                )
    return local


def _in_blocks(groups: Sequence[Ints]) -> bool:
    """Whether each piece's rows stand together."""
    return all(int(g[-1] - g[0]) + 1 == len(g) for g in groups if len(g))


def _walk(column: Column, rows: Ints, begin: date | None) -> Floats:
    local = np.empty(len(rows))
    last: float | None = None
    for i, row in enumerate(rows.tolist()):
        here = float(column.seconds[row])
        if not column.dated[row]:
            here = _next(here, last, begin, row)
        local[i] = last = here
    return local


def _next(clock: float, last: float | None, begin: date | None, row: int) -> float:
    if last is None:
        if begin is None:
            raise UnplacedTimeError(row, "the time has no date", _NEEDS_DATE)
        return start_of(begin) + clock
    here = last // DAY * DAY + clock
    if here >= last:
        return here
    if last - here > NIGHT:
        return here + DAY
    minutes = round((last - here) / 60)
    raise UnplacedTimeError(
        row,
        f"the time lies {minutes} min before the entry above it, so its day cannot be told",
        "put the entries in order, or write this time with its date",
    )


def refuse_loose_list(lists: Sequence[tuple[str, Floats]]) -> None:
    """Refuse a list of clock times that lies long before all others: it may be of the day after.

    Parameters
    ----------
    lists : sequence of (name, Floats)
        Each list of clock times without a date, in the record or in a file, placed on days.

    Raises
    ------
    UnplacedTimeError
        Its row is the position of the list among `lists`.
    """
    for i, (name, local) in enumerate(lists):
        others = [other for j, (_, other) in enumerate(lists) if j != i]
        if not others:
            return
        first = min(float(o.min()) for o in others)
        if float(local.max()) + NIGHT < first:
            raise UnplacedTimeError(
                i,
                f"{name}: all times lie so long before those of the other lists that they may "
                f"belong to the day after",
                "write them with their dates",
            )
