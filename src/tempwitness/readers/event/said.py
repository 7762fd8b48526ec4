"""Answers of an event file as they are printed."""

from __future__ import annotations

import datetime as dt
from enum import StrEnum
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

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


def _table_words(table: dict[str, object]) -> str:
    return "; ".join(f"{k.replace('_', ' ')}: {printed(v)}" for k, v in table.items())


def _list_words(parts: Sequence[object]) -> str:
    return ", ".join(printed(part) for part in parts)


# The first kind that fits decides: a moment is a day too, and a word of a list is text too.
_WRITERS: tuple[tuple[type, Callable[[Any], str]], ...] = (
    (bool, lambda value: "yes" if value else "no"),
    (StrEnum, lambda value: str(value.value).replace("_", " ")),
    (dt.datetime, moment_words),
    (dt.date, day_words),
    (dt.time, clock_words),
    (dict, _table_words),
    (tuple, _list_words),
    (list, _list_words),
    (float, lambda value: f"{value:g}"),
)


def printed(value: object) -> str:
    """Write one answer; an empty text means that there is none."""
    if value is None:
        return ""
    writer = next((write for kind, write in _WRITERS if isinstance(value, kind)), str)
    return writer(value).strip()
