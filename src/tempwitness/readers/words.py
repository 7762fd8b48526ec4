"""Temperatures, weights, heights and words of the trade as people write them.

Every function raises ``ValueError`` with a sentence that says what was found and what is
accepted; the caller knows the place.
"""

from __future__ import annotations

import math
import re
from enum import StrEnum
from typing import TypeVar

from tempwitness.model.lot import Weighed
from tempwitness.readers.problems import nearest
from tempwitness.units import Unit

__all__ = ["finite", "height_m", "plain_number", "pressure_pa", "temperature", "weighed", "word"]

_NUMBER = r"[+\-\u2212]?\d+(?:\.\d+)?"
_TEMPERATURE = re.compile(rf"({_NUMBER})\s*(?:°|º|deg)?\s*([FC])", re.IGNORECASE)
_PLAIN = re.compile(_NUMBER)
_WEIGHT = re.compile(
    r"(\d+(?:\.\d+)?)\s*(lbs?|pounds?|kg|kilos?)(?:\s*(\d+(?:\.\d+)?)\s*(?:oz|ounces?))?",
    re.IGNORECASE,
)
_HEIGHT = re.compile(r"(-?\d+(?:\.\d+)?)\s*(ft|feet|m|metres?|meters?)", re.IGNORECASE)
_PRESSURE = re.compile(r"(\d+(?:\.\d+)?)\s*(hPa|mbar|mb|kPa|inHg)", re.IGNORECASE)
_M_PER_FT = 0.3048
# An inch of mercury by its conventional value (NIST SP 811, appendix B).
_PA = {"hpa": 100.0, "mbar": 100.0, "mb": 100.0, "kpa": 1000.0, "inhg": 3386.389}

Word = TypeVar("Word", bound=StrEnum)


def finite(text: str) -> float:
    """Read digits as a number; so many of them that no number is left are refused."""
    number = float(text)
    if not math.isfinite(number):
        raise ValueError(f"'{text[:12]}…' is too large for any measure")
    return number


def plain_number(text: str) -> float:
    """Read a number with an optional sign and decimal point; nothing else.

    Examples
    --------
    >>> plain_number("138.5")
    138.5
    """
    if not _PLAIN.fullmatch(text):
        raise ValueError(f"'{text}' is not a number")
    return finite(text.replace("\u2212", "-"))


def temperature(value: object) -> tuple[float, Unit]:
    """Read "138 F", "58.9 °C" or "58.9C" as a number and its scale.

    Examples
    --------
    >>> temperature("58.9 C")
    (58.9, <Unit.C: 'C'>)
    """
    if isinstance(value, int | float):
        # Not a TypeError: what a person wrote is wrong, not what a programmer passed.
        raise ValueError(f'{value} has no unit; write "{value} F" or "{value} C"')  # noqa: TRY004
    text = str(value).strip().replace("℉", "°F").replace("℃", "°C")
    match = _TEMPERATURE.fullmatch(text)
    if match is None:
        raise ValueError(
            f"'{text}' is not a temperature with its unit; write one number and F or C, such as "
            f"'138 F'; ranges, 'about' and 'below' belong into a note"
        )
    return plain_number(match[1]), Unit(match[2].upper())


def weighed(value: object) -> Weighed:
    """Read "9 lb", "9 lb 4 oz" or "4.1 kg".

    Examples
    --------
    >>> str(weighed("9 lb 4 oz"))
    '9.25 lb'
    """
    match = _WEIGHT.fullmatch(str(value).strip())
    metric = match is not None and match[2].lower().startswith("k")
    if match is None or (metric and match[3]):
        raise ValueError(
            f"'{value}' is not a weight; write a number and its unit, such as '9 lb', "
            f"'9 lb 4 oz' or '4.1 kg'"
        )
    amount = finite(match[1]) + (finite(match[3]) / 16 if match[3] else 0.0)
    if amount <= 0:
        raise ValueError(f"'{value}' is not a weight above nothing")
    return Weighed(amount, "kg" if metric else "lb")


def height_m(value: object) -> float:
    """Read a height above the sea, "5280 ft" or "1609 m", in metres."""
    match = _HEIGHT.fullmatch(str(value).strip())
    if match is None:
        raise ValueError(f"'{value}' is not a height; write it as '5280 ft' or '1609 m'")
    number = finite(match[1])
    return number * _M_PER_FT if match[2].lower().startswith("f") else number


def pressure_pa(value: object) -> float:
    """Read an air pressure, "834.4 hPa" or "24.64 inHg", in pascals.

    Examples
    --------
    >>> pressure_pa("834.4 hPa")
    83440.0
    """
    match = _PRESSURE.fullmatch(str(value).strip())
    if match is None:
        raise ValueError(f"'{value}' is not a pressure; write it as '834 hPa' or '24.64 inHg'")
    return round(finite(match[1]) * _PA[match[2].lower()], 3)


def word(value: object, kind: type[Word], what: str) -> Word:
    """Read a word of a closed list; spaces and hyphens count as underscores."""
    text = str(value).strip().lower().replace(" ", "_").replace("-", "_")
    known = [member.value for member in kind]
    if text not in known:
        raise ValueError(
            f"'{value}' is not {_article(what)} {what}{nearest(text, known)}; "
            f"known are {', '.join(known)}"
        )
    return kind(text)


def _article(noun: str) -> str:
    return "an" if noun[0] in "aeiou" else "a"
