"""A code fitted to one lot: tables with several columns become the column of this food."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING

from tempwitness.model.figures import Limit, Row
from tempwitness.model.forms import Fall, Reach, ReachBy

if TYPE_CHECKING:
    from tempwitness.model.forms import Test
    from tempwitness.model.lot import Lot
    from tempwitness.model.rule import Alternative, Code, Requirement

__all__ = ["fitted"]

_ROOM = "room_temperature_c"
_MOST_KEPT = 256
_ASKED: dict[int, tuple[Code, frozenset[str]]] = {}
_KEPT: dict[tuple[int, tuple[tuple[str, str], ...]], tuple[Code, Code]] = {}


def fitted(code: Code, lot: Lot) -> Code:
    """Return the code with the columns, and the limits set by the room, that this lot asks for.

    A code without such requirements is returned as it is.
    """
    asked = tuple(sorted((k, lot.facts[k]) for k in _questions(code) if k in lot.facts))
    key = id(code), asked
    known = _KEPT.get(key)
    # The code is kept beside the answer, so that its id cannot come to stand for another.
    if known is None or known[0] is not code:
        if len(_KEPT) >= _MOST_KEPT:
            _KEPT.clear()
        known = _KEPT[key] = (code, _fit(code, dict(asked)))
    return known[1]


def _questions(code: Code) -> frozenset[str]:
    """Return the questions whose answers choose a column or a limit of a code."""
    known = _ASKED.get(id(code))
    if known is None or known[0] is not code:
        if len(_ASKED) >= _MOST_KEPT:
            _ASKED.clear()
        known = _ASKED[id(code)] = (code, _questions_in(code))
    return known[1]


def _questions_in(code: Code) -> frozenset[str]:
    tests = [t for r in code.requirements for t in (r.test, *(a.test for a in r.alternatives))]
    columns = {test.by for test in tests if isinstance(test, ReachBy)}
    room = {_ROOM for test in tests if isinstance(test, Fall) and test.or_room}
    return frozenset(columns | room)


def _fit(code: Code, facts: dict[str, str]) -> Code:
    if not _questions(code):
        return code
    requirements = tuple(_one(r, facts) for r in code.requirements)
    return code.model_copy(update={"requirements": requirements})


def _one(requirement: Requirement, facts: dict[str, str]) -> Requirement:
    test, words = _fit_test(requirement.test, facts)
    others = tuple(_other(a, facts) for a in requirement.alternatives)
    if test is requirement.test and others == requirement.alternatives:
        return requirement
    note = f"{requirement.note} {words}".strip()
    return requirement.model_copy(update={"test": test, "alternatives": others, "note": note})


def _other(alternative: Alternative, facts: dict[str, str]) -> Alternative:
    test, words = _fit_test(alternative.test, facts)
    if test is alternative.test:
        return alternative
    title = f"{alternative.title} ({words.rstrip('.')})" if words else alternative.title
    return alternative.model_copy(update={"test": test, "title": title})


def _fit_test(test: Test, facts: dict[str, str]) -> tuple[Test, str]:
    """Return a test as it is for this lot, and words that say what was chosen."""
    if isinstance(test, ReachBy):
        return _column(test, facts.get(test.by, "unknown"))
    if isinstance(test, Fall) and test.or_room and facts.get(_ROOM, "unknown") != "unknown":
        return _in_room(test, facts[_ROOM]), ""
    return test, ""


def _in_room(test: Fall, room: str) -> Fall:
    """Return a fall to the room's temperature, where that is colder."""
    to = test.to
    if Decimal(room) < to.c:
        to = Limit.model_validate({"c": room, "op": to.op})
    return test.model_copy(update={"to": to, "or_room": False})


@lru_cache(maxsize=64)
def _column(test: ReachBy, stated: str) -> tuple[Reach, str]:
    """Return the ladder of one column, and words that say which.

    Between two columns the longer of both times counts, row by row.
    """
    name = test.by.replace("_", " ")
    columns = test.columns
    used: tuple[int, ...]
    if stated == "unknown" or Decimal(stated) > columns[-1]:
        used = (len(columns) - 1,)
        words = f"The record states no {name}: the column for {columns[-1]} was used."
        if stated != "unknown":
            words = f"{name.capitalize()} {stated}: the last column, {columns[-1]}, was used."
    else:
        value = Decimal(stated)
        above = next(i for i, c in enumerate(columns) if c >= value)
        exact = columns[above] == value or above == 0
        used = (above,) if exact else (above - 1, above)
        which = " and ".join(str(columns[i]) for i in used)
        words = f"{name.capitalize()} {stated}: column {which} was used."
    rows = tuple(
        Row.model_construct(f=r.f, c=r.c, printed=r.printed, hold=max(r.holds[i] for i in used))
        for r in test.rows
    )
    return Reach.model_construct(form="reach", rows=rows, carry=test.carry), words
