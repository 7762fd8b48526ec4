"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from functools import wraps
from typing import Any, TypeVar

import click

from tempwitness.model.vocabulary import Business
from tempwitness.readers.options import BareOptions

__all__ = ["bare_options"]

Command = TypeVar("Command", bound=Callable[..., Any])
_NAMES = (
    "food", "form", "weight", "code", "place", "business", "zone", "also", "overrides", "lot",
    "ignore", "unit", "time_format", "day_order", "date", "fold", "species", "cut",
)  # fmt: skip

_OPTIONS = (
    click.option("--food", default="", metavar="NAME", help="The food, such as 'lamb shoulder'."),
    click.option(
        "--form",
        multiple=True,
        metavar="WORD",
        help="State before cooking: intact, injected, tenderised, ground or stuffed.",
    ),
    click.option("--weight", default="", metavar="W", help="Weight of the largest piece: '9 lb'."),
    click.option("--code", default="", metavar="ID", help="Food code: us/food-code/2022."),
    click.option(
        "--place", default="", metavar="PATH", help="Where it is served, in place of --code: us/wa."
    ),
    click.option(
        "--business",
        type=click.Choice([b.value for b in Business]),
        default=None,
        help="Kind of business, where the code depends on it.",
    ),
    click.option("--zone", default="", metavar="ZONE", help="Time zone: America/Chicago."),
    click.option("--also", multiple=True, metavar="ID", help="A further code to judge beside."),
    click.option(
        "--override", "overrides", multiple=True, metavar="FILE", help="A file of local changes."
    ),
    click.option(
        "--ignore-column", "ignore", multiple=True, metavar="NAME", help="Leave a column out."
    ),
    click.option(
        "--unit",
        type=click.Choice(["F", "C"], case_sensitive=False),
        default=None,
        help="Unit of the columns whose names do not say it.",
    ),
    click.option(
        "--time-format",
        default=None,
        metavar="PATTERN",
        help="Form of the times if it is not plain: '%m/%d/%Y %H:%M', 24h, epoch-s, epoch-ms, "
        "serial-1900 or serial-1904.",
    ),
    click.option(
        "--day-order",
        type=click.Choice(["day-first", "month-first"]),
        default=None,
        help="Order of day and month in dates such as 7/4/2026.",
    ),
    click.option(
        "--date",
        type=click.DateTime(["%Y-%m-%d"]),
        default=None,
        metavar="DAY",
        help="Day on which a log without dates begins: 2026-07-04.",
    ),
    click.option(
        "--fold",
        type=click.Choice(["first", "second"]),
        default=None,
        help="Which run of the hour that comes twice when the clocks go back.",
    ),
    click.option("--species", default=None, metavar="WORD", help="Kind of food, if unclear."),
    click.option("--cut", default=None, metavar="WORD", help="Shape of the food, if unclear."),
    click.option("--lot", default=None, metavar="NAME", help="Name of the lot."),
)


def bare_options(command: Command) -> Command:
    """Add the options that a readings file without a record needs.

    The wrapped function receives them as ``options``: a `BareOptions`, or ``None`` if none of
    them was given.
    """

    @wraps(command)
    def with_options(*args: Any, **kwargs: Any) -> Any:  # noqa: ANN401 - passes anything on
        given = {name: kwargs.pop(name) for name in _NAMES}
        options = BareOptions(**_typed(given)) if any(given.values()) else None
        return command(*args, options=options, **kwargs)

    wrapped: Any = with_options
    for option in reversed(_OPTIONS):
        wrapped = option(wrapped)
    found: Command = wrapped
    return found


def _typed(given: dict[str, Any]) -> dict[str, Any]:
    day: datetime | None = given["date"]
    return {**given, "date": None if day is None else date(day.year, day.month, day.day)}
