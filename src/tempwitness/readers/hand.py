"""Readings and notes typed into the record itself; nothing heavy is needed for them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from tempwitness.model.logs import Change, Channel, Floats, Note
from tempwitness.model.vocabulary import Event, Place
from tempwitness.readers.faces import ACCEPTED, Face
from tempwitness.readers.moments import Column, face_of
from tempwitness.readers.settle import refuse_mixed_halves, settle
from tempwitness.readers.timeline import Fold, Frame, day_assumption, place
from tempwitness.readers.zones import UnplacedTimeError
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.readers.names import Names
    from tempwitness.readers.problems import Problems
    from tempwitness.readers.shape import NoteTable, ReadingTable

__all__ = ["RECORD", "Placed", "changes", "channels", "notes", "refuse_two_clocks", "times"]

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
    faces : tuple of Face
        The times as written.
    understood : tuple of str
        What the list as a whole decided.
    """

    at: Floats
    local: Floats
    loose: bool
    assumption: str
    faces: tuple[Face, ...] = ()
    understood: tuple[str, ...] = ()


def times(entries: Sequence[_Timed], name: str, frame: Frame, problems: Problems) -> Placed:
    """Place the times of a list of the record, in the order in which it was written."""
    faces = [_face(entry, i, name, problems) for i, entry in enumerate(entries)]
    problems.check()
    try:
        settled = settle(faces, order=None, to_24=False)
        column = Column(
            np.array(settled.seconds, np.float64),
            np.array([face.dated for face in faces], np.bool_),
            np.array([np.nan if f.offset is None else f.offset for f in faces], np.float64),
        )
        if settled.forced is not None:
            _refuse_disorder(column, faces, settled.forced)
        at, local = place(column, frame, fold=[entry.fold for entry in entries])
    except UnplacedTimeError as wrong:
        problems.stop(wrong.what, wrong.hint, key=f"{name}[{wrong.row + 1}].at")
    said = day_assumption(column, local, lambda row: f"{name}[{row + 1}]")
    loose = bool(len(local)) and not bool(column.dated.any())
    understood = tuple(f"{name}: {words}" for words in settled.understood)
    return Placed(at, local, loose, said, tuple(faces), understood)


def refuse_two_clocks(lists: Mapping[str, Placed], problems: Problems) -> None:
    """Refuse AM and PM in one list of a record beside bare hours in another."""
    entries = [(name, i) for name, placed in lists.items() for i in range(len(placed.faces))]
    try:
        refuse_mixed_halves([lists[name].faces[i] for name, i in entries])
    except UnplacedTimeError as wrong:
        name, i = entries[wrong.row]
        problems.stop(wrong.what, wrong.hint, key=f"{name}[{i + 1}].at")


def _refuse_disorder(column: Column, faces: Sequence[Face], forced: int) -> None:
    """A date that shows the order of day and month is borne out only by a list in order."""
    if bool((np.diff(column.seconds[column.dated]) < 0).any()):
        raise UnplacedTimeError(
            forced,
            f"'{faces[forced].text}' shows the order of day and month, but taken so, the entries "
            f"do not follow one another",
            ACCEPTED,
        )


def _face(entry: _Timed, i: int, name: str, problems: Problems) -> Face:
    try:
        return face_of(entry.at)
    except ValueError as why:
        problems.add(str(why), key=f"{name}[{i + 1}].at")
        return Face("", 0.0)


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
    cells = [entries[i].temp for i in order]
    bounded = any(cell.bounded for cell in cells)
    taken = tuple(probes[i] for i in order)
    return Channel(
        source=RECORD,
        piece=where[0],
        place=where[1],
        point=where[2],
        probe=taken[:1] if len(set(taken)) == 1 else taken,
        line=np.array(order, np.int64) + 1,
        at=at[order],
        value=np.array([cell.value for cell in cells], np.float64),
        celsius=np.array([cell.unit is Unit.C for cell in cells], np.bool_),
        text=tuple(c.text for c in cells) if any(c.why for c in cells) else None,
        low=np.array([cell.low for cell in cells], np.float64) if bounded else None,
        high=np.array([cell.high for cell in cells], np.float64) if bounded else None,
        rough=np.array([c.rough for c in cells]) if any(c.rough for c in cells) else None,
    )


def changes(entries: Sequence[ReadingTable]) -> list[Change]:
    """Readings of the record that are not used as they stand."""
    return [
        Change(RECORD, i, "temp", cell.text, cell.words(cell.unit), cell.why)
        for i, cell in enumerate((entry.temp for entry in entries), 1)
        if cell.why and cell.unit is not None
    ]


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
