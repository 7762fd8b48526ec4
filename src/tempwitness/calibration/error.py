"""How far a corrected reading may be from the true temperature."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.calibration.settings import check_figures
from tempwitness.units import Unit, convert_difference

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats
    from tempwitness.model.lot import Probe

__all__ = ["ErrorBound", "reading_error"]


@dataclass(frozen=True, slots=True, eq=False)
class ErrorBound:
    """Greatest error of readings, as plus or minus [°F difference], and what it rests on."""

    f: Floats
    words: str


def reading_error(probe: Probe, fahrenheit: Floats) -> ErrorBound:
    """Return the greatest error of readings of a probe [°F]."""
    if probe.accuracy is not None:
        bound = convert_difference(probe.accuracy, probe.accuracy_unit, Unit.F)
        words = f"±{bound:g} °F as its maker states"
    else:
        scale = "f" if probe.scale == "F" else "c"
        bound = check_figures().tolerance[probe.reads, scale] * (1.0 if scale == "f" else 1.8)
        words = f"±{bound:g} °F, the printed tolerance, assumed as no accuracy is stated"
    return ErrorBound(np.full(len(fahrenheit), bound), words)
