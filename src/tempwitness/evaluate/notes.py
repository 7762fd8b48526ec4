"""What people noted, as the evaluation hands it on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.finding import NoteMade

if TYPE_CHECKING:
    from tempwitness.evaluate.subject import Subject
    from tempwitness.model.logs import Note

__all__ = ["notes_made"]


def notes_made(subject: Subject) -> tuple[NoteMade, ...]:
    """Return every note of the record, in order of time."""
    return tuple(_made(note, subject) for note in subject.log.raw.notes)


def _made(note: Note, subject: Subject) -> NoteMade:
    return NoteMade(
        at=subject.local.iso(note.at),
        piece=note.piece or "",
        step="" if note.step is None else note.step.value,
        event="" if note.event is None else note.event.value,
        method=note.method,
        text=note.text,
        source=note.source,
        line=note.line,
    )
