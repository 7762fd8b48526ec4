"""Whether a local limit is stricter or looser than the code's, decided by direction alone."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

from tempwitness.model.figures import Limit

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from tempwitness.model.forms import Test
    from tempwitness.model.rule import Alternative
    from tempwitness.model.vocabulary import Point

__all__ = ["Strictness", "alternative_undercuts", "strictness_of_duration", "strictness_of_limit"]


class Strictness(Enum):
    """How a new limit stands to the old one."""

    SAME = "the same as"
    STRICTER = "stricter than"
    LOOSER = "looser than"
    MIXED = "stricter in one unit and looser in the other than"
    OPPOSITE = "in the opposite direction of"


def strictness_of_limit(new: Limit, old: Limit) -> Strictness:
    """Compare two limits in each printed unit; they must agree.

    Examples
    --------
    >>> old = Limit(f=135, c=57, op=">=")
    >>> strictness_of_limit(Limit(f=140, c=60, op=">="), old).name
    'STRICTER'
    >>> strictness_of_limit(Limit(f=140, c=56, op=">="), old).name
    'MIXED'
    """
    if new.op[0] != old.op[0]:
        return Strictness.OPPOSITE
    towards = 1 if old.op[0] == ">" else -1
    by_op = len(old.op) - len(new.op)  # ">" asks for more than ">=", where the figure is the same
    signs = {
        _sign(new.f - old.f) * towards or by_op,
        _sign(new.c - old.c) * towards or by_op,
    } - {0}
    if len(signs) != 1:
        return Strictness.MIXED if signs else Strictness.SAME
    return Strictness.STRICTER if signs == {1} else Strictness.LOOSER


def strictness_of_duration(new: float, old: float) -> Strictness:
    """Compare two times within which something must be done, or that must not be passed [s]."""
    if new == old:
        return Strictness.SAME
    return Strictness.STRICTER if new < old else Strictness.LOOSER


def alternative_undercuts(alternative: Alternative, test: Test, point: Point) -> bool:
    """Whether an alternative may let pass what a requirement's own test does not.

    It may unless it is shown to be as strict: the same form at the same point, every limit and
    time as strict, all else equal. An alternative that asks for its conditions alone says that
    the requirement does not bear on the food, and stays.
    """
    other = alternative.test
    if other.form == "conditions":
        return False
    if other.form != test.form or alternative.point not in (None, point):
        return True
    figures = list(_figures(other, test))
    same_rest = other.model_copy(update={key: old for key, _, old in figures}) == test
    return not (same_rest and all(_as_strict(new, old) for _, new, old in figures))


def _figures(new: Test, old: Test) -> Iterator[tuple[str, Limit | float, Limit | float]]:
    """Yield the figures of two tests of one form that can be weighed against each other."""
    for key in ("limit", "cold", "hot", "to", "within", "at_most"):
        if hasattr(new, key):
            yield key, getattr(new, key), getattr(old, key)


def _as_strict(new: Limit | float, old: Limit | float) -> bool:
    if isinstance(new, Limit) and isinstance(old, Limit):
        found = strictness_of_limit(new, old)
    elif isinstance(new, float) and isinstance(old, float):
        found = strictness_of_duration(new, old)
    else:
        return False
    return found in (Strictness.SAME, Strictness.STRICTER)


def _sign(difference: Decimal) -> int:
    return (difference > 0) - (difference < 0)
