"""Which of several requirements is the strictest, where their forms and directions agree."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.model.durations import parse_duration
from tempwitness.rulebook.comparison.figures import hotter

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

__all__ = ["strictest"]

Test = dict[str, Any]


def strictest(tests: Mapping[str, Test]) -> tuple[str, ...] | None:
    """Return the names whose test is kept only by what keeps all the others.

    Parameters
    ----------
    tests : mapping of str to dict
        The main test of each code, as written.

    Returns
    -------
    tuple of str or None
        All names if they are alike; ``None`` where they cannot be set beside each other.
    """
    if len(tests) < 2 or len({t["form"] for t in tests.values()}) > 1:
        return None
    names = list(tests)
    as_strict = {(a, b): a == b or _as_strict(tests[a], tests[b]) for a in names for b in names}
    if not all(as_strict[a, b] or as_strict[b, a] for a in names for b in names):
        return None
    return tuple(a for a in names if all(as_strict[a, b] for b in names))


def _as_strict(one: Test, other: Test) -> bool:
    """Whether whatever keeps the first keeps the second too."""
    weigh = _FORMS.get(one["form"])
    return weigh is not None and weigh(one, other)


def _same(one: Test, other: Test, *keys: str) -> bool:
    return all(one.get(key) == other.get(key) for key in keys)


def _limit(one: Test, other: Test) -> bool:
    """Whether a limit is of the same direction and as strict."""
    if one["op"][0] != other["op"][0]:
        return False
    towards: int = 1 if one["op"][0] == ">" else -1
    sign = hotter(one, other)
    if sign is None:
        return False
    by_op = len(other["op"]) - len(one["op"])  # ">" asks for more than ">="
    return (sign * towards or by_op) >= 0


def _time(one: Test, other: Test, key: str) -> bool:
    """Whether a time within which something happens is as short."""
    mine, yours = parse_duration(one[key]), parse_duration(other[key])
    if mine != yours:
        return mine < yours
    return bool(one.get("op") == "<" or other.get("op") != "<")


def _throughout(one: Test, other: Test) -> bool:
    return _same(one, other, "but_last", "once_reached") and _limit(one["limit"], other["limit"])


def _outside_band(one: Test, other: Test) -> bool:
    return _limit(one["cold"], other["cold"]) and _limit(one["hot"], other["hot"])


def _reach(one: Test, other: Test) -> bool:
    """Whether every row of the one ladder is enough for some row of the other."""
    return all(any(_row(mine, yours) for yours in other["rows"]) for mine in one["rows"])


def _row(mine: Test, yours: Test) -> bool:
    sign = hotter(mine, yours)
    longer = parse_duration(mine["hold"]) >= parse_duration(yours["hold"])
    passed = mine.get("op", ">=") == yours.get("op", ">=") or sign != 0 or "op" in mine
    return sign is not None and sign >= 0 and longer and passed


def _fall(one: Test, other: Test) -> bool:
    return _transit(one, other, 1)


def _rise(one: Test, other: Test) -> bool:
    held = parse_duration(one.get("hold", "0 s")) >= parse_duration(other.get("hold", "0 s"))
    return held and _transit(one, other, -1)


def _transit(one: Test, other: Test, falls: int) -> bool:
    """Whether a longer way, or the same one, must be gone in as short a time."""
    if not _same(one, other, "clock", "or_room") or not _time(one, other, "within"):
        return False
    signs = [(hotter(one["to"], other["to"]), -falls)]
    if "start" in one and "start" in other:
        signs.append((hotter(one["start"], other["start"]), falls))
    return all(sign is not None and sign in (0, wanted) for sign, wanted in signs)


def _band_clock(one: Test, other: Test) -> bool:
    same = _same(one, other, "over", "unheated_only", "in_any", "after_cook")
    if not same or not _time(one, other, "at_most"):
        return False
    return all(_wider(one.get(side), other.get(side)) for side in ("low", "high"))


def _wider(one: Test | None, other: Test | None) -> bool:
    """Whether one edge of a band takes in all that the other one does."""
    if one is None or other is None:
        return one is None
    return one["op"][0] == other["op"][0] and _limit(other, one)


def _longest(one: Test, other: Test) -> bool:
    return _same(one, other, "total", "after_cook") and _time(one, other, "at_most")


def _time_control(one: Test, other: Test) -> bool:
    kept = _same(one, other, "part", "start", "ceiling", "ceiling_for")
    return kept and one["part"] == "end" and _time(one, other, "at_most")


def _shelf_life(one: Test, other: Test) -> bool:
    return bool(one["days"] <= other["days"])


def _count(one: Test, other: Test) -> bool:
    return _same(one, other, "of") and bool(one["at_most"] <= other["at_most"])


def _instrument(one: Test, other: Test) -> bool:
    shared = [unit for unit in ("f", "c") if unit in one and unit in other]
    return bool(shared) and all(one[unit] <= other[unit] for unit in shared)


def _monitoring(one: Test, other: Test) -> bool:
    if "every" in one and "every" in other:
        return _time(one, other, "every")
    return any(
        key in one and key in other and one[key] >= other[key] for key in ("per_day", "at_least")
    )


_FORMS: Mapping[str, Callable[[Test, Test], bool]] = {
    "throughout": _throughout,
    "outside_band": _outside_band,
    "reach": _reach,
    "fall": _fall,
    "rise": _rise,
    "band_clock": _band_clock,
    "longest": _longest,
    "time_control": _time_control,
    "shelf_life": _shelf_life,
    "count": _count,
    "instrument": _instrument,
    "monitoring": _monitoring,
}
