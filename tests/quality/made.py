"""Channels, notes and logs for the quality tests, in a few words.

The traces are invented; whole pieces of meat follow Newton's law with time constants of hours.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.logs import Channel, Note, RawLog
from tempwitness.model.lot import Food, Lot, Piece, Probe
from tempwitness.model.vocabulary import Event, Flag, Place, Species, StageName
from tempwitness.quality import qualify

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import QualifiedLog

MINUTE = 60.0
T0 = 1_783_200_000.0


def channel(
    values: Sequence[float],
    *,
    every: float = MINUTE,
    at: Sequence[float] | None = None,
    place: Place = Place.CORE,
    celsius: bool = False,
    probe: tuple[str, ...] = ("blue",),
) -> Channel:
    n = len(values)
    minutes = [i * every / MINUTE for i in range(n)] if at is None else at
    return Channel(
        source="pit.csv",
        piece="" if place in (Place.AIR, Place.MEDIUM) else "A",
        place=place,
        point="",
        probe=probe,
        line=np.arange(2, n + 2),
        at=np.array([T0 + m * MINUTE for m in minutes], np.float64),
        value=np.array(values, np.float64),
        celsius=np.full(n, celsius),
    )


def note(
    minute: float, *, step: StageName | None = None, event: Event | None = None, method: str = ""
) -> Note:
    return Note(T0 + minute * MINUTE, step, event, "", None, method, "record", 1)


LAMB = Food("lamb", Species.LAMB)


def log(
    *channels: Channel,
    notes: Sequence[Note] = (),
    food: Food = LAMB,
    latest: float | None = None,
) -> QualifiedLog:
    lot = Lot("lamb-1", food, "us/food-code/2022", "UTC", (Piece("A"), Piece("B")))
    return qualify(RawLog(lot, channels, tuple(notes), (Probe("blue"),), ()), latest)


def flags(*channels: Channel, notes: Sequence[Note] = ()) -> list[int]:
    found: list[int] = log(*channels, notes=notes).flags[0].tolist()
    return found


def codes(found: QualifiedLog) -> list[tuple[int, int, str]]:
    return [(d.first, d.last, d.code) for d in found.doubts]


OK, SUSPECT, FAIL, MISSING = (int(f) for f in (Flag.PASS, Flag.SUSPECT, Flag.FAIL, Flag.MISSING))
