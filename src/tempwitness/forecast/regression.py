"""A straight line through ln(T - T_a), and when it comes to a level."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.forecast.student import t_quantile
from tempwitness.science.ranges import OutOfRangeError, each_within, within

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from tempwitness.model.logs import Floats

__all__ = ["Line", "fieller", "fit_line"]


@dataclass(frozen=True, slots=True)
class Line:
    """A weighted least-squares line y = b0 + b1 t.

    Parameters
    ----------
    intercept, slope : float
    slope_error : float
        Standard error of the slope.
    scatter : float
        Root of the residual sum of squares over n - 2.
    centre : float
        Weighted mean of t.
    level : float
        Weighted mean of y.
    spread : float
        Weighted sum of (t - centre)².
    weight : float
        Sum of the weights; n for equal ones.
    freedom : int
        n - 2.
    explained : float
        R².
    """

    intercept: float
    slope: float
    slope_error: float
    scatter: float
    centre: float
    level: float
    spread: float
    weight: float
    freedom: int
    explained: float


def fit_line(times: ArrayLike, values: ArrayLike, weights: ArrayLike | None = None) -> Line:
    """Fit a line by least squares.

    Parameters
    ----------
    times, values : array_like, shape (n,)
        At least 3, not all at one time.
    weights : array_like, shape (n,), optional
        Inverse variances up to a factor, above 0; scaled to a mean of 1.

    Returns
    -------
    Line

    Raises
    ------
    OutOfRangeError
        For fewer than three points or one time only.

    Notes
    -----
    Draper and Smith, Applied Regression Analysis, chapters 1 and 2.
    """
    t = each_within("the time", times, -1e12, 1e12)
    y = each_within("the value", values, -1e9, 1e9)
    w = np.ones_like(t) if weights is None else each_within("the weight", weights, 1e-12, 1e12)
    if not len(t) == len(y) == len(w) or len(t) < 3 or np.ptp(t) == 0:
        raise OutOfRangeError(
            f"a line with its scatter takes three points at two times at least; here are {len(t)}",
            hint="give more readings",
        )
    w = w / w.mean()
    total = float(w.sum())
    centre, level = float((w * t).sum() / total), float((w * y).sum() / total)
    away = t - centre
    spread = float((w * away**2).sum())
    slope = float((w * away * (y - level)).sum() / spread)
    residuals = y - level - slope * away
    squares = float((w * residuals**2).sum())
    freedom = len(t) - 2
    scatter = math.sqrt(squares / freedom)
    around = float((w * (y - level) ** 2).sum())
    return Line(
        level - slope * centre,
        slope,
        scatter / math.sqrt(spread),
        scatter,
        centre,
        level,
        spread,
        total,
        freedom,
        1 - squares / around if around > 0 else 0.0,
    )


def fieller(
    line: Line, value: float, level: float, *, new_reading: bool = False, scatter: float = 0.0
) -> tuple[float, float] | None:
    """Limits for the time at which a line comes to a value.

    Parameters
    ----------
    line : Line
    value : float
        In the unit of its values.
    level : float
        Chance that the limits hold the time, such as 0.9.
    new_reading : bool
        For a new reading with its own scatter, not the line itself.
    scatter : float
        Least scatter that is believed, if the line shows less.

    Returns
    -------
    tuple of float, or None
        Earlier and later limit; ``None`` if the slope cannot be told from 0, so that no finite
        interval exists.

    Notes
    -----
    Fieller 1954; Draper and Smith on inverse regression. With d = t - t̄, Δ = y - ȳ and
    g = (t s)²: (b1² - g/Sxx) d² - 2 b1 Δ d + Δ² - g (c + 1/n) = 0.
    """
    within("the level", level, 0.5, 0.998)
    width = t_quantile(0.5 + level / 2, line.freedom) * max(line.scatter, scatter)
    squared, away = width**2, value - line.level
    lead = line.slope**2 - squared / line.spread
    if lead <= 0:
        return None
    constant = away**2 - squared * (float(new_reading) + 1 / line.weight)
    root = (line.slope * away) ** 2 - lead * constant
    if root < 0:
        return None
    ends: Floats = np.sort(
        [(line.slope * away + sign * math.sqrt(root)) / lead for sign in (-1, 1)]
    )
    return line.centre + float(ends[0]), line.centre + float(ends[1])
