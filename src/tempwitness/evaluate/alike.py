"""Requirements of several codes that ask the same of the readings, told by their data."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.model.rule import Requirement

__all__ = ["asks_the_same"]

#: What decides the outcome: everything but words, sources and the name.
_DECIDES = (
    "test",
    "when",
    "stages",
    "point",
    "ask_instead",
    "breaks_only",
    "only_if_read",
    "question",
    "begins",
    "ends",
)
_NUMBERS: dict[str, int] = {}
_KNOWN: dict[int, tuple[Requirement, int]] = {}
_MOST_KEPT = 20_000


def asks_the_same(requirement: Requirement) -> int:
    """Return a number that is the same for requirements that get the same outcome.

    The alternatives count with their titles and sections, which an outcome names.
    """
    known = _KNOWN.get(id(requirement))
    # The requirement is kept beside its number, so that its id cannot come to stand for another.
    if known is not None and known[0] is requirement:
        return known[1]
    parts = [repr(getattr(requirement, name)) for name in _DECIDES]
    parts += [repr(requirement.alternatives), str(requirement.weight.binds)]
    number = _NUMBERS.setdefault("|".join(parts), len(_NUMBERS))
    if len(_KNOWN) >= _MOST_KEPT:
        _KNOWN.clear()
    _KNOWN[id(requirement)] = (requirement, number)
    return number
