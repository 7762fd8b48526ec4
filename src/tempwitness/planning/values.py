"""Values of plans: bands, outlooks, and the figures that plans assume."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Any

from tempwitness.rulebook.files import read_toml, rules_folder
from tempwitness.science.ranges import OutOfRangeError
from tempwitness.units import Unit, convert, format_degrees

__all__ = [
    "Band",
    "Medium",
    "Outlook",
    "around",
    "celsius_of",
    "degrees_words",
    "figures",
    "mass_words",
    "medium",
    "outlook",
]


_KG_PER_LB = 0.45359237  # exact, by agreement of 1959


class Outlook(StrEnum):
    """What a plan expects. It is an estimate; readings decide."""

    HOLDS = "holds"
    DOUBTFUL = "doubtful"
    FAILS = "fails"


@dataclass(frozen=True, slots=True)
class Band:
    """An estimate with its doubt; `most` may be infinite.

    Parameters
    ----------
    least, likely, most : float
        In the unit of what it is a band of.
    """

    least: float
    likely: float
    most: float


@dataclass(frozen=True, slots=True)
class Medium:
    """Air, a bath or an oven.

    Parameters
    ----------
    id, title : str
    least, most : float
        Coefficients of heat transfer [W/(m² K)].
    assumed : float, optional
        Temperature where nobody states one [°C].
    """

    id: str
    title: str
    least: float
    most: float
    assumed: float | None

    @property
    def likely(self) -> float:
        """Geometric mean of both coefficients [W/(m² K)]."""
        return float((self.least * self.most) ** 0.5)


@cache
def figures() -> dict[str, Any]:
    """Return what plans assume, from ``rules/physics/surroundings.toml``."""
    return read_toml(rules_folder() / "physics" / "surroundings.toml")


def medium(kind: str, name: str) -> Medium:
    """Return a medium that cools or heats.

    Parameters
    ----------
    kind : {"cool", "heat"}
    name : str

    Raises
    ------
    OutOfRangeError
        If none has that name; names those that are known.
    """
    known = figures()[kind]
    if name not in known:
        raise OutOfRangeError(
            f"'{name}' is no way to {kind} that is known here",
            hint=f"known are {', '.join(known)}",
        )
    entry = known[name]
    assumed = float(entry["assumed"]) if "assumed" in entry else None
    return Medium(name, entry["title"], float(entry["least"]), float(entry["most"]), assumed)


def around(likely: float, low: float | None = None, high: float | None = None) -> Band:
    """Return a band of the general doubt, or wider where two other estimates lie beyond it."""
    share = float(figures()["doubt"]["share"])
    least, most = likely * (1 - share), likely * (1 + share)
    return Band(
        least if low is None else min(low, least),
        likely,
        most if high is None else max(high, most),
    )


def outlook(found: Band, allowed: float) -> Outlook:
    """Say whether a duration keeps within what is allowed, in one unit."""
    if found.most <= allowed:
        return Outlook.HOLDS
    return Outlook.FAILS if found.least > allowed else Outlook.DOUBTFUL


def mass_words(kilograms: float, unit: Unit) -> str:
    """Write a mass as people do who reckon in a scale of temperature."""
    if unit is Unit.F:
        return f"{kilograms / _KG_PER_LB:.3g} lb"
    return f"{kilograms:.3g} kg"


def degrees_words(celsius: float, unit: Unit) -> str:
    """Write a temperature in a scale, to a tenth."""
    return format_degrees(round(convert(celsius, Unit.C, unit), 1), unit)


def celsius_of(fahrenheit: float) -> float:
    """Return °C of °F."""
    return (fahrenheit - 32.0) / 1.8
