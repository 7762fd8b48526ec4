"""Thermal properties of foods from what they consist of (Choi and Okos 1986).

The figures stand in ``rules/physics``. Conductivity and density mix by shares of the volume, the
heat capacity by shares of the mass: whoever mixes all three by mass gets a density some 3 % high.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from tempwitness.rulebook.files import read_toml, rules_folder
from tempwitness.science.conduction import Body, Material, brick
from tempwitness.science.ranges import OutOfRangeError, within

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = [
    "CONSTITUENTS",
    "Composition",
    "Constituent",
    "Food",
    "constituent",
    "food_like",
    "foods",
    "material_of",
    "series_conductivity",
]

#: What a food consists of, as far as heat is concerned.
CONSTITUENTS = ("water", "protein", "fat", "carbohydrate", "fibre", "ash")


@dataclass(frozen=True, slots=True)
class Composition:
    """Shares of the mass [-]; they are scaled so that their sum is 1."""

    water: float = 0.0
    protein: float = 0.0
    fat: float = 0.0
    carbohydrate: float = 0.0
    fibre: float = 0.0
    ash: float = 0.0

    def __post_init__(self) -> None:
        for name in CONSTITUENTS:
            within(f"the share of {name}", getattr(self, name), 0.0, 1.0)
        within("the sum of the shares", sum(self._shares()), 0.9, 1.1)

    def _shares(self) -> tuple[float, ...]:
        return tuple(getattr(self, name) for name in CONSTITUENTS)

    def shares(self) -> dict[str, float]:
        """Return the shares of the mass, scaled to a sum of 1."""
        total = sum(self._shares())
        return {name: getattr(self, name) / total for name in CONSTITUENTS}


@dataclass(frozen=True, slots=True)
class Constituent:
    """Polynomials of one constituent in t [°C].

    Parameters
    ----------
    conductivity, density, heat_capacity : tuple of float
        Coefficients from the constant on [W/(m K)], [kg/m³], [J/(kg K)].
    """

    conductivity: tuple[float, ...]
    density: tuple[float, ...]
    heat_capacity: tuple[float, ...]

    def at(self, celsius: float) -> Material:
        """Return its properties at a temperature [°C]."""
        return Material(
            _polynomial(self.conductivity, celsius),
            _polynomial(self.density, celsius),
            _polynomial(self.heat_capacity, celsius),
        )


@dataclass(frozen=True, slots=True)
class Food:
    """A food of the list.

    Parameters
    ----------
    id, title : str
    words : tuple of str
        By which it is known.
    composition : Composition
    basis : str
        Where the composition comes from.
    proportions : tuple of float
        Thickness, width and length of a typical piece; all 1 for food that has no shape.
    """

    id: str
    title: str
    words: tuple[str, ...]
    composition: Composition
    basis: str
    proportions: tuple[float, float, float] = (1.0, 1.0, 1.0)

    def piece(self, mass: float, density: float) -> Body:
        """Return a block of typical proportions of a mass [kg] and density [kg/m³]."""
        within("the mass", mass, 1e-4, 1e4, "kg")
        height, width, length = self.proportions
        scale = (mass / density / (height * width * length)) ** (1 / 3)
        return brick(length * scale, width * scale, height * scale)


def _polynomial(coefficients: tuple[float, ...], x: float) -> float:
    value = 0.0
    for coefficient in reversed(coefficients):
        value = value * x + coefficient
    return value


@cache
def _table() -> Mapping[str, Any]:
    return read_toml(rules_folder() / "physics" / "constituents.toml")


@cache
def constituent(name: str) -> Constituent:
    """Return the polynomials of a constituent.

    Raises
    ------
    OutOfRangeError
        If there is none of that name.
    """
    if name not in CONSTITUENTS:
        raise OutOfRangeError(
            f"'{name}' is no constituent of food", hint=f"known are {', '.join(CONSTITUENTS)}"
        )
    entry = _table()[name]
    return Constituent(
        *(
            tuple(float(number) for number in entry[key])
            for key in ("conductivity", "density", "heat_capacity")
        )
    )


def _parts(composition: Composition, celsius: float) -> list[tuple[float, Material]]:
    """Return shares of the mass and properties of what is there."""
    lowest, highest = float(_table()["lowest"]), float(_table()["highest"])
    within("the temperature of the food", celsius, lowest, highest, "°C")
    if composition.water > 0 and celsius < 0:
        raise OutOfRangeError(
            f"the temperature of the food is {celsius:g} °C: its water would be partly ice",
            hint="ask for a temperature from 0 °C on; frozen food is not covered",
        )
    shares = composition.shares().items()
    return [(share, constituent(name).at(celsius)) for name, share in shares if share > 0]


def material_of(composition: Composition, celsius: float) -> Material:
    """Return density, heat capacity and conductivity of unfrozen food.

    Density 1 / Σ(x/ρ), heat capacity Σ x cp, conductivity Σ φ k with φ the shares of the volume:
    the parallel arrangement, which is the largest that the constituents allow.

    Parameters
    ----------
    composition : Composition
    celsius : float
        0 to 150 °C.

    Returns
    -------
    Material

    Raises
    ------
    OutOfRangeError
        Outside the range of the measurements, or where water is ice.

    Notes
    -----
    Choi and Okos 1986. Simple mixing is good to about 10 % for dense unfrozen food (Carson 2006).
    """
    parts = _parts(composition, celsius)
    density = 1 / sum(share / part.density for share, part in parts)
    return Material(
        sum(share / part.density * density * part.conductivity for share, part in parts),
        density,
        sum(share * part.heat_capacity for share, part in parts),
    )


def series_conductivity(composition: Composition, celsius: float) -> float:
    """Return the least conductivity that the constituents allow, 1 / Σ(φ/k) [W/(m K)].

    Parameters and errors as for `material_of`.
    """
    parts = _parts(composition, celsius)
    density = 1 / sum(share / part.density for share, part in parts)
    return 1 / sum(share / part.density * density / part.conductivity for share, part in parts)


def _proportions(entry: dict[str, Any]) -> tuple[float, float, float]:
    height, width, length = (float(part) for part in entry.get("proportions", (1, 1, 1)))
    return height, width, length


@cache
def foods() -> tuple[Food, ...]:
    """Return the foods whose composition is known."""
    read = read_toml(rules_folder() / "physics" / "foods.toml")
    return tuple(
        Food(
            entry["id"],
            entry["title"],
            tuple(entry["words"]),
            Composition(**{n: float(entry[n]) for n in CONSTITUENTS if n in entry}),
            read["basis"],
            _proportions(entry),
        )
        for entry in read["food"]
    )


def food_like(name: str) -> Food | None:
    """Return the food that a person's words name, or ``None``.

    Examples
    --------
    >>> food_like("smoked lamb shoulder").id
    'lamb_shoulder'
    """
    words = name.lower()
    known = [(word, food) for food in foods() for word in food.words if word in words]
    return max(known, key=lambda pair: len(pair[0]))[1] if known else None
