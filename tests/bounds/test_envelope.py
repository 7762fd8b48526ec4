"""What readings say of each other, against a worked example and against the definition."""

from __future__ import annotations

import numpy as np
import pytest

from tempwitness.bounds.envelope import Rates, find_conflict, tightened


def test_worked_example_of_readings_that_conflict() -> None:
    """150 and 100 °F ten minutes apart at 1.5 °F/min within 2 °F: 50 > 15 + 4, by 31 °F."""
    at, read = np.array([0.0, 10.0]), np.array([150.0, 100.0])
    found = find_conflict(at, read - 2, read + 2, Rates(1.5, 1.5))
    assert found is not None
    assert (found.first, found.second) == (0, 1)
    assert found.excess == pytest.approx(31.0)
    with pytest.raises(ValueError, match="conflict"):
        tightened(at, read - 2, read + 2, Rates(1.5, 1.5))


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
        tightened(at, read - error, read + error, Rates(1.0, 1.0))


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


def test_bounds_agree_with_their_definition() -> None:
    """Each moment by each reading in turn, with rates of its own in each gap."""
    rng = np.random.default_rng(3)
    for _ in range(300):
        count = int(rng.integers(1, 8))
        at = np.sort(rng.choice(90, count, replace=False)).astype(float)
        up, down = rng.uniform(0.05, 1.5, (2, count - 1))
        steps = rng.uniform(-down, up) * np.diff(at)
        true = 130 + np.concatenate(([0], np.cumsum(steps)))
        error = rng.uniform(0, 3, count)
        read = true + rng.uniform(-error, error)
        low, high = tightened(at, read - error, read + error, Rates(up, down))
        for i in range(count):
            rise, fall = np.zeros(count), np.zeros(count)
            for j in range(count):
                gaps = slice(min(i, j), max(i, j))
                length = np.diff(at)[gaps]
                # From an earlier reading it may have risen to here, to a later one fallen.
                rise[j] = ((up if j < i else down)[gaps] * length).sum()
                fall[j] = ((down if j < i else up)[gaps] * length).sum()
            assert high[i] == pytest.approx((read + error + rise).min())
            assert low[i] == pytest.approx((read - error - fall).max())
            assert low[i] - 1e-9 <= true[i] <= high[i] + 1e-9


def test_a_reading_that_says_nothing_leaves_the_bracket_of_its_neighbours() -> None:
    at = np.array([0.0, 30.0, 60.0])
    low, high = np.array([140.0, -np.inf, 140.0]), np.array([140.0, np.inf, 140.0])
    least, most = tightened(at, low, high, Rates(0.5, 0.5))
    assert (least[1], most[1]) == (125.0, 155.0)


@pytest.mark.parametrize(("up", "down"), [(-1.0, 1.0), (np.inf, 1.0), (0.0, 0.0)])
def test_rates_that_bound_nothing_are_refused(up: float, down: float) -> None:
    with pytest.raises(ValueError, match="rates are finite"):
        Rates(up, down)
