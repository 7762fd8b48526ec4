"""Whether a local limit is stricter or looser than the code's, decided by direction alone."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

from tempwitness.model.rule import Fall, Limit, OutsideBand, Rise, Test, Throughout

if TYPE_CHECKING:
    from decimal import Decimal

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


def alternative_undercuts(alternative: Test, main: Test) -> bool:
    """Whether an alternative may let pass what the main test does not.

    It may unless it is shown to be as strict: same form, every limit and time as strict.
    Alternatives that ask for their conditions alone are another matter and stay.
    """
    if alternative.form == "conditions":
        return False
    if type(alternative) is not type(main):
        return True
    pairs = _limit_pairs(alternative, main)
    if pairs is None:
        return alternative != main
    fine = (Strictness.SAME, Strictness.STRICTER)
    return any(strictness_of_limit(new, old) not in fine for new, old in pairs)


def _limit_pairs(one: Test, other: Test) -> list[tuple[Limit, Limit]] | None:
    if isinstance(one, Throughout) and isinstance(other, Throughout):
        return [(one.limit, other.limit)]
    if isinstance(one, OutsideBand) and isinstance(other, OutsideBand):
        return [(one.cold, other.cold), (one.hot, other.hot)]
    if isinstance(one, Fall | Rise) and isinstance(other, Fall | Rise):
        return [(one.to, other.to)] if one.within <= other.within else None
    return None


def _sign(difference: Decimal) -> int:
    return (difference > 0) - (difference < 0)
