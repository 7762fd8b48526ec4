"""How long the records of a lot are kept, as far as the loaded rules print it."""

from __future__ import annotations

import calendar
import re
from datetime import date, timedelta
from typing import TYPE_CHECKING

from tempwitness.criteria.applies import to_lot
from tempwitness.model.forms import Paper
from tempwitness.report.localtime import LocalTime

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.lot import Lot
    from tempwitness.model.rule import Code, Requirement

__all__ = ["after_span", "retention"]

_SPAN = re.compile(r"(\d+) (day|week|month|year)s?")
_DAYS = {"day": 1, "week": 7}
_MONTHS = {"month": 1, "year": 12}
_SINCE = {
    "record": "counted from the last entry",
    "use": "counted from the last entry; the code counts from the last use of the food",
    "service": "counted from the last entry; the code counts from the end of service",
}


def retention(evaluation: Evaluation, lot: Lot, codes: Iterable[Code]) -> list[str]:
    """Say how long to keep the record, a line for each rule that prints a time.

    Parameters
    ----------
    evaluation : Evaluation
    lot : Lot
    codes : iterable of Code
        Those under which it was judged.

    Returns
    -------
    list of str
        One line at least: where no rule prints a time, that the authority must be asked.
    """
    end = _last_day(evaluation)
    lines = [line for code in codes for line in _of_code(code, lot, end)]
    return lines or [
        "Keep: the rules loaded here print no time for which these readings are kept. Ask the "
        "authority."
    ]


def _of_code(code: Code, lot: Lot, end: date | None) -> Iterator[str]:
    for requirement in code.requirements:
        test = requirement.test
        if not isinstance(test, Paper) or test.kind != "record" or test.keep is None:
            continue
        if to_lot(requirement.when, lot).answer is False or not _in_force(requirement, end):
            continue
        yield _line(code, requirement, test, end)


def _in_force(requirement: Requirement, day: date | None) -> bool:
    """Whether a requirement was in force on a day; one without dates, or no day, says yes."""
    if day is None:
        return True
    begun = requirement.begins is None or requirement.begins <= day
    return begun and (requirement.ends is None or day <= requirement.ends)


def _line(code: Code, requirement: Requirement, test: Paper, end: date | None) -> str:
    until = ""
    if end is not None and test.keep is not None:
        until = f", until {after_span(end, test.keep)} at least ({_SINCE[test.keep_from]})"
    whose = "" if requirement.weight.binds else f"; {requirement.weight.value}, not law"
    title = requirement.title
    return (
        f"Keep: {test.keep}{until}. {code.head.id} {requirement.section}: {title}{whose}. Ask the "
        "authority whether it wants more."
    )


def _last_day(evaluation: Evaluation) -> date | None:
    if evaluation.lot.last_entry is None:
        return None
    moment = LocalTime(evaluation.lot.zone).local(evaluation.lot.last_entry)
    return None if moment is None else moment.date()


def after_span(day: date, span: str) -> date:
    """Return the day that lies a span after another one, by the calendar.

    A month later is the same day of the month, or its last one where that month is shorter.

    Examples
    --------
    >>> after_span(date(2026, 8, 31), "6 months").isoformat()
    '2027-02-28'
    """
    match = _SPAN.fullmatch(span)
    if match is None:
        raise ValueError(f"'{span}' is not a span of the calendar")
    number, unit = int(match[1]), match[2]
    if unit in _DAYS:
        return day + timedelta(days=number * _DAYS[unit])
    months = day.year * 12 + day.month - 1 + number * _MONTHS[unit]
    year, month = divmod(months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(day.day, last))
