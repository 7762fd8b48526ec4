"""Names of columns: units in every spelling, clocks, counters, and what is asked about.

The spellings are ways to write degree signs, and what wrong encodings make of them: the sign is
U+00B0; its UTF-8 bytes read as Windows-1252 are "Â°", as Mac OS Roman its byte B0 is "∞".
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import InputError
from tempwitness.readers.headers import Kind, heading
from tests.readers.build import bare, record, rows, shapes, utc

if TYPE_CHECKING:
    from pathlib import Path

A = utc("2026-07-04T23:10")
T = "2026-07-04 18:1"


@pytest.mark.parametrize(
    "name",
    [
        "temp_f", "Temp F", "Temp, F", "TempF", "Temp (°F)", "Temp(°F)", "Temp °F", "Temp ºF",
        "Temp ˚F", "Temp ℉", "Temp [F]", "Temperature (F)", "Temp *F", "Temp (∞F)", "Temp (?F)",
        "Temp, Â°F", "Temp ï¿½F", "Temp \ufffdF", "degF", "Temp deg F", "Temp (deg. F)", "°F", "F",
        "Temperature Fahrenheit", "Temp_Fahrenheit", "Temp./°F",
        "Temp, °F (serial no. 1234567)",
    ],
)  # fmt: skip
def test_a_unit_is_known_in_every_spelling(tmp_path: Path, name: str) -> None:
    log = bare(tmp_path, f'time,"{name}"\n{T}0,138\n')
    assert rows(log.channels[0]) == [(A, 138.0, False)]
    celsius = (
        name.replace("F", "C")
        .replace("_f", "_c")
        .replace("℉", "℃")
        .replace("Cahrenheit", "Celsius")
    )
    log = bare(tmp_path, f'time,"{celsius}"\n{T}0,58.9\n')
    assert rows(log.channels[0]) == [(A, 58.9, True)]


@pytest.mark.parametrize(
    ("name", "point"),
    [
        ("left (°F)", ("left", "core", "")),
        ("Probe 1 [F]", ("Probe 1", "core", "")),
        ("Rack C °F", ("Rack C", "core", "")),
        ("A surface (°F)", ("A", "surface", "")),
        ("Core temp (°F)", ("1", "core", "")),
        ("Ambient °F", ("", "air", "")),
        ("Pit (°F)", ("", "air", "")),
        ("air left (°F)", ("", "air", "left")),
    ],
)
def test_whose_a_column_is(tmp_path: Path, name: str, point: tuple[str, str, str]) -> None:
    log = bare(tmp_path, f"time,{name}\n{T}0,138\n")
    assert shapes(log) == {point: [(A, 138.0, False)]}


@pytest.mark.parametrize("name", ["Temp", "Temperature", "Probe 1", "Core temp"])
def test_a_unit_is_never_guessed(tmp_path: Path, name: str) -> None:
    text = f"time,{name}\n{T}0,58.9\n"
    with pytest.raises(InputError, match="is it °F or °C") as caught:
        bare(tmp_path, text)
    assert "--unit F or --unit C" in caught.value.hint
    log = bare(tmp_path, text, unit="C")
    assert rows(log.channels[0]) == [(A, 58.9, True)]
    body = '[[file]]\npath = "p.csv"\nunit = "C"\n'
    assert rows(record(tmp_path, body, files={"p.csv": text}).channels[0]) == [(A, 58.9, True)]


@pytest.mark.parametrize("name", ["Probe C", "Piece F", "Temp °F/°C"])
def test_a_letter_is_not_taken_for_a_unit(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError, match=r"is not understood|names both °F and °C"):
        bare(tmp_path, f"time,{name}\n{T}0,138\n")


@pytest.mark.parametrize(
    "name",
    ["time", "Date/Time", "DateTime", "Date Time", "timestamp", "Time stamp", "Local time", "date"],
)
def test_names_of_the_time(tmp_path: Path, name: str) -> None:
    log = bare(tmp_path, f"{name},temp_f\n{T}0,138\n")
    assert rows(log.channels[0]) == [(A, 138.0, False)]


@pytest.mark.parametrize(
    ("name", "at"),
    [
        # 18:10 on a clock five hours behind UTC is 23:10 UTC, on one at UTC it is 18:10.
        ("Date Time, GMT-05:00", "2026-07-04T23:10"),
        ("time (UTC-5)", "2026-07-04T23:10"),
        ("Time, GMT+0530", "2026-07-04T12:40"),
        ("UTC time", "2026-07-04T18:10"),
        ("time_utc", "2026-07-04T18:10"),
        ("timestamp (GMT)", "2026-07-04T18:10"),
    ],
)
def test_a_clock_in_the_name_of_the_time_holds_for_all_rows(
    tmp_path: Path, name: str, at: str
) -> None:
    log = bare(tmp_path, f'"{name}",temp_f\n{T}0,138\n{T}0+00:00,137\n')
    # An offset in the row itself wins: 18:10 at UTC.
    wanted = [(utc(at), 138.0, False), (utc("2026-07-04T18:10"), 137.0, False)]
    assert rows(log.channels[0]) == sorted(wanted, key=lambda row: row[0])
    assert any("by the name of its column" in said for said in log.sources[0].understood)


def test_date_and_time_may_have_a_column_each(tmp_path: Path) -> None:
    log = bare(tmp_path, "Date,Time,temp_f\n2026-07-04,18:10,138\n")
    assert rows(log.channels[0]) == [(A, 138.0, False)]


def test_local_time_beside_utc_is_asked_about(tmp_path: Path) -> None:
    text = "local time,utc time,temp_f\n2026-07-04 18:10,2026-07-04 23:10,138\n"
    with pytest.raises(InputError, match="would both be the time: which one is meant"):
        bare(tmp_path, text)
    for ignore in ("local time", "utc time"):
        assert rows(bare(tmp_path, text, ignore=(ignore,)).channels[0]) == [(A, 138.0, False)]


@pytest.mark.parametrize(
    "name", ["Elapsed", "minutes since start", "Time (min)", "time_s", "Runtime"]
)
def test_time_since_a_start_is_no_time_of_day(tmp_path: Path, name: str) -> None:
    text = f"{name},time,temp_f\n0,{T}0,138\n"
    with pytest.raises(InputError, match="which says no time of day") as caught:
        bare(tmp_path, text)
    assert f"--ignore-column '{name}'" in caught.value.hint
    assert rows(bare(tmp_path, text, ignore=(name,)).channels[0]) == [(A, 138.0, False)]


@pytest.mark.parametrize("name", ["Max temp (°F)", "Setpoint (°F)", "Alarm_f", "Dew point °C"])
def test_a_setting_or_a_summary_is_no_reading(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError, match="a setting, an alarm or a summary by its name"):
        bare(tmp_path, f"time,temp_f,{name}\n{T}0,138,140\n")


def test_one_point_in_both_units_is_asked_about(tmp_path: Path) -> None:
    text = f"time,A (°F),A (°C)\n{T}0,138,58.9\n"
    with pytest.raises(InputError, match="readings of the same point: which one shall be kept"):
        bare(tmp_path, text)
    log = bare(tmp_path, text, ignore=("A (°F)",))
    assert shapes(log) == {("A", "core", ""): [(A, 58.9, True)]}


@pytest.mark.parametrize("name", ["#", "No.", "Record", "Index", "Sample no", ""])
def test_a_column_that_counts_the_rows_is_left_out_and_said(tmp_path: Path, name: str) -> None:
    log = bare(tmp_path, f"{name},time,temp_f\n1,{T}0,138\n2,{T}1,137\n")
    assert [value for _, value, _ in rows(log.channels[0])] == [138.0, 137.0]
    assert any("counts the rows: left out" in said for said in log.sources[0].understood)


@pytest.mark.parametrize("second", ["3", "1", "x", "2.0"])
def test_a_counter_that_does_not_count_is_refused(tmp_path: Path, second: str) -> None:
    text = f"No.,time,temp_f\n1,{T}0,138\n{second},{T}1,137\n"
    with pytest.raises(InputError, match="does not count the rows one by one"):
        bare(tmp_path, text)


def test_what_is_not_known_stays_unknown() -> None:
    kinds = [heading(n).kind for n in ("humidity", "battery", "time zone", "Piece C", "")]
    assert kinds == [Kind.UNKNOWN] * 5
