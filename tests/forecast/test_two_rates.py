"""The curve of a core in a shell, fitted: against its own closed form and against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize

from tempwitness.forecast.two_rates import fit_two_rates
from tempwitness.science.box import TwoNodes

HOUR = 3600.0
# Worked example of the closed form: 8.042 h and 2.115 h, amplitudes 100.0585 and -29.0585 K.
BOX = TwoNodes(3402.0, 7938.0, 0.245, 0.5, 22.0, 93.0, 98.0)


def test_exact_readings_give_back_the_worked_example() -> None:
    times = np.arange(0, 6.01, 0.25) * HOUR
    found = fit_two_rates(times, BOX.core_along(times), 22.0, 1 / (8.5 * HOUR))
    assert found is not None
    assert 1 / found.rates[0] / HOUR == pytest.approx(8.042, rel=0.005)
    assert 1 / found.rates[1] / HOUR == pytest.approx(2.115, rel=0.02)
    assert found.amplitudes == pytest.approx((100.0585, -29.0585), rel=0.02)
    # 58.3405 °C after 8 h.
    crossing = found.when(58.3405, 6 * HOUR)
    assert crossing is not None
    assert crossing / HOUR == pytest.approx(8.0, abs=0.01)


@pytest.mark.parametrize("seed", range(4))
def test_no_other_curve_fits_better(seed: int) -> None:
    rng = np.random.default_rng(seed)
    times = np.arange(0, 7.01, 0.25) * HOUR
    read = np.round(BOX.core_along(times) + rng.normal(0, 0.2, len(times)), 1)
    found = fit_two_rates(times, read, 22.0, 1 / (8.5 * HOUR))
    assert found is not None

    def left(p: np.ndarray) -> np.ndarray:
        a, b, slow, fast = p
        shape = a * np.exp(-slow * times / HOUR) + b * np.exp(-fast * times / HOUR)
        return np.asarray(22 + shape - read)

    slow, fast = (rate * HOUR for rate in found.rates)
    ours = float((left(np.array([*found.amplitudes, slow, fast])) ** 2).sum())
    best = optimize.least_squares(left, [100.0, -29.0, 1 / 8.0, 1 / 2.1], xtol=1e-12)
    assert ours <= 2 * best.cost * 1.002


def test_what_does_not_cross_has_no_moment() -> None:
    times = np.arange(0, 6.01, 0.25) * HOUR
    found = fit_two_rates(times, BOX.core_along(times), 22.0, 1 / (8.5 * HOUR))
    assert found is not None
    assert found.when(21.0, 6 * HOUR) is None
    assert found.when(95.0, 6 * HOUR) is None
    assert fit_two_rates(times[:7], BOX.core_along(times[:7]), 22.0, 1e-5) is None
