"""A dense trace is thinned before it is bounded: its bounds can only become wider."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tempwitness.bounds.gather import gather
from tempwitness.calibration import correct
from tempwitness.model.logs import RawLog
from tempwitness.model.lot import Lot, Piece, Probe
from tempwitness.quality import qualify
from tempwitness.stages import stage
from tempwitness.strict import traces
from tempwitness.strict.figures import rate_figures
from tempwitness.strict.speeds import Ground
from tests.support import channel, lamb, note


def _bounds(
    readings: list[tuple[float, float]], most: int, patch: pytest.MonkeyPatch
) -> traces.Bounded:
    patch.setattr(traces, "_MOST_READINGS", most)
    food = replace(lamb(), thickness=0.12)
    lot = Lot("t", food, "us/food-code/2022", "UTC", (Piece("1"),))
    probes = (Probe("A", accuracy=1.0, resolution=0.1),)
    notes = (note(0, "cook"), note(2, "hot_hold"), note(5, event="finished"))
    raw = RawLog(lot, (channel(readings, probe="A"),), notes, probes, ())
    log = stage(correct(qualify(raw)))
    (trace,) = gather(log.corrected)
    ground = Ground(log.raw, "1", log.stages, notes, rate_figures(), ((135.0, 57.0),))
    return traces.bounded(trace, ground)


@pytest.mark.parametrize("seed", range(8))
def test_thinned_bounds_are_never_narrower(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    rng = np.random.default_rng(seed)
    hours = np.linspace(0, 5, 601)
    steps = rng.normal(0, 0.05, 601).cumsum()
    readings = [(float(t), round(float(140 + v), 1)) for t, v in zip(hours, steps, strict=True)]
    full = _bounds(readings, 10_000, monkeypatch).trace
    thin = _bounds(readings, 100, monkeypatch).trace
    assert len(thin) < len(full)
    assert thin.read_from == full.read_from
    assert thin.read_until == full.read_until
    moments = (full.at[:-1] + full.at[1:]) / 2
    gap = np.searchsorted(thin.at, moments, "right") - 1
    assert (thin.least[gap] <= full.least + 1e-6).all()
    assert (thin.most[gap] >= full.most - 1e-6).all()


def test_the_lowest_and_the_highest_reading_stay(monkeypatch: pytest.MonkeyPatch) -> None:
    """One reading of 131 and one of 149 °F among hundreds of 140 still bound their moments."""
    readings = [(k / 120, 140.0) for k in range(600)]
    readings[301] = (301 / 120, 138.9)
    readings[404] = (404 / 120, 141.1)
    trace = _bounds(readings, 100, monkeypatch).trace
    assert trace.upper.min() == pytest.approx(138.9 + 1.05, abs=0.01)
    assert trace.lower.max() == pytest.approx(141.1 - 1.05, abs=0.01)


def test_no_bound_rests_on_how_cold_or_hot_food_can_be(monkeypatch: pytest.MonkeyPatch) -> None:
    """2 h between two readings in the cook: only the rates bound the time between.

    6 cm from the probe to the surface, 28 to 400 °F: 372 × 5.923 × 1.45e-7 / 0.06² = 0.08875 °F/s.
    From 139 - 1.05 °F at both ends it may fall for an hour: 137.95 - 319.5.
    """
    trace = _bounds([(0.0, 139.0), (2.0, 139.0)], 100, monkeypatch).trace
    cook = trace.at[:-1] < trace.read_until
    assert trace.least[cook].min() == pytest.approx(137.95 - 319.5, abs=0.1)
    assert trace.most[cook].max() == pytest.approx(140.05 + 319.5, abs=0.1)
