"""Boxes: one mass, core and shell, conductance of walls; and the balance of ice."""

from __future__ import annotations

import numpy as np
import pytest
from iapws import IAPWS97
from scipy import integrate

from tempwitness.science.box import (
    TwoNodes,
    Wall,
    box_conductance,
    in_series,
    lumped_at,
    lumped_until,
    settled_time_constant,
)
from tempwitness.science.conduction import Material, slowest, sphere
from tempwitness.science.ice import FUSION, WATER_HEAT_CAPACITY, ice_needed
from tempwitness.science.ranges import OutOfRangeError

HOUR = 3600.0


def test_newtons_law() -> None:
    # Arithmetic: half of the difference is left after τ ln 2.
    assert lumped_until(110.0, 150.0, 70.0, 10.0) == pytest.approx(10 * np.log(2))
    found = lumped_at(np.array([0.0, 10.0]), 150.0, 70.0, 10.0)
    assert found == pytest.approx([150.0, 70 + 80 / np.e])
    with pytest.raises(OutOfRangeError, match="does not lie between"):
        lumped_until(60.0, 150.0, 70.0, 10.0)
    with pytest.raises(OutOfRangeError, match="does not lie between"):
        lumped_until(70.0, 150.0, 70.0, 10.0)


BOX = TwoNodes(3402.0, 7938.0, 0.245, 0.5, 22.0, 93.0, 98.0)


def test_core_and_shell_worked_example() -> None:
    # Closed form worked out apart from this program and compared there with an ODE solver.
    assert BOX.rates == pytest.approx((3.4541e-5, 1.3133e-4), rel=1e-4)
    assert BOX.amplitudes == pytest.approx((100.0585, -29.0585), abs=5e-5)
    at = np.array([0.5, 1, 2, 4, 8]) * HOUR
    expected = [93.0861, 92.2478, 88.7393, 78.4622, 58.3405]
    assert BOX.core_along(at) == pytest.approx(expected, abs=5.1e-5)
    assert BOX.peak is not None
    assert BOX.peak / 60 == pytest.approx(17.1, abs=0.05)
    assert BOX.core_along(np.array([BOX.peak]))[0] == pytest.approx(93.179, abs=5e-4)


@pytest.mark.parametrize(("outside", "shell_at"), [(0.05, 98.0), (0.5, 80.0), (20.0, 93.0)])
def test_core_and_shell_agree_with_an_ode_solver(outside: float, shell_at: float) -> None:
    box = TwoNodes(3402.0, 7938.0, 0.245, outside, 22.0, 93.0, shell_at)

    def slopes(_: float, state: list[float]) -> list[float]:
        core, shell = state
        flow = box.between * (core - shell)
        return [-flow / box.core, (flow - box.outside * (shell - box.around)) / box.shell]

    at = np.linspace(0, 12 * HOUR, 25)
    solved = integrate.solve_ivp(
        slopes, (0, at[-1]), [box.core_at, box.shell_at], "LSODA", at, rtol=1e-10, atol=1e-9
    )
    assert box.core_along(at) == pytest.approx(solved.y[0], abs=1e-5)


def test_a_core_that_only_falls_has_no_peak() -> None:
    assert TwoNodes(3402.0, 7938.0, 0.245, 0.5, 22.0, 93.0, 60.0).peak is None


# A box of 0.60 × 0.40 × 0.40 m, and one of 0.45 × 0.33 × 0.33 m: printed conductance [W/K] within
# what the printed range of the foam's conductivity allows (a material page: polyurethane 0.022 to
# 0.028, expanded polystyrene 0.030 to 0.050 W/(m K)).
@pytest.mark.parametrize(
    ("outer", "thickness", "foam", "printed"),
    [
        ((0.60, 0.40, 0.40), 0.030, (0.022, 0.028), 0.74),
        ((0.60, 0.40, 0.40), 0.050, (0.022, 0.028), 0.43),
        ((0.60, 0.40, 0.40), 0.025, (0.030, 0.050), 1.20),
        ((0.45, 0.33, 0.33), 0.030, (0.022, 0.028), 0.45),
    ],
)
def test_conductance_of_boxes(
    outer: tuple[float, float, float], thickness: float, foam: tuple[float, float], printed: float
) -> None:
    least, most = (box_conductance(Wall(outer, thickness, k)) for k in foam)
    assert least <= printed <= most
    # Of the middle of the polyurethane range the printed figures are 4 % off at most.
    if foam[1] < 0.03:
        assert box_conductance(Wall(outer, thickness, 0.024)) == pytest.approx(printed, abs=0.012)


# One 3.5 kg piece of m cp = 11.34 kJ/K: conductance without and with 20 and 50 mm of towel, and τ.
@pytest.mark.parametrize(
    ("conductance", "hours"),
    [(0.49, 6.4), (0.24, 13.0), (0.16, 19.6), (0.33, 9.6), (0.20, 16.1), (0.66, 4.8), (0.34, 9.2)],
)
def test_time_constant_is_heat_capacity_over_conductance(conductance: float, hours: float) -> None:
    # The printed conductance has two digits: ± 0.005.
    low, high = (11340 / (conductance + d) / HOUR for d in (0.005, -0.005))
    assert low - 0.05 <= hours <= high + 0.05


def test_layers_in_series() -> None:
    # Arithmetic: two equal layers let half through.
    assert in_series(0.8, 0.8) == pytest.approx(0.4)
    assert in_series(0.74, 1.45) == pytest.approx(0.49, abs=0.005)


# Ball of 3.5 kg, k 0.47, ρ 1040, cp 3240: UA, settled time constant and the exact one [h].
@pytest.mark.parametrize(
    ("conductance", "corrected", "exact"),
    [(0.16, 20.83, 20.86), (0.30, 11.65, 11.70), (0.50, 7.45, 7.53), (1.00, 4.30, 4.45)],
)
def test_settled_time_constant(conductance: float, corrected: float, exact: float) -> None:
    radius, meat = 0.0930, Material(0.47, 1040.0, 3240.0)
    h = conductance / (4 * np.pi * radius**2)
    found = settled_time_constant(1040.0, 3240.0, radius, h, 0.47) / HOUR
    assert found == pytest.approx(corrected, rel=3e-3)
    rate, _, _ = slowest(sphere(radius), meat, h)
    assert 1 / rate / HOUR == pytest.approx(exact, rel=3e-3)


def test_ice() -> None:
    # 10 kg of beans, cp 3480, from 60 to 5 °C: 1914 kJ; ice that melts and stays at 0 °C: 5.74 kg.
    heat = 10 * 3480 * 55
    assert ice_needed(heat) == pytest.approx(1914e3 / 333.4e3, rel=1e-4)
    # 20 kg of tap water at 15 °C as well: 1257 kJ more.
    more = ice_needed(heat, water=20, water_at=15)
    assert more == pytest.approx((1914e3 + 20 * 4190 * 15) / 333.4e3, rel=1e-4)
    # Balance: what melts and warms to 4 °C takes up what food and water give off.
    mass = ice_needed(heat, water=20, water_at=15, ends_at=4)
    taken = mass * (FUSION + WATER_HEAT_CAPACITY * 4)
    assert taken == pytest.approx(heat + 20 * WATER_HEAT_CAPACITY * 11)
    with pytest.raises(OutOfRangeError, match="warmer than its water began"):
        ice_needed(heat, water=20, water_at=2, ends_at=5)


def test_heat_capacity_of_water() -> None:
    for celsius in (1, 10, 20, 30):
        found = IAPWS97(T=celsius + 273.15, P=0.101325).cp * 1000
        assert found == pytest.approx(WATER_HEAT_CAPACITY, rel=0.007)
