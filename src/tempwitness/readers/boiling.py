"""At which temperature water boils at a height above the sea.

Pressure by the U.S. Standard Atmosphere 1976, saturation by IAPWS-IF97 region 4. The weather of
the day moves the boiling point by some tenths of a degree; a barometer on the spot tells it. How
far either may mislead stands in ``rules/quality/checks.toml``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tempwitness.rulebook.files import read_toml, rules_folder
from tempwitness.rulebook.folder import kept_by_rules

__all__ = [
    "Boiling",
    "boiling_at_height",
    "boiling_by_barometer",
    "boiling_point_c",
    "boiling_under_c",
    "pressure_pa",
    "saturation_k",
    "unlike_station",
]

_EARTH_M = 6_356_766.0
_SEA_LEVEL_PA = 101_325.0
_SEA_LEVEL_K = 288.15
_LAPSE_K_M = 0.0065
_EXPONENT = 5.255876
_N = (
    1167.0521452767,
    -724213.16703206,
    -17.073846940092,
    12020.824702470,
    -3232555.0322333,
    14.915108613530,
    -4823.2657361591,
    405113.40542057,
    -0.23855557567849,
    650.17534844798,
)
_KELVIN = 273.15


@dataclass(frozen=True, slots=True)
class Boiling:
    """Where water boils, and the bounds within which that is known [°C]."""

    celsius: float
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class _Figures:
    """What the weather can do.

    Parameters
    ----------
    weather_c : float
        To the boiling point at a height [°C].
    weather_pa : float
        To the pressure at a place [Pa].
    told_apart_m : float
        From this height on a pressure reduced to sea level stands out [m].
    """

    weather_c: float
    weather_pa: float
    told_apart_m: float


@kept_by_rules
def _figures() -> _Figures:
    table = read_toml(rules_folder() / "quality" / "checks.toml")["boiling"]
    return _Figures(*(float(table[k]) for k in ("weather_c", "weather_pa", "told_apart_m")))


def pressure_pa(height_m: float) -> float:
    """Air pressure at a height above the sea [Pa], U.S. Standard Atmosphere 1976, to 11 km."""
    geopotential = _EARTH_M * height_m / (_EARTH_M + height_m)
    ratio = 1 - _LAPSE_K_M * geopotential / _SEA_LEVEL_K
    return float(_SEA_LEVEL_PA * math.pow(ratio, _EXPONENT))


def saturation_k(pressure_mpa: float) -> float:
    """Temperature at which water boils under a pressure [K], IAPWS-IF97 region 4, equation 31.

    Examples
    --------
    >>> round(saturation_k(0.1), 6)
    372.755919
    """
    beta = math.pow(pressure_mpa, 0.25)
    e = beta * beta + _N[2] * beta + _N[5]
    f = _N[0] * beta * beta + _N[3] * beta + _N[6]
    g = _N[1] * beta * beta + _N[4] * beta + _N[7]
    d = 2 * g / (-f - math.sqrt(f * f - 4 * e * g))
    s = _N[9] + d
    return (s - math.sqrt(s * s - 4 * (_N[8] + _N[9] * d))) / 2


def boiling_point_c(height_m: float) -> float:
    """Boiling point of water at a height above the sea [°C]."""
    return saturation_k(pressure_pa(height_m) / 1e6) - _KELVIN


def boiling_under_c(pascal: float) -> float:
    """Boiling point of water under a pressure measured on the spot [Pa], in °C."""
    return saturation_k(pascal / 1e6) - _KELVIN


def boiling_at_height(height_m: float) -> Boiling:
    """Return where water boils at a height, whatever the weather of the day."""
    usual = boiling_point_c(height_m)
    weather = _figures().weather_c
    return Boiling(usual, usual - weather, usual + weather)


def boiling_by_barometer(pascal: float, height_m: float) -> Boiling:
    """Return where water boils under a pressure that was read at a height [Pa].

    In a deep low a figure reduced to sea level can look like one of the place. Where the figure
    could be such a one, the boiling point may lie as low as that would mean.
    """
    read = boiling_under_c(pascal)
    if abs(pascal - _SEA_LEVEL_PA) > _figures().weather_pa:
        return Boiling(read, read, read)
    reduced = boiling_under_c(pascal * pressure_pa(height_m) / _SEA_LEVEL_PA)
    return Boiling(read, min(read, reduced), max(read, reduced))


def unlike_station(pascal: float, height_m: float) -> str:
    """Say why a pressure cannot be that of a place at a height; ``""`` if it can.

    Weather services report what the pressure would be at sea level. Water boils by what it is on
    the spot, so such a figure would make a hot probe look cold.
    """
    usual = pressure_pa(height_m)
    at_height = f"the air has about {usual / 100:.0f} hPa at this height"
    nearer_the_sea = abs(pascal - _SEA_LEVEL_PA) < abs(pascal - usual)
    if height_m >= _figures().told_apart_m and nearer_the_sea:
        return f"{pascal / 100:.1f} hPa is a pressure reduced to sea level; {at_height}"
    if abs(pascal - usual) > _figures().weather_pa:
        return f"{pascal / 100:.1f} hPa is beyond any weather; {at_height}"
    return ""
