"""Accuracy and resolution of a probe: stated, else assumed and said so."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.calibration.settings import check_figures
from tempwitness.rulebook.thermometers import kind_of, probe_figures
from tempwitness.units import Unit, convert_difference

if TYPE_CHECKING:
    from tempwitness.model.logs import Floats
    from tempwitness.model.lot import Probe
    from tempwitness.rulebook.thermometers import ToleranceClass

__all__ = ["Accuracy", "Resolution", "accuracy", "class_of", "printed_tolerance", "resolution"]


@dataclass(frozen=True, slots=True, eq=False)
class Accuracy:
    """How far readings may be off by the maker's word, or by an assumption.

    Parameters
    ----------
    f : Floats
        One for each reading [°F difference].
    words : str
        Where it comes from.
    assumed : bool
        Whether nobody stated anything that covers every reading.
    """

    f: Floats
    words: str
    assumed: bool


@dataclass(frozen=True, slots=True)
class Resolution:
    """Step in which a probe shows its figures [°F difference], and where it comes from."""

    f: float
    words: str


def printed_tolerance(probe: Probe) -> tuple[float, Unit]:
    """Tolerance that a code prints for the probe's use, on the scale that it shows."""
    scale = Unit.F if probe.scale == "F" else Unit.C
    return check_figures().tolerance[probe.reads, scale.value.lower()], scale


def class_of(probe: Probe) -> ToleranceClass | None:
    """Return the tolerance class of a probe's sensor, if one is stated and known."""
    kind = kind_of(probe.kind)
    return None if kind is None else probe_figures().classes.get((kind.id, probe.tolerance_class))


def accuracy(probe: Probe, fahrenheit: Floats) -> Accuracy:
    """Return the accuracy at readings [°F].

    Parameters
    ----------
    probe : Probe
    fahrenheit : Floats
        Readings [°F].
    """
    if probe.accuracy is not None:
        stated = convert_difference(probe.accuracy, probe.accuracy_unit, Unit.F)
        words = f"±{probe.accuracy:g} {probe.accuracy_unit.symbol} by its maker"
        return Accuracy(np.full(len(fahrenheit), stated), words, assumed=False)
    printed, scale = printed_tolerance(probe)
    assumed = convert_difference(printed, scale, Unit.F)
    sensor = class_of(probe)
    if sensor is None:
        words = (
            f"no accuracy is stated; ±{printed:g} {scale.symbol} is assumed, the tolerance that "
            "codes print"
        )
        return Accuracy(np.full(len(fahrenheit), assumed), words, assumed=True)
    return _of_class(sensor, fahrenheit, assumed)


def _of_class(sensor: ToleranceClass, fahrenheit: Floats, assumed: float) -> Accuracy:
    celsius = (fahrenheit - 32.0) / 1.8
    covered = sensor.covers(celsius)
    by_class = sensor.tolerance(celsius) * 1.8
    words = (
        f"the tolerance of class {sensor.id} of {sensor.standard}, which bounds the sensor alone; "
        "what the instrument adds is not known"
    )
    known = covered | ~np.isfinite(celsius)
    if not bool(known.all()):
        words += (
            f"; beyond {sensor.low:g} to {sensor.high:g} °C the tolerance that codes print is "
            "assumed"
        )
    outside = np.maximum(by_class, assumed)
    return Accuracy(np.where(covered, by_class, outside), words, assumed=not bool(known.all()))


def resolution(probe: Probe) -> Resolution:
    """Return the step in which a probe shows its figures: stated, else as its figures look."""
    if probe.resolution is not None:
        step, unit = probe.resolution, probe.resolution_unit
        words = f"it shows steps of {step:g} {unit.symbol}"
    elif probe.step is not None:
        step, unit = probe.step, probe.step_unit
        words = f"its figures look like steps of {step:g} {unit.symbol}"
    else:
        step, unit = probe_figures().steps[0], Unit.F if probe.scale == "F" else Unit.C
        words = f"steps of {step:g} {unit.symbol} are assumed"
    return Resolution(convert_difference(step, unit, Unit.F), words)
