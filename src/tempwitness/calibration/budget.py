"""The uncertainty of one reading, in parts, and what it means beside a limit.

Standard uncertainties and their sum follow JCGM 100:2008, the chance to keep a limit and the guard
band JCGM 106:2012. What the record does not give is named as not known; it is never taken for
nothing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.calibration.accuracy import accuracy, resolution
from tempwitness.calibration.checks import passed, within
from tempwitness.rulebook.thermometers import probe_figures
from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from tempwitness.model.lot import Probe, ProbeCheck

__all__ = [
    "Budget",
    "Part",
    "budget",
    "chance_at_least",
    "combined",
    "guard_band",
    "of_line",
    "of_steps",
    "rectangular",
]

_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a budget: where it comes from, and its standard uncertainty [°F]."""

    words: str
    u: float


@dataclass(frozen=True, slots=True)
class Budget:
    """What is known of the uncertainty of one reading.

    Parameters
    ----------
    parts : tuple of Part
    unknown : tuple of str
        What the record does not give and the sum therefore leaves out.
    """

    parts: tuple[Part, ...]
    unknown: tuple[str, ...]

    @property
    def u(self) -> float:
        """Standard uncertainty of the known parts together [°F]."""
        return combined(*(part.u for part in self.parts))

    @property
    def expanded(self) -> float:
        """Expanded uncertainty [°F]."""
        return probe_figures().coverage * self.u


def rectangular(half_width: float) -> float:
    """Return the standard uncertainty of a value known to lie within plus or minus a half-width."""
    return half_width / math.sqrt(3.0)


def of_steps(step: float) -> float:
    """Return the standard uncertainty of a figure that is shown in steps."""
    return step / math.sqrt(12.0)


def combined(*parts: float) -> float:
    """Return the standard uncertainty of independent parts together."""
    return math.hypot(*parts)


def of_line(reading: float, points: tuple[float, float], u: tuple[float, float]) -> float:
    """Return the standard uncertainty of a line through two checks, at a reading.

    Parameters
    ----------
    reading : float
    points : tuple of float
        What was read at the two checks.
    u : tuple of float
        Standard uncertainty of each.
    """
    weight = (reading - points[0]) / (points[1] - points[0])
    return math.hypot((1.0 - weight) * u[0], weight * u[1])


def chance_at_least(reading: float, limit: float, u: float) -> float:
    """Return the chance that the true value lies at or above a limit."""
    if u == 0.0:
        return float(reading >= limit)
    return _NORMAL.cdf((reading - limit) / u)


def guard_band(u: float) -> float:
    """Return how far within a limit a reading must stand to be accepted on one side."""
    return _NORMAL.inv_cdf(probe_figures().one_sided) * u


def budget(probe: Probe, at: float, fahrenheit: float) -> Budget:
    """Set up the budget of one reading.

    Parameters
    ----------
    probe : Probe
    at : float
        When it was taken [s since 1970-01-01 UTC].
    fahrenheit : float
        What the probe showed [°F].
    """
    stated, step = accuracy(probe, np.array([fahrenheit])), resolution(probe)
    parts = [
        Part(stated.words, rectangular(float(stated.f[0]))),
        Part(step.words, of_steps(step.f)),
    ]
    unknown = ["where the probe sat in the food"]
    check = _nearest_check(probe, at)
    if check is None:
        unknown.append("how true the probe reads, for no check of it is on record")
    else:
        parts.append(_left_by(check, probe, fahrenheit, step.f))
        unknown.append("how far the probe drifted between its checks")
    return Budget(tuple(parts), tuple(unknown))


def _nearest_check(probe: Probe, at: float) -> ProbeCheck | None:
    """Return the last check before a moment, else the first after it."""
    before = [check for check in probe.checks if check.at <= at]
    return before[-1] if before else next(iter(probe.checks), None)


def _left_by(check: ProbeCheck, probe: Probe, fahrenheit: float, step: float) -> Part:
    """Return what a check leaves open: the difference that it let stand, and how it was read."""
    if passed(probe, check):
        stands = max(abs(side) for side in within(check, Unit.F))
        words = f"its {check.kind} check was off by up to {stands:.2g} °F, which was let stand"
        return Part(words, combined(rectangular(stands), of_steps(step)))
    words = f"its {check.kind} check was read in the same steps"
    other = next((c for c in probe.checks if c.kind != check.kind and not passed(probe, c)), None)
    points = [convert(c.read, c.unit, Unit.F) for c in (check, other) if c is not None]
    if len(points) == 1 or points[0] == points[1]:
        return Part(words, of_steps(step))
    each = of_steps(step)
    return Part(words, of_line(fahrenheit, (points[0], points[1]), (each, each)))
