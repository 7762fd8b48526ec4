"""Lines of steps, readings and checks: what is understood, and what is asked for again."""

from __future__ import annotations

from datetime import date

import pytest

from tempwitness.drafting.lines import Days, check_line, reading_line, step_line

DAY = date(2026, 7, 4)


def at(lines: list[str], days: Days) -> list[object]:
    return [step_line(line, days)["at"] for line in lines]


def test_a_step_with_its_words() -> None:
    assert step_line("06:00 cook into the smoker", Days(DAY)) == {
        "at": "2026-07-04 06:00",
        "step": "cook",
        "text": "into the smoker",
    }


@pytest.mark.parametrize("typed", ["hot hold", "hot_hold", "Hot-Hold", "HOT HOLD"])
def test_a_step_of_two_words_may_be_written_as_spoken(typed: str) -> None:
    assert step_line(f"16:00 {typed}", Days(DAY))["step"] == "hot_hold"


def test_an_event_is_no_step() -> None:
    assert step_line("19:00 finished all eaten", Days(DAY)) == {
        "at": "2026-07-04 19:00",
        "event": "finished",
        "text": "all eaten",
    }


def test_how_and_whose_stand_behind_equals_signs() -> None:
    line = 'piece="first tray" 20:00'
    with pytest.raises(ValueError, match="does not begin with a time"):
        step_line(line, Days(DAY))
    found = step_line(
        '20:00 cool method=ice_bath piece="first tray" onto ice event=portioned', Days(DAY)
    )
    assert found == {
        "at": "2026-07-04 20:00",
        "step": "cool",
        "method": "ice_bath",
        "piece": "first tray",
        "event": "portioned",
        "text": "onto ice",
    }


def test_words_after_a_step_never_become_an_event() -> None:
    # An event would split the trace; only its own word in its own place does.
    found = step_line("18:30 serve sliced lamb", Days(DAY))
    assert found == {"at": "2026-07-04 18:30", "step": "serve", "text": "sliced lamb"}


def test_past_midnight_is_the_day_after() -> None:
    assert at(["18:00 cook", "23:59 rest", "00:30 serve", "02:00 finished"], Days(DAY)) == [
        "2026-07-04 18:00",
        "2026-07-04 23:59",
        "2026-07-05 00:30",
        "2026-07-05 02:00",
    ]


def test_two_nights_are_two_days() -> None:
    lines = ["20:00 cook", "06:00 rest", "18:00 serve", "01:00 cool", "08:00 cold_hold"]
    assert [str(a)[:10] for a in at(lines, Days(DAY))] == [
        *("2026-07-04", "2026-07-05", "2026-07-05", "2026-07-06", "2026-07-06")
    ]


def test_a_date_that_was_written_moves_the_day() -> None:
    days = Days(DAY)
    assert at(["2026-07-09 06:00 cook", "09:00 rest"], days) == [
        "2026-07-09 06:00",
        "2026-07-09 09:00",
    ]


def test_an_offset_and_seconds_are_kept() -> None:
    found = step_line("2026-11-01 01:30:20-05:00 cool", Days(None))
    assert found["at"] == "2026-11-01 01:30:20-05:00"


def test_a_little_back_is_asked_for() -> None:
    days = Days(DAY)
    step_line("14:00 rest", days)
    with pytest.raises(ValueError, match="before that of the line above"):
        step_line("13:30 serve", days)


def test_a_refused_line_does_not_move_the_day() -> None:
    days = Days(DAY)
    step_line("06:00 cook", days)
    with pytest.raises(ValueError, match="is not a step"):
        step_line("23:00 rst", days)
    assert step_line("14:00 rest", days)["at"] == "2026-07-04 14:00"


def test_without_a_day_a_time_is_refused() -> None:
    with pytest.raises(ValueError, match="has no date"):
        step_line("06:00 cook", Days(None))


def test_a_reading_before_the_first_step_may_be_of_the_day_after() -> None:
    # Cooking began at 18:00: 01:30 is next morning's, or a reading of the raw meat.
    evening = step_line("18:00 cook", Days(DAY))
    assert evening["at"] == "2026-07-04 18:00"
    seconds_at_18 = 1783188000.0  # 2026-07-04 18:00 UTC: 20638 days of 86,400 s, and 64,800 s
    assert seconds_at_18 == 20638 * 86400 + 64800
    days = Days(DAY, floor=seconds_at_18)
    with pytest.raises(ValueError, match="may be of the day after"):
        reading_line("01:30 150 F", days)
    assert reading_line("2026-07-05 01:30 150 F", days)["at"] == "2026-07-05 01:30"
    assert reading_line("02:00 149 F", days)["at"] == "2026-07-05 02:00"


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("6:00 cook", "may be morning or evening"),
        ("25:00 cook", "is not a time"),
        ("cook", "does not begin with a time"),
        ("06:00", "is not a step"),
        ("06:00 cok", "did you mean 'cook'"),
        ("06:00 cook pice=left", "did you mean 'piece'"),
        ("06:00 cook piece=left piece=right", "stands twice"),
        ('06:00 cook piece=""', "says nothing"),
        ("06:00 cook event=burnt", "is not an? event"),
        ("06:00 sliced event=stirred", "two events"),
        ("06:00 cook piece=middle", "there is no piece 'middle'"),
    ],
)
def test_a_step_that_is_not_understood_is_refused(line: str, what: str) -> None:
    with pytest.raises(ValueError, match=what):
        step_line(line, Days(DAY), ("left", "right"))


def test_a_reading_with_what_may_follow() -> None:
    assert reading_line("14:00 58.9 °C place=surface probe=pen point=rim", Days(DAY)) == {
        "at": "2026-07-04 14:00",
        "temp": "58.9 °C",
        "place": "surface",
        "probe": "pen",
        "point": "rim",
    }


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("14:00 165", "not a temperature with its unit"),
        ("14:00 nearly 165 F", "not a temperature with its unit"),
        ("14:00 165 F piece=left hot", "not a temperature with its unit"),
        ("14:00 165 F", 'add piece=left or piece="right side"'),
        ("14:00 165 F piece=top", "there is no piece 'top'"),
        ("14:00 165 F piece=left place=middle", "is not a place of a probe"),
        ("14:00 165 F step=cook", "'step=' is not understood"),
    ],
)
def test_a_reading_that_is_not_understood_is_refused(line: str, what: str) -> None:
    with pytest.raises(ValueError, match=what):
        reading_line(line, Days(DAY), ("left", "right side"))


def test_air_belongs_to_all_pieces() -> None:
    found = reading_line("14:00 225 F place=air", Days(DAY), ("left", "right"))
    assert "piece" not in found


def test_the_only_piece_of_the_files_is_meant() -> None:
    assert reading_line("14:00 165 F", Days(DAY), ("leg",))["piece"] == "leg"


def test_an_ice_check() -> None:
    expected = {"at": "2026-07-04 05:30", "kind": "ice", "read": "32.2 F"}
    assert check_line("05:30 32.2 F", DAY) == expected
    assert check_line("2026-07-04 05:30 32.2 F", None) == expected
    with pytest.raises(ValueError, match="has no date"):
        check_line("05:30 32.2 F", None)
    with pytest.raises(ValueError, match="not a temperature"):
        check_line("05:30 fine", DAY)
