"""What the record does not show although the code would judge it: a cook that is not on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Species, StageName

if TYPE_CHECKING:
    from tempwitness.evaluate.judge import Subject

__all__ = ["absent_cooks"]

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
    lot = subject.log.raw.lot
    if lot.food.species is Species.PLANT or lot.facts.get("origin") == "commercial_sealed":
        return ()
    return tuple(
        f"the cook of piece {piece} is not on record: whether it was cooked enough was not judged"
        for piece, stages in subject.stages.items()
        if _COOKED & {s.name for s in stages} and StageName.COOK not in {s.name for s in stages}
    )
