"""Answers of an event file as they are printed."""

from __future__ import annotations

import datetime as dt
from enum import StrEnum

__all__ = ["clock_words", "day_words", "moment_words", "printed"]

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_words(day: dt.date, *, year: bool = True) -> str:
    """Write a day with its weekday.

    Examples
    --------
    >>> day_words(dt.date(2026, 10, 3))
    'Sat 3 Oct 2026'
    """
    text = f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"
    return f"{text} {day.year}" if year else text


def clock_words(time: dt.time | dt.datetime) -> str:
    """Write a time of day."""
    return f"{time.hour:02d}:{time.minute:02d}"


def moment_words(moment: dt.datetime) -> str:
    """Write a moment without its year."""
    return f"{day_words(moment, year=False)} {clock_words(moment)}"


def printed(value: object) -> str:
    """Write one answer; an empty text means that there is none."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, StrEnum):
        return value.value.replace("_", " ")
    if isinstance(value, dt.datetime):
        return moment_words(value)
    if isinstance(value, dt.date):
        return day_words(value)
    if isinstance(value, dt.time):
        return clock_words(value)
    if isinstance(value, dict):
        return "; ".join(f"{k.replace('_', ' ')}: {printed(v)}" for k, v in value.items())
    if isinstance(value, tuple | list):
        return ", ".join(printed(part) for part in value)
    if isinstance(value, float):
        return f"{value:g}"
    return str(value).strip()
