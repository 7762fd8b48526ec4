"""How far a corrected reading can be from the truth at most, as far as the record tells."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.calibration.accuracy import (
    Resolution,
    accuracy,
    class_of,
    printed_tolerance,
    resolution,
)
from tempwitness.calibration.checks import passed
from tempwitness.units import Unit, convert, convert_difference

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats
    from tempwitness.model.lot import Probe

__all__ = ["ErrorBound", "reading_error"]


@dataclass(frozen=True, slots=True, eq=False)
class ErrorBound:
    """Greatest error of corrected readings, and what it rests on.

    Parameters
    ----------
    f : Floats
        One for each reading [°F difference]; infinite for a reading that is no number.
    words : str
        What was stated, and what was assumed in its place.
    """

    f: Floats
    words: str


def reading_error(probe: Probe, fahrenheit: Floats) -> ErrorBound:
    """Bound the error of corrected readings of a probe.

    Parameters
    ----------
    probe : Probe
    fahrenheit : Floats
        What the probe showed [°F].

    Returns
    -------
    ErrorBound
        Accuracy as stated, else that of the sensor's class, else the printed tolerance as an
        assumption; plus half a step of what it shows, plus what its checks leave open.
    """
    stated = accuracy(probe, fahrenheit)
    step = resolution(probe)
    whole, said = _of_instrument(probe)
    error = np.maximum(stated.f, whole) + step.f / 2.0
    words = [stated.words, *said, step.words]
    corrected = _left_by_correction(probe, fahrenheit, step)
    if corrected is not None:
        error = error + corrected
        words.append(
            "corrections rest on checks that were read in the same steps, and the difference that "
            "a check found is taken to hold over the whole scale"
        )
    return ErrorBound(np.where(np.isfinite(fahrenheit), error, np.inf), "; ".join(words))


def _of_instrument(probe: Probe) -> tuple[float, tuple[str, ...]]:
    """What a sensor's class leaves out: nothing is known of the instrument around it [°F]."""
    if probe.accuracy is not None or class_of(probe) is None:
        return 0.0, ()
    printed, scale = printed_tolerance(probe)
    assumed = convert_difference(printed, scale, Unit.F)
    said = f"for sensor and instrument together at least the ±{printed:g} {scale.symbol} of codes"
    return assumed, (said,)


def _left_by_correction(probe: Probe, fahrenheit: Floats, step: Resolution) -> Floats | None:
    """What a correction leaves open because its checks were read in steps [°F].

    Beyond the two points of a straight line it grows.
    """
    if not probe.correct or all(passed(probe, check) for check in probe.checks):
        return None
    read = [convert(c.read, c.unit, Unit.F) for c in probe.checks]
    low, high = min(read), max(read)
    half = np.full(len(fahrenheit), step.f / 2.0)
    kinds = {check.kind for check in probe.checks}
    if not {"ice", "boiling"} <= kinds or high == low:
        return half
    weight = (fahrenheit - low) / (high - low)
    widened: Floats = half * (np.abs(1.0 - weight) + np.abs(weight))
    return widened
