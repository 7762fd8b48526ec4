"""A second opinion: the curve of a core in a shell through all readings since the start."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats

__all__ = ["TwoRates", "fit_two_rates"]

_SLOW = np.geomspace(0.4, 1.8, 60)  # slow rate, of that of a line through the last readings
_RATIO = np.geomspace(1.5, 40.0, 30)  # of the fast rate to the slow one
_ROUNDS = 3  # of grids, each around the best of the one before
_LEAST = 8  # readings: four figures are fitted
_REACH = 40.0  # how far ahead a crossing is looked for [time constants]
_HALVINGS = 60


@dataclass(frozen=True, slots=True)
class TwoRates:
    """T = T_a + A1 exp(-λ1 t) + A2 exp(-λ2 t).

    Parameters
    ----------
    around : float
    amplitudes : tuple of float
        A1 and A2, in the unit of `around`.
    rates : tuple of float
        λ1 < λ2 [1/s].
    """

    around: float
    amplitudes: tuple[float, float]
    rates: tuple[float, float]

    def at(self, time: float) -> float:
        """Temperature at a time [s]."""
        (a, b), (slow, fast) = self.amplitudes, self.rates
        return float(self.around + a * np.exp(-slow * time) + b * np.exp(-fast * time))

    def when(self, limit: float, after: float) -> float | None:
        """When it comes down to a limit, after a time [s]; ``None`` if it does not."""
        low, high = after, after + _REACH / self.rates[0]
        if self.at(low) <= limit or self.at(high) > limit:
            return None
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.at(middle) > limit else (low, middle)
        return 0.5 * (low + high)


def fit_two_rates(times: Floats, degrees: Floats, around: float, rate: float) -> TwoRates | None:
    """Fit the two rates and amplitudes of a core in a shell.

    The amplitudes follow by linear least squares for each pair of rates on a grid, refined around
    the best pair. Its crossing tends to be early; on short windows it is unstable, so that it is a
    second opinion beside a forecast and never one by itself.

    Parameters
    ----------
    times : ndarray, shape (n,)
        Since the food came into its surroundings [s], from before the core's peak on.
    degrees : ndarray, shape (n,)
    around : float
        Surroundings [unit of `degrees`].
    rate : float
        Of a line through the last readings, around which the slow rate is looked for [1/s].

    Returns
    -------
    TwoRates or None
        ``None`` for fewer than 8 readings.

    Notes
    -----
    Golub and Pereyra 1973 (separable least squares); the curve is `science.box.TwoNodes`.
    """
    if len(times) < _LEAST:
        return None
    slow_grid, ratio_grid = rate * _SLOW, _RATIO
    best: tuple[float, TwoRates] | None = None
    for _ in range(_ROUNDS):
        for slow in slow_grid:
            found = _best_ratio(times, degrees - around, float(slow), ratio_grid)
            if best is None or found[0] < best[0]:
                best = (found[0], TwoRates(around, found[1], found[2]))
        if best is None:  # a grid is never empty
            return None
        slow, fast = best[1].rates
        slow_grid = slow * np.geomspace(0.95, 1.05, 31)
        ratio_grid = np.maximum(fast / slow * np.geomspace(0.85, 1.18, 21), 1.05)
    return best[1] if best else None


def _best_ratio(
    times: Floats, excess: Floats, slow: float, ratios: Floats
) -> tuple[float, tuple[float, float], tuple[float, float]]:
    """Return the sum of squares, amplitudes and rates of the best fast rate for a slow one."""
    with np.errstate(under="ignore"):
        one = np.exp(-slow * times)
        two = np.exp(-slow * np.outer(ratios, times))
    s11, s12, s22 = float(one @ one), two @ one, (two * two).sum(axis=1)
    y1, y2 = float(one @ excess), two @ excess
    determinant = s11 * s22 - s12**2
    first = (s22 * y1 - s12 * y2) / determinant
    second = (s11 * y2 - s12 * y1) / determinant
    residuals = excess - np.outer(first, one) - second[:, np.newaxis] * two
    squares = (residuals**2).sum(axis=1)
    k = int(squares.argmin())
    return (
        float(squares[k]),
        (float(first[k]), float(second[k])),
        (slow, slow * float(ratios[k])),
    )
