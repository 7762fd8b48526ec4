"""How a solid body cools or warms in surroundings of one temperature: the full series.

Y = (T - T_surroundings) / (T_start - T_surroundings) = Σ C_n f(ζ_n x) exp(-ζ_n² Fo) for a slab, a
cylinder and a sphere; a brick is the product of three slabs, a short cylinder that of a cylinder
and a slab. Source: Incropera and DeWitt, sections 5.5 and 5.6; Çengel, chapter 4. Valid for a body
of one material that starts at one temperature, with one coefficient and one temperature around it.
A single term is wrong by more than about 2 % below a Fourier number of 0.2, so all are summed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.science.bessel import j0, j1
from tempwitness.science.eigenvalues import TERMS, Geometry, coefficients, eigenvalues
from tempwitness.science.ranges import OutOfRangeError, within

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats

__all__ = [
    "LEAST_FOURIER",
    "ONE_TERM_FOURIER",
    "Body",
    "Material",
    "Point",
    "brick",
    "cylinder",
    "excess",
    "excess_along",
    "short_cylinder",
    "slab",
    "slowest",
    "sphere",
    "sphere_of",
    "time_until",
]

#: From here on the series has all its digits.
LEAST_FOURIER = 1e-4
#: From here on one term is enough (the textbooks' condition).
ONE_TERM_FOURIER = 0.2
_LONGEST = 1e9  # longest time that is looked at [s]
_HALVINGS = 200
_COUNTS = (10, 40)  # terms that are enough at later times ...
_DEAD = 50.0  # ... where the next one is below exp(-50)


class Point(StrEnum):
    """Where in a body: its middle, the middle of its nearest face, its corner, or its mean."""

    CENTRE = "centre"
    FACE = "face"
    CORNER = "corner"
    MEAN = "mean"


@dataclass(frozen=True, slots=True)
class Material:
    """What heat flows through.

    Parameters
    ----------
    conductivity : float
        [W/(m K)]
    density : float
        [kg/m³]
    heat_capacity : float
        [J/(kg K)]
    """

    conductivity: float
    density: float
    heat_capacity: float

    def __post_init__(self) -> None:
        within("the conductivity", self.conductivity, 1e-3, 500.0, "W/(m K)")
        within("the density", self.density, 1.0, 2.5e4, "kg/m³")
        within("the heat capacity", self.heat_capacity, 100.0, 1e4, "J/(kg K)")

    @property
    def diffusivity(self) -> float:
        """Thermal diffusivity, k / (ρ cp) [m²/s]."""
        return self.conductivity / (self.density * self.heat_capacity)


@dataclass(frozen=True, slots=True)
class Body:
    """A body as a product of one-dimensional ones.

    Parameters
    ----------
    factors : tuple of (Geometry, float)
        Each with its half-thickness or radius [m].
    """

    factors: tuple[tuple[Geometry, float], ...]

    def __post_init__(self) -> None:
        for geometry, length in self.factors:
            within(f"the half-thickness or radius of a {geometry}", length, 1e-4, 5.0, "m")

    @property
    def shortest(self) -> float:
        """Least half-thickness or radius [m]."""
        return min(length for _, length in self.factors)

    @property
    def volume(self) -> float:
        """[m³]; a slab counts per m² of both faces, a cylinder per m of length."""
        volume = 1.0
        for geometry, length in self.factors:
            volume *= _volume(geometry, length)
        return volume

    @property
    def area(self) -> float:
        """Surface [m²], counted as `volume` is."""
        return (
            sum(_AREA_OVER_VOLUME[geometry] / length for geometry, length in self.factors)
            * self.volume
        )


def _volume(geometry: Geometry, length: float) -> float:
    if geometry is Geometry.SLAB:
        return 2 * length
    if geometry is Geometry.CYLINDER:
        return math.pi * length**2
    return 4 / 3 * math.pi * length**3


_AREA_OVER_VOLUME = {Geometry.SLAB: 1.0, Geometry.CYLINDER: 2.0, Geometry.SPHERE: 3.0}


def slab(half_thickness: float) -> Body:
    """Flat body, cooled on both faces; half-thickness [m]."""
    return Body(((Geometry.SLAB, half_thickness),))


def cylinder(radius: float) -> Body:
    """Long round body; radius [m]."""
    return Body(((Geometry.CYLINDER, radius),))


def sphere(radius: float) -> Body:
    """Ball; radius [m]."""
    return Body(((Geometry.SPHERE, radius),))


def sphere_of(mass: float, density: float) -> Body:
    """Ball of a mass [kg] and density [kg/m³]: of all shapes it holds its heat longest."""
    within("the mass", mass, 1e-4, 1e4, "kg")
    return sphere((3 * mass / (4 * math.pi * density)) ** (1 / 3))


def brick(length: float, width: float, height: float) -> Body:
    """Block of three full edges [m]."""
    return Body(tuple((Geometry.SLAB, edge / 2) for edge in (length, width, height)))


def short_cylinder(radius: float, length: float) -> Body:
    """Round body of a radius and a full length [m]."""
    return Body(((Geometry.CYLINDER, radius), (Geometry.SLAB, length / 2)))


def excess(
    body: Body, material: Material, coefficient: float, time: float, point: Point = Point.CENTRE
) -> float:
    """Share of the first difference of temperature that is left.

    Parameters
    ----------
    body : Body
    material : Material
    coefficient : float
        Of heat transfer at the surface [W/(m² K)], the same on all faces.
    time : float
        Since the surroundings changed [s].
    point : Point

    Returns
    -------
    float
        Y, 1 at the start, towards 0.

    Raises
    ------
    OutOfRangeError
        Before a Fourier number of `LEAST_FOURIER`, apart from the very start, and for Biot numbers
        without roots.
    """
    if time == 0.0:
        return 1.0
    return float(excess_along(body, material, coefficient, np.array([time]), point)[0])


def excess_along(
    body: Body, material: Material, coefficient: float, times: Floats, point: Point = Point.CENTRE
) -> Floats:
    """Share of the first difference that is left, at each of n times [s]; as `excess`."""
    product = np.ones(len(times))
    nearest = min(range(len(body.factors)), key=lambda k: body.factors[k][1])
    for k, (geometry, length) in enumerate(body.factors):
        outside = point is Point.CORNER or (point is Point.FACE and k == nearest)
        where = Point.FACE if outside else Point.MEAN if point is Point.MEAN else Point.CENTRE
        fourier = material.diffusivity * times / length**2
        _late_enough(fourier)
        biot = coefficient * length / material.conductivity
        product = product * _series(geometry, biot, fourier, where)
    return product


def _late_enough(fourier: Floats) -> None:
    if fourier.size and not fourier.min() >= LEAST_FOURIER:
        number = f"the Fourier number is {fourier.min():.2g}"
        raise OutOfRangeError(
            f"{number}; the series holds from {LEAST_FOURIER:g} on",
            hint="ask for a later time: right after the start only the skin has changed",
        )


def _series(geometry: Geometry, biot: float, fourier: Floats, where: Point) -> Floats:
    least = float(fourier.min()) if fourier.size else 1.0
    count = next((n for n in _COUNTS if (n * np.pi) ** 2 * least > _DEAD), TERMS)
    zeta = eigenvalues(geometry, biot, count)
    terms = coefficients(geometry, zeta) * shape_at(geometry, zeta, where)
    with np.errstate(under="ignore"):
        return np.asarray((terms * np.exp(-np.outer(fourier, zeta**2))).sum(axis=1))


def shape_at(geometry: Geometry, zeta: Floats, where: Point) -> Floats:
    """Shape functions at the middle (1), at the surface, or their mean over the volume.

    Slab: cos ζx. Cylinder: J0(ζr). Sphere: sin(ζr) / (ζr).

    Parameters
    ----------
    geometry : Geometry
    zeta : ndarray, shape (n,)
    where : Point

    Returns
    -------
    ndarray, shape (n,)
    """
    if where is Point.CENTRE:
        return np.ones_like(zeta)
    mean = where is Point.MEAN
    if geometry is Geometry.SLAB:
        return np.asarray(np.sin(zeta) / zeta if mean else np.cos(zeta))
    if geometry is Geometry.CYLINDER:
        return np.asarray(2 * j1(zeta) / zeta if mean else j0(zeta))
    if mean:
        return np.asarray(3 * (np.sin(zeta) - zeta * np.cos(zeta)) / zeta**3)
    return np.asarray(np.sin(zeta) / zeta)


def slowest(body: Body, material: Material, coefficient: float) -> tuple[float, float, float]:
    """Rate, coefficient and face share of the term that is left when the others have died away.

    Parameters
    ----------
    body, material, coefficient
        As for `excess`.

    Returns
    -------
    rate : float
        1 / τ [1/s].
    first : float
        C: the excess at the middle is C exp(-rate t).
    face : float
        Excess at the middle of the nearest face over that at the middle.
    """
    rate, first, face = 0.0, 1.0, 1.0
    nearest = min(range(len(body.factors)), key=lambda k: body.factors[k][1])
    for k, (geometry, length) in enumerate(body.factors):
        zeta = eigenvalues(geometry, coefficient * length / material.conductivity, 1)
        rate += float(zeta[0]) ** 2 * material.diffusivity / length**2
        first *= float(coefficients(geometry, zeta)[0])
        if k == nearest:
            face = float(shape_at(geometry, zeta, Point.FACE)[0])
    return rate, first, face


def time_until(
    body: Body, material: Material, coefficient: float, left: float, point: Point = Point.CENTRE
) -> float:
    """Time until a share of the first difference is left.

    Parameters
    ----------
    body, material, coefficient, point
        As for `excess`.
    left : float
        Share, between 0 and 1.

    Returns
    -------
    float
        [s], by bisection of the full series.

    Raises
    ------
    OutOfRangeError
        If it is reached before the series holds or not within any time that matters.
    """
    within("the share of the difference that is left", left, 1e-12, 1.0 - 1e-12)
    longest = max(length for _, length in body.factors)
    low = 1.0001 * LEAST_FOURIER * longest**2 / material.diffusivity
    if excess(body, material, coefficient, low, point) <= left:
        raise OutOfRangeError(
            f"the share {left:g} is reached before the series holds ({low:.3g} s)",
            hint="ask for a larger change or a point deeper inside",
        )
    high = 2 * low
    while excess(body, material, coefficient, high, point) > left:
        low, high = high, 2 * high
        within("the time", high, 0.0, _LONGEST, "s")
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if not low < middle < high:
            break
        later = excess(body, material, coefficient, middle, point) > left
        low, high = (middle, high) if later else (low, middle)
    return 0.5 * (low + high)
