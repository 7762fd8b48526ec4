"""Boiling checks by a barometer on the spot.

Boiling points of water by pressure: IAPWS-IF97, table of 980 hPa 99.042 °C and 1040 hPa 100.706 °C
(computed with the iapws library). Denver's height is 1609 m; the U.S. Standard Atmosphere 1976 has
834.4 hPa there. How far weather goes (0.5 °C, 60 hPa) is common practice, without a source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import InputError
from tempwitness.readers.boiling import boiling_under_c, unlike_station
from tempwitness.readers.words import pressure_pa
from tests.readers.build import record

if TYPE_CHECKING:
    from pathlib import Path

_CHECK = """
[[probe]]
id = "blue"
[[probe.check]]
at = "2026-07-04 04:30"
kind = "boiling"
read = "95 C"
{more}
[[reading]]
at = 2026-07-04T18:10:00
temp = "138 F"
"""


def _expected(folder: Path, more: str) -> float:
    (probe,) = record(folder, _CHECK.format(more=more)).probes
    return probe.checks[0].expected


@pytest.mark.parametrize(("pressure", "celsius"), [("980 hPa", 99.042), ("1040 mbar", 100.706)])
def test_the_weather_moves_the_boiling_point(tmp_path: Path, pressure: str, celsius: float) -> None:
    more = f'elevation = "0 m"\nstation_pressure = "{pressure}"'
    assert _expected(tmp_path, more) == pytest.approx(celsius, abs=0.001)


def _due(folder: Path, more: str) -> tuple[float, float]:
    check = record(folder, _CHECK.format(more=more)).probes[0].checks[0]
    least = check.expected if check.least is None else check.least
    return least, check.expected if check.most is None else check.most


def test_a_height_alone_leaves_room_for_the_weather(tmp_path: Path) -> None:
    # Water boils at 94.621 °C at 1609 m (Standard Atmosphere 1976, IAPWS-IF97); ± 0.5 °C.
    assert _due(tmp_path, 'elevation = "1609 m"') == pytest.approx((94.121, 95.121), abs=0.001)
    check = record(tmp_path, _CHECK.format(more='elevation = "1609 m"')).probes[0].checks[0]
    assert check.expected == pytest.approx(94.621, abs=0.001)
    assert "94.62 °C, at the least 94.12 °C and at the most 95.12 °C" in check.text


def test_a_barometer_that_cannot_mean_sea_level_is_believed(tmp_path: Path) -> None:
    low, high = _due(tmp_path, 'elevation = "1609 m"\nstation_pressure = "834 hPa"')
    assert low == high


def test_a_deep_low_may_hide_behind_a_figure_of_the_place(tmp_path: Path) -> None:
    """980 hPa at 200 m is a usual day there, or 980 at sea level: then 957 hPa on the spot.

    The Standard Atmosphere has 989.5 hPa at 200 m: 980 x 989.5 / 1013.25 = 957.0. Near sea level
    1 hPa moves the boiling point by 0.0277 °C: 23 hPa by 0.64 °C below 99.042.
    """
    low, high = _due(tmp_path, 'elevation = "200 m"\nstation_pressure = "980 hPa"')
    assert high == pytest.approx(99.042, abs=0.001)
    assert low == pytest.approx(99.042 - 0.64, abs=0.03)


def test_at_the_sea_there_is_nothing_to_reduce(tmp_path: Path) -> None:
    low, high = _due(tmp_path, 'elevation = "0 m"\nstation_pressure = "980 hPa"')
    assert low == high == pytest.approx(99.042, abs=0.001)


def test_units_of_pressure() -> None:
    # 1 inHg (conventional) is 3386.389 Pa: NIST SP 811, appendix B.8.
    assert pressure_pa("24.64 inHg") == pytest.approx(24.64 * 3386.389)
    assert pressure_pa("83.44 kPa") == pytest.approx(83440.0)
    with pytest.raises(ValueError, match="is not a pressure"):
        pressure_pa("1013")


def test_a_pressure_reduced_to_sea_level_is_refused(tmp_path: Path) -> None:
    """In Denver a weather report of 1016 hPa would move the boiling point by 5 °C."""
    assert boiling_under_c(101600.0) - boiling_under_c(83440.0) > 5.0
    more = 'elevation = "1609 m"\nstation_pressure = "1016 hPa"'
    with pytest.raises(InputError, match="reduced to sea level") as caught:
        _expected(tmp_path, more)
    assert caught.value.location is not None
    assert caught.value.location.key == "probe[1].check[1].station_pressure"
    assert "leave the pressure out" in str(caught.value)


@pytest.mark.parametrize(
    ("hectopascal", "height", "says"),
    [
        (834.4, 1609.0, ""),
        (815.0, 1609.0, ""),
        (1013.25, 0.0, ""),
        (1035.0, 0.0, ""),
        (1013.25, 200.0, "reduced to sea level"),
        (900.0, 1609.0, "beyond any weather"),
        (700.0, 1609.0, "beyond any weather"),
    ],
)
def test_what_a_barometer_can_show_at_a_height(
    hectopascal: float, height: float, says: str
) -> None:
    found = unlike_station(hectopascal * 100, height)
    assert (says in found) if says else not found


@pytest.mark.parametrize(
    "more", ['station_pressure = "980 hPa"', 'expected = "99 C"\nstation_pressure = "980 hPa"']
)
def test_a_pressure_alone_is_refused(tmp_path: Path, more: str) -> None:
    with pytest.raises(InputError, match="needs 'elevation' beside it"):
        _expected(tmp_path, more)
