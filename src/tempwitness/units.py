"""Temperature units: identities, conversions for display, and how figures are written.

Limits are never converted before they are compared: a code prints its own figure in each unit
(135 °F and 57 °C are one limit, although 57 °C is 134.6 °F). Conversions here serve display,
probe corrections and forecasts only.
"""

from __future__ import annotations

from enum import StrEnum

__all__ = ["Unit", "convert", "convert_difference", "format_degrees"]


class Unit(StrEnum):
    """Scale in which a temperature was written."""

    F = "F"
    C = "C"

    @property
    def symbol(self) -> str:
        """Degree sign and letter."""
        return f"°{self.value}"


def convert(value: float, unit: Unit, to: Unit) -> float:
    """Convert a temperature.

    Parameters
    ----------
    value : float
        Temperature [°F or °C].
    unit, to : Unit
        Scale of `value` and scale wanted.

    Returns
    -------
    float
        The same temperature on the other scale.

    Examples
    --------
    >>> convert(212.0, Unit.F, Unit.C)
    100.0
    """
    if unit is to:
        return value
    if to is Unit.C:
        return (value - 32.0) / 1.8
    return value * 1.8 + 32.0


def convert_difference(value: float, unit: Unit, to: Unit) -> float:
    """Convert a difference of temperatures, which carries no offset of 32.

    Examples
    --------
    >>> convert_difference(-1.8, Unit.F, Unit.C)
    -1.0
    """
    if unit is to:
        return value
    return value / 1.8 if to is Unit.C else value * 1.8


def format_degrees(value: float, unit: Unit) -> str:
    """Write a temperature as a person would: as many decimals as it has, at most two.

    Examples
    --------
    >>> format_degrees(135.0, Unit.F)
    '135 °F'
    >>> format_degrees(54.4, Unit.C)
    '54.4 °C'
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return f"{'0' if text == '-0' else text} {unit.symbol}"
