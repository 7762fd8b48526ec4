"""Stages as people noted them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.model.logs import Note, Stage
from tempwitness.model.vocabulary import Decided, StageName

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import CorrectedLog

__all__ = ["noted_stages", "record_end"]


def record_end(log: CorrectedLog, piece: str) -> float:
    """Return the last moment of which the record says anything about a piece [s]."""
    moments = [float(c.at[-1]) for c in log.raw.channels if c.piece == piece and len(c)]
    moments += [n.at for n in log.raw.notes if n.piece in (None, piece)]
    return max(moments, default=0.0)


def noted_stages(log: CorrectedLog, piece: str, steps: Sequence[Note], end: float) -> list[Stage]:
    """Return the stages between the noted steps; equal ones that follow each other are one."""
    steps = _without_repeats(sorted(steps, key=lambda n: n.at))
    ends = [
        n
        for n in log.raw.notes
        if n.event is not None and n.event.ends and n.piece in (None, piece)
    ]
    stages = []
    for index, note in enumerate(steps):
        following = steps[index + 1] if index + 1 < len(steps) else None
        if note.step is None:
            continue
        finish = following.at if following is not None else end
        last = next((n for n in ends if note.at <= n.at <= finish), None)
        closed = following is not None or last is not None
        if last is not None:
            finish = last.at
        stages.append(_stage(note.step, index + 1, piece, note, finish, closed=closed))
    return stages


def _without_repeats(steps: list[Note]) -> list[Note]:
    """Join a step noted again to the first: food moved from an ice bath to a refrigerator cools on.

    Thawing is the exception, because its method decides which limit stands.
    """
    kept: list[Note] = []
    for note in steps:
        if not kept or not _goes_on(kept[-1], note):
            kept.append(note)
        elif not kept[-1].method:
            kept[-1] = replace(kept[-1], method=note.method)
    return kept


def _goes_on(before: Note, note: Note) -> bool:
    if note.step is not before.step:
        return False
    return note.step is not StageName.THAW or note.method in ("", before.method)


def _stage(
    name: StageName, number: int, piece: str, note: Note, end: float, *, closed: bool
) -> Stage:
    words = note.text or f"step '{name.value}'"
    return Stage(
        name=name,
        number=number,
        piece=piece,
        start=note.at,
        end=max(end, note.at),
        closed=closed,
        decided=Decided.NOTED,
        reason=f"{words} ({note.source}, line {note.line})",
        method=note.method,
    )
