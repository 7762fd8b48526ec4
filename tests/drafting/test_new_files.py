"""The command around files of readings: columns, pieces, probes, patterns of time."""

from __future__ import annotations

import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tempwitness.readers import read_record
from tests.drafting.running import LAMB, new, verdicts

SAMPLES = Path(__file__).resolve().parents[2] / "sample_records"


def put(folder: Path, name: str, *rows: str) -> None:
    (folder / name).write_text("\n".join(rows) + "\n", encoding="utf-8")


def written(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "new.toml").read_text(encoding="utf-8"))


def logger(folder: Path) -> None:
    put(
        folder,
        "log.csv",
        "Stamp,Probe 1,Probe 2,Battery",
        "07/04/2026 06:00 AM,41,225,9",
        "07/04/2026 02:00 PM,203,224,9",
    )


LEG = ("--column", "Probe 1=F:leg")
OTHERS = (
    *("--column", "Stamp=time", "--column", "Probe 2=F:air", "--column", "Battery=ignore"),
    *("--time-format", "%m/%d/%Y %I:%M %p"),
)
LOGGER = (*LEG, *OTHERS)


def test_columns_with_names_of_their_own_are_mapped(tmp_path: Path) -> None:
    logger(tmp_path)
    told = new(tmp_path, "log.csv", "-o", "new.toml", *LAMB, *LOGGER)
    assert told.status == 0
    assert "column 'Probe 1' holds temperatures in °F (core of piece leg)" in told.err
    assert "column 'Battery' was left out on request" in told.err
    log = read_record(tmp_path / "new.toml")
    # 14:00 in Chicago in July is 19:00 UTC (UTC-5): 20638 days and 19 h since 1970.
    found = {(c.piece, c.place.value): (c.at[-1], c.value[-1]) for c in log.channels}
    at = 20638 * 86400 + 19 * 3600
    assert found == {("leg", "core"): (at, 203.0), ("", "air"): (at, 224.0)}


def test_a_column_that_says_nothing_is_named_with_its_option(tmp_path: Path) -> None:
    logger(tmp_path)
    told = new(tmp_path, "log.csv", "-o", "new.toml", *LAMB, "--column", "Stamp=time")
    assert told.status == 2
    assert "--column 'Probe 1=F'" in told.err


@pytest.mark.parametrize(
    ("wrong", "what"),
    [
        (("--column", "Probe 1=K"), "does not say what a column holds"),
        (("--column", "Probe 1=F:"), "is not a piece, a place, or both"),
        (("--column", "Probe 1=F:a:b"), "is not a piece, a place, or both"),
        (("--column", "Probe 3=F"), "their columns are Battery, Probe 1, Probe 2, Stamp"),
        (("--column", "Stamp=note"), "'Stamp' is answered twice"),
        (("--piece", "other.csv=leg"), "the files are log.csv"),
        (("--piece", "log.csv=leg"), "say themselves whose they are"),
        (("--probe", "Probe 1=A"), "--probe 'Probe 2=NAME'"),
        (("--probe", "Probe 3=A"), "write COLUMN=NAME with one of Probe 1, Probe 2"),
        (("--probe", "Probe 1=A", "--probe", "Probe 1=B"), "'Probe 1' is answered twice"),
        (("--reading", "14:00 200 F piece=arm"), "there is no piece 'arm'"),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value),
)
def test_what_is_wrong_about_a_file_is_named(
    tmp_path: Path, wrong: tuple[str, ...], what: str
) -> None:
    logger(tmp_path)
    first = () if wrong[1].startswith("Probe 1=") and wrong[0] == "--column" else LEG
    told = new(tmp_path, "log.csv", "-o", "new.toml", *LAMB, *OTHERS, *first, *wrong)
    assert told.status == 2
    assert what in told.err
    assert not (tmp_path / "new.toml").exists()


def test_a_file_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    put(tmp_path, "log.csv", "time,temp_f", "2026-07-04 06:00,forty")
    told = new(tmp_path, "log.csv", "-o", "new.toml", *LAMB)
    assert told.status == 2
    assert "log.csv, line 2" in told.err
    put(tmp_path, "log.csv", "only")
    assert new(tmp_path, "log.csv", "-o", "new.toml", *LAMB).status == 2
    told = new(tmp_path, "absent.csv", "-o", "new.toml", *LAMB)
    assert told.status == 2
    assert "absent.csv" in told.err


def test_a_file_of_another_kind_is_refused(tmp_path: Path) -> None:
    shutil.copy(SAMPLES / "03-beans-deep-pan" / "record.toml", tmp_path / "old.toml")
    told = new(tmp_path, "old.toml", "-o", "new.toml", *LAMB)
    assert told.status == 2
    assert "files that end in '.toml' are not read" in told.err


def test_paths_count_from_the_record(tmp_path: Path) -> None:
    put(tmp_path, "log.csv", "time,temp_f", "2026-07-04 06:00,40")
    (tmp_path / "records").mkdir()
    assert new(tmp_path, "log.csv", "-o", "records/new.toml", *LAMB).status == 0
    record = tmp_path / "records" / "new.toml"
    assert tomllib.loads(record.read_text(encoding="utf-8"))["file"] == [{"path": "../log.csv"}]
    assert len(read_record(record).channels) == 1


def test_rows_that_name_their_piece_keep_it(tmp_path: Path) -> None:
    # The unit is missing; were the column read as a probe of its own, its rows' pieces would go
    # unheard and two pieces would count as one.
    put(
        tmp_path,
        "log.csv",
        "time,temp,Who",
        "2026-07-04 06:00,40,left",
        "2026-07-04 06:00,41,right",
    )
    columns = ("--column", "temp=F", "--column", "Who=piece")
    assert new(tmp_path, "log.csv", "-o", "new.toml", *LAMB, *columns).status == 0
    assert [p.id for p in read_record(tmp_path / "new.toml").lot.pieces] == ["left", "right"]
    both = ("--column", "temp=F:left", "--column", "Who=piece")
    told = new(tmp_path, "log.csv", "-o", "new.toml", "--force", *LAMB, *both)
    assert told.status == 2
    assert "the rows of this file say themselves whose they are" in told.err


def test_two_files_of_two_pieces(tmp_path: Path) -> None:
    put(tmp_path, "a.csv", "time,temp_f", "2026-07-04 06:00,40")
    put(tmp_path, "b.csv", "time,temp_f", "2026-07-04 06:00,41")
    told = new(tmp_path, "a.csv", "b.csv", "-o", "new.toml", *LAMB, "--piece", "a.csv=left")
    assert told.status == 2
    assert "--piece 'b.csv=NAME'" in told.err
    pieces = ("--piece", "a.csv=left", "--piece", "b.csv=right")
    probes = ("--probe", "a.csv:temp_f=A", "--probe", "b.csv:temp_f=B", "--ice", "A=05:30 32 F")
    assert new(tmp_path, "a.csv", "b.csv", "-o", "new.toml", *LAMB, *pieces, *probes).status == 0
    log = read_record(tmp_path / "new.toml")
    assert {(c.piece, c.probe, float(c.value[0])) for c in log.channels} == {
        ("left", ("A",), 40.0),
        ("right", ("B",), 41.0),
    }
    assert {p.id: len(p.checks) for p in log.probes} == {"A": 1, "B": 0}


def test_a_file_without_its_piece_is_never_given_that_of_another(tmp_path: Path) -> None:
    put(tmp_path, "a.csv", "time,left_f", "2026-07-04 06:00,40")
    put(tmp_path, "b.csv", "time,temp_f", "2026-07-04 06:00,41")
    told = new(tmp_path, "a.csv", "b.csv", "-o", "new.toml", *LAMB)
    assert told.status == 2
    assert "--piece 'b.csv=NAME'" in told.err


def test_air_needs_no_piece(tmp_path: Path) -> None:
    put(tmp_path, "a.csv", "time,temp_f", "2026-07-04 06:00,40")
    put(tmp_path, "pit.csv", "time,air_f", "2026-07-04 06:00,225")
    probes = ("--probe", "temp_f=A", "--probe", "air_f=pit")
    assert new(tmp_path, "a.csv", "pit.csv", "-o", "new.toml", *LAMB, *probes).status == 0
    assert [p.get("reads") for p in written(tmp_path)["probe"]] == [None, "air"]
    log = read_record(tmp_path / "new.toml")
    assert {(c.piece, c.place.value, c.probe) for c in log.channels} == {
        ("1", "core", ("A",)),
        ("", "air", ("pit",)),
    }


def test_rows_that_name_no_probe_are_not_given_the_only_one(tmp_path: Path) -> None:
    put(
        tmp_path,
        "log.csv",
        "time,temp_f,probe",
        "2026-07-04 06:00,40,A",
        "2026-07-04 14:00,203,",
    )
    told = new(tmp_path, "log.csv", "-o", "new.toml", *LAMB, "--ice", "A=05:30 32 F")
    assert told.status == 2
    assert "--probe 'temp_f=NAME'" in told.err
    named = ("--ice", "A=05:30 32 F", "--probe", "temp_f=B")
    assert new(tmp_path, "log.csv", "-o", "new.toml", *LAMB, *named).status == 0
    (channel,) = read_record(tmp_path / "new.toml").channels
    assert channel.probe == ("A", "B")


def test_a_log_without_dates_begins_on_the_day(tmp_path: Path) -> None:
    put(tmp_path, "log.csv", "time,temp_f", "22:00,150", "01:00,140")
    assert new(tmp_path, "log.csv", "-o", "new.toml", *LAMB).status == 0
    (channel,) = read_record(tmp_path / "new.toml").channels
    assert (channel.at[1] - channel.at[0]) == 3 * 3600
    told = new(tmp_path, "log.csv", "-o", "new.toml", "--force", *LAMB[:-2])
    assert told.status == 2
    assert "has no date" in told.err


def test_a_sample_answered_anew_gets_the_findings_of_its_record(tmp_path: Path) -> None:
    # The sample's own verdicts are derived by hand in tests/records.
    sample = SAMPLES / "03-beans-deep-pan"
    shutil.copytree(sample, tmp_path, dirs_exist_ok=True)
    record = tomllib.loads((sample / "record.toml").read_text(encoding="utf-8"))
    before, _ = record["probe"][0]["check"]
    told = new(
        tmp_path,
        *("beans.csv", "-o", "new.toml", "--lot", record["lot"], "--food", record["food"]["name"]),
        *("--form", "intact", "--weight", record["food"]["weight"], "--code", record["code"]),
        *("--zone", record["zone"], "--business", record["business"], "--piece", "beans.csv=pan"),
        *("--probe", "pen", "--ice", f"{before['at']} {before['read']}"),
    )
    assert told.status == 0, told.err
    assert verdicts(tmp_path / "new.toml") == verdicts(sample / "record.toml")


def test_a_third_temperature_of_a_row_is_refused(tmp_path: Path) -> None:
    # A row holds one temperature, in °F or in °C; a third column would go unread.
    put(tmp_path, "log.csv", "time,temp_f,temp_c,Third,piece", "2026-07-04 06:00,,,203,a")
    told = new(tmp_path, "log.csv", "-o", "new.toml", *LAMB, "--column", "Third=F")
    assert told.status == 2
    assert "3 columns hold the temperature of a row" in told.err
