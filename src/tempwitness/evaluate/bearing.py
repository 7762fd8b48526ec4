"""Which requirements of a code bear on a lot at all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.criteria.applies import Applies, to_lot

if TYPE_CHECKING:
    from tempwitness.model.lot import Lot
    from tempwitness.model.rule import Code, Requirement

__all__ = ["bearing"]

_BEARING: dict[tuple[object, ...], tuple[Code, list[Applies]]] = {}
_MOST_KEPT = 256


def bearing(lot: Lot, code: Code) -> list[Applies]:
    """Whether each requirement of a code bears on the lot at all; asked once for lots alike."""
    food = lot.food
    alike = (
        id(code),
        food.species,
        food.forms,
        food.cut,
        food.thickness,
        lot.business,
        bool(lot.time_control),
        tuple(sorted(lot.facts.items())),
    )
    known = _BEARING.get(alike)
    # The code is kept beside the answers, so that its id cannot come to stand for another.
    if known is None or known[0] is not code:
        if len(_BEARING) >= _MOST_KEPT:
            _BEARING.clear()
        known = _BEARING[alike] = (code, [_barred(lot, r) for r in code.requirements])
    return known[1]


def _barred(lot: Lot, requirement: Requirement) -> Applies:
    """Whether the requirement bears on the lot at all."""
    if requirement.test.form == "time_control" and not lot.time_control:
        return Applies(answer=False, why="time is not used as the control")
    return to_lot(requirement.when, lot)
