"""To which stages and foods requirements apply, cut into the parts in which the same ones do.

A box is a set of stages, of kinds of food, of forms and of cuts. Where two codes draw their lines
between foods in different places, each part that results is one row of a comparison.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, Any

from tempwitness.model.vocabulary import Cut, Form, Species, StageName

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["Box", "box_of", "box_words", "joined", "overlap", "parts"]

#: Stages, species, forms and cuts.
Box = tuple[frozenset[str], frozenset[str], frozenset[str], frozenset[str]]

_NO_STAGE = ""
_STAGES = (_NO_STAGE, *(s.value for s in StageName))
_OF_FOOD: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("species", tuple(s.value for s in Species)),
    ("form", tuple(f.value for f in Form)),
    ("cut", tuple(c.value for c in Cut)),
)
_ORDER = {value: n for n, value in enumerate((*_STAGES, *(v for _, vs in _OF_FOOD for v in vs)))}


def box_of(requirement: dict[str, Any]) -> Box:
    """Return the stages and foods of which a requirement, as written, speaks."""
    when = requirement.get("when", {})
    species, form, cut = (
        frozenset(when.get(key) or values) - frozenset(when.get(f"{key}_not", ()))
        for key, values in _OF_FOOD
    )
    return frozenset(requirement.get("stages") or (_NO_STAGE,)), species, form, cut


def parts(boxes: Sequence[Box]) -> dict[int, list[Box]]:
    """Cut the space into the parts in which the same boxes lie.

    Returns
    -------
    dict of int to list of Box
        Each part by its boxes, one bit of the key a box; what lies in none is left out.
    """
    found: dict[int, list[Box]] = {}
    for cell in product(*(_classes([box[d] for box in boxes]) for d in range(4))):
        mask = cell[0][0] & cell[1][0] & cell[2][0] & cell[3][0]
        if mask:
            box = (cell[0][1], cell[1][1], cell[2][1], cell[3][1])
            found.setdefault(mask, []).append(box)
    return {mask: joined(cells) for mask, cells in found.items()}


def _classes(sides: Sequence[frozenset[str]]) -> list[tuple[int, frozenset[str]]]:
    """Group the values of one dimension by the boxes in which they lie."""
    by_mask: dict[int, list[str]] = {}
    for value in sorted(frozenset().union(*sides), key=_ORDER.__getitem__):
        mask = sum(1 << n for n, side in enumerate(sides) if value in side)
        by_mask.setdefault(mask, []).append(value)
    return [(mask, frozenset(values)) for mask, values in by_mask.items()]


def joined(boxes: Iterable[Box]) -> list[Box]:
    """Join boxes that differ in one dimension only, until none do."""
    left = list(boxes)
    for dimension in (3, 2, 1, 0):
        by_rest: dict[tuple[frozenset[str], ...], frozenset[str]] = {}
        for box in left:
            rest = box[:dimension] + box[dimension + 1 :]
            by_rest[rest] = by_rest.get(rest, frozenset()) | box[dimension]
        left = [
            (*rest[:dimension], side, *rest[dimension:])  # type: ignore[misc]
            for rest, side in by_rest.items()
        ]
    return left


def overlap(one: Iterable[Box], other: Iterable[Box]) -> bool:
    """Whether two sets of boxes have anything in common."""
    others = list(other)
    return any(all(a & b for a, b in zip(x, y, strict=True)) for x in one for y in others)


def box_words(boxes: Sequence[Box]) -> tuple[str, str]:
    """Write stages and foods, each empty where it says nothing.

    Examples
    --------
    >>> box_words([box_of({"stages": ["cook"], "when": {"species": ["lamb"], "cut": ["roast"]}})])
    ('cook', 'lamb; roast')
    """
    stages = _ordered(frozenset().union(*(box[0] for box in boxes)) - {_NO_STAGE})
    foods = dict.fromkeys(_food(box) for box in boxes)
    food = "" if "" in foods else " / ".join(foods)
    return ", ".join(_plain(s) for s in stages), food


def _food(box: Box) -> str:
    phrases = [_side(side, values) for side, (_, values) in zip(box[1:], _OF_FOOD, strict=True)]
    return "; ".join(phrase for phrase in phrases if phrase)


def _side(side: frozenset[str], values: tuple[str, ...]) -> str:
    """Write some values of a dimension, or what is left out where that is shorter."""
    without = _ordered(frozenset(values) - side)
    if not without:
        return ""
    if len(without) * 2 < len(side):
        return f"not {_either(without)}"
    return _either(_ordered(side))


def _ordered(side: Iterable[str]) -> list[str]:
    return sorted(side, key=_ORDER.__getitem__)


def _either(words: Sequence[str]) -> str:
    *most, last = (_plain(word) for word in words)
    return f"{', '.join(most)} or {last}" if most else last


def _plain(word: str) -> str:
    return word.replace("_", " ")
