"""The calendar of deadlines, read back by a library that knows RFC 5545."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from icalendar import Calendar

from tempwitness.report import to_calendar
from tempwitness.report.calendar import folded
from tests.status.test_screen import curry


def test_another_reader_finds_each_deadline() -> None:
    events = Calendar.from_ical(to_calendar(curry("21:30"))).walk("VEVENT")
    told = {str(e["SUMMARY"]): e.decoded("DTSTART") for e in events}
    # 22:00 and 02:00 in Denver, six hours behind UTC in September.
    assert told == {
        "pot: Cool to 70 °F within 2 h": datetime(2026, 9, 20, 4, 0, tzinfo=UTC),
        "pot: Cool to 41 °F within 6 h in all": datetime(2026, 9, 20, 8, 0, tzinfo=UTC),
    }
    for event in events:
        assert {"UID", "DTSTAMP"} <= set(event)
        (alarm,) = event.walk("VALARM")
        assert alarm["ACTION"] == "DISPLAY"
        assert "The local health authority decides." in str(event["DESCRIPTION"])


def test_commas_semicolons_and_line_ends_come_through() -> None:
    (first, _) = Calendar.from_ical(to_calendar(curry("21:30"))).walk("VEVENT")
    about = str(first["DESCRIPTION"]).split("\n")
    assert about[0] == "Get the warmest part to 70 °F (21 °C) or below, read it and write it down."


@pytest.mark.parametrize("clock", ["14:00", "19:30", "21:30", "23:30"])
def test_lines_are_folded_and_end_as_the_standard_asks(clock: str) -> None:
    # RFC 5545 section 3.1: at most 75 octets without the line end, which is CR and LF.
    raw = to_calendar(curry(clock)).encode()
    lines = raw.split(b"\r\n")
    assert lines[-1] == b""
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert max(map(len, lines)) <= 75
    for line in lines:
        line.decode("utf-8")


@pytest.mark.parametrize("text", ["x" * 75, "x" * 76, "°" * 200, "a" + "🔥" * 60])
def test_folding_can_be_undone(text: str) -> None:
    assert folded(text).replace("\r\n ", "") == text


def test_a_deadline_keeps_its_name_when_it_is_written_again() -> None:
    def names(clock: str) -> dict[str, str]:
        events = Calendar.from_ical(to_calendar(curry(clock))).walk("VEVENT")
        return {str(e["SUMMARY"]): str(e["UID"]) for e in events}

    early, late = names("20:40"), names("21:30")
    assert early == late
    assert len(set(early.values())) == 2


def test_the_last_moment_to_save_it_is_an_event() -> None:
    events = Calendar.from_ical(to_calendar(curry("23:30"))).walk("VEVENT")
    saving = [e for e in events if "save it" in str(e["SUMMARY"])]
    # 4 h after 20:00: midnight in Denver.
    assert [e.decoded("DTSTART") for e in saving] == [datetime(2026, 9, 20, 6, 0, tzinfo=UTC)]
