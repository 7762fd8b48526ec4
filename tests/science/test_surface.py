"""Coefficients at the surface against the library ht, and radiation against the law itself."""

from __future__ import annotations

import pytest
from ht import conv_external, conv_free_immersed

from tempwitness.science.ranges import OutOfRangeError
from tempwitness.science.surface import (
    STEFAN_BOLTZMANN,
    air,
    forced_on_cylinder,
    forced_on_plate,
    free_on_cylinder,
    free_on_sphere,
    radiation,
)


@pytest.mark.parametrize(
    ("celsius", "conductivity", "viscosity", "prandtl"),
    [
        # Incropera and DeWitt, table A.4, air at 250, 300, 350 and 400 K.
        (250 - 273.15, 22.3e-3, 11.44e-6, 0.720),
        (300 - 273.15, 26.3e-3, 15.89e-6, 0.707),
        (350 - 273.15, 30.0e-3, 20.92e-6, 0.700),
        (400 - 273.15, 33.8e-3, 26.41e-6, 0.690),
    ],
)
def test_air(celsius: float, conductivity: float, viscosity: float, prandtl: float) -> None:
    found = air(celsius)
    assert found.conductivity == pytest.approx(conductivity, rel=0.02)
    assert found.viscosity == pytest.approx(viscosity, rel=0.02)
    assert found.prandtl == pytest.approx(prandtl, rel=0.03)
    assert found.expansion == pytest.approx(1 / (celsius + 273.15))


@pytest.mark.parametrize("speed", [0.5, 1.2, 2.0, 5.0])
def test_air_across_a_round_piece(speed: float) -> None:
    gas, diameter = air(0.0), 0.11
    reynolds = speed * diameter / gas.viscosity
    nusselt = conv_external.Nu_cylinder_Churchill_Bernstein(reynolds, gas.prandtl)
    expected = nusselt * gas.conductivity / diameter
    assert forced_on_cylinder(speed, diameter, 0.0) == pytest.approx(expected, rel=1e-10)


@pytest.mark.parametrize("speed", [0.5, 2.0, 5.0, 60.0])
def test_air_along_a_face(speed: float) -> None:
    gas, length = air(0.0), 0.3
    reynolds = speed * length / gas.viscosity
    # The library's laminar form is Pohlhausen's, its mixed one that of Incropera.
    laminar = 0.664 * reynolds**0.5 * gas.prandtl ** (1 / 3)
    mixed = (0.037 * reynolds**0.8 - 871) * gas.prandtl ** (1 / 3)
    nusselt = laminar if reynolds <= 5e5 else mixed
    found = forced_on_plate(speed, length, 0.0) * length / gas.conductivity
    assert found == pytest.approx(nusselt, rel=1e-10)
    if reynolds <= 5e5:
        other = conv_external.Nu_horizontal_plate_laminar_Baehr(reynolds, gas.prandtl)
        assert found == pytest.approx(other, rel=0.01)


@pytest.mark.parametrize("difference", [5.0, 40.0, 90.0])
def test_still_air(difference: float) -> None:
    gas, diameter = air(75.0), 0.186
    grashof = 9.80665 * gas.expansion * difference * diameter**3 / gas.viscosity**2
    ball = conv_free_immersed.Nu_sphere_Churchill(gas.prandtl, grashof)
    expected = ball * gas.conductivity / diameter
    assert free_on_sphere(difference, diameter, 75.0) == pytest.approx(expected, rel=1e-10)
    roll = conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu(gas.prandtl, grashof)
    expected = roll * gas.conductivity / diameter
    assert free_on_cylinder(difference, diameter, 75.0) == pytest.approx(expected, rel=1e-10)


def test_figures_of_a_round_roast() -> None:
    # Worked out with ht and other properties of air: 110 mm roll in air of 0 °C and 1.2 m/s
    # 11.8 + 4.6 by radiation; 0.5, 2 and 5 m/s 7.3, 15.6 and 26.8; flat pan of 0.3 m 5.1, 10.2,
    # 16.1; 186 mm roast in still air of 110 °C 4.9 free + 9.4 by radiation, foil (0.035) 0.35.
    assert forced_on_cylinder(1.2, 0.11, 0.0) == pytest.approx(11.8, rel=0.02)
    for speed, roll, pan in ((0.5, 7.3, 5.1), (2.0, 15.6, 10.2), (5.0, 26.8, 16.1)):
        assert forced_on_cylinder(speed, 0.11, 0.0) == pytest.approx(roll, rel=0.02)
        assert forced_on_plate(speed, 0.3, 0.0) == pytest.approx(pan, rel=0.02)


def test_radiation_is_the_difference_of_fourth_powers() -> None:
    one, two = 60.0, 5.0
    flow = 0.9 * STEFAN_BOLTZMANN * ((one + 273.15) ** 4 - (two + 273.15) ** 4)
    assert radiation(one, two) * (one - two) == pytest.approx(flow, rel=1e-12)


def test_out_of_range() -> None:
    with pytest.raises(OutOfRangeError, match="speed"):
        forced_on_cylinder(0.0, 0.1, 0.0)
    with pytest.raises(OutOfRangeError, match="Re Pr"):
        forced_on_cylinder(2e-4, 0.01, 0.0)
    with pytest.raises(OutOfRangeError, match="temperature of the air"):
        air(400.0)
    with pytest.raises(OutOfRangeError, match="emissivity"):
        radiation(20.0, 5.0, 1.5)
