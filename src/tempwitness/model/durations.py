"""Durations as rule files and reports write them; nothing heavy is imported here."""

from __future__ import annotations

import re

__all__ = ["duration_words", "parse_duration"]

_SECONDS = {"s": 1, "min": 60, "h": 3600, "d": 86400}
_DURATION = re.compile(r"(\d+(?:\.\d+)?) ?(s|min|h|d)")


def parse_duration(value: object) -> float:
    """Read "2 h", "112 min", "15 s" or "7 d" as seconds.

    Raises
    ------
    ValueError
        If the text is not a number and one of the four units.

    Examples
    --------
    >>> parse_duration("112 min")
    6720.0
    """
    match = _DURATION.fullmatch(value) if isinstance(value, str) else None
    if match is None:
        raise ValueError(f"{value!r} is not a duration; write a number and s, min, h or d: '2 h'")
    return float(match[1]) * _SECONDS[match[2]]


def duration_words(seconds: float) -> str:
    """Write a duration the way rule files and reports do.

    Examples
    --------
    >>> duration_words(7500)
    '2 h 5 min'
    >>> duration_words(15)
    '15 s'
    """
    whole = round(seconds)
    hours, rest = divmod(whole, 3600)
    minutes, secs = divmod(rest, 60)
    parts = [f"{n} {u}" for n, u in ((hours, "h"), (minutes, "min"), (secs, "s")) if n]
    return " ".join(parts) or "0 s"
