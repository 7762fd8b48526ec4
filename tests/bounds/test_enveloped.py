"""Traces with bounds at every moment, against worked examples and against brute force.

The nine examples are in minutes and °F. Their figures do not come from this code: the times were
found by a mixed-integer program that maximises and minimises the number of grid points at or above
the limit under the same constraints, band and crossing on a fine grid. The random logs are compared
with the definition, worked out reading by reading on a fine grid, and with random histories that
obey the rates.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from tempwitness.bounds.clip import Window, clip
from tempwitness.bounds.enveloped import EnvelopedTrace
from tempwitness.bounds.stretch import Stretch, enveloped
from tempwitness.bounds.trace import Trace
from tempwitness.model.vocabulary import Place

_MINUTE = 60.0
Log = list[tuple[float, float]]


@dataclass(frozen=True)
class Example:
    """Readings with error and rates; time at or above a limit, greatest and least temperature."""

    log: Log
    error: float
    up: float
    down: float
    limit: float
    most: float
    least: float
    peak: float
    valley: float


_FALL: Log = [(0, 150), (60, 120), (120, 95), (180, 70)]
_EXAMPLES = [
    Example([(0, 141), (30, 141)], 2, 0.5, 0.5, 135, 30.0, 16.0, 150.5, 131.5),
    Example([(0, 141), (30, 141)], 2, 1.0, 1.0, 135, 30.0, 8.0, 158.0, 124.0),
    Example([(0, 140), (60, 128)], 2, 0.2, 0.5, 135, 50.0, 6.0, 147.14, 120.86),
    Example(_FALL, 1, 0.1, 1.5, 70, 180.0, 136.0, 154.75, 64.94),
    Example([(0, 38), (240, 39)], 1, 0.3, 0.3, 41, 230.0, 0.0, 75.5, 1.5),
    Example([(0, 139), (45, 131)], 0.5, 0.02, 0.4, 135, 36.25, 8.75, 139.98, 130.02),
]


def _trace(at: np.ndarray) -> Trace:
    """A core's readings in °F; what they read stands in the stretch."""
    count = len(at)
    none = np.zeros(count)
    calm, where = np.ones(count - 1, bool), np.arange(count)
    return Trace("1", Place.CORE, "", at, none, none, np.zeros(count, bool), calm, where * 0, where)


def _bound(
    at: np.ndarray,
    read: np.ndarray,
    error: float | np.ndarray,
    rates: tuple[float | np.ndarray, float | np.ndarray],
    figures: tuple[float, ...],
) -> tuple[EnvelopedTrace, tuple[tuple[float, float], ...]]:
    gaps = len(at) - 1
    up, down = (np.broadcast_to(np.asarray(r, float), gaps) for r in rates)
    rows = Stretch(at, read - error, read + error, up, down)
    return enveloped(_trace(at), rows, np.array(sorted(figures)))


@pytest.mark.parametrize("case", _EXAMPLES)
def test_worked_examples_of_time_above(case: Example) -> None:
    at = np.array([t for t, _ in case.log], float) * _MINUTE
    read = np.array([v for _, v in case.log], float)
    rates = (case.up / _MINUTE, case.down / _MINUTE)
    trace, conflicts = _bound(at, read, case.error, rates, (case.limit,))
    assert not conflicts
    state = trace.against(case.limit, 0.0, ">=")
    body = clip(trace, state, Window(float(at[0]), float(at[-1]), 0.0))
    least = body.lengths[body.between_yes].sum() / _MINUTE
    most = body.lengths[~body.between_no].sum() / _MINUTE
    assert (least, most) == pytest.approx((case.least, case.most), abs=0.005)
    assert trace.most.max() == pytest.approx(case.peak, abs=0.005)
    assert trace.least.min() == pytest.approx(case.valley, abs=0.005)


def test_worked_example_of_the_first_crossing() -> None:
    """First at or below 70 °F: possible from 138.75 min, certain by 233.75 min."""
    at = np.array([0, 60, 120, 180, 240], float) * _MINUTE
    read = np.array([135, 105, 86, 72, 64], float)
    trace, _ = _bound(at, read, 1.0, (0.05 / _MINUTE, 0.8 / _MINUTE), (70.0,))
    state = trace.against(70.0, 0.0, "<=")
    certain = trace.at[np.flatnonzero(state.yes)[0]] / _MINUTE
    excluded = np.flatnonzero(~state.no)[0]
    assert certain == pytest.approx(233.75, abs=0.001)
    assert trace.at[excluded] / _MINUTE == pytest.approx(138.75, abs=0.001)


def test_worked_example_of_time_in_a_band() -> None:
    """Between 41 and 135 °F: 200.8 min for certain, 348.3 at most."""
    at = np.array([0, 60, 180, 360], float) * _MINUTE
    read = np.array([150, 118, 75, 44], float)
    trace, _ = _bound(at, read, 1.0, (0.05 / _MINUTE, 1.2 / _MINUTE), (41.0, 135.0))
    window = Window(float(at[0]), float(at[-1]), 0.0)
    above = clip(trace, trace.against(41.0, 0.0, ">="), window)
    below = clip(trace, trace.against(135.0, 0.0, "<="), window)
    certain = above.lengths[above.between_yes & below.between_yes].sum() / _MINUTE
    possible = above.lengths[~above.between_no & ~below.between_no].sum() / _MINUTE
    assert (certain, possible) == pytest.approx((200.8, 348.3), abs=0.05)


def test_worked_example_of_readings_that_conflict() -> None:
    """150 and 100 °F ten minutes apart at 1.5 °F/min within 2 °F cannot both be true."""
    at = np.array([0.0, 10.0]) * _MINUTE
    trace, conflicts = _bound(at, np.array([150.0, 100.0]), 2.0, (1.5 / 60, 1.5 / 60), (135.0,))
    assert conflicts == ((0.0, 600.0),)
    assert not trace.undisturbed.any()
    assert np.isneginf(trace.lower).all()


def test_a_moment_of_which_two_readings_say_what_cannot_both_be_true() -> None:
    at = np.array([0.0, 60.0])
    rows = Stretch(at, np.array([150.0, 140.0]), np.array([140.0, 150.0]), *np.full((2, 1), 0.1))
    _, conflicts = enveloped(_trace(at), rows, np.array([135.0]))
    assert conflicts == ((0.0, 0.0),)


def test_nothing_is_bounded_where_no_rate_is_known() -> None:
    at = np.array([0.0, 60.0, 120.0])
    up = np.array([np.inf, 0.01])
    rows = Stretch(at, np.full(3, 139.0), np.full(3, 141.0), up, np.full(2, 0.01))
    trace, _ = enveloped(_trace(at), rows, np.array([135.0]))
    linked = trace.linked(0.0)
    assert linked[0] == np.False_
    assert linked[1:].all()
    assert np.isposinf(trace.most[0])
    assert trace.most[1:].max() < 142


def _random(
    rng: np.random.Generator,
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """A history on whole minutes that obeys rates of its own in each gap, read within an error."""
    gaps = int(rng.integers(1, 6))
    minutes = rng.integers(2, 40, gaps)
    at = np.concatenate(([0], np.cumsum(minutes)))
    up, down = rng.uniform(0.05, 1.5, gaps), rng.uniform(0.05, 1.5, gaps)
    per_minute = np.repeat(np.arange(gaps), minutes)
    steps = rng.uniform(-down[per_minute], up[per_minute])
    history = 135 + np.concatenate(([0], np.cumsum(steps)))
    error = rng.uniform(0, 3, gaps + 1)
    read = history[at] + rng.uniform(-error, error)
    return at * _MINUTE, read, error, np.stack((up, down)) / _MINUTE, history


def _by_definition(
    at: np.ndarray, read: np.ndarray, error: np.ndarray, rates: np.ndarray, grid: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Bounds at moments of a grid, from each reading in turn by adding up what lies between."""
    edges = np.searchsorted(at, grid, "right").clip(1, len(at) - 1) - 1
    change = []
    for rate in rates:
        total = np.concatenate(([0], np.cumsum(rate * np.diff(at))))
        change.append((total, total[edges] + rate[edges] * (grid - at[edges])))
    (up_at, up_grid), (down_at, down_grid) = change
    high, low = np.full(len(grid), np.inf), np.full(len(grid), -np.inf)
    for i in range(len(at)):
        later = grid >= at[i]
        rise = np.where(later, up_grid - up_at[i], down_at[i] - down_grid)
        fall = np.where(later, down_grid - down_at[i], up_at[i] - up_grid)
        high = np.minimum(high, read[i] + error[i] + rise)
        low = np.maximum(low, read[i] - error[i] - fall)
    return low, high


@pytest.mark.parametrize("seed", range(5))
def test_random_logs_agree_with_the_definition(seed: int) -> None:
    _agree(seed, 60)


@pytest.mark.slow
def test_ten_thousand_random_logs_agree_with_the_definition() -> None:
    _agree(100, 10_000)


def _agree(seed: int, count: int) -> None:
    rng = np.random.default_rng(seed)
    for _ in range(count):
        at, read, error, rates, history = _random(rng)
        limit = 135 + float(rng.uniform(-8, 8))
        trace, conflicts = _bound(at, read, error, (rates[0], rates[1]), (limit,))
        assert not conflicts
        grid = np.linspace(at[0], at[-1], 4001)
        low, high = _by_definition(at, read, error, rates, grid)
        gap = np.searchsorted(trace.at, grid, "right").clip(1, len(trace.at) - 1) - 1
        assert (low >= trace.least[gap] - 1e-6).all()
        assert (high <= trace.most[gap] + 1e-6).all()
        on_rows = _by_definition(at, read, error, rates, trace.at)
        assert trace.lower == pytest.approx(on_rows[0], abs=1e-5)
        assert trace.upper == pytest.approx(on_rows[1], abs=1e-5)
        _same_answer(trace, limit, grid, (low, high))
        minutes = np.arange(len(history)) * _MINUTE
        gap = np.searchsorted(trace.at, minutes, "right").clip(1, len(trace.at) - 1) - 1
        assert (history >= trace.least[gap] - 1e-9).all()
        assert (history <= trace.most[gap] + 1e-9).all()


def _same_answer(
    trace: EnvelopedTrace, limit: float, grid: np.ndarray, bounds: tuple[np.ndarray, np.ndarray]
) -> None:
    """Time that is certain, and time that is possible, within two steps of the grid a crossing."""
    body = clip(
        trace, trace.against(limit, 0.0, ">="), Window(float(grid[0]), float(grid[-1]), 0.0)
    )
    step = grid[1] - grid[0]
    room = 2 * step * len(trace.at)
    certain, possible = (bounds[0] >= limit).sum() * step, (bounds[1] >= limit).sum() * step
    assert body.lengths[body.between_yes].sum() == pytest.approx(certain, abs=room)
    assert body.lengths[~body.between_no].sum() == pytest.approx(possible, abs=room)
    assert body.lengths[body.between_yes].sum() <= certain + room


def test_in_a_gap_of_a_minute_no_crossing_is_sought() -> None:
    """141 and 130 °F a minute apart: the gap stays open as a whole, neither kept nor broken."""
    at = np.array([0.0, 60.0])
    trace, _ = _bound(at, np.array([141.0, 130.0]), 1.0, (0.3, 0.3), (135.0,))
    assert len(trace) == 2
    state = trace.against(135.0, 0.0, ">=")
    assert (state.yes.tolist(), state.no.tolist()) == ([True, False], [False, True])
    assert state.between_yes is not None
    assert state.between_no is not None
    assert not state.between_yes[0]
    assert not state.between_no[0]


def test_rows_are_cut_with_what_lies_between_them() -> None:
    at = np.array([0.0, 60.0, 120.0, 180.0])
    trace, _ = _bound(at, np.full(4, 140.0), 1.0, (0.1, 0.1), (135.0,))
    part = trace.only(np.arange(2, len(trace)))
    assert len(part.least) == len(part) - 1
    assert part.at[0] == trace.at[2]
    assert part.least.tolist() == trace.least[2:].tolist()
    with pytest.raises(ValueError, match="follow each other"):
        trace.only(np.array([0, 2]))
