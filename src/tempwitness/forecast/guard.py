"""When it is too early for a forecast.

Until heat has settled inside a piece its core falls ever faster, so that an early line always
promises a later crossing than the true one, and its R² does not show it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.forecast.regression import fit_line
from tempwitness.forecast.student import t_quantile
from tempwitness.model.figures import duration_words
from tempwitness.science.conduction import ONE_TERM_FOURIER
from tempwitness.units import format_degrees

if TYPE_CHECKING:
    from tempwitness.forecast.given import Piece, Readings
    from tempwitness.model.logs import Floats

__all__ = ["Settled", "settled"]

_LEAST_READINGS = 5
_LEAST_FALL = 5.0  # over the window [steps of the instrument]
_DOUBT = 0.99  # chance beyond which a steeper end is no accident ...
_STEEPER = 0.10  # ... if it is steeper by so much; less lies within the band of the forecast


@dataclass(frozen=True, slots=True, eq=False)
class Settled:
    """The readings that count, or why none do yet.

    Parameters
    ----------
    times : ndarray, shape (n,)
        Since the food came into its surroundings [s]; empty if it is too early.
    degrees : ndarray, shape (n,)
    reason : str
        Why it is too early, else nothing.
    """

    times: Floats
    degrees: Floats
    reason: str = ""


def settled(readings: Readings, piece: Piece, around: float) -> Settled:
    """Return the readings after heat has settled in the piece.

    Parameters
    ----------
    readings : Readings
    piece : Piece
    around : float
        Temperature of the surroundings [unit of the readings].

    Returns
    -------
    Settled
        Those after the core's peak and after a Fourier number of 0.2, if they are enough, fall by
        more than their own steps, and do not fall faster at their end than at their beginning.
    """
    nothing = np.empty(0)
    since = readings.times - readings.began
    peak = _peak(readings)
    settles = ONE_TERM_FOURIER * piece.settling_length**2 / piece.material.diffusivity
    kept = (np.arange(len(since)) >= peak) & (since >= settles)
    times, degrees = since[kept], readings.degrees[kept]
    reason = (
        _not_settled(float(since[-1]), settles, since, peak)
        or _too_few(times, degrees, readings)
        or _still_gathering(times, degrees, around)
    )
    return Settled(nothing, nothing, reason) if reason else Settled(times, degrees)


def _peak(readings: Readings) -> int:
    """Return the row of the last reading that is as warm as the warmest, within one step."""
    warm = readings.degrees >= readings.degrees.max() - readings.resolution / 2
    return int(np.flatnonzero(warm)[-1])


def _not_settled(now: float, settles: float, since: Floats, peak: int) -> str:
    if now < settles:
        wait = duration_words(60 * np.ceil((settles - now) / 60))
        return f"heat is still settling inside the piece; ask again in about {wait}"
    if peak >= len(since) - 1:
        return "the core has not begun to fall"
    return ""


def _too_few(times: Floats, degrees: Floats, readings: Readings) -> str:
    if len(times) < _LEAST_READINGS:
        return (
            f"{len(times)} readings since heat has settled and the core began to fall; "
            f"{_LEAST_READINGS} are needed"
        )
    least = _LEAST_FALL * readings.resolution
    if degrees[:2].mean() - degrees[-2:].mean() < least:
        words = format_degrees(least, readings.unit)
        return f"since heat has settled the core has not fallen by {words}"
    return ""


def _still_gathering(times: Floats, degrees: Floats, around: float) -> str:
    """Say whether the fall grows steeper beyond what scatter explains."""
    if degrees.min() <= around:
        return ""
    third = max(3, len(times) // 3)
    if len(times) < 2 * third:
        return ""
    logs = np.log(degrees - around)
    first = fit_line(times[:third], logs[:third])
    last = fit_line(times[-third:], logs[-third:])
    error = np.hypot(first.slope_error, last.slope_error)
    gain = first.slope - last.slope
    chance = t_quantile(_DOUBT, 2 * (third - 2)) * error
    if gain > max(chance, -_STEEPER * last.slope, 0.0):
        return "the core still falls faster from reading to reading"
    return ""
