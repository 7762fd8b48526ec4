"""What the options of ``tempwitness new`` said, and the options themselves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

import click

__all__ = ["Given", "given_options"]

Command = TypeVar("Command", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True)
class Given:
    """Options as typed; an empty one was not given."""

    lot: str = ""
    food: str = ""
    species: str = ""
    cut: str = ""
    form: tuple[str, ...] = ()
    weight: str = ""
    code: str = ""
    zone: str = ""
    business: str = ""
    event: str = ""
    cook: str = ""
    date: str = ""
    fact: tuple[str, ...] = ()
    column: tuple[str, ...] = ()
    piece: tuple[str, ...] = ()
    time_format: str = ""
    step: tuple[str, ...] = ()
    reading: tuple[str, ...] = ()
    probe: tuple[str, ...] = ()
    ice: tuple[str, ...] = ()


_ONE = (
    ("--lot", "NAME", "Name of the lot."),
    ("--food", "NAME", "The food, such as 'lamb shoulder'."),
    ("--species", "WORD", "Kind of food, if its name does not tell."),
    ("--cut", "WORD", "Shape of the food, if its name does not tell."),
    ("--weight", "W", "Weight of the largest piece: '9 lb'."),
    ("--code", "ID", "Food code: us/food-code/2022."),
    ("--zone", "ZONE", "Time zone: America/Chicago."),
    ("--business", "WORD", "Kind of kitchen: caterer, restaurant, temporary_event …"),
    ("--event", "NAME", "Event, for the head of the report."),
    ("--cook", "NAME", "Who cooked, for the head of the report."),
    ("--date", "DAY", "Day on which the lot began: 2026-07-04."),
    ("--time-format", "PATTERN", "Pattern of the files' times if not ISO 8601."),
)
_MANY = (
    ("--form", "WORD", "State before cooking: intact, injected, tenderised, ground, stuffed."),
    ("--fact", "KEY=ANSWER", "Answer to what a code also asks: 'cured=no'."),
    ("--column", "NAME=WHAT", "What a column holds: 'Probe 1=F:left', 'Stamp=time', 'Id=ignore'."),
    ("--piece", "FILE=NAME", "Piece of which a file holds the readings."),
    ("--step", "LINE", "What was done: '06:00 cook', '20:00 cool method=ice_bath'."),
    ("--reading", "LINE", "A reading by hand: '14:00 165 F', '14:00 165 F piece=left'."),
    ("--probe", "[COLUMN=]NAME", "Probe of all readings, of a column, or 'by hand=NAME'."),
    ("--ice", "[PROBE=]LINE", "Last ice check of a probe: '05:30 32 F'."),
)


def given_options(command: Command) -> Command:
    """Add the options that answer a question without asking it; each can be given once or often."""
    wrapped: Any = command
    for name, metavar, text in reversed(_MANY):
        wrapped = click.option(
            name, multiple=True, metavar=metavar, help=f"{text} May be repeated."
        )(wrapped)
    for name, metavar, text in reversed(_ONE):
        wrapped = click.option(name, default="", metavar=metavar, help=text)(wrapped)
    decorated: Command = wrapped
    return decorated
