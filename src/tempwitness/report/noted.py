"""What people noted, in words: what was done, and remarks that are no readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, NoteMade

__all__ = ["done_words", "events"]


def events(evaluation: Evaluation) -> tuple[NoteMade, ...]:
    """Return the notes that the list of stages does not hold: remarks and what was done."""
    return tuple(n for n in evaluation.notes if n.event)


def done_words(note: NoteMade) -> str:
    """Say what a note tells: the stage that begins, what was done, how, and the person's words.

    Examples
    --------
    >>> from tempwitness.model.finding import NoteMade
    >>> done_words(NoteMade("", "", "", "remark", "", "still steaming", "record", 3))
    'remark, which is no reading: still steaming'
    """
    what = "remark, which is no reading" if note.event == "remark" else note.event
    parts = [part for part in (note.step, what, note.method) if part]
    told = ", ".join(part.replace("_", " ") for part in parts)
    return f"{told}: {note.text}" if note.text and told else told or note.text
