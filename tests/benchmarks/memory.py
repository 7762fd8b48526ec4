"""A lot of one piece and one probe, built without files."""

from __future__ import annotations

import numpy as np

from tempwitness.model.logs import Channel, Note, RawLog
from tempwitness.model.lot import Food, Lot, Piece, Weighed
from tempwitness.model.vocabulary import Cut, Event, Form, Place, Species, StageName
from tests.benchmarks.logs import DAY, START, STEPS, temperatures


def lot_in_memory(readings: int) -> RawLog:
    """Return a day of one intact lamb shoulder with so many readings at equal distances."""
    start = START.timestamp()
    elapsed = np.linspace(0.0, DAY - 60.0, readings)
    channel = Channel(
        source="memory",
        piece="1",
        place=Place.CORE,
        point="",
        probe=("A",),
        line=np.arange(1, readings + 1),
        at=start + elapsed,
        value=temperatures(elapsed, 0).round(1),
        celsius=np.zeros(readings, np.bool_),
    )
    notes = [_note(start + 3600.0 * hours, StageName(step), None) for hours, step in STEPS.items()]
    notes.append(_note(start + DAY - 60.0, None, Event.FINISHED))
    weight = Weighed(9.0, "lb")
    food = Food("lamb shoulder", Species.LAMB, frozenset({Form.INTACT}), Cut.ROAST, weight)
    lot = Lot("memory", food, "us/food-code/2022", "UTC", (Piece("1"),), facts={"cured": "no"})
    return RawLog(lot, (channel,), tuple(notes), (), ())


def _note(at: float, step: StageName | None, event: Event | None) -> Note:
    return Note(at, step, event, "", None, "", "memory", 1)
