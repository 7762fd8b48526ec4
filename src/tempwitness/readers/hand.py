"""Readings and notes typed into the record itself; nothing heavy is needed for them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from tempwitness.model.logs import Channel, Floats, Note
from tempwitness.model.vocabulary import Event, Place
from tempwitness.readers.moments import Column, Moment, parse_moment
from tempwitness.readers.timeline import Fold, Frame, day_assumption, place
from tempwitness.readers.zones import UnplacedTimeError
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.readers.names import Names
    from tempwitness.readers.problems import Problems
    from tempwitness.readers.shape import NoteTable, ReadingTable

__all__ = ["RECORD", "Placed", "channels", "notes", "times"]

RECORD = "record"


class _Timed(Protocol):
    @property
    def at(self) -> object: ...
    @property
    def fold(self) -> Fold | None: ...


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """Times of one list of the record.

    Parameters
    ----------
    at : Floats
        Moments [s since 1970-01-01 UTC].
    local : Floats
        The clock face with its day [s since 1970-01-01].
    loose : bool
        Whether none of them had a date.
    assumption : str
        Which day was assumed; ``""`` if all had a date.
    """

    at: Floats
    local: Floats
    loose: bool
    assumption: str


def times(entries: Sequence[_Timed], name: str, frame: Frame, problems: Problems) -> Placed:
    """Place the times of a list of the record, in the order in which it was written."""
    moments = [_moment(entry, i, name, problems) for i, entry in enumerate(entries)]
    problems.check()
    column = Column(
        np.array([m.seconds for m in moments], np.float64),
        np.array([m.dated for m in moments], np.bool_),
        np.array([np.nan if m.offset is None else m.offset for m in moments], np.float64),
    )
    try:
        at, local = place(column, frame, fold=[entry.fold for entry in entries])
    except UnplacedTimeError as wrong:
        problems.stop(wrong.what, wrong.hint, key=f"{name}[{wrong.row + 1}].at")
    said = day_assumption(column, local, lambda row: f"{name}[{row + 1}]")
    return Placed(at, local, bool(len(local)) and not bool(column.dated.any()), said)


def _moment(entry: _Timed, i: int, name: str, problems: Problems) -> Moment:
    try:
        return parse_moment(entry.at)
    except ValueError as why:
        problems.add(str(why), key=f"{name}[{i + 1}].at")
        return Moment(0.0, dated=True, offset=0.0)


def channels(
    entries: Sequence[ReadingTable], at: Floats, names: Names, problems: Problems
) -> list[Channel]:
    """Readings of the record, one channel for each point of each piece."""
    rows: dict[tuple[str, Place, str], list[int]] = {}
    probes: list[str] = []
    for i, entry in enumerate(entries):
        where = entry.place or Place.CORE
        key = f"reading[{i + 1}]"
        piece = names.piece(entry.piece, where, problems, key=f"{key}.piece")
        probes.append(names.probe(entry.probe, where, problems, key=f"{key}.probe"))
        rows.setdefault((piece, where, entry.point), []).append(i)
    return [
        _channel(entries, sorted(found, key=lambda i: (at[i], i)), at, where, probes)
        for where, found in rows.items()
    ]


def _channel(
    entries: Sequence[ReadingTable],
    order: list[int],
    at: Floats,
    where: tuple[str, Place, str],
    probes: Sequence[str],
) -> Channel:
    temps = [entries[i].temp for i in order]
    taken = tuple(probes[i] for i in order)
    return Channel(
        source=RECORD,
        piece=where[0],
        place=where[1],
        point=where[2],
        probe=taken[:1] if len(set(taken)) == 1 else taken,
        line=np.array(order, np.int64) + 1,
        at=at[order],
        value=np.array([value for value, _ in temps], np.float64),
        celsius=np.array([unit is Unit.C for _, unit in temps], np.bool_),
    )


def notes(entries: Sequence[NoteTable], at: Floats, names: Names, problems: Problems) -> list[Note]:
    """Step notes of the record."""
    found = []
    for i, entry in enumerate(entries):
        key = f"note[{i + 1}]"
        if entry.piece is not None:
            names.piece(entry.piece, Place.CORE, problems, key=f"{key}.piece")
        if entry.step is None and entry.event is None and not entry.text:
            problems.add(
                "the note says nothing",
                "give it a step (a stage that begins), an event or a text",
                key=key,
            )
        event = entry.event
        if entry.step is None and event is None:
            event = Event.REMARK
        found.append(
            Note(
                float(at[i]),
                entry.step,
                event,
                entry.text,
                entry.piece,
                entry.method,
                RECORD,
                i + 1,
            )
        )
    return found
