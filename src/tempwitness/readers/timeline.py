"""From times as written to UTC, with the assumptions that were needed said in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Literal

import numpy as np

from tempwitness.readers.moments import DAY, Column
from tempwitness.readers.nights import place_on_days
from tempwitness.readers.zones import UnplacedTimeError, to_utc

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import date
    from zoneinfo import ZoneInfo

    from tempwitness.model.logs import Floats, Ints
    from tempwitness.readers.faces import DayOrder

__all__ = ["Frame", "day_assumption", "place"]

Fold = Literal["first", "second"]

# A year and more is left before the calendar ends, for days that are counted on from a reading.
_FIRST = datetime(2, 1, 1, tzinfo=UTC).timestamp()
_LAST = datetime(9998, 1, 1, tzinfo=UTC).timestamp()


@dataclass(frozen=True, slots=True)
class Frame:
    """Where and when the clock hung.

    Parameters
    ----------
    zone : ZoneInfo, optional
        ``None`` if it is not known; every time must then bear its offset from UTC.
    begin : date, optional
        Day on which a log of clock times begins.
    fold : {"first", "second"}, optional
        Which run of a repeated hour is meant.
    order : {"day-first", "month-first"}, optional
        Order of day and month in dates such as 7/4/2026.
    """

    zone: ZoneInfo | None
    begin: date | None = None
    fold: Fold | None = None
    order: DayOrder | None = None

    @property
    def understood(self) -> str:
        """Whose clock it was."""
        if self.zone is None:
            return "every time bears its offset from UTC"
        return f"clock times are those of {self.zone.key}"


def place(
    column: Column,
    frame: Frame,
    *,
    groups: Sequence[Ints] = (),
    fold: Sequence[str | None] = (),
) -> tuple[Floats, Floats]:
    """Place times in UTC; a written offset wins over the zone.

    What lies at the ends of the calendar is refused: it has no date in every zone, and nobody
    cooked then.

    Returns
    -------
    tuple of Floats
        Moments [s since 1970-01-01 UTC], and the clock face with its day.

    Raises
    ------
    tempwitness.readers.zones.UnplacedTimeError
        If one of them cannot be placed.
    """
    at, local = _placed(column, frame, groups, fold)
    if len(at) and not (at.min() >= _FIRST and at.max() <= _LAST):
        far = int(np.flatnonzero(~((at >= _FIRST) & (at <= _LAST)))[0])
        raise UnplacedTimeError(
            far, "the year of this time cannot be right", "write the day with its own year"
        )
    return at, local


def _placed(
    column: Column, frame: Frame, groups: Sequence[Ints], fold: Sequence[str | None]
) -> tuple[Floats, Floats]:
    local = place_on_days(column, frame.begin, groups)
    if frame.zone is None:
        _refuse_without_zone(column)
        return local - column.offset, local
    asked = [frame.fold if told is None else told for told in fold] or [frame.fold]
    bare = np.flatnonzero(np.isnan(column.offset))
    if len(bare) == len(local):
        order = list(groups) or [bare]
        return to_utc(local, frame.zone, fold=asked, groups=order), local
    at = local - np.nan_to_num(column.offset)
    if len(bare):
        # Beside rows with an offset the order proves nothing: a repeated hour must be told.
        some = asked if len(asked) == 1 else [asked[row] for row in bare.tolist()]
        alone = [np.array([i]) for i in range(len(bare))]
        try:
            at[bare] = to_utc(local[bare], frame.zone, fold=some, groups=alone)
        except UnplacedTimeError as problem:
            raise UnplacedTimeError(int(bare[problem.row]), problem.what, problem.hint) from None
    return at, local


def _refuse_without_zone(column: Column) -> None:
    bare = np.flatnonzero(np.isnan(column.offset))
    if len(bare):
        raise UnplacedTimeError(
            int(bare[0]),
            "the time bears no offset from UTC, and the time zone of the clock is not said",
            "add --zone America/Chicago, Europe/London and so on",
        )


def day_assumption(column: Column, local: Floats, where: Callable[[int], str]) -> str:
    """Say which day was assumed for clock times without a date; ``""`` if all were dated.

    Parameters
    ----------
    column : Column
        Times as written.
    local : Floats
        The clock face with its day [s since 1970-01-01].
    where : callable
        Names the place of a row, such as ``"pit.csv, line 2"``.
    """
    loose = np.flatnonzero(~column.dated)
    if not len(loose):
        return ""
    days = (local[loose] // DAY).astype("datetime64[D]")
    first = f"{where(int(loose[0]))}: the time has no date and was taken as {days[0]}"
    turned = np.flatnonzero(np.diff(local[loose] // DAY))
    if not len(turned):
        return first
    row = int(loose[turned[0] + 1])
    return f"{first}; from {where(row)} on, the order of the times shows the next day"
