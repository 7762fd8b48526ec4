"""The command that shows what was understood."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from tempwitness.cli.read import read
from tempwitness.errors import InputError
from tests.readers.build import HEAD

if TYPE_CHECKING:
    from pathlib import Path

OPTIONS = [
    "--food", "lamb shoulder", "--form", "intact", "--weight", "9 lb", "--code",
    "us/food-code/2022", "--zone", "America/Chicago",
]  # fmt: skip
TABLE = (
    "time,temp_f,step\n2026-07-04 18:10,138,rest\n2026-07-04 18:11,185,\n2026-07-04 18:12,137.5,\n"
)


def run(*args: str) -> str:
    result = CliRunner().invoke(read, args, catch_exceptions=False)
    assert result.exit_code == 0
    return result.stdout


def test_every_row_with_its_doubt(tmp_path: Path) -> None:
    path = tmp_path / "pit.csv"
    path.write_text(TABLE, encoding="utf-8")
    text = run(str(path), *OPTIONS)
    assert "Lot pit: lamb shoulder (lamb, roast), intact, 9 lb" in text
    assert "Readings (3)" in text
    assert "2026-07-04 18:10:00-05:00  138 °F" in text
    line = next(line for line in text.splitlines() if "185 °F" in line)
    assert "unknown" in line
    assert "suspect" in line
    assert "pit.csv:3" in line
    assert "stands apart from both neighbours" in text
    assert "2026-07-04 18:10:00-05:00  rest  [pit.csv, line 2]" in text


def test_a_limit(tmp_path: Path) -> None:
    path = tmp_path / "pit.csv"
    path.write_text(TABLE, encoding="utf-8")
    text = run(str(path), *OPTIONS, "--limit", "1")
    assert "Readings (3, the first 1 shown)" in text
    assert "185 °F" not in text.split("Readings")[1].splitlines()[2]


def test_json(tmp_path: Path) -> None:
    path = tmp_path / "pit.csv"
    path.write_text(TABLE, encoding="utf-8")
    document = json.loads(run(str(path), *OPTIONS, "--json"))
    assert document["schema"] == "tempwitness/readings/1"
    assert document["total"] == 3
    assert [r["flag"] for r in document["readings"]] == ["pass", "suspect", "pass"]
    assert document["readings"][0]["at"] == "2026-07-04 18:10:00-05:00"
    assert document["notes"][0]["step"] == "rest"


def test_corrections_stand_beside_the_readings(tmp_path: Path) -> None:
    path = tmp_path / "lamb.toml"
    body = (
        '[[probe]]\nid = "blue"\n[[probe.check]]\nat = "2026-07-04 20:00"\nkind = "ice"\n'
        'read = "35 F"\n[[reading]]\nat = "2026-07-04 18:10"\ntemp = "138 F"\n'
    )
    path.write_text(HEAD.format(more="") + body, encoding="utf-8")
    text = run(str(path))
    # 32 - 35 = -3 °F, of which nobody knows since when.
    assert "between -3 and +0 °F" in text
    assert "135 to 138 °F" in text
    assert "No reading is doubted." in text


def test_only_the_zone_is_asked_for_where_times_need_it(tmp_path: Path) -> None:
    path = tmp_path / "pit.csv"
    path.write_text(TABLE, encoding="utf-8")
    with pytest.raises(InputError, match="the time zone of the clock is not said") as caught:
        CliRunner().invoke(read, [str(path)], catch_exceptions=False)
    assert "--zone" in caught.value.hint
    assert caught.value.location is not None
    assert caught.value.location.line == 2
    assert "2026-07-04 18:10:00-05:00  138 °F" in run(str(path), "--zone", "America/Chicago")
    # 18:10 at five hours behind UTC is 23:10 UTC.
    offset = "time,temp_f\n2026-07-04 18:10-05:00,138\n"
    path.write_text(offset, encoding="utf-8")
    text = run(str(path))
    assert "2026-07-04 23:10:00+00:00  138 °F" in text
    assert "every time bears its offset from UTC" in text


def test_options_reach_the_reader(tmp_path: Path) -> None:
    path = tmp_path / "pit.csv"
    path.write_text("when,temp_f,time\nx,138,18:10\n", encoding="utf-8")
    text = run(
        str(path), *OPTIONS, "--ignore-column", "when", "--date", "2026-07-04", "--lot", "L1"
    )
    assert "Lot L1" in text
    assert "was taken as 2026-07-04" in text
