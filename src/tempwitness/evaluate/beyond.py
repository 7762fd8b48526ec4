"""What the record does not speak of, although an answer might be taken to cover it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Place, Species, StageName

if TYPE_CHECKING:
    from tempwitness.evaluate.subject import Subject

__all__ = ["absent_cooks", "ends_unsaid", "pieces_without_cook", "points_unread"]

#: What is done with food that was cooked.
_COOKED = frozenset(
    {
        StageName.REST,
        StageName.HOT_HOLD,
        StageName.SERVE,
        StageName.TRANSPORT,
        StageName.COOL,
        StageName.REHEAT,
    }
)


def absent_cooks(subject: Subject) -> tuple[str, ...]:
    """Name the pieces that were handled as cooked food and whose cook is not on record."""
    return tuple(
        f"the cook of piece {piece} is not on record: whether it was cooked enough was not judged"
        for piece in pieces_without_cook(subject)
    )


def pieces_without_cook(subject: Subject) -> list[str]:
    """Return the pieces that were handled as cooked food although no cook of them is noted."""
    lot = subject.log.raw.lot
    if lot.food.species is Species.PLANT or lot.facts.get("origin") == "commercial_sealed":
        return []
    return [
        piece
        for piece, stages in subject.stages.items()
        if _COOKED & {s.name for s in stages} and StageName.COOK not in {s.name for s in stages}
    ]


def points_unread(subject: Subject) -> tuple[str, ...]:
    """Name the points that were not read in stages in which others of the piece may have been."""
    lines = []
    for piece, stages in subject.stages.items():
        cores = [t for t in subject.traces.get(piece, ()) if t.place is Place.CORE]
        if len(cores) < 2:
            continue
        for trace in cores:
            unread = dict.fromkeys(
                s.name.words
                for s in stages
                if float(trace.at[0]) > s.end or float(trace.at[-1]) < s.start
            )
            if unread:
                point = trace.point or "without a name"
                lines.append(
                    f"the point {point} of piece {piece} was not read in: {', '.join(unread)}; "
                    "what is said of these stages speaks of the other points"
                )
    return tuple(lines)


def ends_unsaid(subject: Subject) -> tuple[str, ...]:
    """Name the last stages of which nobody noted the end."""
    return tuple(
        f"how the {stages[-1].name.words} of piece {piece} ended is not on record: nothing is said "
        f"of what came after {subject.local.say(stages[-1].end)}"
        for piece, stages in subject.stages.items()
        if stages and not stages[-1].closed
    )
