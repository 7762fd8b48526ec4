"""Bessel functions J0 and J1 and their zeros, to the precision of the machine."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.science.ranges import each_within

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from tempwitness.model.logs import Floats

__all__ = ["LARGEST", "j0", "j1", "zeros"]

#: Largest argument; beyond it the integral below would need more points.
LARGEST = 1200.0
_SPARE = 40  # points beyond the argument: the error of the rule is then below 1e-16


def j0(x: ArrayLike) -> Floats:
    """Bessel function of the first kind, order 0.

    Parameters
    ----------
    x : array_like
        0 to `LARGEST`, any shape.

    Returns
    -------
    ndarray
        Of the shape of `x`; absolute error below 1e-14.

    Notes
    -----
    Bessel's integral J_n(x) = 1/π ∫ cos(n θ - x sin θ) dθ from 0 to π (DLMF 10.9.2). The
    trapezoidal rule converges faster than any power for a periodic integrand, so that a few points
    more than x are exact.
    """
    return _bessel(x, 0)


def j1(x: ArrayLike) -> Floats:
    """Bessel function of the first kind, order 1; as `j0`."""
    return _bessel(x, 1)


def _bessel(x: ArrayLike, order: int) -> Floats:
    array = each_within("the argument of a Bessel function", x, 0.0, LARGEST)
    if array.size == 0:
        return array
    points = int(array.max()) + _SPARE
    angles = np.pi * (np.arange(points) + 0.5) / points
    phases = order * angles - array[..., np.newaxis] * np.sin(angles)
    return np.asarray(np.cos(phases).mean(axis=-1))


@cache
def zeros(order: int, count: int) -> Floats:
    """First positive zeros of J0 or J1.

    Parameters
    ----------
    order : {0, 1}
    count : int
        1 to 300.

    Notes
    -----
    McMahon's expansion (DLMF 10.21.19), then Newton steps with J0' = -J1 and J1' = J0 - J1/x.
    """
    each_within("the number of zeros", count, 1, 300)
    beta = (np.arange(1, count + 1) + order / 2 - 0.25) * np.pi
    mu = 4.0 * order**2
    found = beta - (mu - 1) / (8 * beta) - 4 * (mu - 1) * (7 * mu - 31) / (3 * (8 * beta) ** 3)
    for _ in range(4):
        zeroth, first = j0(found), j1(found)
        value, slope = (zeroth, -first) if order == 0 else (first, zeroth - first / found)
        found = found - value / slope
    return np.asarray(found)
