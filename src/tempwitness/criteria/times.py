"""Times that must not be passed, or not even be reached."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.figures import duration_words

if TYPE_CHECKING:
    from tempwitness.model.forms import TimeOp

__all__ = ["allowed_words", "cap_words", "exceeds", "keeps_within", "within_words"]


def keeps_within(most: float, cap: float, op: TimeOp) -> bool:
    """Whether a time of at most so much certainly keeps a cap [s].

    Examples
    --------
    >>> keeps_within(7200.0, 7200.0, "<="), keeps_within(7200.0, 7200.0, "<")
    (True, False)
    """
    return most < cap or (op == "<=" and most == cap)


def exceeds(least: float, cap: float, op: TimeOp) -> bool:
    """Whether a time of at least so much certainly breaks a cap [s]."""
    return least > cap or (op == "<" and least == cap and least > 0)


def cap_words(cap: float, op: TimeOp) -> str:
    """Write a cap: "at most 2 h" or "less than 2 h"."""
    return f"{'at most' if op == '<=' else 'less than'} {duration_words(cap)}"


def allowed_words(cap: float, op: TimeOp) -> str:
    """Say what is allowed: "2 h are allowed" or "less than 2 h is allowed"."""
    words = duration_words(cap)
    return f"{words} are allowed" if op == "<=" else f"less than {words} is allowed"


def within_words(cap: float, op: TimeOp) -> str:
    """Write the time within which something must be done."""
    return f"within {duration_words(cap)}" if op == "<=" else f"in less than {duration_words(cap)}"
