"""Student's t against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tempwitness.forecast.student import MOST_FREEDOM, t_chance, t_quantile
from tempwitness.science.ranges import OutOfRangeError


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 10, 37, MOST_FREEDOM])
def test_chance_and_quantile(freedom: int) -> None:
    t = np.concatenate([np.linspace(-8, 8, 161), [-np.inf, np.inf]])
    np.testing.assert_allclose(t_chance(t, freedom), stats.t.cdf(t, freedom), atol=1e-12)
    for chance in (0.01, 0.05, 0.5, 0.95, 0.975, 0.995):
        expected = stats.t.ppf(chance, freedom)
        assert t_quantile(chance, freedom) == pytest.approx(expected, rel=1e-9, abs=1e-9)


def test_more_freedom_is_cut_off_on_the_wide_side() -> None:
    found = t_quantile(0.95, 100_000)
    assert stats.t.ppf(0.95, 100_000) < found < 1.006 * stats.t.ppf(0.95, 100_000)


def test_no_freedom_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="degrees of freedom"):
        t_chance(0.0, 0)
    with pytest.raises(OutOfRangeError, match="chance"):
        t_quantile(1.0, 5)
