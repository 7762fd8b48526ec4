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
    from collections.abc import Sequence

    from tempwitness.readers.jobs import Job, Whose

__all__ = ["read_remarks"]

_ROLES = ("step", "event", "note", "method")
Word = TypeVar("Word", bound=StrEnum)


@dataclass(slots=True)
class _Running:
    """Stage and method that run for each piece."""

    step: dict[str | None, str] = field(default_factory=dict)
    method: dict[str | None, str] = field(default_factory=dict)


def read_remarks(job: Job, at: Floats, groups: Sequence[Whose]) -> tuple[list[Note], Bools]:
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
    pieces = _pieces(groups, len(at))
    running = _Running()
    notes: list[Note] = []
    for row in rows.tolist():
        said = {role: labels.at(row) for role, labels in columns.items()}
        note = _note(job, row, float(at[row]), said, pieces[row] or None, running)
        if note is not None:
            notes.append(note)
    return notes, spoken


def _pieces(groups: Sequence[Whose], rows: int) -> list[str]:
    pieces = [""] * rows
    for group in groups:
        for row in group.rows.tolist():
            pieces[row] = group.piece
    return pieces


def _note(
    job: Job, row: int, at: float, said: dict[str, str], piece: str | None, running: _Running
) -> Note | None:
    """Note of a row, ``None`` if the row only repeats what runs already."""
    line = int(job.sheet.lines[row])
    named = piece if "piece" in job.plan.words or job.said.piece else None
    step: StageName | None = None
    if said["step"] and said["step"] != running.step.get(named):
        running.step[named] = said["step"]
        running.method.pop(named, None)
        step = _known(job, "step", said["step"], StageName, "stage", line)
    event = _known(job, "event", said["event"], Event, "event", line) if said["event"] else None
    if said["method"]:
        _check_method(job, said["method"], named, running, line, begins=bool(step or event))
    if step is None and event is None and not said["note"]:
        return None
    if step is None and event is None:
        event = Event.REMARK
    method = said["method"] if step or event is not Event.REMARK else ""
    return Note(at, step, event, said["note"], named, method, job.problems.file, line)


def _check_method(
    job: Job, method: str, piece: str | None, running: _Running, line: int, *, begins: bool
) -> None:
    """A method belongs to the row on which a stage begins; below it may only be repeated."""
    if begins:
        running.method[piece] = method
    elif running.method.get(piece) != method:
        job.problems.add(
            f"the method '{method}' stands on a row where no stage begins",
            "write it on the row that names the stage",
            line=line,
            column=job.column("method"),
        )


def _known(job: Job, role: str, text: str, kind: type[Word], what: str, line: int) -> Word | None:
    try:
        return word(text, kind, what)
    except ValueError as why:
        job.problems.add(str(why), line=line, column=job.column(role))
        return None
