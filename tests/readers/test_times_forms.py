"""Ways of writing a time, what a column tells of them, and what is asked.

Expected moments are written in UTC and computed by the standard library.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.errors import InputError
from tempwitness.readers.moments import Told, parse_all, parse_moment
from tempwitness.readers.zones import UnplacedTimeError
from tests.readers.build import bare, record, rows, utc

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from tempwitness.readers.faces import DayOrder

HOUR = 3600.0


@pytest.mark.parametrize(
    ("text", "hours"),
    # By the 12-hour clock midnight is 12 AM and noon is 12 PM (NIST, Times of Day FAQ).
    [
        ("5:50 PM", 17 + 50 / 60),
        ("5:50pm", 17 + 50 / 60),
        ("5.50 p.m.", 17 + 50 / 60),
        ("05:50 P.M.", 17 + 50 / 60),
        ("5 pm", 17),
        ("12 AM", 0),
        ("12:30 am", 0.5),
        ("12 PM", 12),
        ("12:59:59 PM", 12 + 59 / 60 + 59 / 3600),
        ("11:59 PM", 23 + 59 / 60),
        ("17.51", 17 + 51 / 60),
        ("0:05", 5 / 60),
        ("1750", 17 + 50 / 60),
        ("18:10:05,5", 18 + 10 / 60 + 5.5 / 3600),
        ("5:50\u202fPM", 17 + 50 / 60),
    ],
)
def test_a_time_of_the_clock(text: str, hours: float) -> None:
    found = parse_moment(text)
    assert found.seconds == pytest.approx(hours * HOUR)
    assert not found.dated


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2026/07/04 18:10", "2026-07-04T18:10"),
        ("2026.7.4 18:10", "2026-07-04T18:10"),
        ("4-Jul-2026 17:50", "2026-07-04T17:50"),
        ("4 July 2026, 5:50 PM", "2026-07-04T17:50"),
        ("Jul 4 2026 12:15 AM", "2026-07-04T00:15"),
        ("Sept 30, 2026 17:50:10", "2026-09-30T17:50:10"),
        ("7/13/2026 5:50 PM", "2026-07-13T17:50"),
        ("13.7.2026 17:50", "2026-07-13T17:50"),
        ("13/07/2026, 17:50", "2026-07-13T17:50"),
        ("7/7/2026 17:50", "2026-07-07T17:50"),
    ],
)
def test_a_date_that_can_only_be_one(text: str, moment: str) -> None:
    found = parse_moment(text)
    assert found.seconds == utc(moment)
    assert found.dated


@pytest.mark.parametrize(
    ("tail", "hours"),
    [("UTC", 0), ("GMT", 0), ("GMT-05:00", -5), ("utc+5:30", 5.5), ("-05", -5), ("UTC-5", -5)],
)
def test_offsets_in_words(tail: str, hours: float) -> None:
    assert parse_moment(f"2026-07-04 18:10 {tail}").offset == hours * HOUR


def asked(texts: Sequence[str], told: Told | None = None) -> UnplacedTimeError:
    with pytest.raises(UnplacedTimeError) as caught:
        parse_all(texts, told)
    return caught.value


@pytest.mark.parametrize(
    ("texts", "row", "what", "remedy"),
    [
        (["5:50 PM", "06:10"], 1, "'06:10' does not say AM or PM as '5:50 PM' does", "all of them"),
        (["5:50 PM", "18:10"], 1, "may be morning or evening", "counts to 24"),
        (["8:05", "10:20"], 0, "'8:05' may be morning or evening", "--time-format 24h"),
        (["07/04/2026 18:10"], 0, "the day 2026-04-07 or 2026-07-04", "--day-order month-first"),
        (["4.7.2026 18:10"], 0, "the day 2026-07-04 or 2026-04-07", "day_order = "),
        (["13/7/2026 18:10", "7/14/2026 18:10"], 0, "day first and '7/14/2026", "in one order"),
        (["13/13/2026 18:10"], 0, "'13/13/2026 18:10' is no date", "2026-07-04 18:10"),
        (["7/4/26 18:10"], 0, "a year of two digits", "20xx"),
        (["4-Jul-26 18:10"], 0, "which may as well be the day", "--day-order"),
        (["17.50", "18.25"], 0, "a time of the clock or a number of hours", "'%H.%M'"),
        (["13.05", "8.10"], 1, "a time of the clock or a number of hours", "colon"),
        (["10,30", "10:40"], 0, "not plain that both are times", "in the same form"),
        (["1750", "18:10"], 0, "'1750' stands beside '18:10'", "as 18:10"),
    ],
)
def test_what_fits_two_meanings_is_asked(
    texts: list[str], row: int, what: str, remedy: str
) -> None:
    question = asked(texts)
    assert question.row == row
    assert what in question.what
    assert remedy in question.remedy


@pytest.mark.parametrize(
    "text",
    [
        "13:50 PM", "0:30 AM", "17.5", "930", "18:60", "24:00", "18:10 CDT", "31 Foo 2026 18:10",
        "30 Feb 2026 18:10", "2026-07-04 18:10+15:00", "2026-07-04", "half past six", "5:5 PM",
    ],
)  # fmt: skip
def test_what_is_no_time_is_refused(text: str) -> None:
    with pytest.raises((ValueError, UnplacedTimeError)):
        parse_moment(text)


def test_one_time_past_noon_tells_that_the_clock_counts_to_24() -> None:
    found = parse_all(["8:05", "13:10"])
    assert found.column.seconds.tolist() == [8 * HOUR + 300, 13 * HOUR + 600]
    assert found.understood == ("the clock counts to 24, as '13:10' shows",)


def test_a_clock_that_is_told_to_count_to_24() -> None:
    found = parse_all(["8:05", "9:10"], Told("24h"))
    assert found.column.seconds.tolist() == [8 * HOUR + 300, 9 * HOUR + 600]
    assert "'8:05 PM' says AM or PM" in asked(["8:05 PM"], Told("24h")).what


def test_one_day_past_the_twelfth_tells_the_order_of_all() -> None:
    found = parse_all(["04/07/2026 18:10", "13/07/2026 18:10"])
    assert found.column.seconds.tolist() == [utc("2026-07-04T18:10"), utc("2026-07-13T18:10")]
    assert found.forced == 1
    assert found.understood == ("dates are written day first, as '13/07/2026 18:10' shows",)


@pytest.mark.parametrize(
    ("order", "day"), [("day-first", "2026-07-04"), ("month-first", "2026-04-07")]
)
def test_an_order_that_is_told(order: DayOrder, day: str) -> None:
    for text in ("4/7/2026 18:10", "4/7/26 18:10"):
        assert parse_all([text], Told(None, order)).column.seconds[0] == utc(f"{day}T18:10")
    wrong = asked(["4/13/2026 18:10"], Told(None, "day-first"))
    assert "is no date that is written day-first" in wrong.what


STYLES = [
    "%Y-%m-%d %H:%M:%S", "%Y-%m-%dT%H:%M:%S", "%Y/%m/%d %I:%M:%S %p", "%d %b %Y %H:%M:%S",
    "%d-%b-%Y %I:%M:%S %p", "%B %d, %Y %I:%M:%S%p", "%d/%m/%Y %H:%M:%S", "%d.%m.%Y %H.%M.%S",
]  # fmt: skip


@settings(deadline=None)
@given(
    st.datetimes(min_value=datetime(2001, 1, 1), max_value=datetime(2065, 12, 31)),  # noqa: DTZ001
    st.sampled_from(STYLES),
)
def test_a_moment_written_in_any_form_is_read_as_itself(moment: datetime, style: str) -> None:
    # The standard library writes it; a last entry on the 31st shows the order of day and month.
    last = datetime(2065, 12, 31, 23, 59, 59)  # noqa: DTZ001
    found = parse_all([moment.strftime(style), last.strftime(style)])
    expected = moment.replace(microsecond=0, tzinfo=UTC).timestamp()
    assert found.column.seconds[0] == expected


@settings(deadline=None)
@given(st.datetimes(min_value=datetime(2001, 1, 1), max_value=datetime(2065, 12, 31)))  # noqa: DTZ001
def test_a_moment_written_as_a_count_is_read_as_itself(moment: datetime) -> None:
    whole = moment.replace(microsecond=0, second=moment.second | 1)
    seconds = whole.replace(tzinfo=UTC).timestamp()
    # Day 1 of a spreadsheet's count is 1900-01-01, and a 29 February 1900 is counted as well.
    days = (whole - datetime(1899, 12, 30)) / timedelta(days=1)  # noqa: DTZ001
    for text in (f"{seconds:.0f}", f"{seconds * 1000:.0f}", f"{days:.9f}"):
        assert parse_all([text]).column.seconds[0] == pytest.approx(seconds, abs=0.01)


def test_a_column_of_day_first_dates_in_a_file(tmp_path: Path) -> None:
    text = "time,temp_f\n12/07/2026 23:50,138\n13/07/2026 0:10,137\n"
    log = bare(tmp_path, text)
    # Chicago in July is five hours behind UTC.
    assert [at for at, *_ in rows(log.channels[0])] == [
        utc("2026-07-13T04:50"),
        utc("2026-07-13T05:10"),
    ]
    assert any("day first" in line for line in log.sources[0].understood)


def test_an_order_that_puts_the_rows_in_disorder_is_asked(tmp_path: Path) -> None:
    text = "time,temp_f\n13/07/2026 18:10,138\n01/08/2026 18:10,137\n02/07/2026 18:10,137\n"
    with pytest.raises(InputError, match="do not follow one another") as caught:
        bare(tmp_path, text)
    assert "--day-order" in caught.value.hint
    assert len(bare(tmp_path, text, day_order="day-first").channels[0]) == 3


def test_a_record_says_the_order_of_its_file(tmp_path: Path) -> None:
    files = {"pit.csv": "time,temp_f\n7/4/2026 18:10,138\n"}
    body = '[[file]]\npath = "pit.csv"\nday_order = "month-first"\n'
    log = record(tmp_path, body, files=files)
    assert log.channels[0].at[0] == utc("2026-07-04T23:10")
    with pytest.raises(InputError, match="may be the day"):
        record(tmp_path, body.replace('day_order = "month-first"\n', ""), files=files)


def test_a_comma_between_hour_and_minute_is_a_change(tmp_path: Path) -> None:
    from datetime import date  # noqa: PLC0415 - one test needs it

    log = bare(tmp_path, "time;temp_f\n10,31;138\n10,40;137\n", date=date(2026, 7, 4))
    assert log.channels[0].at[0] == utc("2026-07-04T15:31")
    (change,) = log.changes
    assert (change.line, change.column, change.rows) == (2, "time", 2)
    assert (change.written, change.used) == ("10,31", "10:31")


def hand(*times: str) -> str:
    return "".join(f'[[reading]]\nat = "{at}"\ntemp = "138 F"\n' for at in times)


def test_a_hand_list_with_am_and_pm(tmp_path: Path) -> None:
    log = record(tmp_path, hand("5:50 PM", "11:30 PM", "12:20 AM"), more="date = 2026-07-04")
    assert [at for at, *_ in rows(log.channels[0])] == [
        utc("2026-07-04T22:50"),
        utc("2026-07-05T04:30"),
        utc("2026-07-05T05:20"),
    ]


@pytest.mark.parametrize(
    ("times", "note", "key"),
    [
        (("5:50 PM", "06:10"), "", "reading[2].at"),
        (("5:50 PM",), '[[note]]\nat = "06:10"\nstep = "rest"\n', "note[1].at"),
        (("2026-07-04 18:10",), '[[note]]\nat = "6:10 PM"\nstep = "rest"\n', "reading[1].at"),
    ],
)
def test_a_record_keeps_to_one_clock(
    tmp_path: Path, times: tuple[str, ...], note: str, key: str
) -> None:
    with pytest.raises(InputError, match="does not say AM or PM") as caught:
        record(tmp_path, hand(*times) + note, more="date = 2026-07-04")
    assert caught.value.location is not None
    assert caught.value.location.key == key


def test_a_hand_list_with_hours_of_one_digit(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="'8:05' may be morning or evening") as caught:
        record(tmp_path, hand("8:05", "9:10"), more="date = 2026-07-04")
    # There is no option for the record's own lists.
    assert "--time-format" not in caught.value.hint
    log = record(tmp_path, hand("8:05", "13:10"), more="date = 2026-07-04")
    assert log.channels[0].at[0] == utc("2026-07-04T13:05")
    assert "reading: the clock counts to 24, as '13:10' shows" in log.assumptions
