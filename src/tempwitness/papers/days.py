"""Arithmetic of days: deadlines counted back, and date marks counted on.

Nothing here knows a holiday: those that count are handed in.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable
    from datetime import datetime

__all__ = ["Calendar", "frozen_days", "last_day", "later"]

_DAY = timedelta(days=1)
#: Weekdays as event files name them, in the order of `date.weekday`.
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
# No authority is closed for longer; a calendar without a working day must not be searched for ever.
_LONGEST_CLOSURE = 60


@dataclass(frozen=True, slots=True)
class Calendar:
    """The days on which an authority works.

    Parameters
    ----------
    weekend : tuple of str
        Weekdays on which it does not: ``("sat", "sun")``.
    holidays : frozenset of date
        Further days on which it does not.
    """

    weekend: tuple[str, ...] = ("sat", "sun")
    holidays: frozenset[date] = frozenset()

    def works(self, day: date) -> bool:
        """Whether the authority works on a day."""
        return WEEKDAYS[day.weekday()] not in self.weekend and day not in self.holidays

    def at_latest(self, day: date) -> date:
        """Return the day itself if the authority works then, else the last such day before it.

        Raises
        ------
        ValueError
            If it does not work on any of the sixty days before.
        """
        for back in range(_LONGEST_CLOSURE):
            if self.works(found := day - back * _DAY):
                return found
        raise ValueError(f"no working day is left in the {_LONGEST_CLOSURE} days before {day}")

    def back(self, day: date, business_days: int) -> date:
        """Count business days back from a day, which is not counted itself.

        Examples
        --------
        Five business days before a Saturday is the Monday before it.

        >>> Calendar().back(date(2026, 10, 3), 5)
        datetime.date(2026, 9, 28)
        """
        found = day
        for _ in range(business_days):
            found = self.at_latest(found - _DAY)
        return found

    def closed_between(self, first: date, last: date) -> tuple[date, ...]:
        """Return the holidays from a day to another that would else be working days."""
        return tuple(
            day
            for day in sorted(self.holidays)
            if first <= day <= last and WEEKDAYS[day.weekday()] not in self.weekend
        )


def frozen_days(spans: Iterable[tuple[date, date]]) -> frozenset[date]:
    """Return the days that do not count: those after a day of freezing and before one of thawing.

    Parameters
    ----------
    spans : iterable of (date, date)
        Day at whose end food was frozen, and day on which it was thawed. Both count.
    """
    return frozenset(
        frozen + i * _DAY for frozen, thawed in spans for i in range(1, (thawed - frozen).days)
    )


def last_day(prepared: date, days: int, pauses: Collection[date] = frozenset()) -> date:
    """Return the last day on which food may be used, the day of preparation being day 1.

    Parameters
    ----------
    prepared : date
    days : int
        How many days the code allows.
    pauses : collection of date
        Days that do not count, from `frozen_days`.

    Raises
    ------
    ValueError
        If no day is allowed.

    Examples
    --------
    >>> last_day(date(2024, 5, 31), 7)
    datetime.date(2024, 6, 6)
    """
    if days < 1:
        raise ValueError("a shelf life has at least the day of preparation")
    found, left = prepared, days - 1
    while left:
        found += _DAY
        left -= found not in pauses
    return found


def later(start: datetime, seconds: float, zone: str) -> datetime:
    """Return what the clock on the wall shows so long after a time.

    Parameters
    ----------
    start : datetime
        On the clock of the zone, without an offset. In an hour that comes twice the first is
        meant, so that no deadline comes too late.
    seconds : float
        [s]
    zone : str
        IANA name.

    Examples
    --------
    >>> from datetime import datetime
    >>> later(datetime(2026, 11, 1, 0, 30), 4 * 3600, "America/Chicago").hour
    3
    """
    here = ZoneInfo(zone)
    moment = start.replace(tzinfo=here, fold=0).astimezone(UTC) + timedelta(seconds=seconds)
    return moment.astimezone(here).replace(tzinfo=None)
