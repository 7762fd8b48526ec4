"""What changed between two looks at the same lot."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Clock, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tempwitness.model.status import Due, Status

__all__ = ["Change", "Kind", "changes"]


class Kind(StrEnum):
    """What sort of change it is."""

    READING = "reading"
    STAGE = "stage"
    ANSWER = "answer"
    DEADLINE = "deadline"
    KEPT = "kept"
    WARNING = "warning"
    RAN_OUT = "ran_out"


@dataclass(frozen=True, slots=True)
class Change:
    """One change.

    Parameters
    ----------
    kind : Kind
    piece : str
        ``""`` for the lot.
    what : str
        Title, stage or place.
    now : str
        Verdict, stage or reading as it is now.
    by : str, optional
        The deadline or the moment it speaks of (ISO 8601).
    left_s : float, optional
        Time until then [s].
    do : str
        What to do.
    """

    kind: Kind
    piece: str
    what: str
    now: str = ""
    by: str | None = None
    left_s: float | None = None
    do: str = ""


def changes(before: Status, after: Status, warn: Sequence[float] = ()) -> tuple[Change, ...]:
    """Return what changed, the most urgent first and plain new readings last.

    Parameters
    ----------
    before, after : Status
    warn : sequence of float
        Times before a deadline at which it is named again [s].
    """
    found = [
        *_answers(before, after),
        *_deadlines(before, after, warn),
        *_stages(before, after),
        *_readings(before, after),
    ]
    return tuple(sorted(found, key=lambda c: _ORDER.index(c.kind)))


_ORDER = (
    Kind.ANSWER,
    Kind.RAN_OUT,
    Kind.WARNING,
    Kind.DEADLINE,
    Kind.KEPT,
    Kind.STAGE,
    Kind.READING,
)

#: Requirement, number of the stage, piece.
_Key = tuple[str, int, str]


def _answers(before: Status, after: Status) -> Iterable[Change]:
    was = _verdicts(before)
    for one in after.settled:
        for piece in one.pieces or ("",):
            told = was.get((one.requirement, one.stage_number, piece))
            if told is one.verdict or (told is None and one.verdict is Verdict.MET):
                continue
            yield Change(Kind.ANSWER, piece, one.title, one.verdict.value, do=one.do)


def _deadlines(before: Status, after: Status, warn: Sequence[float]) -> Iterable[Change]:
    was, now = _by_key(before), _by_key(after)
    for key, due in now.items():
        old = was.get(key)
        piece = key[2]
        if old is None or old.by != due.by:
            if old is None or not _moves(due):
                yield _told(Kind.DEADLINE, piece, due)
        elif any(due.left_s <= ahead < old.left_s for ahead in warn):
            yield _told(Kind.WARNING, piece, due)
    settled = _verdicts(after)
    for key, old in was.items():
        if key in now:
            continue
        if settled.get(key, Verdict.MET) is Verdict.MET:
            yield Change(Kind.KEPT, key[2], old.title, by=old.by)
        else:
            yield Change(Kind.RAN_OUT, key[2], old.title, by=old.by)


def _moves(due: Due) -> bool:
    """Whether it falls due anew at every reading, so that only its warnings are told.

    So does a clock that has not started yet.
    """
    return due.clock is Clock.READING or due.not_started


def _verdicts(status: Status) -> dict[_Key, Verdict]:
    return {
        (s.requirement, s.stage_number, p): s.verdict
        for s in status.settled
        for p in s.pieces or ("",)
    }


def _by_key(status: Status) -> dict[_Key, Due]:
    binding = [
        d
        for d in (*status.next_readings, *status.clocks, *status.use_by)
        if d.weight.binds and not d.beside
    ]
    return {(d.requirement, d.stage_number, p): d for d in binding for p in d.pieces}


def _told(kind: Kind, piece: str, due: Due) -> Change:
    return Change(kind, piece, due.title, by=due.by, left_s=due.left_s, do=due.do)


def _stages(before: Status, after: Status) -> Iterable[Change]:
    was = {p.piece: (p.stage, p.since, p.ended) for p in before.pieces}
    for piece in after.pieces:
        if was.get(piece.piece, ("", None, None)) == (piece.stage, piece.since, piece.ended):
            continue
        over = piece.ended is not None
        moment = piece.ended if over else piece.since
        yield Change(Kind.STAGE, piece.piece, piece.stage, "over" if over else "begun", by=moment)


def _readings(before: Status, after: Status) -> Iterable[Change]:
    was = {(p.piece, r.place, r.point): r.at for p in before.pieces for r in p.latest}
    for piece in after.pieces:
        for one in piece.latest:
            if was.get((piece.piece, one.place, one.point)) != one.at:
                place = one.point or one.place
                yield Change(Kind.READING, piece.piece, place, one.reading, by=one.at)
