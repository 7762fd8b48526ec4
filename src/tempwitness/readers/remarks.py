"""Stages, events and words that stand in the rows of a table."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from tempwitness.model.logs import Bools, Floats, Note
from tempwitness.model.vocabulary import Event, StageName
from tempwitness.readers.words import word

if TYPE_CHECKING:
    from tempwitness.readers.jobs import Job

__all__ = ["read_remarks"]

_ROLES = ("step", "event", "note", "method")
Word = TypeVar("Word", bound=StrEnum)


@dataclass(slots=True)
class _Running:
    """Stage and method that run for each piece."""

    step: dict[str | None, StageName] = field(default_factory=dict)
    method: dict[str | None, str] = field(default_factory=dict)


def read_remarks(job: Job, at: Floats) -> tuple[list[Note], Bools]:
    """Read the notes of a table.

    Returns
    -------
    list of Note, Bools
        The notes, and the rows that hold at least a word of one.
    """
    columns = {role: job.words(role) for role in _ROLES}
    spoken = np.zeros(len(at), np.bool_)
    for labels in columns.values():
        spoken |= ~labels.blank()
    rows = np.flatnonzero(spoken)
    if not len(rows):
        return [], spoken
    pieces = job.words("piece")
    running = _Running()
    notes: list[Note] = []
    for row in rows.tolist():
        said = _Said(
            job,
            int(job.sheet.lines[row]),
            {role: labels.at(row) for role, labels in columns.items()},
        )
        named = pieces.at(row) or job.said.piece
        note = _note(said, float(at[row]), named or None, running)
        if note is not None:
            notes.append(note)
    return notes, spoken


@dataclass(frozen=True, slots=True)
class _Said:
    """Words of one row."""

    job: Job
    line: int
    words: dict[str, str]

    def known(self, role: str, kind: type[Word], what: str) -> Word | None:
        """Word of a closed list, ``None`` if the cell is empty or not understood."""
        if not self.words[role]:
            return None
        try:
            return word(self.words[role], kind, what)
        except ValueError as why:
            self.job.problems.add(str(why), line=self.line, column=self.job.column(role))
            return None


def _note(said: _Said, at: float, named: str | None, running: _Running) -> Note | None:
    """Note of a row, ``None`` if the row only repeats what runs already."""
    job, words = said.job, said.words
    step: StageName | None = None
    begun = said.known("step", StageName, "stage")
    if begun is not None and begun != running.step.get(named):
        running.step[named] = step = begun
        running.method.pop(named, None)
    event = said.known("event", Event, "event")
    if words["method"]:
        _check_method(said, named, running, begins=bool(words["event"]) or step is not None)
    if step is None and event is None:
        if not words["note"]:
            return None
        event = Event.REMARK
    return Note(
        at, step, event, words["note"], named, words["method"], job.problems.file, said.line
    )


def _check_method(said: _Said, piece: str | None, running: _Running, *, begins: bool) -> None:
    """A method belongs to the row on which a stage begins; below it may only be repeated."""
    method = said.words["method"]
    if begins:
        running.method[piece] = method
    elif running.method.get(piece) != method:
        said.job.problems.add(
            f"the method '{method}' stands on a row where no stage begins",
            "write it on the row that names the stage",
            line=said.line,
            column=said.job.column("method"),
        )
