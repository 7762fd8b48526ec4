"""Boiling points against two reference libraries that were written by others.

The pressure at a height comes from the U.S. Standard Atmosphere 1976 (checked against its table in
`test_boiling.py`); the saturation temperature under that pressure from IAPWS-IF97 (iapws) and from
the equation of state of IAPWS-95 (CoolProp).
"""

from __future__ import annotations

import CoolProp.CoolProp
import pytest
from iapws.iapws97 import _TSat_P

from tempwitness.readers.boiling import boiling_point_c, pressure_pa, saturation_k

_HEIGHTS_M = (0.0, 500.0, 1000.0, 1609.0, 2000.0, 3000.0)


@pytest.mark.parametrize("height", _HEIGHTS_M)
def test_boiling_points_agree_with_both_references(height: float) -> None:
    pascal = pressure_pa(height)
    ours = boiling_point_c(height)
    assert ours == pytest.approx(_TSat_P(pascal / 1e6) - 273.15, abs=0.01)
    by_state = CoolProp.CoolProp.PropsSI("T", "P", pascal, "Q", 0, "Water") - 273.15
    assert ours == pytest.approx(by_state, abs=0.01)


@pytest.mark.parametrize("hectopascal", [600.0, 835.0, 980.0, 1013.25, 1040.0])
def test_saturation_agrees_with_both_references_in_any_weather(hectopascal: float) -> None:
    ours = saturation_k(hectopascal / 1e4)
    assert ours == pytest.approx(_TSat_P(hectopascal / 1e4), abs=1e-6)
    by_state = CoolProp.CoolProp.PropsSI("T", "P", hectopascal * 100, "Q", 0, "Water")
    assert ours == pytest.approx(by_state, abs=0.01)
