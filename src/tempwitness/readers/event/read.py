"""An event file read, its parts held against each other."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pydantic import ValidationError

from tempwitness.errors import InputError, Location
from tempwitness.model.lot import Food
from tempwitness.model.vocabulary import Species, StageName
from tempwitness.readers.event.shape import EventTable
from tempwitness.readers.lot import food
from tempwitness.readers.problems import Problems, nearest
from tempwitness.readers.toml import placed, read_table, refuse
from tempwitness.readers.words import weighed
from tempwitness.readers.zones import find_zone

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date
    from pathlib import Path

    from tempwitness.readers.event.food import FoodPart, StepPart

__all__ = ["AT_EVENT", "EventFile", "read_event"]

#: Where a step happens if it is not in another kitchen.
AT_EVENT = "event"
_WEEK = 7


@dataclass(frozen=True, slots=True)
class EventFile:
    """An event file as it was understood.

    Parameters
    ----------
    table : EventTable
    foods : tuple of Food
        What each ``[[food]]`` is, in its order.
    file : str
        Its name, without folders.
    folder : Path
        Where it stands; local changes are counted from here.
    sha256 : str
        Hash of its bytes.
    """

    table: EventTable
    foods: tuple[Food, ...]
    file: str
    folder: Path
    sha256: str

    @property
    def first_day(self) -> date:
        """First day of the event."""
        return min(day.date for day in self.table.day)

    @property
    def last_day(self) -> date:
        """Last day of the event."""
        return max(day.date for day in self.table.day)


@dataclass(frozen=True, slots=True)
class _Faults:
    """Faults of one file, each with its line."""

    problems: Problems
    raw: bytes

    def add(self, what: str, hint: str, *loc: int | str) -> None:
        """Note a fault of the key at `loc`, entries of lists counted from nought."""
        line, key = placed(loc, self.raw)
        self.problems.add(what, hint, line=line, key=key)


def read_event(path: Path) -> EventFile:
    """Read an event file.

    Parameters
    ----------
    path : Path
        The TOML file.

    Raises
    ------
    InputError
        If it cannot be understood; it names file, line and key of every fault found.
    """
    table, raw = read_table(path)
    if "lot" in table:
        raise InputError(
            "this is a record of one lot, not an event file",
            location=Location(str(path)),
            hint="write an event file: tempwitness new event -o event.toml (sheets and labels take "
            "records too)",
        )
    try:
        event = EventTable.model_validate(table)
    except ValidationError as why:
        raise refuse(why, EventTable, raw, Problems(str(path))) from None
    problems = Problems(str(path))
    faults = _Faults(problems, raw)
    _head(event, faults)
    _lists(event, faults)
    foods = tuple(_food(part, i, event, faults) for i, part in enumerate(event.food))
    problems.check()
    return EventFile(event, foods, path.name, path.parent, hashlib.sha256(raw).hexdigest())


def _head(event: EventTable, faults: _Faults) -> None:
    try:
        find_zone(event.zone)
    except ValueError as why:
        faults.add(str(why), "", "zone")
    if bool(event.code) == bool(event.place):
        both = "names both the code and the place" if event.code else "names no code and no place"
        faults.add(
            f"the event {both}", 'write code = "us/food-code/2022", or place = "us/wa"', "code"
        )


def _lists(event: EventTable, faults: _Faults) -> None:
    if len(set(event.weekend)) == _WEEK:
        faults.add("no day of the week is left to work", "name the days off only", "weekend")
    for name, rows in (("day", event.day), ("food", event.food)):
        if not rows:
            faults.add(f"the event has no {name}", f"write at least one [[{name}]]", name)
    _refuse_doubles("kitchen", "id", [k.id for k in event.kitchen], faults)
    _refuse_doubles("equipment", "id", [e.id for e in event.equipment], faults)
    _refuse_doubles("thermometer", "id", [t.id for t in event.thermometer], faults)
    _refuse_doubles("food", "name", [f.name for f in event.food], faults)
    _refuse_doubles("day", "date", [str(d.date) for d in event.day], faults)
    for i, kitchen in enumerate(event.kitchen):
        if kitchen.id == AT_EVENT:
            what = f"'{AT_EVENT}' means the event itself"
            faults.add(what, "give the kitchen another short name", "kitchen", i, "id")
    for i, unit in enumerate(event.equipment):
        _known(unit.where, _places(event), "place", faults, ("equipment", i, "where"))


def _refuse_doubles(name: str, key: str, ids: Sequence[str], faults: _Faults) -> None:
    for i, one in enumerate(ids):
        if one in ids[:i]:
            faults.add(f"'{one}' stands twice", "give each its own", name, i, key)


def _places(event: EventTable) -> list[str]:
    return [AT_EVENT, *(k.id for k in event.kitchen)]


def _known(
    said: str, known: Sequence[str], what: str, faults: _Faults, loc: tuple[int | str, ...]
) -> None:
    if said not in known:
        faults.add(
            f"there is no {what} '{said}'{nearest(said, known)}",
            f"known are {', '.join(known) or 'none: add it to the file first'}",
            *loc,
        )


def _food(part: FoodPart, number: int, event: EventTable, faults: _Faults) -> Food:
    units = [e.id for e in event.equipment]
    for i, step in enumerate(part.step):
        loc = ("food", number, "step", i)
        if step.where and step.do is not StageName.TRANSPORT:
            _known(step.where, _places(event), "place", faults, (*loc, "where"))
        for unit in step.equipment:
            _known(unit, units, "equipment", faults, (*loc, "equipment"))
        if step.do in part.never:
            what = f"{step.do.words} is a step of this food and also among those never done"
            faults.add(what, "keep one of the two", "food", number, "never")
    _in_order(part.step, number, faults)
    found = Problems(faults.problems.file)
    try:
        made = food(
            part.name,
            species=part.species,
            cut=part.cut,
            forms=part.form,
            weight=weighed(part.weight) if part.weight else None,
            problems=found,
        )
    except InputError:
        made = Food(part.name, Species.MIXED)  # never used: the fault below refuses the file
    for one in found.found:
        key = (one.where.key or "").removeprefix("food.")
        faults.add(one.what, one.hint, "food", number, key)
    return made


def _in_order(steps: Sequence[StepPart], number: int, faults: _Faults) -> None:
    last = None
    for i, step in enumerate(steps):
        begins = step.start or step.end
        if last is not None and begins is not None and begins < last:
            faults.add(
                f"it begins at {begins:%Y-%m-%d %H:%M}, before the step above it",
                "steps stand in the order in which they are done",
                *("food", number, "step", i, "start"),
            )
        last = begins or last
