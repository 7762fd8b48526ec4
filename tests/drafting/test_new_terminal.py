"""The command as a person meets it: one question at a time, and a second chance at each."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tempwitness.readers import read_record
from tempwitness.rulebook.files import code_ids
from tests.cli import records
from tests.cli.running import PROGRAM
from tests.drafting.running import LAMB, evaluated, new, verdicts

pytestmark = pytest.mark.usefixtures("terminal")


#: Number of the Food Code in the list that is shown.
NUMBER = str(code_ids().index("us/food-code/2022") + 1)


def answers(*lines: str) -> str:
    return "\n".join(lines) + "\n"


def written(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "new.toml").read_text(encoding="utf-8"))


LOT = (
    *("lamb shoulder", "lamb", "1", "9 lb", NUMBER, "", "", "2026-07-04"),
    *("06:00 cook", "14:00 rest", "17:00 serve", "19:00 finished", ""),
)


def test_all_questions_answered_give_the_record_written_by_hand(tmp_path: Path) -> None:
    readings = [f"{at} {f} F" for at, f in records.MET.items()]
    told = new(tmp_path, "-o", "new.toml", typed=answers(*LOT, *readings, "", "A", "05:30 32.0 F"))
    assert (told.status, told.out) == (0, "")
    by_hand = records.write_record(tmp_path, records.MET)
    # Derived in tests/cli/records.py: every limit is kept.
    assert evaluated(tmp_path / "new.toml")["verdict"] == "met"
    assert verdicts(tmp_path / "new.toml") == verdicts(by_hand)


def test_enter_leaves_open_what_a_record_can_do_without(tmp_path: Path) -> None:
    typed = answers("lamb shoulder", "", "", "", "us/food-code/2022", "", "", "", "", "")
    assert new(tmp_path, "-o", "new.toml", typed=typed).status == 0
    assert written(tmp_path) == {
        "schema": 1,
        "lot": "lamb shoulder",
        "code": "us/food-code/2022",
        "zone": "America/Chicago",
        "food": {"name": "lamb shoulder"},
    }


def test_the_code_has_no_default(tmp_path: Path) -> None:
    typed = answers("beans", "", "", "", NUMBER, "", "", "", "", "")
    told = new(tmp_path, "-o", "new.toml", typed=typed)
    assert "an answer is needed here" in told.err
    assert written(tmp_path)["code"] == "us/food-code/2022"


def test_a_slip_gets_a_second_chance(tmp_path: Path) -> None:
    typed = answers(
        *("venison leg", "7", "", "1,2", "whole", "intact", "9 pund", "9 lb", "999", NUMBER),
        *("Chicgo", "America/Denver", "7", "caterer", "4 July", "2026-07-04"),
        *("06:00 cok", "06:00 cook", "", "14:00 165", "14:00 165 F", "", "pen", "32", "05:30 32 F"),
    )
    told = new(tmp_path, "-o", "new.toml", typed=typed)
    assert told.status == 0, told.err
    record = written(tmp_path)
    assert record["food"] == {
        "name": "venison leg",
        "species": "wild_game",  # the seventh of the list
        "form": "intact",
        "weight": "9 lb",
    }
    assert (record["zone"], record["business"]) == ("America/Denver", "caterer")
    assert record["note"] == [{"at": "2026-07-04 06:00", "step": "cook"}]
    assert record["reading"] == [{"at": "2026-07-04 14:00", "temp": "165 F", "probe": "pen"}]
    assert record["probe"][0]["check"][0]["read"] == "32 F"


def test_what_an_option_answers_is_not_asked(tmp_path: Path) -> None:
    told = new(tmp_path, "-o", "new.toml", *LAMB, "--business", "caterer", typed=answers("", ""))
    assert told.status == 0
    assert "Food," not in told.err
    assert "Time zone" not in told.err


def test_the_form_of_a_bird_is_not_asked(tmp_path: Path) -> None:
    typed = answers("whole turkey", "", "13 lb", "3", "", "", "", "", "")
    told = new(tmp_path, "-o", "new.toml", typed=typed)
    assert told.status == 0
    assert "Before cooking it was" not in told.err
    assert "by its name this is turkey, whole bird" in told.err


def test_why_the_form_matters_is_said(tmp_path: Path) -> None:
    told = new(tmp_path, "-o", "new.toml", typed=answers(*LOT, ""))
    assert "decides the cooking limit" in told.err


def test_the_day_after_midnight_is_shown_at_once(tmp_path: Path) -> None:
    typed = answers(*LOT[:8], "18:00 cook", "02:00 rest", "", "")
    told = new(tmp_path, "-o", "new.toml", typed=typed)
    assert told.status == 0
    assert "understood: at 2026-07-05 02:00, step rest" in told.err
    assert [n["at"] for n in written(tmp_path)["note"]] == ["2026-07-04 18:00", "2026-07-05 02:00"]


def test_a_file_is_asked_about_column_by_column(tmp_path: Path) -> None:
    rows = "Stamp,Probe 1,Id\n07/04/2026 06:00 AM,41,9\n07/04/2026 02:00 PM,203,9\n"
    (tmp_path / "log.csv").write_text(rows, encoding="utf-8")
    typed = answers(
        *LOT[:8],
        *("time", "K", "F:leg", "ignore", "%d.%m.%Y", "%m/%d/%Y %I:%M %p"),
        *("06:00 cook", "", "", "lead", ""),
    )
    told = new(tmp_path, "log.csv", "-o", "new.toml", typed=typed)
    assert told.status == 0, told.err
    assert "may be the day 2026-04-07 or 2026-07-04" in told.err
    (channel,) = read_record(tmp_path / "new.toml").channels
    assert (channel.piece, channel.probe, list(channel.value)) == ("leg", ("lead",), [41.0, 203.0])
    assert "probe.check of lead" in told.err


def test_beside_a_file_that_names_its_piece_the_other_must_too(tmp_path: Path) -> None:
    for name, column in (("a.csv", "left_f"), ("b.csv", "temp_f")):
        rows = f"time,{column}\n2026-07-04 06:00,40\n"
        (tmp_path / name).write_text(rows, encoding="utf-8")
    typed = answers(*LOT[:8], "", "right", "", "", "")
    told = new(tmp_path, "a.csv", "b.csv", "-o", "new.toml", typed=typed)
    assert told.status == 0, told.err
    assert "an answer is needed here" in told.err
    assert [p["id"] for p in written(tmp_path)["piece"]] == ["left", "right"]


def test_columns_that_do_not_fit_together_are_asked_again(tmp_path: Path) -> None:
    (tmp_path / "log.csv").write_text("time,T,Who\n2026-07-04 06:00,40,left\n", encoding="utf-8")
    typed = answers(*LOT[:8], "F:right", "piece", "F", "piece", "", "", "")
    told = new(tmp_path, "log.csv", "-o", "new.toml", typed=typed)
    assert told.status == 0, told.err
    assert "the rows of this file say themselves whose they are" in told.err
    assert [p.id for p in read_record(tmp_path / "new.toml").lot.pieces] == ["left"]


def test_the_day_of_an_ice_check_is_shown_at_once(tmp_path: Path) -> None:
    typed = answers(*LOT, "14:00 203 F", "", "A", "05:30 32 F")
    told = new(tmp_path, "-o", "new.toml", typed=typed)
    assert "of 2026-07-04 unless dated" in told.err
    assert "ice check of A: 32 F at 2026-07-04 05:30" in told.err


def test_probes_are_named_for_all_readings_or_for_none(tmp_path: Path) -> None:
    rows = "time,left_f,right_f\n2026-07-04 06:00,40,41\n"
    (tmp_path / "log.csv").write_text(rows, encoding="utf-8")
    none = new(tmp_path, "log.csv", "-o", "new.toml", typed=answers(*LOT, "", ""))
    assert none.status == 0
    assert "probe" not in written(tmp_path)
    typed = answers(*LOT, "", "A", "", "B", "", "05:30 32 F")
    both = new(tmp_path, "log.csv", "-o", "new.toml", "--force", typed=typed)
    assert both.status == 0
    assert "an answer is needed here" in both.err
    log = read_record(tmp_path / "new.toml")
    assert {(c.piece, c.probe[0]) for c in log.channels} == {("left", "A"), ("right", "B")}
    assert {p.id: len(p.checks) for p in log.probes} == {"A": 0, "B": 1}


def test_two_files_are_asked_for_their_pieces(tmp_path: Path) -> None:
    for name, value in (("a.csv", 40), ("b.csv", 41)):
        (tmp_path / name).write_text(f"time,temp_f\n2026-07-04 06:00,{value}\n", encoding="utf-8")
    typed = answers(*LOT[:8], "left", "", "right", "", "", "")
    told = new(tmp_path, "a.csv", "b.csv", "-o", "new.toml", typed=typed)
    assert told.status == 0, told.err
    assert [f["piece"] for f in written(tmp_path)["file"]] == ["left", "right"]


def test_an_end_of_input_writes_nothing(tmp_path: Path) -> None:
    told = new(tmp_path, "-o", "new.toml", typed=answers("lamb shoulder"))
    assert told.status == 1  # click's own; the program's boundary turns it into 130
    assert not (tmp_path / "new.toml").exists()


def test_a_real_terminal_is_asked_and_can_break_off(tmp_path: Path) -> None:
    ours, theirs = pty.openpty()
    asked = subprocess.Popen(  # noqa: S603 - our own interpreter
        [*PROGRAM, "new", "-o", "new.toml"],
        cwd=tmp_path,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
    )
    seen = b""
    while b"Food, such as lamb shoulder" not in seen:
        assert select.select([ours], [], [], 60)[0], seen
        seen += os.read(ours, 1024)
    assert _broken_off(asked) == 130
    os.close(ours)
    os.close(theirs)
    assert list(tmp_path.iterdir()) == []


def _broken_off(asked: subprocess.Popen[bytes]) -> int:
    """Send what Ctrl-C sends until it is heard: just before the wait for a line it may not be."""
    for _ in range(60):
        asked.send_signal(signal.SIGINT)
        try:
            return asked.wait(timeout=0.5)
        except subprocess.TimeoutExpired:
            continue
    asked.kill()
    raise AssertionError("the program could not be interrupted")
