"""Exit statuses as the list of commands documents them."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from typing import TYPE_CHECKING

import pytest

from tempwitness.cli.exit_codes import ExitCode, worst_code
from tests.cli.records import MET, write_record
from tests.cli.running import PROGRAM, alone

if TYPE_CHECKING:
    from pathlib import Path

    from tests.cli.conftest import Run


def test_met_is_0(run: Run, met: Path) -> None:
    assert run("check", met).status == 0


def test_not_met_is_1(run: Run, not_met: Path) -> None:
    ran = run("check", not_met)
    assert ran.status == 1
    assert "NOT MET" in ran.out


def test_not_shown_is_3(run: Run, not_shown: Path) -> None:
    ran = run("check", not_shown)
    assert ran.status == 3
    assert "NOT SHOWN" in ran.out


def test_a_stage_that_still_runs_is_3(run: Run, tmp_path: Path) -> None:
    record = write_record(tmp_path, MET, lot="running", finished=False)
    ran = run("check", "--json", "--at", "2026-07-04 19:30", record)
    assert ran.status == 3
    assert '"verdict": "open"' in ran.out


def test_the_same_record_asked_a_month_later_is_not_shown(run: Run, tmp_path: Path) -> None:
    record = write_record(tmp_path, MET, lot="running", finished=False)
    ran = run("check", "--json", "--at", "2026-08-04 19:30", record)
    assert ran.status == 3
    assert '"verdict": "open"' not in ran.out


def test_the_worst_of_several_records_counts(
    run: Run, met: Path, not_met: Path, not_shown: Path
) -> None:
    assert run("check", met, not_shown).status == 3
    assert run("check", not_shown, not_met, met).status == 1


def test_exit_zero_leaves_the_answer_to_the_text(run: Run, not_met: Path) -> None:
    ran = run("check", "--exit-zero", not_met)
    assert ran.status == 0
    assert "NOT MET" in ran.out


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["check"],
        ["chexk"],
        ["check", "--jason"],
        ["check", "no.toml"],
        ["rules", "show", "x"],
    ],
    ids=" ".join,
)
def test_wrong_usage_is_2(run: Run, arguments: list[str]) -> None:
    ran = run(*arguments)
    assert ran.status == 2
    assert ran.out == ""
    assert ran.err


def test_two_forms_of_output_at_once_are_2(run: Run, met: Path) -> None:
    ran = run("check", "--json", "--csv", met)
    assert (ran.status, ran.out) == (2, "")


def test_a_moment_that_is_none_is_2(run: Run, met: Path) -> None:
    ran = run("check", "--at", "yesterday", met)
    assert (ran.status, ran.out) == (2, "")
    assert "--at '2026-07-04 22:15'" in ran.err


def test_a_record_that_cannot_be_understood_is_2_with_its_place(run: Run, met: Path) -> None:
    met.write_text(met.read_text(encoding="utf-8").replace("151 F", "151"), encoding="utf-8")
    ran = run("check", met)
    assert ran.status == 2
    assert ran.out == ""
    assert "met.toml" in ran.err
    assert "temp" in ran.err
    assert "Traceback" not in ran.err


def test_one_bad_record_among_good_ones_is_2(run: Run, met: Path, not_met: Path) -> None:
    not_met.write_text("schema = 1\n", encoding="utf-8")
    assert run("check", met, not_met).status == 2


def test_a_code_that_nobody_ships_is_2(run: Run, met: Path) -> None:
    text = met.read_text(encoding="utf-8").replace("us/food-code/2022", "us/food-code/2202")
    met.write_text(text, encoding="utf-8")
    ran = run("check", met)
    assert ran.status == 2
    assert "us/food-code/2022" in ran.err  # the nearest one is offered


def test_a_fault_of_our_own_is_70_and_says_that_nothing_was_judged(
    run: Run, met: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError("deliberate")

    monkeypatch.setattr("tempwitness.pipeline.check", fail)
    ran = run("check", met)
    assert ran.status == 70
    assert ran.out == ""
    assert "ZeroDivisionError: deliberate" in ran.err
    assert "Nothing was judged" in ran.err
    assert "Traceback" not in ran.err


def test_a_fault_of_our_own_can_be_seen_whole(
    met: Path, monkeypatch: pytest.MonkeyPatch, run: Run
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError("deliberate")

    monkeypatch.setattr("tempwitness.pipeline.check", fail)
    monkeypatch.setenv("TEMPWITNESS_DEBUG", "1")
    with pytest.raises(ZeroDivisionError, match="deliberate"):
        run("check", met)


def test_an_interrupt_is_130(tmp_path: Path) -> None:
    # The program waits for this pipe's content, so the signal surely meets it at work.
    record = tmp_path / "slow.toml"
    os.mkfifo(record)
    # A shell starts what runs in its background deaf to the signal, and children inherit that.
    heard = signal.signal(signal.SIGINT, signal.default_int_handler)
    waiting = subprocess.Popen(  # noqa: S603 - our own interpreter
        [*PROGRAM, "check", str(record)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    signal.signal(signal.SIGINT, heard)
    writer = _opened(record, waiting)
    waiting.send_signal(signal.SIGINT)
    out, err = waiting.communicate(timeout=30)
    os.close(writer)
    assert (waiting.returncode, out, err.strip()) == (130, "", "tempwitness: interrupted")


def _opened(pipe: Path, waiting: subprocess.Popen[str]) -> int:
    """Open a pipe as soon as the other side reads it."""
    for _ in range(300):
        try:
            return os.open(pipe, os.O_WRONLY | os.O_NONBLOCK)
        except OSError:
            assert waiting.poll() is None, waiting.communicate()
            time.sleep(0.1)
    raise AssertionError("the program never opened its record")


@pytest.mark.parametrize("command", [["check"], ["check", "--json"]], ids=" ".join)
def test_a_reader_that_went_away_is_no_verdict_and_no_noise(met: Path, command: list[str]) -> None:
    gone, pipe = os.pipe()
    os.close(gone)
    done = subprocess.run(  # noqa: S603 - our own interpreter
        [*PROGRAM, *command, str(met)], stdout=pipe, stderr=subprocess.PIPE, text=True, check=False
    )
    os.close(pipe)
    assert (done.returncode, done.stderr) == (2, "")


def test_a_process_of_its_own_exits_alike(met: Path, not_met: Path, not_shown: Path) -> None:
    assert [alone("check", r).status for r in (met, not_met, not_shown)] == [0, 1, 3]


@pytest.mark.parametrize(
    ("verdicts", "code"),
    [
        (["met"], ExitCode.MET),
        (["met", "needs_limit"], ExitCode.NOT_SHOWN),
        (["open"], ExitCode.NOT_SHOWN),
        (["not_shown", "not_met"], ExitCode.NOT_MET),
        (["not_applicable"], ExitCode.NOT_SHOWN),
        (["a verdict of tomorrow"], ExitCode.NOT_SHOWN),
    ],
)
def test_only_met_alone_is_0(verdicts: list[str], code: ExitCode) -> None:
    assert worst_code(verdicts) is code
