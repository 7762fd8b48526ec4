"""Looking again at a growing record: what is told, what is run, when it ends."""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from freezegun import freeze_time

from tempwitness.cli.status_watch import Telling, follow
from tempwitness.errors import InputError
from tempwitness.model.status import Status
from tempwitness.outlook import Kind, changes
from tempwitness.pipeline import standing
from tests.cli.running import Ran, alone, in_process
from tests.status.test_screen import CURRY, curry

_ROW = "2026-09-19 {},{},{},,\n"


@pytest.fixture
def growing(tmp_path: Path) -> Path:
    """A copy of the curry's record whose readings end at 20:20."""
    shutil.copytree(CURRY.parent, tmp_path, dirs_exist_ok=True)
    table = tmp_path / "curry.csv"
    lines = table.read_text(encoding="utf-8").splitlines(keepends=True)
    table.write_text("".join(lines[:-1]), encoding="utf-8")
    return tmp_path / "record.toml"


def append(record: Path, text: str) -> None:
    with record.with_name("curry.csv").open("a", encoding="utf-8") as table:
        table.write(text)


def test_only_what_changed_is_told_the_most_urgent_first() -> None:
    # At 20:00 it went into the ice bath: the hold's deadline is gone, both legs have theirs.
    kinds = [c.kind for c in changes(curry("19:50"), curry("20:10"))]
    assert kinds == [Kind.DEADLINE, Kind.DEADLINE, Kind.KEPT, Kind.STAGE, Kind.READING]
    # The reading of 20:20 is below 135 °F: the clock runs from 20:00, as was assumed before.
    assert [c.kind for c in changes(curry("20:10"), curry("20:30"))] == [Kind.READING]
    assert [c.kind for c in changes(curry("20:30"), curry("21:30"))] == [Kind.READING]
    assert changes(curry("21:25"), curry("21:26")) == ()


def test_a_deadline_is_named_again_when_little_time_is_left() -> None:
    # 22:00 is an hour away at 21:00.
    (warning,) = changes(curry("20:59"), curry("21:00"), [3600.0])
    assert (warning.kind, warning.left_s, warning.piece) == (Kind.WARNING, 3600.0, "pot")
    assert changes(curry("21:01"), curry("21:02"), [3600.0]) == ()


def test_a_deadline_that_passes_unread_ran_out() -> None:
    kinds = [c.kind for c in changes(curry("22:00"), curry("22:01"))]
    assert kinds == [Kind.ANSWER, Kind.RAN_OUT]


def test_a_limit_that_was_reached_is_no_longer_due(growing: Path) -> None:
    def at(clock: str) -> Status:
        moment = datetime.fromisoformat(f"2026-09-19 {clock}-06:00")
        return standing(growing, at=moment).status

    before = at("21:40")
    append(growing, _ROW.format("21:50", 69, ""))
    found = changes(before, at("21:51"))
    assert {c.kind for c in found} == {Kind.KEPT, Kind.READING}


def looks(record: Path, minutes: Iterator[int]) -> Status:
    start = datetime(2026, 9, 20, 3, 0, tzinfo=UTC)  # 21:00 in Denver
    with freeze_time(start + timedelta(minutes=next(minutes))):
        return standing(record).status


def test_the_watch_ends_when_the_lot_is_over(
    growing: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    minutes = iter(range(0, 600, 10))
    seen: list[float] = []

    def sleep(seconds: float) -> None:
        seen.append(seconds)
        if len(seen) == 2:
            append(growing, _ROW.format("21:18", 69, ""))
        if len(seen) == 4:
            note = '\n[[note]]\nat = "2026-09-19 21:35"\nevent = "discarded"\n'
            with growing.open("a", encoding="utf-8") as record:
                record.write(note)

    calendar = tmp_path / "curry.ics"
    telling = Telling(as_json=False, command=[], calendar=calendar)
    first = looks(growing, minutes)
    last = follow(
        first, lambda: looks(growing, minutes), telling, every=5, warn=[600.0], sleep=sleep
    )
    assert last.over
    assert set(seen) == {5}
    said = capsys.readouterr().out
    assert "69 °F core at Sat 19 Sep 21:18" in said
    assert "no longer due: Cool to 70 °F within 2 h" in said
    assert "cool over at Sat 19 Sep 21:35" in said
    assert calendar.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")


def test_a_record_that_is_just_being_written_is_looked_at_again(
    capsys: pytest.CaptureFixture[str],
) -> None:
    answers: Iterator[InputError | Status] = iter(
        [InputError("half a line"), InputError("half a line"), curry("22:01")]
    )

    def look() -> Status:
        answer = next(answers)
        if isinstance(answer, InputError):
            raise answer
        return answer

    telling = Telling(as_json=True, command=[], calendar=None)
    with pytest.raises(StopIteration):
        follow(curry("22:00"), look, telling, every=1, warn=[], sleep=lambda _: None)
    said = capsys.readouterr()
    assert said.err.count("half a line") == 1
    told = [json.loads(line) for line in said.out.splitlines()]
    assert [t["kind"] for t in told] == ["answer", "ran_out"]
    assert {t["schema"] for t in told} == {"tempwitness/change/1"}


def test_no_shell_sees_the_command(tmp_path: Path) -> None:
    # What would be a second command and a redirection to a shell arrives as plain words.
    script = tmp_path / "ring.py"
    script.write_text(
        "import os, pathlib, sys\n"
        "pathlib.Path(__file__).with_suffix('.txt').write_text(\n"
        "    '|'.join(sys.argv[1:]) + '\\n' + os.environ['TEMPWITNESS_VERDICT'] + '\\n'\n"
        "    + sys.stdin.read(), encoding='utf-8')\n",
        encoding="utf-8",
    )
    command = [sys.executable, str(script), "; touch broken", "$(id)", "> x"]
    telling = Telling(as_json=False, command=command, calendar=None)
    telling.tell(curry("22:01"), changes(curry("22:00"), curry("22:01")))
    words, verdict, *lines = script.with_suffix(".txt").read_text(encoding="utf-8").splitlines()
    assert words == "; touch broken|$(id)|> x"
    assert verdict == "not_shown"
    assert any("RAN OUT" in line for line in lines)


def test_a_plain_reading_runs_nothing(tmp_path: Path) -> None:
    telling = Telling(
        as_json=False, command=[sys.executable, "-c", "raise SystemExit(3)"], calendar=None
    )
    found = [c for c in changes(curry("20:10"), curry("20:30")) if c.kind is Kind.READING]
    telling.tell(curry("20:30"), found)


def test_a_command_that_fails_does_not_end_the_watch(capsys: pytest.CaptureFixture[str]) -> None:
    fails = [sys.executable, "-c", "raise SystemExit(3)"]
    telling = Telling(as_json=False, command=fails, calendar=None)
    telling.tell(curry("22:01"), changes(curry("22:00"), curry("22:01")))
    assert "ended with status 3" in capsys.readouterr().err


def run(capsys: pytest.CaptureFixture[str], *words: str | Path) -> Ran:
    return in_process(capsys)("status", CURRY, *words)


def test_the_exit_status_is_that_of_check(capsys: pytest.CaptureFixture[str]) -> None:
    at = ("--at", "2026-09-19 21:30")
    assert run(capsys, *at).status == 3
    assert run(capsys, *at, "--exit-zero").status == 0
    assert json.loads(run(capsys, *at, "--json").out)["verdict"] == "open"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--watch", "5", "--at", "2026-09-19 21:30"), "--watch looks at the present"),
        (("--run", "true"), "--run needs --watch"),
        (("--watch", "5", "--run", "'open"), "quotation marks"),
        (("--watch", "5", "--run", "no-such-program-here"), "no program that can be run"),
        (("--at", "tomorrow"), "is not a moment"),
    ],
)
def test_what_cannot_be_done_is_said(
    capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str
) -> None:
    ran = run(capsys, *words)
    assert ran.status == 2
    assert said in ran.err


def test_no_other_file_is_overwritten_by_a_calendar(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    other = tmp_path / "record.toml"
    other.write_text("schema = 1\n", encoding="utf-8")
    ran = run(capsys, "--at", "2026-09-19 21:30", "--calendar", other)
    assert ran.status == 2
    assert "left as it is" in " ".join(ran.err.split())
    assert other.read_text(encoding="utf-8") == "schema = 1\n"


def test_a_bare_table_is_enough(tmp_path: Path) -> None:
    table = tmp_path / "lamb.csv"
    table.write_text(
        "time,temp_f,step\n2026-07-04 05:00,38,cook\n2026-07-04 17:30,203,rest\n", encoding="utf-8"
    )
    lot = ("--food", "lamb shoulder", "--form", "intact", "--weight", "9 lb")
    where = ("--code", "us/food-code/2022", "--zone", "America/Chicago")
    ran = alone("status", table, *lot, *where, "--at", "2026-07-04 19:00", "--width", "40")
    assert ran.status == 3, ran.err
    # House interval of a rest, common practice: 4 h after 17:30.
    assert "READ BY 21:30 (2 h 30 min left)" in ran.out
