"""What a forecast is made from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.science.conduction import Body, Material, sphere_of
from tempwitness.science.ranges import OutOfRangeError, each_within, within
from tempwitness.units import Unit

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from tempwitness.model.logs import Floats

__all__ = ["Piece", "Readings", "Surroundings"]


@dataclass(frozen=True, slots=True, eq=False)
class Readings:
    """Readings of the core since the food came into its present surroundings, undisturbed.

    Parameters
    ----------
    times : array_like, shape (n,)
        Rising [s since the epoch].
    degrees : array_like, shape (n,)
        [unit]
    began : float
        When the food came into these surroundings [s since the epoch].
    unit : Unit
        Of all temperatures of the forecast.
    resolution : float
        Step in which the figures are written [unit].
    """

    times: Floats
    degrees: Floats
    began: float
    unit: Unit = Unit.F
    resolution: float = 1.0

    def __post_init__(self) -> None:
        times: ArrayLike = self.times
        object.__setattr__(self, "times", each_within("the time", times, -1e12, 1e12))
        degrees = each_within("the reading", self.degrees, -100.0, 600.0, self.unit.symbol)
        object.__setattr__(self, "degrees", degrees)
        within("the resolution", self.resolution, 1e-4, 10.0, self.unit.symbol)
        if len(self.times) != len(self.degrees) or len(self.times) == 0:
            raise OutOfRangeError(
                "a forecast needs readings, one temperature for each time",
                hint="give at least one reading",
            )
        if (np.diff(self.times) <= 0).any():
            raise OutOfRangeError("the times do not rise", hint="sort the readings, drop doubles")


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the food gives its heat to: the room around a box, the air of a cold room, a bath.

    Parameters
    ----------
    degrees : float
        [unit of the readings]
    plus_minus : float
        How far it may be off or change [unit of the readings].
    """

    degrees: float
    plus_minus: float = 2.0

    def __post_init__(self) -> None:
        within("the temperature of the surroundings", self.degrees, -100.0, 600.0)
        within("the doubt about the surroundings", self.plus_minus, 0.0, 50.0)


@dataclass(frozen=True, slots=True)
class Piece:
    """The piece, as far as it is known.

    Parameters
    ----------
    body : Body
    material : Material
    shape_known : bool
        Whether `body` is its shape, or a ball of its weight in place of it.
    """

    body: Body
    material: Material
    shape_known: bool = True

    @staticmethod
    def of_weight(mass: float, material: Material) -> Piece:
        """Return a piece of which only the mass is known [kg]: a ball, which settles last."""
        return Piece(sphere_of(mass, material.density), material, shape_known=False)

    @property
    def settling_length(self) -> float:
        """Length by which the Fourier number counts [m].

        The half-thickness or the radius; for a block or a short round piece the radius of the ball
        of its volume, but not more than its longest half-length: heat moves along it too.
        """
        lengths = [length for _, length in self.body.factors]
        if len(lengths) == 1:
            return lengths[0]
        ball = float((3 * self.body.volume / (4 * np.pi)) ** (1 / 3))
        return min(ball, max(lengths))

    def fourier(self, seconds: float) -> float:
        """Fourier number after a time [-]."""
        return self.material.diffusivity * seconds / self.settling_length**2
