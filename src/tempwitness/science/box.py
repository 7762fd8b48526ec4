"""A warm piece in a closed box: one mass, or a core and a shell, and what the box lets through."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.science.ranges import OutOfRangeError, within

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats

__all__ = [
    "TwoNodes",
    "Wall",
    "box_conductance",
    "in_series",
    "lumped_at",
    "lumped_until",
    "settled_time_constant",
]


def lumped_at(times: Floats, start: float, around: float, time_constant: float) -> Floats:
    """Temperature of one well conducting mass, T_a + (T_0 - T_a) exp(-t / τ).

    Newton's law of cooling (Incropera and DeWitt, section 5.1). Valid for Bi = h (V/A) / k < 0.1,
    or for food that is stirred.

    Parameters
    ----------
    times : ndarray, shape (n,)
        [s], as `time_constant`.
    start, around : float
        Temperatures [°C or °F].
    time_constant : float
        τ = mass × heat capacity / UA [s].

    Returns
    -------
    ndarray, shape (n,)
        In the unit of `start`.
    """
    within("the time constant", time_constant, 1e-6, 1e12, "s")
    return np.asarray(around + (start - around) * np.exp(-times / time_constant))


def lumped_until(limit: float, start: float, around: float, time_constant: float) -> float:
    """Time until one mass crosses a limit, τ ln((T_0 - T_a) / (θ - T_a)) [s].

    Raises
    ------
    OutOfRangeError
        If the limit does not lie between the start and the surroundings: it is never crossed.
    """
    within("the time constant", time_constant, 1e-6, 1e12, "s")
    left = (limit - around) / (start - around) if start != around else math.nan
    if not 0.0 < left <= 1.0:
        raise OutOfRangeError(
            f"{limit:g} does not lie between {start:g} at the start and {around:g} around it",
            hint="food only comes to what lies between itself and its surroundings",
        )
    return -time_constant * math.log(left)


def settled_time_constant(
    density: float, heat_capacity: float, radius: float, coefficient: float, conductivity: float
) -> float:
    """Time constant of a ball once heat has settled in it, ρ cp R / (3 h) + R² / (15 α) [s].

    From the quasi-steady parabolic profile; within 0.1 % of the exact root at Bi 0.3 and 3.5 % at
    Bi 1.8. Valid for Bi ≤ 2.

    Parameters
    ----------
    density : float
        [kg/m³]
    heat_capacity : float
        [J/(kg K)]
    radius : float
        [m]
    coefficient : float
        [W/(m² K)]
    conductivity : float
        [W/(m K)]
    """
    within("the Biot number", coefficient * radius / conductivity, 0.0, 2.0)
    volumetric = density * heat_capacity
    return volumetric * radius / (3 * coefficient) + radius**2 * volumetric / (15 * conductivity)


@dataclass(frozen=True, slots=True)
class TwoNodes:
    """A core in a shell in surroundings of one temperature, in closed form.

    Cc Tc' = -G (Tc - Ts) and Cs Ts' = G (Tc - Ts) - UA (Ts - Ta). Any unit of temperature.

    Parameters
    ----------
    core, shell : float
        Heat capacities Cc and Cs [J/K].
    between, outside : float
        Conductances G and UA [W/K].
    around : float
        Ta.
    core_at, shell_at : float
        Temperatures at the start.
    """

    core: float
    shell: float
    between: float
    outside: float
    around: float
    core_at: float
    shell_at: float

    def __post_init__(self) -> None:
        for name in ("core", "shell", "between", "outside"):
            within(f"the value of '{name}'", getattr(self, name), 1e-9, 1e12)

    @property
    def rates(self) -> tuple[float, float]:
        """Slow and fast rate λ1 < λ2 [1/s]."""
        a = self.between / self.core
        b = (self.between + self.outside) / self.shell
        c = self.between**2 / (self.core * self.shell)
        root = math.hypot(a - b, 2 * math.sqrt(c))
        fast = (a + b + root) / 2
        # The product of both rates is ab - c = G UA / (Cc Cs); the difference would lose digits.
        return self.between * self.outside / (self.core * self.shell) / fast, fast

    @property
    def amplitudes(self) -> tuple[float, float]:
        """A1 and A2 of Tc = Ta + A1 exp(-λ1 t) + A2 exp(-λ2 t)."""
        slow, fast = self.rates
        a = self.between / self.core
        excess = self.core_at - self.around
        second = -(a * (self.shell_at - self.core_at) + slow * excess) / (fast - slow)
        return excess - second, second

    def core_along(self, times: Floats) -> Floats:
        """Temperature of the core at n times [s]."""
        (slow, fast), (first, second) = self.rates, self.amplitudes
        return np.asarray(
            self.around + first * np.exp(-slow * times) + second * np.exp(-fast * times)
        )

    @property
    def peak(self) -> float | None:
        """When the core is warmest [s], ``None`` if it only falls."""
        (slow, fast), (first, second) = self.rates, self.amplitudes
        if second >= 0 or first <= 0:
            return None
        moment = math.log(-second * fast / (first * slow)) / (fast - slow)
        return moment if moment > 0 else None


@dataclass(frozen=True, slots=True)
class Wall:
    """A box of an insulating wall.

    Parameters
    ----------
    outer : tuple of float
        Length, width and height outside [m].
    thickness : float
        Of the wall [m].
    conductivity : float
        Of the wall [W/(m K)]: polyurethane foam 0.022 to 0.028, extruded polystyrene below 0.040,
        expanded polystyrene below 0.050.
    """

    outer: tuple[float, float, float]
    thickness: float
    conductivity: float

    def __post_init__(self) -> None:
        for edge in self.outer:
            within("an edge of the box", edge, 0.05, 5.0, "m")
        within("the thickness of the wall", self.thickness, 1e-3, min(self.outer) / 2 - 0.01, "m")
        within("the conductivity of the wall", self.conductivity, 0.005, 50.0, "W/(m K)")

    @property
    def areas(self) -> tuple[float, float]:
        """Inner and outer surface [m²]."""
        length, width, height = self.outer
        inside = tuple(edge - 2 * self.thickness for edge in self.outer)
        return (
            2 * (inside[0] * inside[1] + inside[0] * inside[2] + inside[1] * inside[2]),
            2 * (length * width + length * height + width * height),
        )


def box_conductance(wall: Wall, inside: float = 8.0, outside: float = 8.0) -> float:
    """Conductance of a closed box, 1 / (1/(h_i A_i) + δ/(k √(A_i A_o)) + 1/(h_o A_o)) [W/K].

    Series of three resistances (Incropera and DeWitt, section 3.1); the mean area of the wall is
    the geometric one. The gap of the lid is not in it.

    Parameters
    ----------
    wall : Wall
    inside, outside : float
        Coefficients of still air [W/(m² K)].
    """
    within("the coefficient inside", inside, 0.5, 1e4, "W/(m² K)")
    within("the coefficient outside", outside, 0.5, 1e4, "W/(m² K)")
    inner, outer = wall.areas
    through = wall.thickness / (wall.conductivity * math.sqrt(inner * outer))
    return in_series(inside * inner, 1 / through, outside * outer)


def in_series(*conductances: float) -> float:
    """Conductance of several layers one after the other [W/K]."""
    return 1 / sum(1 / within("a conductance", value, 1e-9, 1e9, "W/K") for value in conductances)
