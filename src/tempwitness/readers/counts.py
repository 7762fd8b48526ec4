"""Times that are written as one number: a count of seconds, or of days as spreadsheets keep them.

Which count it is is told by the size of all figures of the column together; where two counts
would both give a day of this century, the question is asked.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.readers.faces import ACCEPTED, Face, read_face
from tempwitness.readers.zones import UnplacedTimeError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Floats

__all__ = ["COUNTS", "Counted", "are_counts", "read_counts"]

_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_DAY = 86400.0
# Seconds from 1970-01-01 to 2000-01-01 and to 2100-01-01, by the calendar.
_FROM, _TO = 946_684_800.0, 4_102_444_800.0
# Some instruments count from 1904; read as a count from 1970 such a figure of this century lies
# after 2066 (2000-01-01 is 3,029,529,600 s after 1904-01-01).
_OTHER = 3_029_529_600.0
# Day 0 of the count from 1900 and from 1904, in days from 1970-01-01. The former counts a
# 29 February 1900 that never was, so its day 0 is 1899-12-30 for all days since March 1900.
_DAY_ZERO = {"serial-1900": -25_569.0, "serial-1904": -24_107.0}
_SECONDS = {"epoch-s": 1.0, "epoch-ms": 1e-3}
COUNTS = (*_SECONDS, *_DAY_ZERO)
_WORDS = {
    "epoch-s": "times are seconds since 1970-01-01 UTC",
    "epoch-ms": "times are milliseconds since 1970-01-01 UTC",
    "serial-1900": "times are days as spreadsheets count them from 1900, to the nearest second",
    "serial-1904": "times are days as other spreadsheets count them from 1904, to the second",
}
_SAY = (
    "say how they are counted with --time-format epoch-s, epoch-ms, serial-1900 or serial-1904 "
    "(for a file of a record, time_format under [[file]])"
)


@dataclass(frozen=True, slots=True, eq=False)
class Counted:
    """Counts as clock faces.

    Parameters
    ----------
    seconds : Floats
        Clock face, or moment in UTC where `utc` is true [s since 1970-01-01].
    """

    seconds: Floats
    utc: bool
    understood: str


def are_counts(texts: Sequence[str]) -> bool:
    """Whether all texts are plain numbers that are no times of a clock."""
    return bool(texts) and all(map(_NUMBER.fullmatch, texts)) and not all(map(_clock, texts))


def _clock(text: str) -> Face | None:
    try:
        return read_face(text)
    except ValueError:
        return None


def read_counts(texts: Sequence[str], told: str | None = None) -> Counted:
    """Read a column of counts.

    Parameters
    ----------
    texts : sequence of str
    told : str, optional
        How they are counted, one of `COUNTS`.

    Raises
    ------
    UnplacedTimeError
        If it is not plain to see what is counted; its row is the position of the text.
    """
    for i, text in enumerate(texts):
        if not _NUMBER.fullmatch(text):
            raise UnplacedTimeError(i, f"'{text}' is not a count", f"correct it, or {ACCEPTED}")
    values = np.array(texts, np.float64)
    kind = told or _kind(texts, values)
    if kind in _SECONDS:
        return Counted(values * _SECONDS[kind], True, _WORDS[kind])  # noqa: FBT003 - a field
    _refuse_days_alone(texts, values)
    seconds: Floats = np.round((values + _DAY_ZERO[kind]) * _DAY)
    return Counted(seconds, False, _WORDS[kind])  # noqa: FBT003 - a field


def _kind(texts: Sequence[str], values: Floats) -> str:
    for kind, size in _SECONDS.items():
        low, high = _FROM / size, _TO / size
        if bool(((values >= low) & (values < high)).all()):
            over = np.flatnonzero(values * size >= _OTHER)
            if len(over):
                raise UnplacedTimeError(
                    int(over[0]),
                    f"'{texts[over[0]]}' may be counted from 1970, or from 1904 as some "
                    f"instruments do",
                    ACCEPTED,
                    _SAY,
                )
            return kind
    days = values + _DAY_ZERO["serial-1900"]
    if bool(((days * _DAY >= _FROM) & (days * _DAY < _TO)).all()):
        return "serial-1900"
    raise UnplacedTimeError(
        0,
        f"the times are numbers such as '{texts[0]}', and as counts of seconds or days they do "
        f"not all lie in this century",
        ACCEPTED,
        _SAY,
    )


def _refuse_days_alone(texts: Sequence[str], values: Floats) -> None:
    """Refuse counts of whole days, and counts that step by days as a count of seconds would."""
    if not bool((values % 1).any()):
        raise UnplacedTimeError(
            0, f"'{texts[0]}' counts whole days and holds no time of day", ACCEPTED
        )
    steps = np.diff(np.unique(values))
    if len(steps) and float(np.median(steps)) >= 1.0:
        raise UnplacedTimeError(
            0,
            f"as counts of days, '{texts[0]}' and the other times lie a day or more apart, so "
            f"they may count something else",
            ACCEPTED,
        )
