"""Student's t distribution for whole degrees of freedom."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.science.ranges import within

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from tempwitness.model.logs import Floats

__all__ = ["MOST_FREEDOM", "t_chance", "t_quantile"]

#: More degrees of freedom are counted as so many, which widens a band by less than 0.3 %.
MOST_FREEDOM = 200
_HALVINGS = 200


def t_chance(t: ArrayLike, freedom: int) -> Floats:
    """Chance of a value of at most t.

    Parameters
    ----------
    t : array_like
        Any shape; infinite values count.
    freedom : int
        At least 1; cut off at `MOST_FREEDOM`.

    Returns
    -------
    ndarray
        Of the shape of `t`, absolute error below 1e-12.

    Notes
    -----
    Abramowitz and Stegun, 26.7.3 and 26.7.4: finite sums in the angle arctan(t/√ν).
    """
    nu = int(min(within("the degrees of freedom", freedom, 1, 1e9), MOST_FREEDOM))
    angle = np.arctan(np.asarray(t, dtype=np.float64) / math.sqrt(nu))
    sine, cosine = np.sin(angle), np.cos(angle)
    square = cosine**2
    total, term = np.zeros_like(angle), np.ones_like(angle)
    odd = nu % 2
    for k in range((nu - odd) // 2):
        total = total + term
        step = (2 * k + 2) / (2 * k + 3) if odd else (2 * k + 1) / (2 * k + 2)
        term = term * step * square
    central = 2 / math.pi * (angle + sine * cosine * total) if odd else sine * total
    return np.asarray(0.5 + 0.5 * central)


def t_quantile(chance: float, freedom: int) -> float:
    """Value that is not exceeded with a chance, by bisection; chance in [0.001, 0.999]."""
    within("the chance", chance, 1e-3, 0.999)
    low, high = -1e4, 1e4
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if not low < middle < high:
            break
        below = float(t_chance(middle, freedom)) < chance
        low, high = (middle, high) if below else (low, middle)
    return 0.5 * (low + high)
