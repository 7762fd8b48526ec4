"""Arithmetic of days against the code's own counting, the calendar, and numpy's business days."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.papers.days import Calendar, frozen_days, last_day, later
from tempwitness.papers.deadlines import deadlines, holidays_words
from tests.papers.made import BARE, plan_of, supper

DAYS = st.dates(date(2019, 1, 1), date(2032, 12, 31))


@pytest.mark.parametrize(
    ("prepared", "last"),
    [
        # FDA Food Code 3-501.17(A): 7 days, the day of preparation being day 1. May has 31 days.
        (date(2024, 5, 31), date(2024, 6, 6)),
        # 2024 is a leap year: 26, 27, 28, 29 February, 1, 2, 3 March.
        (date(2024, 2, 26), date(2024, 3, 3)),
        # 2023 is not: 26, 27, 28 February, 1, 2, 3, 4 March.
        (date(2023, 2, 26), date(2023, 3, 4)),
        # 2100 is divisible by 4 and no leap year (Gregorian calendar).
        (date(2100, 2, 26), date(2100, 3, 4)),
        (date(2024, 12, 28), date(2025, 1, 3)),
    ],
)
def test_day_one_is_the_day_of_preparation(prepared: date, last: date) -> None:
    assert last_day(prepared, 7) == last


def test_frozen_days_do_not_count() -> None:
    # Prepared 3 June (day 1), frozen at the end of 4 June (2 days used), thawed on 15 June: five
    # days are left, 15 to 19 June (Food Code 3-501.17(A), counted by hand).
    pauses = frozen_days([(date(2024, 6, 4), date(2024, 6, 15))])
    assert last_day(date(2024, 6, 3), 7, pauses) == date(2024, 6, 19)


def test_frozen_and_thawed_on_the_next_day_loses_nothing() -> None:
    assert frozen_days([(date(2024, 6, 4), date(2024, 6, 5))]) == frozenset()
    assert frozen_days([(date(2024, 6, 4), date(2024, 6, 4))]) == frozenset()


def test_no_day_at_all_is_refused() -> None:
    with pytest.raises(ValueError, match="at least the day of preparation"):
        last_day(date(2024, 6, 3), 0)


@settings(deadline=None)
@given(DAYS, st.integers(1, 40))
def test_a_shelf_life_of_n_days_ends_n_minus_one_days_later(day: date, days: int) -> None:
    assert last_day(day, days) == day + timedelta(days=days - 1)


def test_five_business_days_before_a_weekend_are_the_monday_before() -> None:
    # A county of Washington State prints it so for events at the weekend: hand it in on Monday.
    monday = date(2026, 9, 28)
    assert Calendar().back(date(2026, 10, 3), 5) == monday
    assert Calendar().back(date(2026, 10, 4), 5) == monday


def test_a_holiday_moves_the_day() -> None:
    # Labor Day is the first Monday of September (5 USC 6103(a)): 7 September 2026.
    calendar = Calendar(holidays=frozenset({date(2026, 9, 7)}))
    assert calendar.back(date(2026, 9, 12), 5) == date(2026, 9, 4)
    assert Calendar().back(date(2026, 9, 12), 5) == date(2026, 9, 7)


@settings(deadline=None)
@given(DAYS, st.integers(1, 60), st.sets(DAYS, max_size=8))
def test_business_days_are_those_of_numpy(day: date, days: int, holidays: set[date]) -> None:
    expected = np.busday_offset(
        np.datetime64(day), -days, roll="forward", holidays=[np.datetime64(h) for h in holidays]
    )
    assert Calendar(holidays=frozenset(holidays)).back(day, days) == expected.astype(object)


@settings(deadline=None)
@given(DAYS, st.sets(DAYS, max_size=8))
def test_the_last_working_day_is_that_of_numpy(day: date, holidays: set[date]) -> None:
    expected = np.busday_offset(
        np.datetime64(day), 0, roll="backward", holidays=[np.datetime64(h) for h in holidays]
    )
    assert Calendar(holidays=frozenset(holidays)).at_latest(day) == expected.astype(object)


def test_four_hours_are_four_hours_when_the_clocks_change() -> None:
    # America/Chicago leaves summer time on 1 November 2026 and enters it on 8 March 2026, both at
    # 02:00 (IANA time zone database): 00:30 and 4 h is 03:30 in autumn, 05:30 in spring.
    hours = 4 * 3600
    assert later(datetime(2026, 11, 1, 0, 30), hours, "America/Chicago").hour == 3  # noqa: DTZ001
    assert later(datetime(2026, 3, 8, 0, 30), hours, "America/Chicago").hour == 5  # noqa: DTZ001
    # 01:30 comes twice on that night; the first one is meant, so the deadline is not too late.
    assert later(datetime(2026, 11, 1, 1, 30), hours, "America/Chicago").hour == 4  # noqa: DTZ001


def test_a_calendar_without_a_working_day_ends() -> None:
    week = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    with pytest.raises(ValueError, match="no working day"):
        Calendar(weekend=week).at_latest(date(2026, 1, 1))


def test_the_deadlines_of_the_supper() -> None:
    # Counted by hand on a calendar of 2026; the supper is on Saturday 3 October. 15 calendar days
    # back is Friday 18 September; 3 business days Wednesday 30 September; 20 business days, with
    # 7 September a holiday, Friday 4 September.
    found = {due.what: due for due in deadlines(supper())}
    assert found["Letter of the kitchen's owner"].working == date(2026, 9, 4)
    assert "Mon 7 Sep 2026" in found["Letter of the kitchen's owner"].note
    application = next(due for what, due in found.items() if what.startswith("Application"))
    assert (application.day, application.working) == (date(2026, 9, 18), date(2026, 9, 18))
    assert found["Changes to the menu"].working == date(2026, 9, 30)


def test_a_calendar_deadline_on_a_sunday_is_due_on_the_friday(tmp_path: Path) -> None:
    text = f"{BARE}[[deadline]]\nwhat = 'Application'\ndays = 13\n"
    (due,) = deadlines(plan_of(tmp_path, text))
    # 3 October less 13 days is Sunday 20 September 2026.
    assert (due.day, due.working) == (date(2026, 9, 20), date(2026, 9, 18))
    assert "no working day" in due.note


def test_a_deadline_of_the_code_stands_beside_those_of_the_file(tmp_path: Path) -> None:
    # 15A NCAC 18A .2663 (North Carolina): the application at least 15 days before the event.
    text = BARE.replace("us/food-code/2022", "us/nc/18a-2600")
    text = text.replace("[event]", 'business = "temporary_event"\n[event]', 1)
    (due,) = deadlines(plan_of(tmp_path, text))
    assert due.day == date(2026, 9, 18)
    assert "18A" in due.says or "NCAC" in due.says or "North Carolina" in due.says


def test_holidays_are_never_guessed(tmp_path: Path) -> None:
    nothing = plan_of(tmp_path, BARE).file.table
    assert "No holidays were given" in holidays_words(nothing)
    none = plan_of(tmp_path, BARE.replace("schema = 1", "schema = 1\nholiday = []")).file.table
    assert "no public holiday" in holidays_words(none)
    assert "Labor Day" in holidays_words(supper().file.table)
