"""Times as they are written: parsed strictly, one by one or a whole column at once.

Accepted are ``YYYY-MM-DD HH:MM``, with optional seconds, fraction and offset (``Z``, ``+02:00``),
a ``T`` in place of the space, and ``HH:MM[:SS]`` alone. Nothing else is guessed: 7/4 is a
day in July or in April, and 8:05 may be the evening.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.readers.stamps import parse_column

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Bools, Floats

__all__ = ["DAY", "Column", "Moment", "check_pattern", "parse_all", "parse_moment", "start_of"]

DAY = 86400.0
_ISO = re.compile(
    r"(?:(\d{4})-(\d{2})-(\d{2})[ T])?(\d{2}):(\d{2})(?::(\d{2})(\.\d+)?)?"
    r"\s?(Z|[+-]\d{2}:?\d{2})?"
)
_ACCEPTED = "write it as 2026-07-04 18:10, optionally with seconds and an offset such as -05:00"


@dataclass(frozen=True, slots=True)
class Moment:
    """A time as written.

    Parameters
    ----------
    seconds : float
        Seconds since 1970-01-01 of the clock face, or since midnight when `dated` is false.
    dated : bool
        Whether a date was written.
    offset : float or None
        Offset from UTC that was written [s].
    """

    seconds: float
    dated: bool
    offset: float | None


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """Times of a column, row by row; the meaning of each field is that of `Moment`."""

    seconds: Floats
    dated: Bools
    offset: Floats


def start_of(day: date) -> float:
    """Seconds from 1970-01-01 to the first moment of a day, on the clock face."""
    return datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp()


def parse_moment(value: object, pattern: str | None = None) -> Moment:
    """Read one time.

    Parameters
    ----------
    value : object
        Text, or a date-time or time that a TOML file holds.
    pattern : str, optional
        ``strptime`` pattern that the text must follow instead of ISO 8601.

    Raises
    ------
    ValueError
        If it is not a time in an accepted form.
    """
    if isinstance(value, datetime):
        return _from_datetime(value)
    if isinstance(value, time):
        return Moment(_since_midnight(value), dated=False, offset=None)
    text = str(value).strip()
    if pattern is not None:
        return _patterned(text, pattern)
    match = _ISO.fullmatch(text)
    if match is None:
        raise ValueError(f"'{text}' is not a time that can be read; {_ACCEPTED}")
    return _from_match(match, text)


def _from_match(match: re.Match[str], text: str) -> Moment:
    year, month, day, hour, minute, second, fraction, zone = match.groups()
    if year is None and zone is not None:
        raise ValueError(f"'{text}' has an offset but no date; {_ACCEPTED}")
    try:
        clock = time(int(hour), int(minute), int(second or 0))
        seconds = _since_midnight(clock) + float(fraction or 0)
        if year is not None:
            seconds += start_of(date(int(year), int(month), int(day)))
    except ValueError as why:
        raise ValueError(f"'{text}' is not a time ({why}); {_ACCEPTED}") from None
    return Moment(seconds, dated=year is not None, offset=_offset(zone))


def _offset(zone: str | None) -> float | None:
    if zone is None:
        return None
    if zone == "Z":
        return 0.0
    digits = zone[1:].replace(":", "")
    size = int(digits[:2]) * 3600.0 + int(digits[2:]) * 60.0
    return -size if zone[0] == "-" else size


def check_pattern(pattern: str) -> None:
    """Refuse a pattern that leaves open which moment is meant.

    Raises
    ------
    ValueError
        If it has no hour and minute, half a date, or a 12-hour clock without am and pm.
    """
    has = {sign: f"%{sign}" in pattern for sign in "HIMpdmbBjYyTRcDFx"}
    clock = (has["H"] and has["M"]) or (has["I"] and has["p"] and has["M"]) or has["T"] or has["R"]
    day = has["d"] and (has["m"] or has["b"] or has["B"])
    year = has["Y"] or has["y"]
    dated = (year and (day or has["j"])) or has["F"]
    undated = not any(has[sign] for sign in "dmbBjYyFcDx")
    if not clock or not (dated or undated):
        raise ValueError(
            f"the time format '{pattern}' leaves the moment open; it needs %H:%M (or %I:%M %p), "
            f"and year, month and day or none of them, such as '%m/%d/%Y %H:%M'"
        )


def _patterned(text: str, pattern: str) -> Moment:
    try:
        found = datetime.strptime(text, pattern)  # noqa: DTZ007 - the zone is applied later
    except ValueError:
        raise ValueError(f"'{text}' does not follow the time format '{pattern}'") from None
    if any(sign in pattern for sign in ("%Y", "%y", "%F")):
        return _from_datetime(found)
    return Moment(_since_midnight(found.time()), dated=False, offset=None)


def _from_datetime(value: datetime) -> Moment:
    seconds = start_of(value.date()) + _since_midnight(value.time())
    offset = value.utcoffset()
    return Moment(seconds, dated=True, offset=None if offset is None else offset.total_seconds())


def _since_midnight(value: time) -> float:
    return value.hour * 3600.0 + value.minute * 60.0 + value.second + value.microsecond / 1e6


def parse_all(texts: Sequence[str], pattern: str | None = None) -> tuple[Column, dict[int, str]]:
    """Read many times at once.

    Returns
    -------
    Column
        One entry for each text.
    dict of int to str
        What is wrong with the entries that could not be read, by position.
    """
    if pattern is None:
        swift = parse_column(texts)
        if swift is not None:
            seconds, offset = swift
            return Column(seconds, np.ones(len(seconds), np.bool_), offset), {}
    column = Column(
        np.full(len(texts), np.nan), np.zeros(len(texts), np.bool_), np.full(len(texts), np.nan)
    )
    wrong: dict[int, str] = {}
    for i, text in enumerate(texts):
        try:
            moment = parse_moment(text, pattern)
        except ValueError as why:
            wrong[i] = str(why)
            continue
        column.seconds[i] = moment.seconds
        column.dated[i] = moment.dated
        if moment.offset is not None:
            column.offset[i] = moment.offset
    return column, wrong
