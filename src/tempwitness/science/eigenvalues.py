"""Eigenvalues of transient conduction with convection at the surface, exact to the last bits.

Source: the separated solutions of the heat equation with a linear surface condition, as any text on
heat transfer gives them (Incropera and DeWitt, sections 5.5 and 5.6; Çengel, chapter 4). Roots come
from bisection in brackets that hold exactly one each, so none is missed and none found twice; the
last digits come from Newton's steps.
"""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.science.bessel import j0, j1, zeros
from tempwitness.science.ranges import within

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats

__all__ = ["LARGEST_BIOT", "SMALLEST_BIOT", "TERMS", "Geometry", "coefficients", "eigenvalues"]

#: Below, the body is lumped to any accuracy that can be asked; above, its surface is held.
SMALLEST_BIOT, LARGEST_BIOT = 1e-4, 1e6
#: Terms of a series: the last one is below 1e-16 from a Fourier number of 1e-4 on.
TERMS = 200
_HALVINGS = 24  # a bracket of width π shrinks to 2e-7
_STEPS = 3  # each doubles the digits


class Geometry(StrEnum):
    """One of the three bodies in which heat flows along one coordinate."""

    SLAB = "slab"
    CYLINDER = "cylinder"
    SPHERE = "sphere"


@lru_cache(maxsize=256)
def eigenvalues(geometry: Geometry, biot: float, count: int = TERMS) -> Floats:
    """Roots of the surface condition.

    Slab: ζ tan ζ = Bi. Cylinder: ζ J1(ζ) / J0(ζ) = Bi. Sphere: 1 - ζ cot ζ = Bi.

    Parameters
    ----------
    geometry : Geometry
    biot : float
        h L / k with L the half-thickness or the radius [-], `SMALLEST_BIOT` to `LARGEST_BIOT`.
    count : int
        How many roots, 1 to 300.

    Returns
    -------
    ndarray, shape (count,)
        Rising [-].

    Raises
    ------
    OutOfRangeError
        If `biot` or `count` lies outside its range.
    """
    within("the Biot number", biot, SMALLEST_BIOT, LARGEST_BIOT)
    within("the number of roots", count, 1, 300)
    low, high = _brackets(geometry, count)
    at_low = np.sign(_condition(geometry, low, biot))
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        same = np.sign(_condition(geometry, middle, biot)) == at_low
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    found = 0.5 * (low + high)
    for _ in range(_STEPS):
        step = _condition(geometry, found, biot) / _slope(geometry, found, biot)
        found = np.clip(found - step, low, high)
    found.setflags(write=False)
    return found


def _brackets(geometry: Geometry, count: int) -> tuple[Floats, Floats]:
    """Return where each root lies: between the zero and the pole of the left side."""
    n = np.arange(count, dtype=np.float64)
    tiny = np.full(1, 1e-6)
    if geometry is Geometry.SLAB:
        return np.concatenate([tiny, n[1:] * np.pi]), (n + 0.5) * np.pi
    if geometry is Geometry.SPHERE:
        return np.concatenate([tiny, n[1:] * np.pi]), (n + 1) * np.pi
    if count == 1:
        return tiny, zeros(0, 1)
    return np.concatenate([tiny, zeros(1, count - 1)]), zeros(0, count)


def _condition(geometry: Geometry, zeta: Floats, biot: float) -> Floats:
    """Return the surface condition, multiplied so that it has no poles and no cancellation."""
    if geometry is Geometry.SLAB:
        return np.asarray(zeta * np.sin(zeta) - biot * np.cos(zeta))
    if geometry is Geometry.CYLINDER:
        return np.asarray(zeta * j1(zeta) - biot * j0(zeta))
    # sin ζ - ζ cos ζ loses its digits for small ζ; its own series does not.
    square = zeta**2
    small = zeta**3 / 3 * (1 - square / 10 * (1 - square / 28 * (1 - square / 54)))
    difference = np.where(zeta < 0.05, small, np.sin(zeta) - zeta * np.cos(zeta))
    return np.asarray(difference - biot * np.sin(zeta))


def _slope(geometry: Geometry, zeta: Floats, biot: float) -> Floats:
    """Return the derivative of the surface condition."""
    if geometry is Geometry.SLAB:
        return np.asarray((1 + biot) * np.sin(zeta) + zeta * np.cos(zeta))
    if geometry is Geometry.CYLINDER:
        return np.asarray(zeta * j0(zeta) + biot * j1(zeta))
    return np.asarray(zeta * np.sin(zeta) - biot * np.cos(zeta))


def coefficients(geometry: Geometry, zeta: Floats) -> Floats:
    """Coefficients C of the series for a body that starts at one temperature throughout.

    Slab: 4 sin ζ / (2 ζ + sin 2ζ). Cylinder: 2 J1 / (ζ (J0² + J1²)). Sphere:
    4 (sin ζ - ζ cos ζ) / (2 ζ - sin 2ζ).

    Parameters
    ----------
    geometry : Geometry
    zeta : ndarray, shape (n,)
        Roots [-].

    Returns
    -------
    ndarray, shape (n,)
        [-]
    """
    if geometry is Geometry.SLAB:
        return np.asarray(4 * np.sin(zeta) / (2 * zeta + np.sin(2 * zeta)))
    if geometry is Geometry.CYLINDER:
        zeroth, first = j0(zeta), j1(zeta)
        return np.asarray(2 / zeta * first / (zeroth**2 + first**2))
    upper = np.sin(zeta) - zeta * np.cos(zeta)
    return np.asarray(4 * upper / (2 * zeta - np.sin(2 * zeta)))
