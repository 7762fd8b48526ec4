"""Rows of an instrument whose clock had lost its time, between rows whose times are good.

Such a reading was taken at a moment that nobody knows. It is not dropped, for it may show a break:
it stands between its neighbours in the file with bounds that are open on both sides, so that it
proves nothing and nothing is claimed across it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.logs import Change
from tempwitness.readers.moments import DAY

if TYPE_CHECKING:
    from tempwitness.model.logs import Bools, Floats, Ints
    from tempwitness.readers.jobs import Job
    from tempwitness.readers.sheets import Numbers

__all__ = ["placed_between", "without_moment"]

# A log that seems to last longer than this holds a time of a clock that was reset, or a slip:
# common practice, no source.
_LONGEST = 400 * DAY
# Clocks that lost their time begin again at 1970-01-01 or 2000-01-01 and run on for a while:
# 2000-01-02, in seconds since 1970-01-01 by the calendar. Common practice, no source.
_NEVER_SET = 946_771_200.0
_ROLES = ("step", "event", "note", "method")
_WHY = (
    "the clock of the instrument had lost its time, so nobody knows when this was read; it stands "
    "between its neighbours, decides nothing, and nothing is claimed across it"
)


def placed_between(job: Job, at: Floats, local: Floats) -> tuple[Floats, Bools | None]:
    """Put rows without a possible moment between their neighbours in the file.

    Parameters
    ----------
    job : Job
        Takes the changes.
    at, local : Floats
        Moments and clock faces [s since 1970-01-01].

    Returns
    -------
    Floats, Bools or None
        Moments, and the rows whose moment is not known; ``None`` if there are none.

    Raises
    ------
    InputError
        If the other rows do not tell where these belong.
    """
    early = local < _NEVER_SET
    if not bool(early.any()) and float(at.max() - at.min()) <= _LONGEST:
        return at, None
    _refuse_never_set(job, local, early)
    far = early | (np.abs(at - float(np.median(at[~early]))) > _LONGEST)
    row = int(np.argmax(far))
    if int(far.sum()) * 2 >= len(at) or float(np.ptp(at[~far])) > _LONGEST:
        _refuse(job, local, row, ", and it is not plain which of them are right")
    if bool((np.diff(at[~far]) < 0).any()):
        _refuse(job, local, row, ", and as these are not in order, nothing tells where it belongs")
    _refuse_words(job, far)
    moments = at.copy()
    for first, last in _runs(far):
        moments[first : last + 1] = _between(at, first, last)
        job.changes.append(_change(job, local, at, (first, last)))
    return moments, far


def without_moment(numbers: Numbers, lost: Bools) -> Numbers:
    """Open the bounds of readings whose moment is not known."""
    low = numbers.value if numbers.low is None else numbers.low
    high = numbers.value if numbers.high is None else numbers.high
    some = lost & ~np.isnan(numbers.value)
    return replace(numbers, low=np.where(some, -np.inf, low), high=np.where(some, np.inf, high))


def _refuse_never_set(job: Job, local: Floats, early: Bools) -> None:
    if bool(early.all()):
        job.problems.stop(
            f"all times lie before {_day(_NEVER_SET)} (the first on {_day(local[0])}): the clock "
            f"of the instrument was never set",
            "find out when the log began and correct the times",
            line=int(job.sheet.lines[0]),
            column=job.column("time"),
        )


def _refuse(job: Job, local: Floats, row: int, more: str) -> None:
    job.problems.stop(
        f"the day {_day(local[row])} lies more than a year from the other times of the file{more}",
        "correct it, or delete the row if the clock was reset",
        line=int(job.sheet.lines[row]),
        column=job.column("time"),
    )


def _refuse_words(job: Job, far: Bools) -> None:
    for role in _ROLES:
        for row in np.flatnonzero(far & ~job.words(role).blank())[:3].tolist():
            job.problems.add(
                "the row says what was done, but its clock had lost the time",
                "write the time at which it was done",
                line=int(job.sheet.lines[row]),
                column=job.column(role),
            )
    job.problems.check()


def _runs(far: Bools) -> list[tuple[int, int]]:
    """First and last row of each run."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], far, [False])).astype(np.int8)))
    return [(int(a), int(b) - 1) for a, b in edges.reshape(-1, 2)]


def _between(at: Floats, first: int, last: int) -> Floats:
    """Moments of a run: rows of one stamp share one; seconds before the first or after the last."""
    step: Ints = np.concatenate(([1], 1 + np.cumsum(np.diff(at[first : last + 1]) != 0)))
    count = int(step[-1])
    before = float(at[first - 1]) if first else None
    after = float(at[last + 1]) if last + 1 < len(at) else None
    if before is None:
        return np.asarray((after or 0.0) - (count + 1 - step), np.float64)
    if after is None:
        return np.asarray(before + step, np.float64)
    return np.asarray(before + (after - before) * step / (count + 1), np.float64)


def _change(job: Job, local: Floats, at: Floats, run: tuple[int, int]) -> Change:
    first, last = run
    sides = [
        f"{word} {_face(local[row])}"
        for word, row in (("after", first - 1), ("before", last + 1))
        if 0 <= row < len(at)
    ]
    line = int(job.sheet.lines[first])
    written = job.words("time").at(first)
    name = job.column("time") or ""
    used = "some moment " + " and ".join(sides)
    return Change(job.problems.file, line, name, written, used, _WHY, rows=last - first + 1)


def _day(seconds: float) -> str:
    return str(np.datetime64(int(seconds), "s").astype("datetime64[D]"))


def _face(seconds: float) -> str:
    return str(np.datetime64(int(seconds), "s")).replace("T", " ")
