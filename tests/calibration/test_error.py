"""The greatest error of a corrected reading; all sums by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from tempwitness.calibration.error import reading_error
from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.units import Unit


def ice(read: float) -> ProbeCheck:
    return ProbeCheck(0.0, "ice", read, 32.0, Unit.F, "")


def bound(*values: float, **probe: Any) -> list[float]:  # noqa: ANN401 - fields of a probe
    return [float(e) for e in reading_error(Probe("p", **probe), np.array(values)).f]


def test_accuracy_and_half_a_step() -> None:
    assert bound(135.0, accuracy=0.7, resolution=0.1) == pytest.approx([0.75])
    # ±0.5 °C is 0.9 °F, half of 0.1 °C 0.09 °F.
    celsius = {"accuracy": 0.5, "accuracy_unit": Unit.C, "resolution_unit": Unit.C}
    assert bound(135.0, resolution=0.1, scale="C", **celsius) == pytest.approx([0.99])


def test_what_is_not_stated_is_assumed_and_said_so() -> None:
    # FDA Food Code 2022 4-203.11: 2 °F; a step of 1 °F.
    assert bound(135.0) == [2.5]
    words = reading_error(Probe("p"), np.array([135.0])).words
    assert "±2 °F is assumed" in words
    assert "steps of 1 °F are assumed" in words


def test_a_step_seen_in_the_figures_stands_for_one_that_is_stated() -> None:
    assert bound(135.0, step=0.1) == pytest.approx([2.05])
    assert bound(135.0, step=0.1, resolution=0.5) == pytest.approx([2.25])


def test_a_class_is_that_of_the_sensor_alone() -> None:
    # IEC 60751 class B at 57.2 °C (134.96 °F): 0.586 x 1.8 = 1.05 °F. Nothing is known of the
    # instrument around it, so the 2 °F that codes print are assumed of both together.
    found = bound(134.96, 32.0, kind="pt100", tolerance_class="B", resolution=0.1)
    assert found == pytest.approx([2.05, 2.05])
    # IEC 60584 class 2 of type K: 2.5 °C, 4.5 °F, is wider than that.
    wide = bound(134.96, kind="thermocouple K", tolerance_class="2", resolution=0.1)
    assert wide == pytest.approx([4.55])


def test_a_correction_leaves_half_a_step_more() -> None:
    # Failed by 3 °F: 2 + 0.5 + 0.5.
    assert bound(135.0, resolution=1.0, checks=(ice(29.0),)) == [3.0]
    assert bound(135.0, resolution=1.0, checks=(ice(29.0),), correct=False) == [2.5]
    assert bound(135.0, resolution=1.0, checks=(ice(31.0),)) == [2.5]


def test_beyond_the_checks_of_a_line_it_grows() -> None:
    # Ice read 30, boiling 214 where 212 was due, both 2 off with ±1 °F: failed. At -6.8 °F the
    # weight is (-6.8 - 30) / 184 = -0.2: 0.5 x (1.2 + 0.2) = 0.7. At 122 (0.5) and at the ends 0.5.
    checks = (ice(30.0), ProbeCheck(60.0, "boiling", 214.0, 212.0, Unit.F, ""))
    found = bound(-6.8, 30.0, 122.0, 214.0, accuracy=1.0, resolution=1.0, checks=checks)
    assert found == pytest.approx([2.2, 2.0, 2.0, 2.0])


def test_what_is_no_number_has_no_bound() -> None:
    assert bound(math.nan, math.inf, -math.inf) == [math.inf] * 3
    classed = bound(math.nan, kind="pt100", tolerance_class="A")
    assert classed == [math.inf]
