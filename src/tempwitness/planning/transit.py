"""How long food takes from one temperature to another, with the doubt of surface and model."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.planning.values import Band, around
from tempwitness.science.conduction import LEAST_FOURIER, Body, Material, Point, excess, time_until
from tempwitness.science.ranges import within

if TYPE_CHECKING:
    from tempwitness.planning.values import Medium

__all__ = ["Still", "Stirred", "hours_between"]


@dataclass(frozen=True, slots=True)
class Still:
    """Food that is left alone: heat is conducted to its middle; its material and its shape."""

    body: Body
    material: Material


@dataclass(frozen=True, slots=True)
class Stirred:
    """Food that is stirred all along: one temperature throughout.

    Parameters
    ----------
    depth : float
        Volume over the surface that gives or takes heat [m].
    material : Material
    """

    depth: float
    material: Material

    def __post_init__(self) -> None:
        within("the depth", self.depth, 1e-3, 1.0, "m")


def hours_between(
    food: Still | Stirred, medium: Medium, around_c: float, start_c: float, leg: tuple[float, float]
) -> Band:
    """Hours in which the middle goes from one temperature to another.

    Parameters
    ----------
    food : Still or Stirred
    medium : Medium
    around_c : float
        Its temperature [°C].
    start_c : float
        Of the food at the start of it all [°C].
    leg : tuple of float
        From and to [°C], the way from the start to the medium.

    Returns
    -------
    Band
        Over the range of the medium's coefficient, and at least ±30 %; infinite if the leg ends
        beyond the medium, nothing if the food starts beyond the leg.
    """
    if (leg[1] - start_c) * (around_c - start_c) <= 0:
        return Band(0.0, 0.0, 0.0)
    if abs(leg[1] - start_c) >= abs(around_c - start_c):
        return Band(math.inf, math.inf, math.inf)
    likely, slow, quick = (
        _between(food, h, around_c, start_c, leg)
        for h in (medium.likely, medium.least, medium.most)
    )
    return around(likely, quick, slow)


def _between(
    food: Still | Stirred, h: float, around_c: float, start_c: float, leg: tuple[float, float]
) -> float:
    moments = [_until(food, h, (degrees - around_c) / (start_c - around_c)) for degrees in leg]
    return (moments[1] - moments[0]) / 3600


def _until(food: Still | Stirred, h: float, left: float) -> float:
    """Return when a share of the first difference is left [s]."""
    if left >= 1.0:
        return 0.0
    if isinstance(food, Stirred):
        capacity = food.material.density * food.material.heat_capacity
        return -capacity * food.depth / h * math.log(left)
    longest = max(length for _, length in food.body.factors)
    soonest = 1.001 * LEAST_FOURIER * longest**2 / food.material.diffusivity
    if excess(food.body, food.material, h, soonest, Point.CENTRE) <= left:
        return soonest
    return time_until(food.body, food.material, h, left)
