"""Lengths and rates as people write them."""

from __future__ import annotations

import re

from tempwitness.readers.words import finite, temperature
from tempwitness.units import Unit, convert

__all__ = ["ambient_f", "length_m", "per_second", "rate_f_per_s"]

_LENGTH = re.compile(r"(\d+(?:\.\d+)?)\s*(in|inch|inches|\"|cm|mm)", re.IGNORECASE)
_M = {"in": 0.0254, "inch": 0.0254, "inches": 0.0254, '"': 0.0254, "cm": 0.01, "mm": 0.001}
_RATE = re.compile(
    r"(\d+(?:\.\d+)?)\s*(?:°|º|deg)?\s*([FC])\s*(?:/|\s+per\s+|\s+an?\s+)\s*(min|minute|h|hr|hour)",
    re.IGNORECASE,
)
_SECONDS = {"min": 60.0, "minute": 60.0, "h": 3600.0, "hr": 3600.0, "hour": 3600.0}
_F_PER_C = 1.8
_TWO = 2


def length_m(value: object) -> float:
    """Read a length, "4 in" or "10 cm", in metres.

    Examples
    --------
    >>> length_m("10 cm")
    0.1
    """
    match = _LENGTH.fullmatch(str(value).strip())
    if match is None or finite(match[1]) == 0:
        raise ValueError(f"'{value}' is not a thickness; write it as '4 in' or '10 cm'")
    return finite(match[1]) * _M[match[2].lower()]


def rate_f_per_s(value: object) -> float:
    """Read a rate of change, "0.4 F/min" or "12 C/h", in °F a second.

    Examples
    --------
    >>> rate_f_per_s("0.6 F/min")
    0.01
    """
    match = _RATE.fullmatch(str(value).strip())
    if match is None:
        raise ValueError(
            f"'{value}' is not a rate of change; write it as '0.4 F/min' or '12 C/h', without sign"
        )
    scale = _F_PER_C if match[2].upper() == "C" else 1.0
    return finite(match[1]) * scale / _SECONDS[match[3].lower()]


def ambient_f(value: object) -> tuple[float, float]:
    """Read a range of temperatures, ["36 F", "41 F"], in °F.

    Examples
    --------
    >>> ambient_f(["36 F", "41 F"])
    (36.0, 41.0)
    """
    low, high = (convert(*temperature(part), Unit.F) for part in _pair(value, '["36 F", "41 F"]'))
    if low > high:
        raise ValueError("the first of the two temperatures is the lower one")
    return low, high


def per_second(value: object) -> tuple[float, float]:
    """Read a range of rates an hour, [0.3, 0.9], in 1/s."""
    low, high = (finite(str(part)) for part in _pair(value, "[0.3, 0.9]"))
    if not 0.0 < low <= high:
        raise ValueError("both rates are above 0, the lower one first")
    return low / _SECONDS["hour"], high / _SECONDS["hour"]


def _pair(value: object, example: str) -> tuple[object, object]:
    if not isinstance(value, list | tuple) or len(value) != _TWO:
        # Not a TypeError: pydantic gathers faults of what a person wrote as ValueError.
        raise ValueError(f"a list of two is wanted here, such as {example}")
    return value[0], value[1]
