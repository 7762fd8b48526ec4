"""Deadlines of an event, counted back to days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from tempwitness.model.forms import Paper
from tempwitness.papers.days import Calendar
from tempwitness.readers.event.said import day_words

if TYPE_CHECKING:
    from datetime import date

    from tempwitness.papers.plan import Plan
    from tempwitness.readers.event.shape import EventTable

__all__ = ["Due", "calendar_of", "deadlines", "holidays_words"]


@dataclass(frozen=True, slots=True)
class Due:
    """One deadline.

    Parameters
    ----------
    what : str
    count : str
        How it is counted: "15 calendar days before".
    day : date
        The day that the count gives.
    working : date
        The same, or the last day before it on which the authority works.
    note : str
        Holidays that were skipped.
    says : str
        On whose word.
    """

    what: str
    count: str
    day: date
    working: date
    note: str
    says: str


def calendar_of(event: EventTable) -> Calendar:
    """Return the working days that the event file states."""
    return Calendar(event.weekend, frozenset(h.date for h in event.holiday or ()))


def deadlines(plan: Plan) -> tuple[Due, ...]:
    """Count every deadline back from the first day of the event, the earliest first.

    The event file's own come with those that the code in force asks for.
    """
    event, first = plan.file.table, plan.file.first_day
    calendar = calendar_of(event)
    found = []
    for part in event.deadline:
        if part.business_days is not None:
            found.append(_business(part.what, part.business_days, first, calendar, part.says))
        else:
            found.append(_calendar(part.what, part.days or 0, first, calendar, part.says))
    found += _of_code(plan, calendar)
    return tuple(sorted(found, key=lambda due: (due.working, due.day)))


def _business(what: str, days: int, first: date, calendar: Calendar, says: str) -> Due:
    day = calendar.back(first, days)
    closed = calendar.closed_between(day, first)
    note = f"not counted: {', '.join(day_words(c) for c in closed)}" if closed else ""
    return Due(what, f"{days} business days before", day, day, note, says)


def _calendar(what: str, days: int, first: date, calendar: Calendar, says: str) -> Due:
    day = first - timedelta(days=days)
    working = calendar.at_latest(day)
    note = "" if working == day else f"{day_words(day)} is no working day: hand it in before"
    return Due(what, f"{days} calendar days before", day, working, note, says)


def _of_code(plan: Plan, calendar: Calendar) -> list[Due]:
    found = []
    first, business = plan.file.first_day, plan.file.table.business
    for requirement in plan.limits_of("paper"):
        test = requirement.test
        if not isinstance(test, Paper) or test.ahead is None:
            continue
        if requirement.when.business and business not in requirement.when.business:
            continue
        days = _span_days(test.ahead)
        says = f"{plan.code.head.title}, {requirement.section}"
        count = _business if test.business_days else _calendar
        found.append(count(requirement.title, days, first, calendar, says))
    return found


def _span_days(span: str) -> int:
    """Return a span in days; a month counts as its longest, so that nobody comes too late."""
    number, unit = span.split()
    days = {"day": 1, "week": 7, "month": 31, "year": 366}[unit.removesuffix("s")]
    return int(number) * days


def holidays_words(event: EventTable) -> str:
    """Say which holidays were left out, or that nobody named any."""
    if event.holiday is None:
        return (
            "No holidays were given, so only weekends are left out: a public holiday in between "
            "makes each count of business days end earlier. Ask the authority which days it is "
            "closed."
        )
    if not event.holiday:
        return "The event file says that no public holiday falls before the event."
    named = (f"{day_words(h.date)}{f' ({h.name})' if h.name else ''}" for h in event.holiday)
    return f"Holidays left out, as the event file gives them: {', '.join(named)}."
