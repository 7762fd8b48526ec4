"""Requirements and tests of several codes that ask the same, told by their data."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.model.forms import Test
    from tempwitness.model.rule import Requirement

__all__ = ["asks_the_same", "tests_the_same"]

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
_KNOWN: dict[int, tuple[Requirement, int | None]] = {}
_MOST_KEPT = 20_000


def asks_the_same(requirement: Requirement) -> int | None:
    """Return a number that is the same for requirements that get the same outcome.

    The alternatives count with their titles and sections, which an outcome names. ``None`` for a
    requirement that rests on others of its code.
    """
    known = _KNOWN.get(id(requirement))
    # The requirement is kept beside its number, so that its id cannot come to stand for another.
    if known is not None and known[0] is requirement:
        return known[1]
    parts = [repr(getattr(requirement, name)) for name in _DECIDES]
    parts += [repr(requirement.alternatives), str(requirement.weight.binds)]
    rests_on_others = any(a.requires or a.requires_any for a in requirement.alternatives)
    number = None if rests_on_others else _NUMBERS.setdefault("|".join(parts), len(_NUMBERS))
    if len(_KNOWN) >= _MOST_KEPT:
        _KNOWN.clear()
    _KNOWN[id(requirement)] = (requirement, number)
    return number


_TEST_NUMBERS: dict[str, int] = {}
_KNOWN_TESTS: dict[int, tuple[Test, int]] = {}


def tests_the_same(test: Test) -> int:
    """Return a number that is the same for tests that ask the same of the same readings."""
    known = _KNOWN_TESTS.get(id(test))
    if known is not None and known[0] is test:
        return known[1]
    number = _TEST_NUMBERS.setdefault(repr(test), len(_TEST_NUMBERS))
    if len(_KNOWN_TESTS) >= _MOST_KEPT:
        _KNOWN_TESTS.clear()
    _KNOWN_TESTS[id(test)] = (test, number)
    return number
