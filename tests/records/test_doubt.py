"""Records that stop, or that say nothing of what was done, never come out as met.

The answers follow from the project's own definition of them: what is unfinished and past its
next reading is not shown, and only a person's note says that nothing heated the food.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from click.testing import CliRunner

from tempwitness.cli.check import check
from tests.records.stories import LATER, SAMPLES

if TYPE_CHECKING:
    from pathlib import Path

_LAMB = [
    "--food", "lamb shoulder", "--cut", "roast", "--form", "intact", "--weight", "9 lb",
    "--code", "us/food-code/2022", "--zone", "America/Denver",
]  # fmt: skip


def _findings(path: Path, *options: str) -> list[dict[str, Any]]:
    result = CliRunner().invoke(check, [str(path), "--json", *options])
    findings: list[dict[str, Any]] = json.loads(result.stdout)["findings"]
    return findings


def _bare(tmp_path: Path, rows: str, *, at: str) -> list[dict[str, Any]]:
    path = tmp_path / "probe.csv"
    path.write_text(f"time,temp_f,step\n{rows}", encoding="utf-8")
    return _findings(path, *_LAMB, "--at", at)


def _verdicts(findings: list[dict[str, Any]], requirement: str) -> list[str]:
    return [
        f["verdict"]
        for f in findings
        if f["requirement"].endswith(f"#{requirement}") and f["verdict"] != "not_applicable"
    ]


def test_a_hold_without_an_end_is_not_shown_once_its_next_reading_is_overdue() -> None:
    record = SAMPLES / "10-thirty-hours-unnoted" / "record.toml"
    asked_soon = _verdicts(_findings(record, "--at", "2026-03-08 00:10"), "hot-hold")
    asked_late = _verdicts(_findings(record, "--at", LATER), "hot-hold")
    assert (asked_soon[-1], asked_late[-1]) == ("open", "not_shown")


def test_raw_food_still_out_when_the_record_stops_is_not_shown(tmp_path: Path) -> None:
    # 3-501.13(B)(4): 4 h above 41 °F; 1 h is on record, and what came after nobody wrote down.
    rows = "2026-06-01 09:00,40,prep\n2026-06-01 09:30,44,\n2026-06-01 10:00,50,\n"
    soon = _bare(tmp_path, rows, at="2026-06-01 10:15")
    late = _bare(tmp_path, rows, at="2026-06-02 10:15")
    assert _verdicts(soon, "thaw-raw-4h") == ["open"]
    assert _verdicts(late, "thaw-raw-4h") == ["not_shown"]


def test_a_rest_that_nobody_noted_does_not_speak_for_its_unread_hours(tmp_path: Path) -> None:
    # 200 and 150 °F stand 6 h apart, longer than the 4 h between checks. In a noted rest nothing
    # heats the food; here it may have fallen below 135 °F and been warmed up again.
    hours = {"00": 38, "02": 100, "04": 150, "08": 200, "14": 150, "16": 141, "18": 136}
    rows = "".join(f"2026-06-01 {h}:00,{t},\n" for h, t in hours.items())
    cooled = "2026-06-01 19:00,60,\n2026-06-01 21:00,40,\n"
    assert "not_shown" in _verdicts(_bare(tmp_path, rows + cooled, at=LATER), "hot-hold")
    noted = rows.replace("00:00,38,", "00:00,38,cook")
    noted = noted.replace("08:00,200,", "08:00,200,rest")
    end = "2026-06-01 18:30,135,cool\n" + cooled
    assert _verdicts(_bare(tmp_path, noted + end, at=LATER), "hot-hold") == ["met"]


def test_readings_after_the_end_are_named(tmp_path: Path) -> None:
    # The probe went on for an hour after the note; nobody must think that 90 °F was judged.
    rows = "2026-06-01 08:00,200,hot_hold,\n2026-06-01 10:00,137,,finished\n2026-06-01 11:00,90,,\n"
    path = tmp_path / "probe.csv"
    path.write_text(f"time,temp_f,step,event\n{rows}", encoding="utf-8")
    answer = CliRunner().invoke(check, [str(path), *_LAMB, "--at", LATER]).stdout
    assert "1 reading(s) stand after the note" in " ".join(answer.split())


_THREE = """\
schema = 1
lot = "three"
code = "us/food-code/2022"
zone = "America/Chicago"
[food]
name = "lamb shoulder"
species = "lamb"
cut = "roast"
form = "intact"
weight = "9 lb"
"""


def _record(tmp_path: Path, rows: str) -> list[dict[str, Any]]:
    path = tmp_path / "record.toml"
    path.write_text(_THREE + rows, encoding="utf-8")
    return _findings(path, "--at", LATER)


def _reading(clock: str, degrees: int, piece: str = "left") -> str:
    return f'[[reading]]\nat = "2026-07-04 {clock}"\ntemp = "{degrees} F"\npiece = "{piece}"\n'


def _note(clock: str, what: str, piece: str = "left") -> str:
    return f'[[note]]\nat = "2026-07-04 {clock}"\n{what}\npiece = "{piece}"\n'


def test_a_piece_of_which_nothing_is_written_is_not_shown(tmp_path: Path) -> None:
    pieces = '[[piece]]\nid = "left"\n[[piece]]\nid = "right"\n'
    told = _note("06:00", 'step = "cook"') + _reading("14:00", 203)
    findings = _record(tmp_path, pieces + told + _note("14:00", 'event = "finished"'))
    answers = {
        f["piece"]: f["verdict"] for f in findings if f["requirement"].endswith("cook-roast")
    }
    assert answers == {"left": "met", "right": "not_shown"}


def test_a_colder_spot_found_by_moving_the_probe_counts(tmp_path: Path) -> None:
    # 3-401.11 asks it of all parts of the food: 203 °F in one spot and then 129 °F in another,
    # which is below every row of the ladder (130 °F for 112 min is the lowest).
    told = (
        '[[piece]]\nid = "left"\n'
        + _note("06:00", 'step = "cook"')
        + _reading("12:00", 203)
        + _note("12:00", 'event = "probe_moved"')
        + _reading("12:01", 124)
        + _reading("12:30", 129)
        + _note("12:30", 'event = "finished"')
    )
    assert _verdicts(_record(tmp_path, told), "cook-roast") == ["not_shown"]
    hot = told.replace("129 F", "160 F")
    assert _verdicts(_record(tmp_path, hot), "cook-roast") == ["met"]


def test_the_outside_of_the_food_is_not_its_air(tmp_path: Path) -> None:
    surface = _reading("12:00", 203).replace("piece =", 'place = "surface"\npiece =')
    told = '[[piece]]\nid = "left"\n' + _note("06:00", 'step = "cook"') + surface
    findings = _record(tmp_path, told + _note("12:30", 'event = "finished"'))
    assert _verdicts(findings, "advice-smoker-air") == []
    assert _verdicts(findings, "cook-heat-lost") == []


def test_a_cook_that_is_not_on_record_is_named() -> None:
    # The night's record begins in the cabinet; that the lamb was ever cooked is nowhere in it.
    record = SAMPLES / "07-night-clocks-go-back" / "record.toml"
    line = CliRunner().invoke(check, [str(record), "--json", "--at", LATER]).stdout
    unsettled = json.loads(line)["unsettled"]
    assert any(text.startswith("the cook of piece tray is not on record") for text in unsettled)


def test_cooked_meat_that_stands_in_preparation_is_not_met(tmp_path: Path) -> None:
    # 3-501.16(A) excepts preparation and prints no time for it: 85 °F for hours is a question.
    rows = (
        "2026-06-01 04:00,150,cook,\n2026-06-01 08:00,200,prep,\n2026-06-01 09:00,90,,\n"
        "2026-06-01 12:00,85,,\n2026-06-01 16:00,85,,finished\n"
    )
    path = tmp_path / "probe.csv"
    path.write_text(f"time,temp_f,step,event\n{rows}", encoding="utf-8")
    result = CliRunner().invoke(check, [str(path), "--json", *_LAMB, "--at", LATER])
    assert (result.exit_code, json.loads(result.stdout)["verdict"]) == (3, "not_shown")
