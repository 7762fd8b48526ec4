"""A record's lot as a plan of one food, for the sheets of a day that is under way."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from tempwitness.errors import InputError, Location
from tempwitness.readers.event.read import EventFile
from tempwitness.readers.event.shape import EventTable

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.logs import Note, RawLog

__all__ = ["event_of_record"]


def event_of_record(raw: RawLog, path: Path) -> EventFile:
    """Return an event with the record's one food and the steps that its notes begin.

    Raises
    ------
    InputError
        If no note says when a step began.
    """
    lot = raw.lot
    zone = ZoneInfo(lot.zone)
    notes = _first_of_each(raw)
    if not notes:
        raise InputError(
            "no note of the record begins a step, so there is nothing to make sheets for",
            location=Location(str(path)),
            hint='write a [[note]] with step = "cook" and its time, or use an event file',
        )
    starts = [
        datetime.fromtimestamp(n.at, UTC).astimezone(zone).replace(tzinfo=None) for n in notes
    ]
    steps = [
        {"do": n.step, "start": start.replace(microsecond=0), "method": n.method, "how": n.text}
        for n, start in zip(notes, starts, strict=True)
    ]
    food: dict[str, Any] = {
        "name": lot.food.name,
        "species": lot.food.species,
        "cut": lot.food.cut,
        "form": tuple(lot.food.forms) if lot.food.forms else None,
        "weight": str(lot.food.weight) if lot.food.weight else None,
        "facts": lot.facts,
        "step": steps,
    }
    table = EventTable.model_validate(
        {
            "schema": 1,
            "code": lot.code,
            "place": "" if lot.code else lot.place,
            "zone": lot.zone,
            "business": lot.business,
            "overrides": lot.overrides,
            "event": {"name": lot.event or f"Lot {lot.id}"},
            "day": [{"date": starts[-1].date()}],
            "food": [{k: v for k, v in food.items() if v is not None}],
        }
    )
    return EventFile(table, (lot.food,), path.name, path.parent, raw.sources[0].sha256)


def _first_of_each(raw: RawLog) -> list[Note]:
    """Return the notes that begin a step, of several pieces at one step the first."""
    found: list[Note] = []
    for note in raw.notes:
        if note.step is not None and (not found or found[-1].step is not note.step):
            found.append(note)
    return found
