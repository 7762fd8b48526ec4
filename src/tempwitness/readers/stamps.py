"""A whole column of ISO 8601 stamps of one width, read at once from its bytes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Bools, Floats

__all__ = ["parse_bytes", "parse_column"]

_Bytes = NDArray[np.uint8]
_Whole = NDArray[np.int32]
_WORTH = 64
_DAYS = np.array([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31], dtype=np.int32)
_TO_MINUTE = 16
_TO_SECOND = 19


def parse_column(texts: Sequence[str]) -> tuple[Floats, Floats] | None:
    """Read stamps of equal width and equal offset.

    Returns
    -------
    tuple of Floats, or None
        Seconds of the clock face since 1970-01-01 and offset [s], NaN where none was written;
        ``None`` when the stamps are not that uniform (or too few to be worth it), and have to be
        read one by one.
    """
    if len(texts) < _WORTH:
        return None
    width = len(texts[0])
    raw = "".join(texts).encode("utf-8", "replace")
    if len(raw) != width * len(texts):
        return None
    return parse_bytes(np.frombuffer(raw, np.uint8).reshape(len(texts), width))


def parse_bytes(table: _Bytes) -> tuple[Floats, Floats] | None:
    """Read stamps that stand in the rows of a table of bytes; see `parse_column`."""
    width = table.shape[1]
    if width < _TO_MINUTE:
        return None
    long = width >= _TO_SECOND and table[0, _TO_MINUTE] == ord(":")
    used = _TO_SECOND if long else _TO_MINUTE
    offset = _common_offset(table, used, table[0, used:].tobytes().decode("utf-8", "replace"))
    if offset is None or not _separators(table, used):
        return None
    seconds = _seconds(table, used)
    return None if seconds is None else (seconds, np.full(len(table), offset))


def _common_offset(table: _Bytes, used: int, tail: str) -> float | None:
    """Offset that all stamps share [s], NaN for none, ``None`` if they differ."""
    if not bool((table[:, used:] == table[0, used:]).all()):
        return None
    if tail == "":
        return float("nan")
    if tail == "Z":
        return 0.0
    digits = tail[1:].replace(":", "")
    if tail[0] not in "+-" or len(digits) != 4 or not (digits.isascii() and digits.isdigit()):
        return None
    size = int(digits[:2]) * 3600.0 + int(digits[2:]) * 60.0
    return -size if tail[0] == "-" else size


def _separators(table: _Bytes, used: int) -> bool:
    wanted = {4: "-", 7: "-", 13: ":"} | ({16: ":"} if used == _TO_SECOND else {})
    parted = table[:, 10]
    fine = bool(((parted == ord(" ")) | (parted == ord("T"))).all())
    return fine and all(bool((table[:, at] == ord(sign)).all()) for at, sign in wanted.items())


def _seconds(table: _Bytes, used: int) -> Floats | None:
    at = [0, 1, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15] + ([17, 18] if used == _TO_SECOND else [])
    digits = table[:, at] - np.uint8(ord("0"))
    if bool((digits > 9).any()):
        return None
    d = np.ascontiguousarray(digits.T).astype(np.int32)
    year = d[0] * 1000 + d[1] * 100 + d[2] * 10 + d[3]
    pairs = [d[i] * 10 + d[i + 1] for i in range(4, len(at), 2)]
    month, day, hour, minute = pairs[:4]
    second = pairs[4] if used == _TO_SECOND else np.zeros_like(hour)
    if not bool(_in_range(year, month, day).all()):
        return None
    if int(hour.max()) > 23 or int(minute.max()) > 59 or int(second.max()) > 59:
        return None
    days = _days_from_civil(year, month, day).astype(np.float64)
    seconds: Floats = days * 86400.0 + (hour * 3600 + minute * 60 + second)
    return seconds


def _in_range(year: _Whole, month: _Whole, day: _Whole) -> Bools:
    known = (month >= 1) & (month <= 12) & (year >= 1)
    leap = (year % 4 == 0) & ((year % 100 != 0) | (year % 400 == 0))
    longest = _DAYS[np.clip(month, 0, 12)] + (leap & (month == 2))
    return np.asarray(known & (day >= 1) & (day <= longest))


def _days_from_civil(year: _Whole, month: _Whole, day: _Whole) -> _Whole:
    """Days since 1970-01-01 in the Gregorian calendar, counted from March so that leap days end."""
    y = year - (month <= 2)
    from_march = (month + 9) % 12
    leap_days = y // 4 - y // 100 + y // 400
    days: _Whole = y * 365 + leap_days + (153 * from_march + 2) // 5 + day - 1 - 719468
    return days
