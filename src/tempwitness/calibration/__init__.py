"""Probe checks and what they make of the readings."""

from __future__ import annotations

from tempwitness.calibration.correct import correct

__all__ = ["correct"]
