"""The line and its limits: a worked example, and statsmodels as the referee."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import statsmodels.api as sm
from scipy import optimize

from tempwitness.forecast.ensemble import fit_all
from tempwitness.forecast.regression import fieller, fit_line
from tempwitness.science.ranges import OutOfRangeError

# A log by hand in whole °F, surroundings 72 °F, limit 135 °F, worked out apart from this program.
HOURS = np.array([2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0])
READ = np.array([181.0, 177.0, 172.0, 168.0, 163.0, 159.0, 156.0])


def test_worked_example() -> None:
    line = fit_line(HOURS, np.log(READ - 72))
    assert line.intercept == pytest.approx(4.8733, abs=5e-5)
    assert line.slope == pytest.approx(-0.0894292, abs=5e-8)
    assert line.slope_error == pytest.approx(0.0017934, abs=5e-8)
    assert line.scatter == pytest.approx(0.0047449, abs=5e-8)
    assert line.explained == pytest.approx(0.99799, abs=5e-6)
    assert -1 / line.slope == pytest.approx(11.182, abs=5e-4)
    level = np.log(135 - 72)
    assert (level - line.intercept) / line.slope == pytest.approx(8.165, abs=5e-4)
    mean = fieller(line, level, 0.95)
    assert mean == pytest.approx((7.931, 8.424), abs=5e-4)
    new = fieller(line, level, 0.95, new_reading=True)
    assert new == pytest.approx((7.896, 8.460), abs=5e-4)


@pytest.mark.parametrize(("around", "hours"), [(69, 8.133), (75, 8.200)])
def test_a_little_doubt_about_the_room_moves_it_by_minutes(around: float, hours: float) -> None:
    line = fit_line(HOURS, np.log(READ - around))
    found = (np.log(135 - around) - line.intercept) / line.slope
    assert found == pytest.approx(hours, abs=5e-4)


@pytest.mark.parametrize("weighted", [False, True])
@pytest.mark.parametrize("seed", range(6))
def test_statsmodels_draws_the_same_line_and_band(seed: int, weighted: bool) -> None:
    rng = np.random.default_rng(seed)
    t = np.sort(rng.uniform(0, 10, 12))
    y = 4.8 - 0.09 * t + rng.normal(0, 0.01, 12)
    w = rng.uniform(0.3, 3.0, 12) if weighted else np.ones(12)
    w = w / w.mean()
    referee = sm.WLS(y, sm.add_constant(t), weights=w).fit()
    line = fit_line(t, y, w)
    assert (line.intercept, line.slope) == pytest.approx(tuple(referee.params), rel=1e-10)
    assert line.slope_error == pytest.approx(referee.bse[1], rel=1e-9)
    assert line.scatter == pytest.approx(np.sqrt(referee.scale), rel=1e-9)
    assert line.explained == pytest.approx(referee.rsquared, rel=1e-9)

    def band(moment: float, side: int) -> float:
        row = np.array([[1.0, moment]])
        return float(referee.get_prediction(row).conf_int(alpha=0.10)[0, side]) - 4.0

    # Fieller's limits are where the band for the mean comes to the value.
    limits = fieller(line, 4.0, 0.90)
    assert limits is not None
    for limit, side in zip(limits, (0, 1), strict=True):
        crossing = optimize.brentq(band, limit - 3, limit + 3, args=(side,), xtol=1e-12)
        assert limit == pytest.approx(crossing, rel=1e-9)


def test_one_member_of_the_ensemble_is_fieller() -> None:
    excess = np.full(7, 100.0)  # equal weights
    lines = fit_all(HOURS, np.log(READ - 72)[np.newaxis], excess, np.array([72.0]), 1e-9)
    lines = replace(lines, pace=np.ones_like(lines.pace))
    for chance, expected in ((0.025, 7.931), (0.5, 8.165), (0.975, 8.424)):
        assert lines.when(135.0, chance) == pytest.approx(expected, abs=5e-4)


def test_a_slope_that_is_none_gives_no_interval() -> None:
    line = fit_line([0, 1, 2, 3], [4.0, 4.01, 3.99, 4.0])
    assert fieller(line, 3.5, 0.90) is None


def test_what_is_no_line_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="three points at two times"):
        fit_line([0, 1], [1, 2])
    with pytest.raises(OutOfRangeError, match="three points at two times"):
        fit_line([1, 1, 1], [1, 2, 3])
    with pytest.raises(OutOfRangeError, match="weight"):
        fit_line([0, 1, 2], [1, 2, 3], [1, 0, 1])
