"""Equivalent time, multiples of the printed table, and fits of z."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import integrate

from tempwitness.science.lethality import (
    equivalent_time,
    fitted_z,
    least_equivalent_time,
    lethal_rate,
    multiple_of,
    printed_table,
)
from tempwitness.science.ranges import OutOfRangeError

FROM_ABSOLUTE_ZERO = -300.0


def test_rate() -> None:
    # The law itself: z warmer acts ten times as fast.
    assert lethal_rate(155.0, 145.0, 10.0) == pytest.approx(10.0)
    assert lethal_rate(57.5, 65.0, 7.5) == pytest.approx(0.1)


# Minutes at 145 °F with z = 10 °F, worked out by hand: held at 145 for 4 min; held at 130 for 112
# min; 120 to 150 °F in an hour; up in 30 min, held for 20 and down in 30.
@pytest.mark.parametrize(
    ("times", "degrees", "expected", "near"),
    [
        ([0, 4], [145, 145], 4.0, 1e-12),
        ([0, 112], [130, 130], 3.5418, 5e-5),
        ([0, 60], [120, 150], 27.43973, 5e-6),
        ([0, 30, 50, 80], [130, 146, 146, 130], 45.16641, 5e-6),
    ],
)
def test_equivalent_time(
    times: list[float], degrees: list[float], expected: float, near: float
) -> None:
    found = equivalent_time(times, degrees, 145.0, 10.0, FROM_ABSOLUTE_ZERO)
    assert found == pytest.approx(expected, abs=near)


@pytest.mark.parametrize(
    ("step", "trapezoid", "colder_end"),
    [(1, 0.0011, -0.056), (5, 0.0275, -0.26), (10, 0.108, -0.47), (15, 0.237, -0.63)],
)
def test_straight_lines_are_exact_at_any_interval(
    step: int, trapezoid: float, colder_end: float
) -> None:
    # A ramp from 120 to 150 °F in an hour: errors of the other two rules as a table prints them.
    times = np.arange(0.0, 60.0 + step, step)
    degrees = 120 + times / 2
    exact = 27.43973
    args = (145.0, 10.0, FROM_ABSOLUTE_ZERO)
    assert equivalent_time(times, degrees, *args) == pytest.approx(exact, abs=5e-6)
    rule = np.trapezoid(10 ** ((degrees - 145) / 10), times)
    assert rule / exact - 1 == pytest.approx(trapezoid, abs=6e-4)
    least = least_equivalent_time(times, degrees, *args)
    assert least / exact - 1 == pytest.approx(colder_end, abs=6e-3)


def test_cold_time_counts_for_nothing() -> None:
    found = equivalent_time([0, 30, 40], [115, 145, 100], 145.0, 10.0, 130.0)

    def rate(minute: float) -> float:
        degrees = 115 + minute if minute <= 30 else 145 - 4.5 * (minute - 30)
        return float(10 ** ((degrees - 145) / 10)) if degrees >= 130 else 0.0

    expected, _ = integrate.quad(rate, 0, 40, points=[15, 30, 30 + 15 / 4.5], epsabs=1e-12)
    assert found == pytest.approx(expected, abs=1e-9)
    assert equivalent_time([0, 60], [100, 129.9], 145.0, 10.0, 130.0) == 0.0


# Least squares of log10(time) over the 28 rows of 130 to 157 °F, worked out apart from this
# program: z and time at 145 °F [min].
@pytest.mark.parametrize(("column", "z", "minutes"), [("6.5", 10.011, 3.642), ("7", 10.023, 3.862)])
def test_fit_of_the_printed_tables(column: str, z: float, minutes: float) -> None:
    table = printed_table(column)
    rows = [(f, s / 60) for f, s in zip(table.fahrenheit, table.seconds, strict=True) if s > 0]
    assert len(rows) == 28
    found, at_145 = fitted_z([f for f, _ in rows], [t for _, t in rows], 145.0)
    assert found == pytest.approx(z, abs=5.1e-4)
    assert at_145 == pytest.approx(minutes, abs=5.1e-4)


# Published D values [min] and the z that their authors print.
@pytest.mark.parametrize(
    ("degrees", "minutes", "z", "near"),
    [
        # E. coli O157:H7 in beef: Juneja, Snyder and Marmer 1997; z 6.0 °C.
        ([55, 57.5, 60, 62.5, 65], [21.13, 4.95, 3.17, 0.93, 0.39], 6.0, 0.011),
        # L. monocytogenes in lean and fat beef: Fain and others 1991; z 9.3 and 11.4 °F.
        ([125, 135, 145], [81.3, 2.6, 0.6], 9.3, 0.011),
        ([125, 135, 145], [71.1, 5.8, 1.2], 11.4, 0.011),
    ],
)
def test_fit_of_published_d_values(
    degrees: list[float], minutes: list[float], z: float, near: float
) -> None:
    found, _ = fitted_z(degrees, minutes, degrees[0])
    assert found == pytest.approx(z, rel=near)


def test_listeria_times_of_official_guidance() -> None:
    # 70 °C for 2 min with z 7.5 °C stands for 43.1 min at 60, 9.28 at 65, 0.431 at 75, 0.093 at 80.
    for celsius, minutes in ((60, 43.1), (65, 9.28), (75, 0.431), (80, 0.093)):
        assert 2 / lethal_rate(celsius, 70.0, 7.5) == pytest.approx(minutes, rel=3e-3)


def test_share_of_the_seven_log_table() -> None:
    # 130 to 145 °F in 30 min, worked out by hand: by the law 2.1982 times, row by row 1.9264 times.
    seconds = np.arange(0, 1801, 60)
    found = multiple_of(printed_table("7"), seconds, 130 + seconds / 120, "beef")
    assert found.likely == pytest.approx(2.1982, abs=5e-4)
    assert found.by_rows == pytest.approx(1.9264, abs=5e-5)
    assert found.least is not None
    assert found.least < 2.1982
    assert any("printed row decides" in text for text in found.caveats)


@pytest.mark.parametrize("column", ["6.5", "7"])
def test_a_row_that_is_just_kept_counts_nearly_once(column: str) -> None:
    # The law, tied to the row of 130 °F, is worth at least 6.44 of 6.5 and 6.77 of 7 in every row.
    table = printed_table(column)
    least = {"6.5": 6.44 / 6.5, "7": 6.77 / 7}[column]
    for degrees, seconds in zip(table.fahrenheit, table.seconds, strict=True):
        if seconds == 0:
            continue
        times = np.linspace(0, seconds, 12)
        found = multiple_of(table, times, np.full(12, degrees), "lamb")
        assert found.by_rows == pytest.approx(1.0)
        assert found.likely is not None
        assert found.likely > least - 0.004


def test_a_long_hot_finish_is_cut_off() -> None:
    seconds = np.arange(0, 4 * 3600, 300.0)
    found = multiple_of(printed_table("6.5"), seconds, np.full(len(seconds), 195.0), "pork")
    assert found.likely == found.least == found.by_rows == found.most
    assert math.isfinite(found.most)


@pytest.mark.parametrize(
    ("species", "times", "degrees", "reason"),
    [
        ("turkey", [0, 60], [150, 150], "not for turkey"),
        ("", [0, 60], [150, 150], "unnamed food"),
        ("beef", [0, 3600], [150, 150], "60 min apart"),
        ("beef", [0, 60], [100, 129], "nothing was read"),
    ],
)
def test_no_figure_is_better_than_a_smooth_guess(
    species: str, times: list[float], degrees: list[float], reason: str
) -> None:
    found = multiple_of(printed_table("7"), times, degrees, species)
    assert found.likely is None
    assert found.least is None
    assert found.by_rows is None
    assert reason in found.reason
    assert found.caveats


def test_bad_input_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="do not rise"):
        equivalent_time([0, 0], [150, 150], 145, 10, 130)
    with pytest.raises(OutOfRangeError, match="not of one length"):
        equivalent_time([0, 1], [150], 145, 10, 130)
    with pytest.raises(OutOfRangeError, match="number 2"):
        equivalent_time([0, 1], [150, float("nan")], 145, 10, 130)
    with pytest.raises(OutOfRangeError, match="no column"):
        printed_table("5")
    with pytest.raises(OutOfRangeError, match="do not fall"):
        fitted_z([130, 140], [1, 2], 130)
    with pytest.raises(OutOfRangeError, match="z is 0"):
        lethal_rate(145, 145, 0)
