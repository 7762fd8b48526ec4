"""Clock times without a date, and what is assumed of them. Chicago in July is UTC-5."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import InputError
from tests.readers.build import bare, record, rows, utc

if TYPE_CHECKING:
    from pathlib import Path

DAY = "date = 2026-07-04"


def hand(*readings: tuple[str, str]) -> str:
    return "".join(f'[[reading]]\nat = "{at}"\ntemp = "{temp}"\n' for at, temp in readings)


def test_times_pass_midnight_by_their_order(tmp_path: Path) -> None:
    log = record(
        tmp_path, hand(("18:10", "138 F"), ("23:50", "136 F"), ("00:50", "135 F")), more=DAY
    )
    assert [at for at, *_ in rows(log.channels[0])] == [
        utc("2026-07-04T23:10"),
        utc("2026-07-05T04:50"),
        utc("2026-07-05T05:50"),
    ]
    assert log.assumptions[0] == (
        "reading[1]: the time has no date and was taken as 2026-07-04; from reading[3] on, the "
        "order of the times shows the next day"
    )


def test_without_a_date_the_day_is_asked_for(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="the time has no date") as caught:
        record(tmp_path, hand(("18:10", "138 F")))
    assert "date = 2026-07-04" in caught.value.hint
    assert caught.value.location is not None
    assert caught.value.location.key == "reading[1].at"


def test_a_small_step_back_is_asked_for(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="20 min before the entry above it"):
        record(tmp_path, hand(("18:10", "138 F"), ("17:50", "136 F")), more=DAY)


def test_a_dated_entry_leads_those_below_it(tmp_path: Path) -> None:
    log = record(tmp_path, hand(("2026-07-04 23:00", "138 F"), ("00:10", "136 F")))
    assert [at for at, *_ in rows(log.channels[0])] == [
        utc("2026-07-05T04:00"),
        utc("2026-07-05T05:10"),
    ]


def test_a_loose_note_that_may_belong_to_the_night_after_is_asked_for(tmp_path: Path) -> None:
    body = hand(("18:00", "138 F"), ("23:50", "136 F")) + '[[note]]\nat = "01:30"\nstep = "cool"\n'
    with pytest.raises(
        InputError, match=r"note: all times lie so long before .* may belong to the day after"
    ):
        record(tmp_path, body, more=DAY)


def test_notes_of_the_morning_before_are_fine(tmp_path: Path) -> None:
    notes = "".join(
        f'[[note]]\nat = "{at}"\nstep = "{step}"\n'
        for at, step in (("05:00", "cook"), ("16:00", "rest"), ("22:00", "cool"))
    )
    log = record(tmp_path, hand(("16:05", "201 F"), ("21:50", "150 F")) + notes, more=DAY)
    assert log.notes[0].at == utc("2026-07-04T10:00")


def test_a_file_in_order_of_time(tmp_path: Path) -> None:
    text = "time,temp_f,piece\n23:50,138,A\n23:55,139,B\n00:10,137,A\n"
    from datetime import date  # noqa: PLC0415 - one test needs it

    log = bare(tmp_path, text, date=date(2026, 7, 4))
    assert [at for at, *_ in rows(log.channels[0])] == [
        utc("2026-07-05T04:50"),
        utc("2026-07-05T05:10"),
    ]
    assert log.assumptions == (
        "pit.csv, line 2: the time has no date and was taken as 2026-07-04; from pit.csv, line 4 "
        "on, the order of the times shows the next day",
    )


def test_a_file_sorted_by_piece_cannot_tell_its_days(tmp_path: Path) -> None:
    from datetime import date  # noqa: PLC0415 - one test needs it

    text = "time,temp_f,piece\n18:00,138,A\n03:50,137,A\n18:00,139,B\n03:50,138,B\n"
    with pytest.raises(InputError, match="sorted by piece"):
        bare(tmp_path, text, date=date(2026, 7, 4))


def test_a_second_file_of_the_night_needs_its_own_date(tmp_path: Path) -> None:
    parts = {
        "evening.csv": "time,temp_f\n18:00,138\n23:50,137\n",
        "night.csv": "time,temp_f\n00:10,137\n03:00,136\n",
    }
    body = '[[file]]\npath = "evening.csv"\n[[file]]\npath = "night.csv"\n'
    with pytest.raises(InputError, match=r"night.csv: all times lie so long before"):
        record(tmp_path, body, more=DAY, files=parts)
    log = record(tmp_path, body + "date = 2026-07-05\n", more=DAY, files=parts)
    # 00:10 on the 5th in Chicago is 05:10 UTC.
    assert log.channels[1].at[0] == utc("2026-07-05T05:10")
