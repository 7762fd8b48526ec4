"""Lengths and rates as people write them."""

from __future__ import annotations

import re

__all__ = ["length_m", "rate_f_per_s"]

_LENGTH = re.compile(r"(\d+(?:\.\d+)?)\s*(in|inch|inches|\"|cm|mm)", re.IGNORECASE)
_M = {"in": 0.0254, "inch": 0.0254, "inches": 0.0254, '"': 0.0254, "cm": 0.01, "mm": 0.001}
_RATE = re.compile(
    r"(\d+(?:\.\d+)?)\s*(?:°|º|deg)?\s*([FC])\s*(?:/|\s+per\s+|\s+an?\s+)\s*(min|minute|h|hr|hour)",
    re.IGNORECASE,
)
_SECONDS = {"min": 60.0, "minute": 60.0, "h": 3600.0, "hr": 3600.0, "hour": 3600.0}
_F_PER_C = 1.8


def length_m(value: object) -> float:
    """Read a length, "4 in" or "10 cm", in metres.

    Examples
    --------
    >>> length_m("10 cm")
    0.1
    """
    match = _LENGTH.fullmatch(str(value).strip())
    if match is None or float(match[1]) == 0:
        raise ValueError(f"'{value}' is not a thickness; write it as '4 in' or '10 cm'")
    return float(match[1]) * _M[match[2].lower()]


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
    return float(match[1]) * scale / _SECONDS[match[3].lower()]
