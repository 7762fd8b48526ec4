"""The commands that look ahead, as a cook types them."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from tempwitness.cli.exit_codes import ExitCode
from tempwitness.readers import read_record

if TYPE_CHECKING:
    from pathlib import Path

    from tests.cli.conftest import Run

CODE = ("--code", "us/food-code/2022")
REST = (
    *("plan", "rest", "--food", "brisket", "--weight", "8 lb", "--start", "200 F"),
    *("--room", "75 F", "--towels", "0.5 in", *CODE),
)
COOL = (
    *("plan", "cool", "--food", "beans", "--weight", "40 lb", "--start", "160 F"),
    *("--method", "walk_in", *CODE),
)
REHEAT = (
    *("plan", "reheat", "--food", "beans", "--weight", "20 lb", "--start", "38 F"),
    *("--method", "fan_oven", *CODE),
)


@pytest.mark.parametrize(
    ("hours", "status", "words"),
    [
        ("2", ExitCode.MET, "Rest of 2 h: should do"),
        ("7", ExitCode.NOT_SHOWN, "Rest of 7 h: doubtful"),
        ("20", ExitCode.NOT_MET, "Rest of 20 h: will hardly do"),
    ],
)
def test_rest(run: Run, hours: str, status: int, words: str) -> None:
    ran = run(*REST, "--hours", hours)
    assert ran.status == status
    assert words in ran.out
    assert "outside stays at 135 °F or above" in ran.out
    assert "An estimate." in ran.out
    assert ran.err == ""


def test_rest_in_celsius_takes_the_celsius_figure_of_the_code(run: Run) -> None:
    # FDA Food Code 2022, 3-501.16(A)(1): 57 °C (135 °F).
    ran = run(
        *("plan", "rest", "--food", "lamb shoulder", "--weight", "4 kg", "--start", "90 C"),
        *("--room", "22 C", "--hours", "3", "--size", "60x40x40 cm", *CODE),
    )
    assert "stays at 57 °C or above" in ran.out
    assert "4 kg of lamb shoulder" in ran.out


def test_rest_by_an_earlier_one(run: Run) -> None:
    # 200 to 140 °F in 6 h at 75 °F, from 200 to 135 °F: 6.74 h by Newton's law; 30 % less is 4.7.
    ran = run(*REST, "--hours", "4", "--measured", "200 F to 140 F in 6 h", "--json")
    found = json.loads(ran.out)
    assert found["estimate"] is True
    assert found["core"]["likely"] == pytest.approx(6.74, abs=0.02)


def test_a_limit_of_ones_own_needs_no_code(run: Run) -> None:
    ran = run(*REST[:-2], "--hours", "4", "--limit", "140 F")
    assert "stays at 140 °F or above" in ran.out


def test_cool(run: Run) -> None:
    ran = run(*COOL, "--depth", "2 in")
    assert ran.status == ExitCode.NOT_MET
    assert "Cooling: will hardly do" in ran.out
    assert "[cool-135-to-70]" in ran.out
    assert "pans with food 1 in deep" in ran.out
    ice = run(*COOL, "--method", "ice_bath", "--depth", "1 in", "--stirred")
    assert ice.status == ExitCode.MET
    assert "ice: " in ice.out


def test_cool_as_json(run: Run) -> None:
    ran = run(*COOL, "--depth", "2 in", "--around", "45 F", "--json")
    found = json.loads(ran.out)
    assert found["outlook"] == "fails"
    assert found["legs"][1]["takes"]["likely"] is None  # it never gets there


def test_a_code_without_times_takes_ones_own(run: Run) -> None:
    # The regulation in force in England prints no time for cooling: a kitchen states its own.
    kitchen = (*COOL[:-1], "gb/eng/2013", "--depth", "2 in")
    refused = run(*kitchen)
    assert refused.status == ExitCode.COULD_NOT_RUN
    assert "--leg" in refused.err
    ran = run(*kitchen, "--leg", "63 C to 8 C in 90 min")
    assert ran.status == ExitCode.NOT_MET
    assert "63 C to 8 C in 90 min [own limit]" in ran.out
    assert "'fast' is no way" in run(*kitchen, "--leg", "fast").err
    oven = run(*REHEAT, "--around", "350 F", "--depth", "2 in", "--leg", "5 C to 75 C in 20 min")
    assert oven.status == ExitCode.NOT_MET


def test_reheat(run: Run) -> None:
    ran = run(*REHEAT, "--around", "350 F", "--depth", "2 in")
    assert ran.status == ExitCode.MET
    assert "Reheating: should do" in ran.out
    piece = run(*REHEAT, "--around", "250 F", "--piece", "12x8x8 in")
    assert piece.status == ExitCode.NOT_MET


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((*REHEAT, "--around", "160 F", "--depth", "2 in"), "the target of 165 °F"),
        ((*REHEAT, "--around", "350 F"), "either --depth"),
        ((*REHEAT, "--around", "350", "--depth", "2 in"), "'350' is not a temperature"),
        ((*COOL, "--depth", "2"), "'2' is not a thickness"),
        ((*COOL, "--piece", "big"), "'big' is not a size"),
        ((*REST, "--hours", "4", "--measured", "long"), "'long' is no way"),
        ((*REST, "--hours", "4", "--room", "140 F"), "a room below it"),
        ((*REST[:-2], "--hours", "4"), "no code is named"),
        (("plan", "rest", "--food", "slate", *REST[4:], "--hours", "4"), "how 'slate' conducts"),
    ],
)
def test_what_is_wrong_is_named_with_its_mending(
    run: Run, arguments: tuple[str, ...], words: str
) -> None:
    ran = run(*arguments)
    assert ran.status == ExitCode.COULD_NOT_RUN
    assert words in ran.err
    assert "to mend it" in ran.err or "write it as" in ran.err or "write one number" in ran.err
    assert ran.out == ""


def test_a_plan_leaves_a_record_to_fill_in(run: Run, tmp_path: Path) -> None:
    output = tmp_path / "brisket.toml"
    ran = run(*REST, "--hours", "2", "--save", output, "--zone", "America/Chicago")
    assert ran.status == ExitCode.MET
    assert "to be filled in" in ran.err
    record = read_record(output)
    assert record.lot.food.name == "brisket"
    again = run(*REST, "--hours", "2", "--save", output)
    assert again.status == ExitCode.COULD_NOT_RUN


def test_readings_that_a_record_lacked(run: Run) -> None:
    """The brisket that was found "still steaming": 135 °F by a probe would have shown it."""
    ran = run("plan", "readings", "sample_records/08-still-steaming/record.toml")
    assert ran.status == ExitCode.NOT_SHOWN
    assert "15:30 (rest, piece brisket): a reading of 135 °F or more" in " ".join(ran.out.split())
    assert "would have settled: Hold hot food hot" in ran.out
    as_json = run("plan", "readings", "--json", "sample_records/08-still-steaming/record.toml")
    assert json.loads(as_json.out)[0]["wanted"] == ["a reading of 135 °F or more"]
    ran = run("plan", "readings", "sample_records/01-lamb-all-day/record.toml")
    assert ran.status == ExitCode.MET
    assert "No reading is missing" in ran.out
