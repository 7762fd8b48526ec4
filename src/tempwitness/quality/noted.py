"""Stages as people noted them, before any is inferred: what a test may know of the food's lot."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Note
    from tempwitness.model.vocabulary import StageName

__all__ = ["NotedStage", "mine", "noted_stages"]


@dataclass(frozen=True, slots=True)
class NotedStage:
    """A stage from the note that began it to the next note of a stage [s]; the last has no end."""

    name: StageName
    method: str
    start: float
    end: float


def mine(notes: Sequence[Note], piece: str) -> list[Note]:
    """Return the notes that concern a piece, in order of time."""
    return sorted((n for n in notes if n.piece in (None, piece)), key=lambda n: n.at)


def noted_stages(notes: Sequence[Note], piece: str) -> list[NotedStage]:
    """Return the noted stages of a piece; of all pieces alike for ``""``, the air around them."""
    steps = [n for n in mine(notes, piece) if n.step is not None]
    ends = [n.at for n in steps[1:]] + [inf]
    return [
        NotedStage(n.step, n.method, n.at, end)
        for n, end in zip(steps, ends, strict=False)
        if n.step is not None
    ]
