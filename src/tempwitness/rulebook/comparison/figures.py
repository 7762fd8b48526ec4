"""Printed figures set beside each other, in a unit that both texts print wherever there is one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["celsius", "hotter", "leading"]

_ROUNDING = 0.6
"""Figures printed in different units are alike if rounding to whole degrees explains them [°C]."""


def celsius(figure: Mapping[str, Any]) -> float:
    """Return a printed temperature [°C], converted only where no °C is printed."""
    if "c" in figure:
        return float(figure["c"])
    return convert(float(figure["f"]), Unit.F, Unit.C)


def hotter(one: Mapping[str, Any], other: Mapping[str, Any]) -> int | None:
    """Return 1 if one temperature is the hotter, -1 if the other is, 0 if they are alike.

    It is ``None`` where the two units that both print say different things.

    Examples
    --------
    >>> hotter({"f": 140, "c": 60}, {"f": 135, "c": 57})
    1
    >>> hotter({"f": 165}, {"c": 74})
    0
    """
    shared = [unit for unit in ("f", "c") if unit in one and unit in other]
    if not shared:
        apart = celsius(one) - celsius(other)
        return 0 if abs(apart) <= _ROUNDING else _sign(apart)
    signs = {_sign(float(one[unit]) - float(other[unit])) for unit in shared} - {0}
    if len(signs) > 1:
        return None
    return signs.pop() if signs else 0


def _sign(difference: float) -> int:
    return (difference > 0) - (difference < 0)


def leading(text: str, unit: str) -> str:
    """Put the scale in which a country reckons in front, where both figures are printed.

    Examples
    --------
    >>> leading("at most 40 °F (4.4 °C)", "C")
    'at most 4.4 °C (40 °F)'
    """
    if unit != "C":
        return text
    import re  # noqa: PLC0415 - few codes print both and reckon in °C

    return re.sub(r"([\d.]+) °F \(([\d.]+) °C\)", r"\2 °C (\1 °F)", text)
