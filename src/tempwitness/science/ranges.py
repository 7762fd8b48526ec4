"""The one way in which a figure outside a formula's range is refused."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.errors import TempwitnessError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from tempwitness.model.logs import Floats

__all__ = ["OutOfRangeError", "each_within", "within"]


class OutOfRangeError(TempwitnessError):
    """A figure lies where a formula is not valid."""


def within(name: str, value: float, low: float, high: float, unit: str = "") -> float:
    """Return a figure that lies within a range, both ends included.

    Parameters
    ----------
    name : str
        What the figure is, as a person would say it.
    value, low, high : float
    unit : str

    Raises
    ------
    OutOfRangeError
        If it does not, or is no number.
    """
    if math.isfinite(value) and low <= value <= high:
        return value
    after = f" {unit}" if unit else ""
    raise OutOfRangeError(
        f"{name} is {value:g}{after}; the formula holds from {low:g} to {high:g}{after}",
        hint=f"check the figure and its unit{_expected(unit)}",
    )


def each_within(name: str, values: ArrayLike, low: float, high: float, unit: str = "") -> Floats:
    """Return figures as an array, all of which lie within a range.

    Raises
    ------
    OutOfRangeError
        Names the first that does not, and where it stands.
    """
    array = np.asarray(values, dtype=np.float64)
    wrong = ~(np.isfinite(array) & (array >= low) & (array <= high))
    if wrong.any():
        first = int(np.flatnonzero(wrong.ravel())[0])
        place = f" (number {first + 1})" if array.size > 1 else ""
        within(f"{name}{place}", float(array.ravel()[first]), low, high, unit)
    return array


def _expected(unit: str) -> str:
    return f": it is wanted in {unit}" if unit else ""
