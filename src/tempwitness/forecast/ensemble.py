"""Many lines at once: one for each thing that could be true of the piece and its surroundings.

Each member takes another temperature of the surroundings, another diffusivity, another share of
the heat that has not settled, and goes on a little slower or faster than it came. A member's weight
is how well it fits the readings. For one member alone the band is Fieller's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.forecast.student import MOST_FREEDOM, t_chance
from tempwitness.science.conduction import LEAST_FOURIER, excess_along, slowest
from tempwitness.science.eigenvalues import LARGEST_BIOT, SMALLEST_BIOT

if TYPE_CHECKING:
    from tempwitness.forecast.given import Piece
    from tempwitness.model.logs import Floats
    from tempwitness.science.conduction import Body, Material

__all__ = ["Ensemble", "coefficient_for", "ensemble", "fit_all", "unsettled"]

_AROUND = (-1.0, -0.5, 0.0, 0.5, 1.0)  # of the doubt about the surroundings
_UNSETTLED = (0.0, 0.5, 1.0, 1.6)  # of what an even start would leave unsettled
_DIFFUSIVITY = (0.75, 1.0, 1.3)  # of what is known of the food; also its size, which goes squared
_PACE = (0.92, 1.0, 1.08)  # of the time from now on
_HALVINGS = 60
_REACH = 40.0  # how far ahead a crossing is looked for [time constants]


@dataclass(frozen=True, slots=True, eq=False)
class Ensemble:
    """m lines through the same n readings.

    Parameters
    ----------
    around : ndarray, shape (m,)
        Surroundings of each [unit].
    level, slope, centre, spread, scatter : ndarray, shape (m,)
        As in a `Line`; the scatter not below what the instrument's steps cause.
    pace : ndarray, shape (m,)
    weight : ndarray, shape (m,)
        Sum 1.
    points : float
        Sum of the weights of the readings.
    freedom : int
    now : float
        Time of the last reading [s].
    """

    around: Floats
    level: Floats
    slope: Floats
    centre: Floats
    spread: Floats
    scatter: Floats
    pace: Floats
    weight: Floats
    points: float
    freedom: int
    now: float

    def chance(self, moment: float, degrees: float) -> float:
        """Chance that the core has come down to a temperature by a moment [s]."""
        at = self.now + (moment - self.now) / self.pace
        away = at - self.centre
        value = np.log(degrees - self.around)
        error = self.scatter * np.sqrt(1 / self.points + away**2 / self.spread)
        chances = t_chance((value - self.level - self.slope * away) / error, self.freedom)
        return float((self.weight * chances).sum())

    def when(self, degrees: float, chance: float) -> float | None:
        """Moment by which the core has come down to a temperature with a chance [s].

        ``None`` if it is not within any time that matters.
        """
        slope = float((self.weight * self.slope).sum())
        if slope >= 0:
            return None
        low, high = self.now, self.now - _REACH / slope
        if self.chance(high, degrees) < chance:
            return None
        if self.chance(low, degrees) >= chance:
            return low
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            if self.chance(middle, degrees) < chance:
                low = middle
            else:
                high = middle
        return 0.5 * (low + high)


def ensemble(
    times: Floats, degrees: Floats, piece: Piece, doubt: tuple[float, float], resolution: float
) -> Ensemble:
    """Fit every member.

    Parameters
    ----------
    times : ndarray, shape (n,)
        Since the food came into its surroundings [s].
    degrees : ndarray, shape (n,)
        All above the surroundings and their doubt [unit].
    piece : Piece
    doubt : tuple of float
        Surroundings and how far they may be off [unit].
    resolution : float
        [unit]
    """
    middle, off = doubt
    rate = -float(np.polyfit(times, np.log(degrees - middle), 1)[0])
    shares = [unsettled(piece, factor, rate, times) for factor in _DIFFUSIVITY]
    lines = {tuple(np.round(share, 9)): share for share in shares}
    settling = [
        np.log1p(-np.minimum(part * share, 0.9)) for share in lines.values() for part in _UNSETTLED
    ]
    arounds = sorted({middle + part * off for part in _AROUND})
    around = np.repeat(arounds, len(settling))
    logs = np.log(degrees - around[:, np.newaxis]) - np.tile(np.array(settling), (len(arounds), 1))
    return fit_all(times, logs, degrees - middle, around, resolution)


def fit_all(
    times: Floats, logs: Floats, excess: Floats, around: Floats, resolution: float
) -> Ensemble:
    """Fit a line to each row of logarithms and give each its weight.

    Parameters
    ----------
    times : ndarray, shape (n,)
        [s]
    logs : ndarray, shape (m, n)
    excess : ndarray, shape (n,)
        Above the surroundings [unit]; a reading weighs by its square, because an error of the
        thermometer is one of a share of it.
    around : ndarray, shape (m,)
    resolution : float
        [unit]
    """
    w = excess**2 / (excess**2).mean()
    points, freedom = float(w.sum()), len(times) - 2
    centre = float((w * times).sum() / points)
    level = (w * logs).sum(axis=1) / points
    away = times - centre
    spread = float((w * away**2).sum())
    slope = (w * away * (logs - level[:, np.newaxis])).sum(axis=1) / spread
    residuals = logs - level[:, np.newaxis] - slope[:, np.newaxis] * away
    # Steps of the instrument scatter by a twelfth of their square even where readings look smooth.
    floor = resolution**2 / 12 / float((excess**2).mean())
    variance = np.maximum((w * residuals**2).sum(axis=1) / freedom, floor)
    counted = min(freedom, MOST_FREEDOM)
    weight = np.exp(-0.5 * counted * (np.log(variance) - np.log(variance.min())))
    count = len(_PACE)

    def each(values: Floats) -> Floats:
        return np.repeat(values, count)

    return Ensemble(
        each(around),
        each(level),
        each(slope),
        np.full(len(around) * count, centre),
        np.full(len(around) * count, spread),
        each(np.sqrt(variance)),
        np.tile(_PACE, len(around)),
        each(weight / weight.sum()) / count,
        points,
        freedom,
        float(times[-1]),
    )


def unsettled(piece: Piece, factor: float, rate: float, times: Floats) -> Floats:
    """Share by which the core lies below its last term, for a start at one temperature.

    The full series over its first term, at the coefficient of which the rate is that of the
    readings.

    Parameters
    ----------
    piece : Piece
    factor : float
        Of its diffusivity.
    rate : float
        Of the readings [1/s].
    times : ndarray, shape (n,)
        [s]

    Returns
    -------
    ndarray, shape (n,)
        0 where heat has settled.
    """
    scaled = times * factor
    coefficient = coefficient_for(piece.body, piece.material, rate / factor)
    decay, first, _ = slowest(piece.body, piece.material, coefficient)
    longest = max(length for _, length in piece.body.factors)
    late = np.maximum(scaled, 1.001 * LEAST_FOURIER * longest**2 / piece.material.diffusivity)
    whole = excess_along(piece.body, piece.material, coefficient, late)
    with np.errstate(under="ignore"):
        return np.clip(1 - whole / (first * np.exp(-decay * late)), 0.0, 0.95)


def coefficient_for(body: Body, material: Material, rate: float) -> float:
    """Coefficient of heat transfer at which a body settles to a rate [W/(m² K)].

    By bisection; the end of the range if no coefficient gives so small or so large a rate.
    """
    lengths = [length for _, length in body.factors]
    low = 1.01 * SMALLEST_BIOT * material.conductivity / min(lengths)
    high = min(0.99 * LARGEST_BIOT, 1e4) * material.conductivity / max(lengths)
    for _ in range(30):
        middle = float(np.sqrt(low * high))
        if slowest(body, material, middle)[0] < rate:
            low = middle
        else:
            high = middle
    return float(np.sqrt(low * high))
