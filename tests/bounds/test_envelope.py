"""Envelopes between readings, against worked examples and against brute force.

The nine examples are in minutes and °F. Their figures do not come from this code: the times were
found by a mixed-integer program that maximises and minimises the number of grid points at or above
the limit under the same constraints, band and crossing on a fine grid. The random cases are
compared with the definition itself, evaluated reading by reading on a fine grid.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from tempwitness.bounds.envelope import Envelope, Rates, envelope, find_conflict

Log = list[tuple[float, float]]


def _body(log: Log, error: float, up: float, down: float) -> Envelope:
    at = np.array([t for t, _ in log], float)
    read = np.array([v for _, v in log], float)
    return envelope(at, read - error, read + error, Rates(up, down))


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


def worked_examples() -> list[Example]:
    """Readings and what is known of them from elsewhere, in minutes and °F."""
    return _EXAMPLES


@pytest.mark.parametrize("case", _EXAMPLES)
def test_worked_examples_of_time_above(case: Example) -> None:
    body = _body(case.log, case.error, case.up, case.down)
    time = (case.least, case.most)
    assert body.time_at_or_above(case.limit) == pytest.approx(time, abs=0.005)
    whole = case.log[-1][0] - case.log[0][0]
    rest = (whole - case.most, whole - case.least)
    assert body.time_below(case.limit) == pytest.approx(rest, abs=0.005)
    assert body.peaks.max() == pytest.approx(case.peak, abs=0.005)
    assert body.valleys.min() == pytest.approx(case.valley, abs=0.005)


def test_worked_example_of_readings_that_conflict() -> None:
    """150 and 100 °F ten minutes apart at 1.5 °F/min within 2 °F: 50 > 15 + 4, by 31 °F."""
    at, read = np.array([0.0, 10.0]), np.array([150.0, 100.0])
    found = find_conflict(at, read - 2, read + 2, Rates(1.5, 1.5))
    assert found is not None
    assert (found.first, found.second) == (0, 1)
    assert found.excess == pytest.approx(31.0)
    with pytest.raises(ValueError, match="conflict"):
        envelope(at, read - 2, read + 2, Rates(1.5, 1.5))


def test_readings_that_conflict_across_one_between_them() -> None:
    """A degree a minute, ±1 at the ends and ±3 in the middle: each step can be, both cannot.

    6 - 2 of error at the ends - 2 of rise leave 2 degrees that nothing explains.
    """
    at = np.array([0.0, 1.0, 2.0])
    read, error = np.array([100.0, 103.0, 106.0]), np.array([1.0, 3.0, 1.0])
    found = find_conflict(at, read - error, read + error, Rates(1.0, 1.0))
    assert found is not None
    assert (found.first, found.second) == (0, 2)
    assert found.excess == pytest.approx(2.0)
    with pytest.raises(ValueError, match="conflict"):
        envelope(at, read - error, read + error, Rates(1.0, 1.0))


def test_a_conflict_is_found_exactly_where_some_pair_breaks_the_rates() -> None:
    """Every pair is tried one by one."""
    rng = np.random.default_rng(11)
    for _ in range(500):
        count = int(rng.integers(2, 7))
        at = np.sort(rng.choice(60, count, replace=False)).astype(float)
        read, error = rng.uniform(100, 130, count), rng.uniform(0, 3, count)
        rates = Rates(float(rng.uniform(0.1, 2)), float(rng.uniform(0.1, 2)))
        excess = max(
            max(
                read[j] - read[i] - rates.up * (at[j] - at[i]),
                read[i] - read[j] - rates.down * (at[j] - at[i]),
            )
            - error[i]
            - error[j]
            for j in range(count)
            for i in range(j)
        )
        found = find_conflict(at, read - error, read + error, rates)
        assert (found is not None) == (excess > 1e-9)
        if found is not None:
            assert found.excess == pytest.approx(excess)


def test_worked_example_of_time_in_a_band() -> None:
    body = _body([(0, 150), (60, 118), (180, 75), (360, 44)], 1, 0.05, 1.2)
    assert body.time_within(41, 135) == pytest.approx((200.8, 348.3), abs=0.05)


def test_worked_example_of_the_first_crossing() -> None:
    body = _body([(0, 135), (60, 105), (120, 86), (180, 72), (240, 64)], 1, 0.05, 0.8)
    assert body.first_at_or_below(70) == pytest.approx((138.75, 233.75), abs=0.005)


def _random_log(rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray, float, Rates]:
    """Readings within an error of a random walk that obeys its rates, on whole minutes."""
    rates = Rates(float(rng.uniform(0.05, 1.5)), float(rng.uniform(0.05, 1.5)))
    length = int(rng.integers(20, 120))
    steps = rng.uniform(-rates.down, rates.up, length)
    true = np.concatenate(([0.0], np.cumsum(steps))) + rng.uniform(100, 150)
    inner = rng.choice(np.arange(1, length), size=int(rng.integers(0, 5)), replace=False)
    at = np.concatenate(([0], np.sort(inner), [length]))
    error = float(rng.uniform(0, 3))
    read = true[at] + rng.uniform(-error, error, len(at))
    return at.astype(float), read, error, rates


def _by_brute_force(
    at: np.ndarray, read: np.ndarray, error: float, rates: Rates, grid: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Least and greatest temperature at each point of a grid, reading by reading."""
    after = grid[:, None] - at[None, :]
    high = read + error + np.where(after >= 0, rates.up * after, -rates.down * after)
    low = read - error - np.where(after >= 0, rates.down * after, -rates.up * after)
    return low.max(axis=1), high.min(axis=1)


def _agree(seed: int) -> None:
    rng = np.random.default_rng(seed)
    at, read, error, rates = _random_log(rng)
    body = envelope(at, read - error, read + error, rates)
    step = 1 / 64
    grid = np.arange(0, at[-1] + step / 2, step)
    low, high = _by_brute_force(at, read, error, rates, grid)
    assert np.allclose(body.lower_at(grid), low, atol=1e-9)
    assert np.allclose(body.upper_at(grid), high, atol=1e-9)
    limit = float(rng.uniform(low.min(), high.max()))
    least, most = body.time_at_or_above(limit)
    slack = 2 * step * len(at) + step
    assert least == pytest.approx(float((low >= limit).sum() * step), abs=slack)
    assert most == pytest.approx(float((high >= limit).sum() * step), abs=slack)


@pytest.mark.parametrize("block", range(10))
def test_closed_forms_agree_with_brute_force(block: int) -> None:
    for seed in range(block * 50, block * 50 + 50):
        _agree(seed)


@pytest.mark.slow
def test_closed_forms_agree_with_brute_force_in_ten_thousand_cases() -> None:
    for seed in range(10_000):
        _agree(seed)


def test_no_history_that_the_readings_allow_leaves_the_bounds() -> None:
    """Random histories made first and read afterwards, every one of them feasible."""
    rng = np.random.default_rng(7)
    for _ in range(300):
        rates = Rates(float(rng.uniform(0.05, 1.5)), float(rng.uniform(0.05, 1.5)))
        steps = rng.uniform(-rates.down, rates.up, 90)
        true = np.concatenate(([0.0], np.cumsum(steps))) + 130.0
        at = np.unique(np.concatenate(([0, 90], rng.integers(1, 90, 3))))
        error = float(rng.uniform(0, 3))
        read = true[at] + rng.uniform(-error, error, len(at))
        body = envelope(at.astype(float), read - error, read + error, rates)
        minutes = np.arange(91.0)
        assert np.all(true >= body.lower_at(minutes) - 1e-9)
        assert np.all(true <= body.upper_at(minutes) + 1e-9)
        least, most = body.time_at_or_above(132.0)
        fine = np.interp(np.arange(0, 90, 0.01), minutes, true)
        spent = float((fine >= 132.0).sum() * 0.01)
        assert least - 0.05 <= spent <= most + 0.05


def test_a_reading_that_says_nothing_leaves_the_bracket_of_its_neighbours() -> None:
    at = np.array([0.0, 30.0, 60.0])
    low, high = np.array([140.0, -np.inf, 140.0]), np.array([140.0, np.inf, 140.0])
    body = envelope(at, low, high, Rates(0.5, 0.5))
    assert (body.lower[1], body.upper[1]) == (125.0, 155.0)


@pytest.mark.parametrize(("up", "down"), [(-1.0, 1.0), (np.inf, 1.0), (0.0, 0.0)])
def test_rates_that_bound_nothing_are_refused(up: float, down: float) -> None:
    with pytest.raises(ValueError, match="rates are finite"):
        Rates(up, down)
