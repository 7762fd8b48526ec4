"""Boiling point at a height.

Sources: IAPWS-IF97 (2007 revision) table 35 for the saturation temperature; U.S. Standard
Atmosphere 1976 table I for the pressure; the heights in feet by 0.3048 m.
"""

from __future__ import annotations

import pytest

from tempwitness.readers.boiling import boiling_point_c, pressure_pa, saturation_k


@pytest.mark.parametrize(
    ("pressure", "kelvin"), [(0.1, 372.755919), (1.0, 453.035632), (10.0, 584.149488)]
)
def test_saturation_has_the_check_values_of_the_formulation(pressure: float, kelvin: float) -> None:
    assert saturation_k(pressure) == pytest.approx(kelvin, abs=1e-6)


@pytest.mark.parametrize(
    ("height", "pascal"), [(0, 101325.0), (1000, 89876.3), (2000, 79501.4), (3000, 70121.1)]
)
def test_pressure_is_that_of_the_standard_atmosphere(height: float, pascal: float) -> None:
    assert pressure_pa(height) == pytest.approx(pascal, abs=0.1)


def test_in_denver_water_boils_at_202_degrees() -> None:
    # 1609 m: 83435.3 Pa, 94.621 °C, 202.32 °F (both formulations together).
    assert boiling_point_c(1609.0) == pytest.approx(94.621, abs=0.001)
    assert boiling_point_c(1609.0) * 1.8 + 32 == pytest.approx(202.32, abs=0.005)
