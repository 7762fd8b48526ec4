"""One time as it is written: what its signs say, and what they leave open.

A time such as 7/4/2026 8:05 leaves open which figure is the day and whether it was morning. The
column around it may tell; that is decided elsewhere (`settle`), never here.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from typing import Literal

__all__ = ["ACCEPTED", "DayOrder", "Face", "read_face", "start_of"]

DayOrder = Literal["day-first", "month-first"]
ACCEPTED = "write it as 2026-07-04 18:10, optionally with seconds and an offset such as -05:00"

_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september",
    "october", "november", "december",
)  # fmt: skip
_SPACES = re.compile(r"[\s\u00a0\u2009\u202f]+")
_YEAR_FIRST = r"(?P<y1>\d{4})(?P<s1>[-/.])(?P<m1>\d{1,2})(?P=s1)(?P<d1>\d{1,2})"
_TWO_ORDERS = r"(?P<a>\d{1,2})(?P<s2>[-/.]) ?(?P<b>\d{1,2})(?P=s2) ?(?P<y2>\d{4}|\d{2})"
_DAY_NAMED = (
    r"(?P<d3>\d{1,2})(?:st|nd|rd|th|\.)?[ -/]*(?P<n3>[a-z]{3,9})\.?,?[ -/]*(?P<y3>\d{4}|\d{2})"
)
_MONTH_NAMED = r"(?P<n4>[a-z]{3,9})\.? ?(?P<d4>\d{1,2})(?:st|nd|rd|th)?,? (?P<y4>\d{4})"
_CLOCK = (
    r"(?P<hour>\d{1,2})(?:(?P<sign>[:.,])(?P<minute>\d{2})"
    r"(?:[:.](?P<second>\d{2})(?P<fraction>[.,]\d+)?)?)?"
    r" ?(?P<half>[ap]\.? ?m\.?)?"
    r" ?(?P<zone>z|(?:utc|gmt)?[+-]\d{1,2}(?::?\d{2})?|utc|gmt)?"
)
_FACE = re.compile(
    rf"(?:(?:{_YEAR_FIRST}|{_TWO_ORDERS}|{_DAY_NAMED}|{_MONTH_NAMED})(?:t|,? ))?{_CLOCK}"
)
_HHMM = re.compile(r"([01]\d|2[0-3])([0-5]\d)")
_CENTURY = 2000


@dataclass(frozen=True, slots=True)
class Face:
    """A time as written.

    Parameters
    ----------
    text : str
    clock : float
        Seconds since midnight; by the hour as written where `half` is missing.
    day : date, optional
        Its date where only one can be meant.
    pair : tuple of int, optional
        First and second figure of a date whose order is open.
    year : int, optional
        Year of that pair.
    short : bool
        Whether the year was written in two digits.
    half : {"am", "pm", ""}
        Half of the day, where it was written.
    sign : str
        What stands between hour and minute; ``""`` for nothing.
    one_digit : bool
        Whether the hour was written in one digit.
    offset : float, optional
        Offset from UTC that was written [s].
    """

    text: str
    clock: float
    day: date | None = None
    pair: tuple[int, int] | None = None
    year: int | None = None
    short: bool = False
    half: str = ""
    sign: str = ":"
    one_digit: bool = False
    offset: float | None = None

    @property
    def dated(self) -> bool:
        """Whether a date was written."""
        return self.day is not None or self.pair is not None

    @property
    def loose(self) -> bool:
        """Whether morning and evening would be written alike on a clock that counts to 12."""
        return self.one_digit and not self.half

    def on(self, order: DayOrder) -> date | None:
        """Date under an order of day and month; ``None`` if there is no such day."""
        if self.pair is None or self.year is None:
            return self.day
        day, month = self.pair if order == "day-first" else self.pair[::-1]
        try:
            return date(self.year, month, day)
        except ValueError:
            return None


def start_of(day: date) -> float:
    """Seconds from 1970-01-01 to the first moment of a day, on the clock face."""
    return datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp()


def read_face(written: str) -> Face:
    """Take a time apart.

    Raises
    ------
    ValueError
        If it has none of the forms, or no such time exists.

    Examples
    --------
    >>> read_face("4 Jul 2026 5:50 PM").clock / 3600
    17.833333333333332
    """
    text = written.strip()
    plain = _SPACES.sub(" ", text.lower()).replace("\u2212", "-")
    whole = _HHMM.fullmatch(plain)
    if whole is not None:
        return Face(text, int(whole[1]) * 3600.0 + int(whole[2]) * 60.0, sign="")
    match = _FACE.fullmatch(plain)
    if match is None or (match["minute"] is None and match["half"] is None):
        raise ValueError(f"'{text}' is not a time that can be read; {ACCEPTED}")
    try:
        face = Face(
            text,
            _clock(match),
            half=f"{match['half'][0]}m" if match["half"] else "",
            sign=match["sign"] or ":",
            one_digit=len(match["hour"]) == 1,
            offset=_offset(match["zone"]),
        )
        face = _dated(face, match)
    except ValueError as why:
        raise ValueError(f"'{text}' is not a time ({why}); {ACCEPTED}") from None
    if face.offset is not None and not face.dated:
        raise ValueError(f"'{text}' has an offset but no date; {ACCEPTED}")
    return face


def _clock(match: re.Match[str]) -> float:
    hour, minute = int(match["hour"]), int(match["minute"] or 0)
    second = int(match["second"] or 0)
    if match["half"]:
        if not 1 <= hour <= 12:
            raise ValueError(f"hour {hour} does not go with {match['half'].upper()}")
        hour = hour % 12 + (12 if match["half"].startswith("p") else 0)
    for name, figure, most in (("hour", hour, 23), ("minute", minute, 59), ("second", second, 59)):
        if figure > most:
            raise ValueError(f"{name} must be in 0..{most}")
    fraction = float((match["fraction"] or "0").replace(",", "."))
    return hour * 3600.0 + minute * 60.0 + second + fraction


def _dated(face: Face, match: re.Match[str]) -> Face:
    if match["y1"]:
        return replace(face, day=date(int(match["y1"]), int(match["m1"]), int(match["d1"])))
    if match["y2"]:
        pair = (int(match["a"]), int(match["b"]))
        year, short = _year(match["y2"])
        return replace(face, pair=pair, year=year, short=short)
    named, day, year_text = (
        (match["n3"], match["d3"], match["y3"])
        if match["y3"]
        else (match["n4"], match["d4"], match["y4"])
    )
    if named is None:
        return face
    year, short = _year(year_text)
    return replace(face, day=date(year, _month(named), int(day)), short=short)


def _year(text: str) -> tuple[int, bool]:
    short = len(text) == 2
    return int(text) + (_CENTURY if short else 0), short


def _month(name: str) -> int:
    for number, month in enumerate(_MONTHS, 1):
        if name in (month, month[:3]) or (name == "sept" and number == 9):
            return number
    raise ValueError(f"'{name}' is not an English name of a month")


def _offset(zone: str | None) -> float | None:
    if zone is None:
        return None
    digits = zone.removeprefix("utc").removeprefix("gmt").removeprefix("z")
    if not digits:
        return 0.0
    hours, _, minutes = digits[1:].partition(":")
    if not minutes and len(hours) == 4:
        hours, minutes = hours[:2], hours[2:]
    size = int(hours) * 3600.0 + int(minutes or 0) * 60.0
    if size > 14 * 3600.0 or int(minutes or 0) > 59:
        raise ValueError(f"no clock on earth is set by the offset {zone}")
    return -size if digits[0] == "-" else size
