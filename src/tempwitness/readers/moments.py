"""Times as they are written: parsed strictly, one by one or a whole column at once.

Accepted are ``YYYY-MM-DD HH:MM``, with optional seconds, fraction and offset (``Z``, ``+02:00``),
a ``T`` in place of the space, and ``HH:MM[:SS]`` alone; beside them other ways of writing that a
column as a whole makes plain. Nothing is guessed: 7/4 alone is a day in July or in April, and 8:05
may be the evening.
"""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, time
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.readers.counts import COUNTS, are_counts, read_counts
from tempwitness.readers.faces import DayOrder, Face, read_face, start_of
from tempwitness.readers.settle import settle
from tempwitness.readers.stamps import parse_column
from tempwitness.readers.zones import UnplacedTimeError

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tempwitness.model.logs import Bools, Floats

__all__ = [
    "DAY",
    "TO_24",
    "Column",
    "Moment",
    "Times",
    "Told",
    "check_pattern",
    "face_of",
    "parse_all",
    "parse_moment",
    "start_of",
]

DAY = 86400.0
#: Time format of a clock that counts to 24 and may write its hours in one digit.
TO_24 = "24h"


@dataclass(frozen=True, slots=True)
class Told:
    """What was said of the times of a file.

    Parameters
    ----------
    pattern : str, optional
        ``strptime`` pattern that every text follows, `TO_24`, or one of `counts.COUNTS`.
    order : {"day-first", "month-first"}, optional
        Order of day and month.
    """

    pattern: str | None = None
    order: DayOrder | None = None


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


@dataclass(frozen=True, slots=True, eq=False)
class Times:
    """A column of times, and how it was understood.

    Parameters
    ----------
    column : Column
        One entry for each text.
    wrong : mapping of int to str
        What is wrong with the entries that could not be read, by position.
    understood : tuple of str
        What the column as a whole decided, one sentence each.
    forced : int, optional
        Entry that decided the order of day and month.
    comma : bool
        Whether a comma stands between hour and minute.
    """

    column: Column
    wrong: Mapping[int, str] = field(default_factory=dict)
    understood: tuple[str, ...] = ()
    forced: int | None = None
    comma: bool = False


def face_of(value: object) -> Face:
    """Take apart a text, or a date-time or time that a TOML file holds.

    Raises
    ------
    ValueError
        If it is not a time in an accepted form.
    """
    if isinstance(value, datetime):
        offset = value.utcoffset()
        seconds = None if offset is None else offset.total_seconds()
        text = value.isoformat(" ")
        return Face(text, _since_midnight(value.time()), day=value.date(), offset=seconds)
    if isinstance(value, time):
        return Face(value.isoformat(), _since_midnight(value))
    return read_face(str(value))


def parse_moment(value: object, pattern: str | None = None) -> Moment:
    """Read one time that stands alone.

    Parameters
    ----------
    value : object
        Text, or a date-time or time that a TOML file holds.
    pattern : str, optional
        ``strptime`` pattern that the text must follow instead.

    Raises
    ------
    ValueError
        If it is not a time in an accepted form, or leaves open which moment is meant.
    """
    if pattern is not None:
        return _patterned(str(value).strip(), pattern)
    face = face_of(value)
    try:
        settled = settle([face], order=None, to_24=False)
    except UnplacedTimeError as why:
        raise ValueError(f"{why.what}; {why.hint}") from None
    return Moment(settled.seconds[0], face.dated, face.offset)


def check_pattern(pattern: str) -> None:
    """Refuse a pattern that leaves open which moment is meant.

    Raises
    ------
    ValueError
        If it has no hour and minute, half a date, or a 12-hour clock without am and pm.
    """
    if pattern in (TO_24, *COUNTS):
        return
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
    clock = _since_midnight(found.time())
    if not any(sign in pattern for sign in ("%Y", "%y", "%F")):
        return Moment(clock, dated=False, offset=None)
    offset = found.utcoffset()
    seconds = None if offset is None else offset.total_seconds()
    return Moment(start_of(found.date()) + clock, dated=True, offset=seconds)


def _since_midnight(value: time) -> float:
    return value.hour * 3600.0 + value.minute * 60.0 + value.second + value.microsecond / 1e6


def parse_all(texts: Sequence[str], told: Told | None = None) -> Times:
    """Read all times of a column at once.

    Parameters
    ----------
    texts : sequence of str
        Each text once, or row by row.
    told : Told, optional
        What was said of them.

    Raises
    ------
    UnplacedTimeError
        If the column fits two meanings; its row is the position of the text that shows it.
    """
    told = told or Told()
    if told.pattern in (None, TO_24):
        swift = parse_column(texts)
        if swift is not None:
            seconds, offset = swift
            return Times(Column(seconds, np.ones(len(seconds), np.bool_), offset))
        filled = [i for i, text in enumerate(texts) if text]
        if told.pattern is None and are_counts([texts[i] for i in filled]):
            return _counted(texts, filled, None)
        return _settled(texts, told)
    if told.pattern in COUNTS:
        return _counted(texts, [i for i, text in enumerate(texts) if text], told.pattern)
    return _by_pattern(texts, str(told.pattern))


def _nothing(texts: Sequence[str]) -> Column:
    size = len(texts)
    return Column(np.full(size, np.nan), np.zeros(size, np.bool_), np.full(size, np.nan))


def _by_pattern(texts: Sequence[str], pattern: str) -> Times:
    column = _nothing(texts)
    wrong: dict[int, str] = {}
    for i, text in enumerate(texts):
        try:
            moment = _patterned(text, pattern)
        except ValueError as why:
            wrong[i] = str(why)
            continue
        column.seconds[i] = moment.seconds
        column.dated[i] = moment.dated
        if moment.offset is not None:
            column.offset[i] = moment.offset
    return Times(column, wrong, (f"times follow the format '{pattern}'",))


def _counted(texts: Sequence[str], filled: Sequence[int], told: str | None) -> Times:
    column = _nothing(texts)
    wrong = {i: "" for i, text in enumerate(texts) if not text}
    with _at(filled):
        counted = read_counts([texts[i] for i in filled], told)
    column.seconds[filled] = counted.seconds
    column.dated[:] = True
    if counted.utc:
        column.offset[:] = 0.0
    return Times(column, wrong, (counted.understood,))


def _settled(texts: Sequence[str], told: Told) -> Times:
    column = _nothing(texts)
    wrong: dict[int, str] = {}
    faces: list[Face] = []
    read: list[int] = []
    for i, text in enumerate(texts):
        try:
            faces.append(read_face(text))
        except ValueError as why:
            wrong[i] = str(why)
            continue
        read.append(i)
        face = faces[-1]
        column.dated[i] = face.dated
        if face.offset is not None:
            column.offset[i] = face.offset
    if wrong.keys() - {i for i, text in enumerate(texts) if not text}:
        return Times(column, wrong)
    with _at(read):
        settled = settle(faces, order=told.order, to_24=told.pattern == TO_24)
    column.seconds[read] = settled.seconds
    forced = None if settled.forced is None else read[settled.forced]
    return Times(column, wrong, settled.understood, forced, settled.comma)


@contextmanager
def _at(positions: Sequence[int]) -> Iterator[None]:
    """Name the position among all texts where a part of them was asked about."""
    try:
        yield
    except UnplacedTimeError as why:
        raise UnplacedTimeError(positions[why.row], why.what, why.hint, why.option) from None
