"""What a status says of samples and of small records, and how it is printed.

The deadlines are counted by hand from the code's own hours; the section stands beside each.
"""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import jsonschema
import pytest
from freezegun import freeze_time

from tempwitness.model.status import Status
from tempwitness.model.vocabulary import Clock
from tempwitness.pipeline import standing
from tempwitness.report import status_schema, status_text, to_json
from tempwitness.report.text_status import left_words

CURRY = Path(__file__).parents[2] / "sample_records" / "16-still-cooling" / "record.toml"
TRAYS = Path(__file__).parents[2] / "sample_records" / "14-time-control" / "record.toml"
_DENVER, _CHICAGO = ZoneInfo("America/Denver"), ZoneInfo("America/Chicago")


def curry(clock: str, day: int = 19) -> Status:
    hour, minute = map(int, clock.split(":"))
    return standing(CURRY, at=datetime(2026, 9, day, hour, minute, tzinfo=_DENVER)).status


def test_both_legs_of_a_cooling_count_from_the_same_start() -> None:
    # Food Code 3-501.14(A): 2 h to 70 °F and 6 h in all; into the ice bath at 20:00.
    found = curry("21:30")
    legs = [(d.clock, d.by[:16], d.left_s) for d in found.clocks if not d.beside]
    assert legs == [
        (Clock.FALL, "2026-09-19T22:00", 1800.0),
        (Clock.FALL, "2026-09-20T02:00", 16200.0),
    ]
    # The rule's own rescue: reheat within 4 h of the clock's start.
    rescue = found.clocks[0].rescue
    assert rescue is not None
    assert (rescue.by or "")[:16] == "2026-09-20T00:00"
    assert rescue.otherwise == "Discard it."
    assert found.verdict.value == "open"


def test_the_next_reading_of_a_hold_is_due_an_interval_after_the_last() -> None:
    # House interval of a hot hold, common practice: 4 h after 17:20. Reheat within 4 h as well.
    found = curry("19:30")
    (due,) = found.next_readings
    assert (due.clock, due.by[11:16], due.pieces) == (Clock.READING, "21:20", ("pot",))
    assert due.rescue is not None
    assert (due.rescue.by or "")[11:16] == "21:20"
    assert "Read it well before" in status_text(found, width=100)


def test_a_missed_leg_can_be_saved_until_its_time_is_over() -> None:
    (one,) = curry("23:30").saving
    assert (one.verdict.value, one.left_s) == ("not_shown", 1800.0)
    late = curry("00:30", day=20)
    assert [s.left_s for s in late.saving] == [-1800.0]
    assert "Too late since 00:00" in status_text(late)
    assert curry("23:30").pieces[0].read_now
    assert not curry("21:30").pieces[0].read_now


def test_nothing_that_was_written_later_is_known() -> None:
    # At 20:10 the readings of 20:20 (131 °F) and 21:20 (88 °F) had not been taken.
    (pot,) = curry("20:10").pieces
    assert [r.reading for r in pot.latest] == ["158 °F"]
    assert pot.stage == "cool"
    (before,) = curry("14:00").pieces
    assert (before.stage, before.latest) == ("", ())
    assert "nothing on record yet" in status_text(curry("14:00"))


def test_a_time_control_runs_out_after_its_hours() -> None:
    # Food Code 3-501.19(B): 4 h from 12:00 and from 12:30.
    at = datetime(2026, 10, 3, 13, 0, tzinfo=_CHICAGO)
    found = standing(TRAYS, at=at).status
    runs = [(d.pieces, d.by[11:16]) for d in found.clocks if d.clock is Clock.TIME_CONTROL]
    assert runs == [(("first tray",), "16:00"), (("second tray",), "16:30")]


def test_the_days_of_cold_food_are_named(tmp_path: Path) -> None:
    # Food Code 3-501.17: 7 days, the day of preparation is day 1. Cooked 19 September: until the
    # end of the 25th, which is 0:00 of the 26th.
    found = kept_cold(tmp_path, "2026-09-22 09:00")
    (day,) = [d for d in found.use_by if d.weight.binds]
    assert (day.clock, day.by[:16]) == (Clock.SHELF_LIFE, "2026-09-26T00:00")
    assert "before Sat 00:00 (3 d left)" in status_text(found)


def kept_cold(folder: Path, at: str) -> Status:
    """The curry, cooled in time, marked and put into the refrigerator."""
    text = CURRY.read_text(encoding="utf-8")
    rows = CURRY.with_name("curry.csv").read_text(encoding="utf-8")
    with freeze_time("2026-09-22T15:00:00Z"):
        moment = datetime.fromisoformat(at).replace(tzinfo=_DENVER)
        return standing(_written(folder, text, rows), at=moment).status


def _written(folder: Path, text: str, rows: str) -> Path:
    more = (
        "2026-09-19 21:50,68,,,\n2026-09-20 00:30,40,cold_hold,,\n2026-09-21 12:00,39,,,\n"
        "2026-09-22 08:00,38,,,\n"
    )
    (folder / "curry.csv").write_text(rows + more, encoding="utf-8")
    marked = '\n[[note]]\nat = "2026-09-20 00:35"\nevent = "date_marked"\n'
    (folder / "record.toml").write_text(text + marked, encoding="utf-8")
    return folder / "record.toml"


@pytest.mark.parametrize("width", [24, 40, 80])
@pytest.mark.parametrize("clock", ["14:00", "19:30", "21:30", "23:30"])
def test_no_line_is_wider_than_the_screen(width: int, clock: str) -> None:
    lines = status_text(curry(clock), width=width).splitlines()
    assert max(map(len, lines)) <= width
    assert len(lines) < 70


def test_the_screen_of_a_phone_holds_it() -> None:
    assert len(status_text(curry("21:30"), width=40).splitlines()) <= 32


def test_the_scale_of_the_code_leads(tmp_path: Path) -> None:
    # 131 °F is 55 °C: (131 - 32) / 1.8.
    text = CURRY.read_text(encoding="utf-8").replace("us/food-code/2022", "au/3.2.2")
    (tmp_path / "record.toml").write_text(text, encoding="utf-8")
    rows = CURRY.with_name("curry.csv").read_text(encoding="utf-8")
    (tmp_path / "curry.csv").write_text(rows, encoding="utf-8")
    at = datetime(2026, 9, 19, 20, 40, tzinfo=_DENVER)
    found = standing(tmp_path / "record.toml", at=at).status
    assert found.pieces[0].latest[0].reading == "55 °C (131 °F)"
    # Standard 3.2.2 clause 7(3): 60 to 21 °C within 2 h, from 20:00 on.
    assert found.clocks[0].by[11:16] == "22:00"


def test_the_document_keeps_its_schema() -> None:
    for clock in ("14:00", "21:30", "23:30"):
        jsonschema.validate(json.loads(to_json(curry(clock))), status_schema())


def test_the_published_schema_is_the_one_of_the_program() -> None:
    page = Path(__file__).parents[2] / "docs" / "reference" / "status.schema.json"
    text = json.dumps(status_schema(), indent=2, ensure_ascii=False) + "\n"
    assert page.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0.0, "under 1 min"),
        (59.9, "under 1 min"),
        (60.0, "1 min"),
        (3599.0, "59 min"),
        (3600.0, "1 h"),
        (172799.0, "47 h 59 min"),
        (172800.0, "2 d"),
    ],
)
def test_time_left_is_never_rounded_up(seconds: float, words: str) -> None:
    assert left_words(seconds) == words


def test_without_a_moment_the_present_is_asked_about() -> None:
    with freeze_time("2026-09-20T03:30:00Z"):  # 21:30 in Denver
        assert standing(CURRY).status == curry("21:30")
