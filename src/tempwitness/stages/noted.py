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

#: Nothing is noted more finely than this [s].
_MOMENT = 1e-3

_HEATING = (StageName.COOK, StageName.REHEAT)
_COLD = frozenset(
    {StageName.RECEIVE, StageName.COLD_HOLD, StageName.THAW, StageName.PREP, StageName.FREEZE}
)


def record_end(log: CorrectedLog, piece: str) -> float:
    """Return the last moment of which the record says anything about a piece [s]."""
    moments = [float(c.at[-1]) for c in log.raw.channels if c.piece == piece and len(c)]
    moments += [n.at for n in log.raw.notes if n.piece in (None, piece)]
    return max(moments, default=0.0)


def noted_stages(log: CorrectedLog, piece: str, steps: Sequence[Note], end: float) -> list[Stage]:
    """Return the stages between the noted steps; equal ones that follow each other are one.

    Food that was noted as finished or discarded and went through another step afterwards was not
    gone: what lies between stands as a stage of its own, with the question what it was.
    """
    ends = [
        n
        for n in log.raw.notes
        if n.event is not None and n.event.ends and n.piece in (None, piece)
    ]
    steps = _without_repeats(sorted(steps, key=lambda n: n.at), ends)
    stages: list[Stage] = []
    for index, note in enumerate(steps):
        following = steps[index + 1] if index + 1 < len(steps) else None
        if note.step is None:
            continue
        finish = following.at if following is not None else end
        # An end noted at the moment of a step from which the record goes on is the one before's.
        begins = note.at if index == 0 or finish == note.at else note.at + _MOMENT
        last = next((n for n in ends if begins <= n.at <= finish), None)
        closed = following is not None or last is not None
        over = finish if last is None else last.at
        stages.append(_stage(note.step, len(stages) + 1, piece, note, over, closed=closed))
        if last is not None and following is not None and over < finish:
            stages.append(_went_on(stages, last, finish))
    return stages


def _went_on(stages: Sequence[Stage], last: Note, until: float) -> Stage:
    """Food between the note of its end and the step that says that it was still there."""
    warm = any(s.name not in _COLD for s in stages)
    word = "" if last.event is None else last.event.value
    return Stage(
        name=StageName.HOT_HOLD if warm else StageName.COLD_HOLD,
        number=len(stages) + 1,
        piece=stages[-1].piece,
        start=last.at,
        end=until,
        closed=True,
        decided=Decided.INFERRED,
        reason=f"noted as {word} ({last.source}, line {last.line}), and a step follows",
        question=f"The food was noted as {word}, and a later step says that it was still there. "
        "Where was it in between? Correct the note, or note the step.",
    )


def _without_repeats(steps: list[Note], ends: Sequence[Note]) -> list[Note]:
    """Join a step noted again to the first: food moved from an ice bath to a refrigerator cools on.

    Thawing is the exception, because its method decides which limit stands; and what follows a
    note that the food was gone is not the same stage. Heating in which a microwave had a part is
    held to the microwave's limit, which is the highest.
    """
    kept: list[Note] = []
    for note in steps:
        if not kept or not _goes_on(kept[-1], note) or _ended(kept[-1], note, ends):
            kept.append(note)
        elif not kept[-1].method or _by_microwave(note):
            kept[-1] = replace(kept[-1], method=note.method)
    return kept


def _by_microwave(note: Note) -> bool:
    return note.step in _HEATING and note.method == "microwave"


def _ended(before: Note, note: Note, ends: Sequence[Note]) -> bool:
    return any(before.at <= n.at < note.at for n in ends)


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
