"""How far a corrected reading can be from the truth at most, as far as the record tells."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.calibration.accuracy import Resolution, accuracy, resolution
from tempwitness.calibration.checks import passed, within
from tempwitness.units import Unit, convert

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
    seen = _seen_off(probe)
    error = np.maximum(stated.f, seen) + step.f / 2.0
    words = [stated.words, step.words]
    if seen > 0.0 and bool((seen > stated.f).any()):
        words.append(f"one of its passed checks was up to {seen:.2g} °F off")
    corrected = _left_by_correction(probe, fahrenheit, step)
    if corrected is not None:
        error = error + corrected
        words.append(
            "corrections rest on checks that were read in the same steps, and the difference that "
            "a check found is taken to hold over the whole scale"
        )
    return ErrorBound(np.where(np.isfinite(fahrenheit), error, np.inf), "; ".join(words))


def _seen_off(probe: Probe) -> float:
    """Greatest difference that a passed check found and left as it is [°F]."""
    found = (abs(d) for c in probe.checks if passed(probe, c) for d in within(c, Unit.F))
    return max(found, default=0.0)


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
