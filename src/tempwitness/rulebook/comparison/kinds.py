"""What a requirement asks, as far as it can be set beside what another one asks."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.rulebook.comparison.figures import celsius
from tempwitness.rulebook.words import when_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

__all__ = ["ASKED", "CLOCK", "ORDER", "akin", "case_of", "excludes", "fall_parts", "kind_of"]

Table = dict[str, Any]

_FLOOR, _CEILING = "least temperature", "highest temperature"
_FIRST, _LAST, _WHOLE, _MIDDLE = (
    "first part of the cooling",
    "last part of the cooling",
    "the whole cooling",
    "a part of the cooling",
)
CLOCK = "by the clock alone"
"""Kind of a time control, whose stages are those that it may cover."""

_ERROR = "error allowed"

_BY_FORM = {
    "reach": "temperature reached",
    "reach_by": "temperature reached",
    "rise": "time to reach it",
    "lethality": "sum of heat",
    "outside_band": "cold or hot, never between",
    "once": "cold or hot but once",
    "band_clock": "time between cold and hot",
    "longest": "longest time",
    "shelf_life": "days kept",
    "day_end": "left at the end of the day",
    "count": "how often",
    "method": "way of doing it",
    "monitoring": "temperatures written down",
    "duty": "asked, with no figure to measure",
}
_DUTY = _BY_FORM["duty"]

#: Kinds of rows in the order in which a table gives them.
ORDER = (
    "temperature reached",
    "time to reach it",
    "sum of heat",
    _WHOLE,
    _FIRST,
    _MIDDLE,
    _LAST,
    _FLOOR,
    _CEILING,
    "cold or hot, never between",
    "cold or hot but once",
    "time between cold and hot",
    "longest time",
    CLOCK,
    "days kept",
    "left at the end of the day",
    "how often",
    "way of doing it",
    "temperatures written down",
    _ERROR,
    "paper",
    _DUTY,
)

#: Kinds that have no figure to compare.
ASKED = frozenset({"paper", _DUTY, "way of doing it"})

#: Kinds that say the same thing in other forms.
_AKIN = (
    frozenset({"temperature reached", "time to reach it", "sum of heat"}),
    frozenset({_FLOOR, _CEILING, "cold or hot, never between", "cold or hot but once"}),
    frozenset({_FIRST, _LAST, _WHOLE, _MIDDLE, "longest time"}),
)

_FOOD_POINTS = ("coldest", "warmest", "every", "core")
_CASE_KEYS = (
    "method",
    "facts",
    "events",
    "after",
    "not_after",
    "before",
    "weight_at_least",
    "weight_below",
    "thickness_at_most",
    "numbers_at_least",
    "numbers_below",
    "business",
)


def kind_of(requirement: Table, falls: Mapping[str, str]) -> tuple[str, str]:
    """Return the kind of a requirement, one of `ORDER`, and what tells it from others of its kind.

    Parameters
    ----------
    falls : mapping of str to str
        Which part of the cooling each fall of its code is, by its id.
    """
    test = requirement["test"]
    form = test["form"]
    point = requirement.get("point", "coldest")
    where = "" if point in _FOOD_POINTS else f"of the {point}"
    if form == "throughout":
        return (_FLOOR if test["limit"]["op"][0] == ">" else _CEILING), where
    if form == "fall":
        return falls[requirement["id"]], where
    if form == "time_control":
        return CLOCK, f"({test['option'].replace('h', ' h')}): {_PARTS[test['part']]}"
    if form == "instrument":
        return _ERROR, f"of a thermometer for {test['reads']}"
    if form == "paper":
        return "paper", f"({test['kind']})"
    return _BY_FORM[form], where if form in ("reach", "reach_by", "rise") else ""


_PARTS = {"written": "procedure", "start": "start", "end": "end", "marked": "mark"}


def akin(one: str, other: str) -> bool:
    """Whether two kinds say the same thing in other forms, such as a limit and a band."""
    return any({one, other} <= kinds for kinds in _AKIN)


def case_of(requirement: Table) -> tuple[str, ...]:
    """Return under which conditions a requirement speaks, food apart; none is the ordinary case.

    What a condition only takes out, such as food that is cooked in a microwave, is left out.
    """
    when = requirement.get("when", {})
    return tuple(when_words({key: when[key] for key in _CASE_KEYS if key in when}))


def excludes(ordinary: Table, special: Table) -> bool:
    """Whether the conditions of one requirement are taken out of another one's."""
    out, of = ordinary.get("when", {}), special.get("when", {})
    for key in ("method", "events"):
        if set(of.get(key, ())) & set(out.get(f"{key}_not", ())):
            return True
    barred = out.get("facts_not", {})
    return any(set(a) & set(barred.get(q, ())) for q, a in of.get("facts", {}).items())


def fall_parts(requirements: Sequence[Table]) -> dict[str, str]:
    """Return which part of the cooling each fall of a code is, in each of its cases.

    The fall that begins hottest and ends coldest is the whole, one that only begins so the first
    part. One whose clock starts with a stage begins with all others.
    """
    found: dict[str, str] = {}
    falls = [r for r in requirements if r["test"]["form"] == "fall"]
    for case in dict.fromkeys(case_of(r) for r in falls):
        own = [r for r in falls if case_of(r) == case]
        starts = [_start(r["test"]) for r in own]
        ends = [celsius(r["test"]["to"]) for r in own]
        for requirement, start, end in zip(own, starts, ends, strict=True):
            first = start is None or start == max(s for s in starts if s is not None)
            last = end == min(ends)
            found[requirement["id"]] = {
                (True, True): _WHOLE,
                (True, False): _FIRST,
                (False, True): _LAST,
                (False, False): _MIDDLE,
            }[first, last]
    return found


def _start(test: Table) -> float | None:
    return celsius(test["start"]) if test.get("clock", "crossing") == "crossing" else None
