"""What goes to stdout, what to stderr, and in which form."""

from __future__ import annotations

import csv
import io
import json
import os
import pty
import subprocess
from datetime import UTC, datetime
from typing import TYPE_CHECKING

import pytest

from tests.cli.records import MET, write_record
from tests.cli.running import PROGRAM, alone

if TYPE_CHECKING:
    from pathlib import Path

    from tests.cli.conftest import Run


def test_json_is_the_document_and_nothing_else(run: Run, met: Path) -> None:
    ran = run("check", "--json", met)
    assert ran.err == ""
    assert ran.out.count("\n") == 1
    document = json.loads(ran.out)
    assert document["schema"] == "tempwitness/evaluation/1"
    assert document["verdict"] == "met"
    assert {"lot", "code", "findings"} <= set(document)


def test_each_finding_names_what_it_rests_on(run: Run, not_met: Path) -> None:
    document = json.loads(run("check", "--json", not_met).out)
    assert document["findings"]
    expected = {
        *("requirement", "stage", "piece", "verdict", "weight", "measured", "limit"),
        *("evidence", "action", "citation"),
    }
    assert all(expected <= set(found) for found in document["findings"])
    (broken,) = [
        f for f in document["findings"] if (f["verdict"], f["weight"]) == ("not_met", "law")
    ]
    assert broken["stage"] == "serve"
    assert "3-501.16(A)" in broken["citation"]
    assert "120 °F" in broken["measured"]


def test_several_records_give_one_line_each_in_the_order_given(
    run: Run, met: Path, not_met: Path, not_shown: Path
) -> None:
    ran = run("check", "--json", not_shown, met, not_met)
    lots = [json.loads(line)["lot"]["id"] for line in ran.out.splitlines()]
    assert lots == ["not-shown", "met", "not-met"]
    assert ran.err == ""


def test_the_same_record_gives_the_same_bytes(met: Path, not_shown: Path) -> None:
    first, second = (alone("check", "--json", met, not_shown) for _ in range(2))
    assert first.out
    assert first.out == second.out


def test_the_moment_of_asking_is_written_only_where_the_answer_hangs_on_it(
    run: Run, met: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    running = write_record(tmp_path, MET, lot="running", finished=False)
    closed = json.loads(run("check", "--json", met).out)
    named = json.loads(run("check", "--json", "--at", "2026-07-04 19:30", running).out)
    monkeypatch.setattr("tempwitness.clock.now", lambda: datetime(2026, 7, 5, 0, 45, tzinfo=UTC))
    still_open = json.loads(run("check", "--json", running).out)
    assert closed["asked_at"] is None
    assert named["asked_at"] == "2026-07-04T19:30:00-05:00"
    assert (still_open["verdict"], still_open["asked_at"]) == ("open", "2026-07-04T19:45:00-05:00")


def test_csv_has_one_head_and_a_row_for_each_finding(run: Run, met: Path, not_met: Path) -> None:
    expected = sum(
        len(json.loads(line)["findings"])
        for line in run("check", "--json", met, not_met).out.splitlines()
    )
    rows = list(csv.DictReader(io.StringIO(run("check", "--csv", met, not_met).out)))
    assert len(rows) == expected
    assert {row["lot"] for row in rows} == {"met", "not-met"}


def test_a_fault_leaves_stdout_empty_of_that_record(run: Run, met: Path, not_met: Path) -> None:
    not_met.write_text("schema = 1\n", encoding="utf-8")
    ran = run("check", "--json", met, not_met)
    assert [json.loads(line)["lot"]["id"] for line in ran.out.splitlines()] in (["met"], [])
    assert "not-met.toml" in ran.err


def test_text_fits_the_width_that_was_asked_for(run: Run, not_met: Path) -> None:
    out = run("check", "--width", "60", not_met).out
    hashes = 64
    long = [line for line in out.splitlines() if len(line) > 60 and len(line.strip()) != hashes]
    assert long == []


@pytest.mark.parametrize("encoding", ["ascii", "cp437", "cp1252", "latin-1", "utf-8"])
@pytest.mark.parametrize("option", ["--full", "--json"])
def test_a_pipe_gets_utf8_whatever_the_machine_is_set_to(
    not_met: Path, encoding: str, option: str
) -> None:
    plain = alone("check", option, not_met)
    ran = alone("check", option, not_met, PYTHONIOENCODING=encoding, LC_ALL="C")
    assert "°F" in ran.out
    assert (ran.status, ran.out, ran.err) == (1, plain.out, "")


def on_terminal(record: Path, **environment: str) -> str:
    """Return what a terminal would be sent."""
    ours, theirs = pty.openpty()
    env = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "TERM")}
    process = subprocess.Popen(  # noqa: S603 - our own interpreter
        [*PROGRAM, "check", str(record)],
        stdout=theirs,
        stderr=subprocess.DEVNULL,
        env={**env, "TERM": "xterm", **environment},
    )
    os.close(theirs)
    parts = []
    while True:
        try:
            part = os.read(ours, 65536)
        except OSError:  # how Linux says that the other side has closed
            break
        if not part:
            break
        parts.append(part)
    os.close(ours)
    process.wait(timeout=30)
    return b"".join(parts).decode()


def test_colour_is_for_terminals_that_want_it(not_met: Path) -> None:
    escape = "\x1b["
    assert escape in on_terminal(not_met)
    assert escape not in on_terminal(not_met, NO_COLOR="1")
    assert escape not in on_terminal(not_met, TERM="dumb")
    assert escape not in alone("check", not_met).out


def test_no_meaning_hangs_on_colour(not_met: Path) -> None:
    assert "[NOT MET]" in on_terminal(not_met, NO_COLOR="1")
