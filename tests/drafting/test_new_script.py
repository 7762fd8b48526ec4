"""The command without a terminal: options answer, nothing is asked, refusals name the option."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from tests.cli import records
from tests.drafting.running import LAMB, evaluated, new, verdicts

STEPS = (
    *("--step", "06:00 cook", "--step", "14:00 rest", "--step", "17:00 serve"),
    *("--step", "19:00 finished"),
)
PROBE = ("--probe", "A", "--ice", "05:30 32.0 F")


def typed(readings: dict[str, int]) -> list[str]:
    return [part for at, f in readings.items() for part in ("--reading", f"{at} {f} F")]


@pytest.mark.parametrize(
    ("readings", "verdict"),
    # Which answer each of these must get is derived in tests/cli/records.py, from FDA Food Code
    # 2022 3-401.11(B) and 3-501.16(A).
    [(records.MET, "met"), (records.NOT_MET, "not_met"), (records.NOT_SHOWN, "not_shown")],
    ids=["met", "not met", "not shown"],
)
def test_the_answer_is_that_of_the_record_written_by_hand(
    tmp_path: Path, readings: dict[str, int], verdict: str
) -> None:
    told = new(tmp_path, "-o", "new.toml", *LAMB, *STEPS, *PROBE, *typed(readings))
    assert (told.status, told.out) == (0, "")
    by_hand = records.write_record(tmp_path, readings)
    assert evaluated(tmp_path / "new.toml")["verdict"] == verdict
    assert verdicts(tmp_path / "new.toml") == verdicts(by_hand)


def test_the_next_command_and_what_is_open_are_said_beside_the_output(tmp_path: Path) -> None:
    told = new(tmp_path, "-o", "new.toml", *LAMB)
    assert told.out == ""
    assert "Next: tempwitness check new.toml" in told.err
    assert "Left open" in told.err
    for name in ("business", "facts", "probe", "reading", "note"):
        assert name in told.err.partition("Left open")[2]


def test_nothing_that_was_not_answered_is_in_the_record(tmp_path: Path) -> None:
    told = new(
        tmp_path,
        *("-o", "new.toml", "--food", "pit beans", "--lot", "b"),
        *("--code", "us/food-code/2022", "--zone", "America/Chicago"),
    )
    assert told.status == 0
    assert tomllib.loads((tmp_path / "new.toml").read_text(encoding="utf-8")) == {
        "schema": 1,
        "lot": "b",
        "code": "us/food-code/2022",
        "zone": "America/Chicago",
        "food": {"name": "pit beans"},
    }


def test_a_file_is_never_written_over_unless_told(tmp_path: Path) -> None:
    target = tmp_path / "kept.toml"
    target.write_text("precious", encoding="utf-8")
    told = new(tmp_path, "-o", str(target), *LAMB)
    assert told.status == 2
    assert "exists already" in told.err
    assert target.read_text(encoding="utf-8") == "precious"
    assert new(tmp_path, "-o", str(target), "--force", *LAMB).status == 0
    assert 'lot = "lamb"' in target.read_text(encoding="utf-8")


def test_missing_essentials_are_named_together(tmp_path: Path) -> None:
    told = new(tmp_path, "-o", "new.toml", "--food", "lamb shoulder")
    assert told.status == 2
    assert "--lot, --code, --zone" in told.err
    assert not (tmp_path / "new.toml").exists()


@pytest.mark.parametrize(
    ("wrong", "what"),
    [
        (("--food", "venison leg"), "--species"),
        (("--food", "mystery"), "--species"),
        (("--species", "dragon"), "--species"),
        (("--cut", "slab"), "--cut"),
        (("--form", "intact", "--form", "ground"), "intact and something else"),
        (("--form", "minced"), "--form"),
        (("--weight", "9"), "is not a weight"),
        (("--code", "us/food-code/2020"), "us/food-code/2022"),
        (("--code", "3"), "is none of"),
        (("--zone", "Chicago"), "is not a time zone"),
        (("--business", "bank"), "--business"),
        (("--date", "7/4/2026"), "is not a day"),
        (("--date", "20260704"), "is not a day"),
        (("--date", "2026-02-30"), "is not a day"),
        (("--fact", "cured"), "KEY=ANSWER"),
        (("--fact", "curde=no"), "did you mean 'cured'"),
        (("--fact", "cured=perhaps"), "known are no"),
        (("--step", "06:00 cok"), "did you mean 'cook'"),
        (("--reading", "06:00 165"), "with its unit"),
        (("--column", "x=F"), "name a file"),
        (("--piece", "a.csv=left"), "name a file"),
        (("--probe", "pen"), "no reading is without its probe"),
        (("--ice", "05:30 32 F"), "--probe"),
        (("-o", "record.txt"), "ends in .toml"),
        (("-o", "nowhere/record.toml"), "does not exist"),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value),
)
def test_an_option_that_is_wrong_is_named_and_nothing_is_written(
    tmp_path: Path, wrong: tuple[str, ...], what: str
) -> None:
    base = list(LAMB)
    if wrong[0] == "--form":
        del base[4:6]
    told = new(tmp_path, "-o", "new.toml", *base, *wrong)
    assert told.status == 2
    assert what in told.err
    assert told.out == ""
    assert not list(tmp_path.glob("*.toml"))


def test_a_time_without_a_day_names_the_remedy(tmp_path: Path) -> None:
    told = new(tmp_path, "-o", "new.toml", *LAMB[:-2], "--step", "06:00 cook")
    assert told.status == 2
    assert "has no date" in told.err


@pytest.mark.parametrize("option", ["--ice=Q=05:30 32 F", "--ice=05:30 32 F"])
def test_a_check_must_name_its_probe(tmp_path: Path, option: str) -> None:
    two = ("--reading", "06:00 40 F probe=A", "--reading", "14:00 203 F probe=B")
    told = new(tmp_path, "-o", "new.toml", *LAMB, *two, option)
    assert told.status == 2
    assert "write PROBE=LINE with one of A, B" in told.err


def test_a_good_check_of_one_probe_never_speaks_for_readings_of_another(tmp_path: Path) -> None:
    some = ("--reading", "06:00 40 F probe=A", "--reading", "14:00 203 F")
    told = new(tmp_path, "-o", "new.toml", *LAMB, *some, "--ice", "05:30 32 F")
    assert told.status == 2
    assert "--probe 'by hand=NAME'" in told.err
    told = new(
        tmp_path, "-o", "new.toml", *LAMB, *some, "--probe", "by hand=B", "--ice", "A=05:30 32 F"
    )
    assert told.status == 0
    record = tomllib.loads((tmp_path / "new.toml").read_text(encoding="utf-8"))
    assert [r["probe"] for r in record["reading"]] == ["A", "B"]
    assert [p["id"] for p in record["probe"] if p.get("check")] == ["A"]


def test_answers_that_do_not_fit_together_are_kept_for_mending(tmp_path: Path) -> None:
    # 02:30 on 8 March 2026 did not exist in Chicago: US clocks went from 02:00 to 03:00
    # (15 U.S.C. 260a: second Sunday of March).
    lost = ("--date", "2026-03-08", "--step", "02:30 cook")
    told = new(tmp_path, "-o", "new.toml", *LAMB[:-2], *lost)
    assert told.status == 2
    assert "cannot be read as a record yet" in told.err
    assert "did not exist in America/Chicago" in told.err
    assert 'step = "cook"' in (tmp_path / "new.toml").read_text(encoding="utf-8")


def test_hostile_names_stay_names(tmp_path: Path) -> None:
    name = 'lamb" \n[food]\nname = "beans \\'
    told = new(tmp_path, "-o", "new.toml", *LAMB, "--lot", name, "--event", '"""')
    assert told.status == 0
    record = tomllib.loads((tmp_path / "new.toml").read_text(encoding="utf-8"))
    assert (record["lot"], record["event"]) == (name.strip(), '"""')


def test_a_reading_that_may_be_of_the_day_after_is_asked_for(tmp_path: Path) -> None:
    late = ("--step", "18:00 cook", "--step", "02:00 rest")
    told = new(tmp_path, "-o", "new.toml", *LAMB, *late, "--reading", "01:30 150 F")
    assert told.status == 2
    assert "may be of the day after" in told.err
    dated = ("--reading", "2026-07-05 01:30 150 F")
    assert new(tmp_path, "-o", "new.toml", *LAMB, *late, *dated).status == 0
