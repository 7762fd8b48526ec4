"""Every number of a shipped requirement: its test, its conditions and its other ways."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from tempwitness.model.figures import ColumnRow, Degrees, Limit, Row
from tempwitness.model.forms import Count, Fall, Instrument, Monitoring, Paper, ReachBy, Rise
from tempwitness.model.forms import ShelfLife as Shelf
from tests.published.rows.figures import DAY, Figure, seconds

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic import BaseModel

    from tempwitness.model.figures import WeightBound
    from tempwitness.model.rule import Predicate, Requirement

__all__ = ["figures_of", "holds_beside", "times_of_actions"]

ONE = Decimal(1)
#: Keys of tests that hold a duration, with their direction; `op` of the test goes before it.
_DURATIONS = {
    "at_most": "<=",
    "but_last": "",
    "ceiling_for": "",
    "every": "<=",
    "hold": ">=",
    "in_any": "",
    "mark_after": ">",
    "within": "<=",
}
_COUNTS = {"at_least": ">=", "at_most": "<=", "per_day": ">="}
_SPANS = {"day": ("s", DAY), "week": ("s", 7 * DAY), "month": ("months", 1), "year": ("months", 12)}
#: Where a band or a way begins.
_EDGES = ("start", "low", "high")


def figures_of(requirement: Requirement) -> list[Figure]:
    """Return all numbers that the requirement and its alternatives compare something with."""
    found = [*_of_when(requirement.when), *_of_test(requirement.test)]
    for other in requirement.alternatives:
        found += [*_of_when(other.when), *_of_test(other.test)]
    return found


def times_of_actions(requirement: Requirement) -> list[Figure]:
    """Return the deadlines of what is to be done; a row may print them, but need not."""
    within = [action.within for action in requirement.actions]
    return [Figure("s", seconds(time), asked=False) for time in within if time is not None]


def holds_beside(requirement: Requirement) -> list[tuple[list[Figure], Figure]]:
    """Return each row of its ladders: its temperatures, and the time beside them."""
    tests = (requirement.test, *(other.test for other in requirement.alternatives))
    rows = [row for test in tests for row in getattr(test, "rows", ()) if isinstance(row, Row)]
    return [(list(_degrees(row, row.op)), _time(row.hold, ">=")) for row in rows]


def _of_test(test: BaseModel) -> Iterator[Figure]:
    for key, value in test:
        for one in value if isinstance(value, tuple) else (value,):
            yield from _of_value(test, key, one)


def _of_value(test: BaseModel, key: str, value: object) -> Iterator[Figure]:
    if isinstance(value, Limit):
        # A clock that an event starts asks no reading of where the way begins.
        asked = not (key == "start" and isinstance(test, Fall | Rise) and test.clock != "crossing")
        yield from _degrees(value, value.op, edge=key in _EDGES, asked=asked)
    elif isinstance(value, Degrees):
        yield from _of_row(value)
    elif isinstance(test, Instrument) and isinstance(value, Decimal):
        yield Figure(f"± °{key.upper()}", value)
    elif isinstance(test, Paper) and key in ("keep", "ahead") and value is not None:
        yield _span(str(value), business=key == "ahead" and test.business_days)
    elif isinstance(value, int | float | Decimal) and not isinstance(value, bool):
        yield _number(test, key, value)


def _of_row(value: Degrees) -> Iterator[Figure]:
    if isinstance(value, Row):
        yield from _degrees(value, value.op)
        yield _time(value.hold, ">=")
    else:
        yield from _degrees(value, ">=" if isinstance(value, ColumnRow) else "")
    if isinstance(value, ColumnRow):
        yield from (_time(hold, ">=") for hold in value.holds)


def _degrees(
    value: Degrees, op: str, *, edge: bool = False, asked: bool = True
) -> Iterator[Figure]:
    """Yield the figures that the code prints, not the one that follows from the other."""
    if value.printed != "c":
        yield Figure("°F", value.f, op, edge=edge, asked=asked)
    if value.printed != "f":
        yield Figure("°C", value.c, op, edge=edge, asked=asked)


def _time(amount: float, op: str) -> Figure:
    return Figure("s", seconds(amount), op if amount else "", asked=amount != 0)


def _span(text: str, *, business: bool) -> Figure:
    number, unit = text.split()
    what, each = _SPANS[unit.removesuffix("s")]
    if business:
        return Figure("business days", Decimal(number), ">=")
    return Figure(what, Decimal(number) * each, ">=")


def _number(test: BaseModel, key: str, value: float | Decimal) -> Figure:
    if isinstance(test, Shelf) and key == "days":
        printed = int(value) - 1 if test.after_preparation else int(value)
        return Figure("s", seconds(printed * DAY), "<=")
    if isinstance(test, ReachBy):
        return Figure("number", Decimal(value))
    if key == "z_c":
        return Figure("z °C", Decimal(value))
    if key == "grams":
        return Figure("g", Decimal(value), ">=")
    if isinstance(test, Count | Monitoring) and key in _COUNTS:
        # "Each piece", "once" and "never" are words, not numbers that a text prints.
        asked = value > 1
        return Figure("number", Decimal(value), _COUNTS[key], step=ONE, asked=asked)
    if key not in _DURATIONS:
        raise AssertionError(f"'{key}' of {type(test).__name__} is a number that nobody checks")
    op = _DURATIONS[key]
    return _time(float(value), getattr(test, "op", op) if op == "<=" else op)


def _of_when(when: Predicate) -> Iterator[Figure]:
    yield from _of_weights(when)
    if when.thickness_at_most is not None:
        yield from _sizes(when.thickness_at_most, "<=")
    for key, value in when.numbers_at_least.items():
        yield _counted(key, value, ">=")
    for key, value in when.numbers_below.items():
        yield _counted(key, value, "<")


def _of_weights(when: Predicate) -> Iterator[Figure]:
    least, most = when.weight_at_least, when.weight_at_most
    if least is not None and least == most:
        yield from _weights(least, "")  # of exactly that weight
        return
    for bound, op in (
        (least, ">="),
        (when.weight_more_than, ">"),
        (most, "<="),
        (when.weight_below, "<"),
    ):
        if bound is not None:
            yield from _weights(bound, op)


def _counted(key: str, value: Decimal, op: str) -> Figure:
    if "days" in key.split("_"):
        return Figure("s", seconds(value * DAY), op, edge=True, step=Decimal(DAY))
    return Figure("number", value, op, edge=True, step=ONE)


def _weights(bound: WeightBound, op: str) -> Iterator[Figure]:
    """Yield the figures that the code prints, not the one that follows from the other."""
    if bound.printed != "kg":
        yield Figure("lb", bound.lb, op)
    if bound.printed != "lb":
        yield Figure("kg", bound.kg, op)


def _sizes(bound: BaseModel, op: str) -> Iterator[Figure]:
    for unit, value in bound:
        if value is not None:
            yield Figure("in" if unit == "inch" else unit, value, op)
