"""Moments as the people of the lot read them off the wall clock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo
from functools import lru_cache
from typing import Self
from zoneinfo import ZoneInfo

__all__ = ["LocalTime", "Moment", "Span"]

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@lru_cache(maxsize=64)
def _zone(name: str) -> tzinfo | None:
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        return None


class Moment(str):
    """The words of a moment, with the moment itself for outputs that can carry it.

    Parameters
    ----------
    words : str
    iso : str
        Date, time and offset (ISO 8601).
    """

    __slots__ = ("iso",)
    iso: str

    def __new__(cls, words: str, iso: str) -> Self:
        """Return the words with their moment."""
        made = super().__new__(cls, words)
        made.iso = iso
        return made


class Span(str):
    """The words of a stretch of time, with its first and its last moment."""

    __slots__ = ("edges",)
    edges: tuple[str, str]

    def __new__(cls, start: str, end: str) -> Self:
        """Join the two into words."""
        made = super().__new__(cls, f"{start} to {end}")
        made.edges = (start, end)
        return made


@dataclass(frozen=True, slots=True)
class LocalTime:
    """Writes moments in the zone of the lot.

    Parameters
    ----------
    zone : str
        IANA name. A moment is left in its own offset when the name is not known.

    Examples
    --------
    >>> LocalTime("America/New_York").full("2025-06-14T18:05:00+00:00")
    'Sat 14 Jun 2025 14:05'
    """

    zone: str

    def local(self, moment: str | float) -> datetime | None:
        """Return a moment (ISO 8601, or s since 1970-01-01 UTC) in the zone, if it is one."""
        zone = _zone(self.zone)
        if isinstance(moment, float):
            return datetime.fromtimestamp(moment, zone or UTC)
        try:
            at = datetime.fromisoformat(moment)
        except ValueError:
            return None
        return at.astimezone(zone) if zone and at.tzinfo else at

    def full(self, moment: str | float | None, none: str = "") -> str:
        """Write weekday, date with year, and time; `none` when there is no moment."""
        return self._written(moment, none, " %Y")

    def short(self, moment: str | float | None, none: str = "") -> str:
        """Write weekday, date without year, and time; `none` when there is no moment."""
        return self._written(moment, none, "")

    def due(self, moment: str, asked: str | None) -> str:
        """Write a deadline in capitals; its day only if it is not the day of asking."""
        at, then = self.local(moment), self.local(asked) if asked else None
        if at and then and at.date() == then.date():
            return f"BY {at.strftime(_clock(at))}{_hour_name(at)}".upper()
        return f"BY {self.short(moment)}".upper()

    def seconds(self, moment: str | None) -> float:
        """Return a moment as s since 1970-01-01 UTC; what is no moment comes after all others."""
        at = self.local(moment) if moment else None
        return at.timestamp() if at else float("inf")

    def day(self, moment: str | float) -> str:
        """Write weekday and date without year."""
        at = self.local(moment)
        return _day(at) if at else str(moment)

    def row(self, moment: float) -> tuple[str, str]:
        """Write date and time as short as they go; the name of an hour that comes twice apart."""
        at = self.local(moment)
        if at is None:
            return str(moment), ""
        when = f"{at.day} {_MONTHS[at.month - 1]} {at.strftime(_clock(at))}"
        return Moment(when, _iso(at)), _hour_name(at).strip()

    def _written(self, moment: str | float | None, none: str, year: str) -> str:
        if moment is None:
            return none
        at = self.local(moment)
        if at is None:
            return str(moment)
        words = f"{_day(at)}{at.strftime(year)} {at.strftime(_clock(at))}{_hour_name(at)}"
        return Moment(words, _iso(at))

    def span(self, start: str | None, end: str | None) -> str:
        """Write a stretch of time; the day of its end only where it differs."""
        if start is None or end is None:
            return self.full(start or end)
        first, last = self.local(start), self.local(end)
        if first and last and first.date() == last.date():
            until = Moment(f"{last.strftime(_clock(last))}{_hour_name(last)}", _iso(last))
            return Span(self.full(start), until)
        return Span(self.full(start), self.full(end))


def _iso(at: datetime) -> str:
    """Write a moment as the standard has it: an offset holds whole minutes."""
    offset = at.utcoffset()
    if offset is not None and offset.seconds % 60:
        at = at.astimezone(UTC)
    return at.isoformat(timespec="milliseconds" if at.microsecond else "seconds")


def _clock(at: datetime) -> str:
    return "%H:%M:%S" if at.second else "%H:%M"


def _day(at: datetime) -> str:
    return f"{_DAYS[at.weekday()]} {at.day} {_MONTHS[at.month - 1]}"


def _hour_name(at: datetime) -> str:
    """Name the zone in the hour that a clock change makes occur twice."""
    twice = at.utcoffset() != at.replace(fold=1 - at.fold).utcoffset()
    return f" {at.tzname()}" if twice else ""
