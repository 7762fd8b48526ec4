"""Measured and tabulated coolings against the model."""

from __future__ import annotations

import math

import pytest

from tempwitness.science.conduction import (
    Body,
    Material,
    brick,
    cylinder,
    short_cylinder,
    slab,
    sphere_of,
    time_until,
)
from tempwitness.science.surface import forced_on_cylinder, forced_on_plate, radiation

HOUR = 3600.0
DENSITY = 1050.0
MEAT = Material(0.45, DENSITY, 0.45 / 1.30e-7 / DENSITY)
WATER = 500.0  # moving water on a small face, middle of the usual range of 300 to 700 W/(m² K)


def hours(body: Body, h: float, around: float, until: float) -> float:
    """From 70 °C, the start of every row of the table."""
    return time_until(body, MEAT, h, (until - around) / (70 - around)) / HOUR


def across(speed: float, diameter: float, around: float) -> float:
    film = (around + 40) / 2
    return forced_on_cylinder(speed, diameter, film) + radiation(40, around)


def along(speed: float, length: float, around: float) -> float:
    film = (around + 40) / 2
    return forced_on_plate(speed, length, film) + radiation(40, around)


JOINT = brick(0.33, 0.16, 0.13)
ROLL = cylinder(0.055)
HAM = short_cylinder(0.09, 7 / DENSITY / (math.pi * 0.09**2))  # 7 kg, 18 cm across: shape assumed
LOG = brick(0.40, 0.12, 0.12)

# Meat Refrigeration (James and James), table 16.7; the last rows after Burfoot and others 1990.
# Body, coefficient, air or water [°C], until [°C], printed hours from 70 °C.
_WITHIN = {
    "joint in moving water of 1 °C": (JOINT, WATER, 1, 5, 8.5),
    "joint in air of 1 °C, 1 m/s": (JOINT, across(1, 0.13, 1), 1, 5, 10.3),
    "7 kg ham in a mould, air of -2 °C, 5 m/s": (HAM, across(5, 0.18, -2), -2, 5, 9.0),
    "ham log in air of 0 °C, 3 m/s": (LOG, across(3, 0.12, 0), 0, 5, 6.7),
    "50 mm slab in water of 0 °C": (slab(0.025), WATER, 0, 10, 1.2),
    "rolled forequarter in air, 1.2 m/s": (ROLL, across(1.2, 0.11, 0), 0, 10, 5.1),
    "rolled silverside in air, 1.2 m/s": (ROLL, across(1.2, 0.11, 0), 0, 10, 4.9),
    "rolled forequarter in water": (ROLL, WATER, 0, 10, 3.6),
    "rolled silverside in water": (ROLL, WATER, 0, 10, 3.1),
}
_TOO_SLOW = {
    "joint in air of 1 °C, 2 m/s": (JOINT, across(2, 0.13, 1), 1, 5, 7.6),
    "bare 50 mm slab in air, 1.2 m/s": (slab(0.025), along(1.2, 0.15, 0), 0, 10, 2.1),
    "boned turkey of 6.4 kg in air": (sphere_of(6.4, DENSITY), across(1.2, 0.2, 0), 0, 10, 6.6),
}


@pytest.mark.parametrize("name", list(_WITHIN))
def test_joint_cooling_within_thirty_percent(name: str) -> None:
    body, h, around, until, printed = _WITHIN[name]
    assert hours(body, h, around, until) == pytest.approx(printed, rel=0.30)


@pytest.mark.parametrize("name", list(_TOO_SLOW))
def test_rows_that_the_model_misses_are_missed_on_the_safe_side(name: str) -> None:
    """Three rows of the table are cooled more than 30 % faster than the model says.

    The joint in air of 2 m/s went below 5 °C sooner than the same joint in moving water, whose
    surface is held almost at the water's temperature. No coefficient explains that: with h → ∞ the
    model still asks for about the water's time, so the two rows do not agree with each other.

    The bare slab gives off water: evaporation adds about as much as convection and radiation
    together, and it would take h near 49 to reach the printed time. Food in a covered pan or in a
    bag does not have that help, so it is left out.

    The boned turkey's shape is not printed. A ball is the slowest of all shapes of its weight; a
    flat or a long piece of it is faster.

    In all three the model promises less than was measured. None is too fast by 30 %.
    """
    body, h, around, until, printed = _TOO_SLOW[name]
    assert hours(body, h, around, until) > 1.30 * printed


def test_why_the_three_rows_are_missed() -> None:
    # The figures that the explanation above rests on.
    assert hours(JOINT, 1e5, 1, 5) > 0.9 * 7.6
    assert hours(slab(0.025), 49.0, 0, 10) == pytest.approx(2.1, rel=0.05)
    roll = cylinder(0.075)  # a long piece, 15 cm across
    assert hours(roll, across(1.2, 0.15, 0), 0, 10) < hours(*_TOO_SLOW[_TURKEY][:4])


_TURKEY = "boned turkey of 6.4 kg in air"

# Middle of unstirred beans, k 0.55, α 1.5e-7, from 135 °F: hours to 70 and to 41 °F, by depth [in].
# Independent solution of the same equations.
_BEANS = Material(0.55, 1000.0, 0.55 / 1.5e-7 / 1000.0)
_IN_AIR_8 = [(1.92, 5.54), (4.16, 11.8), (6.71, 18.9), (9.59, 26.7)]
_IN_AIR_15 = [(1.10, 3.13), (2.51, 7.03), (4.25, 11.7), (6.31, 17.2)]
_IN_AIR_30 = [(0.63, 1.76), (1.58, 4.30), (2.85, 7.64), (4.44, 11.8)]
_IN_ICE = [(0.18, 0.41), (0.67, 1.49), (1.46, 3.24), (2.56, 5.67)]
_ON_ICE = [(0.67, 1.49), (2.56, 5.67), (5.66, 12.5), (9.98, 22.1)]
# Coefficient, air or ice water [°F], faces that are cooled.
_PANS = {
    "air of 37 °F, both faces, h 8": (8, 37.0, 2, _IN_AIR_8),
    "the same, h 15": (15, 37.0, 2, _IN_AIR_15),
    "the same, h 30": (30, 37.0, 2, _IN_AIR_30),
    "ice bath, both faces": (400, 32.9, 2, _IN_ICE),
    "ice bath, bottom only": (400, 32.9, 1, _ON_ICE),
}


@pytest.mark.parametrize("name", list(_PANS))
def test_pans_by_depth(name: str) -> None:
    h, around, faces, rows = _PANS[name]
    for depth, printed in enumerate(rows, start=1):
        half = depth * 0.0254 / faces
        for limit, expected in zip((70, 41), printed, strict=True):
            left = (limit - around) / (135 - around)
            found = time_until(slab(half), _BEANS, float(h), left) / HOUR
            assert found == pytest.approx(expected, rel=0.005, abs=0.006)


def test_time_grows_with_the_square_of_the_depth_where_the_surface_is_held() -> None:
    # Dickerson and Read 1973: time goes with the square of the shortest dimension.
    one, two = (time_until(slab(d), _BEANS, 1e6, 0.1) for d in (0.02, 0.04))
    assert two / one == pytest.approx(4.0, rel=1e-3)
