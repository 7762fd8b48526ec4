"""Short invented situations for a requirement, made from its own figures, each with its verdict.

One just keeps the limit, one or two just break it, and in one nothing was measured. They speak of
the requirement's own test: another way to keep it may still hold.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any, Literal

from tempwitness.model.durations import duration_words, parse_duration

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

__all__ = ["Example", "examples", "food_words"]

Table = dict[str, Any]
Trace = tuple[tuple[float, float], ...]
Side = Literal["kept", "broken", "silent"]

_MINUTE, _HOUR = 60.0, 3600.0
_INSTANT = 0.2
"""Between the readings before and after a crossing, so that it leaves no room for doubt [s]."""
_APART = 5 * _MINUTE
_FAR = 36
"""Between the end of a way whose begin no code prints and where an example begins [its degrees]."""


@dataclass(frozen=True, slots=True)
class Example:
    """One situation and what the requirement says of it.

    Parameters
    ----------
    words : str
    verdict : str
        Value of a `Verdict`.
    trace : tuple of (float, float)
        Seconds since the start of the stage, and reading [`unit`].
    unit : {"F", "C"}
    lasts : float
        How long the stage lasts [s]; of a shelf life, the day on which the food is used.
    answer : str
        What the record answers to the question of a paper; empty if it does not.
    """

    words: str
    verdict: str
    trace: Trace = ()
    unit: str = "F"
    lasts: float = _HOUR
    answer: str = ""


@dataclass(frozen=True, slots=True)
class _Situation:
    side: Side
    words: str
    trace: Trace = ()
    lasts: float = _HOUR
    answer: str = ""


def examples(requirement: Table, unit: str) -> list[Example]:
    """Return the situations for a requirement, as written.

    Parameters
    ----------
    requirement : dict
    unit : {"F", "C"}
        Scale in which its code reckons; the other one is used where only that is printed.

    Returns
    -------
    list of Example
        Empty for a form whose answer no reading decides.
    """
    make = _FORMS.get(requirement["test"]["form"])
    if make is None:
        return []
    scale = _scale(requirement["test"], unit)
    return [
        Example(s.words, _verdict(requirement, s.side), s.trace, scale, s.lasts, s.answer)
        for s in make(requirement, scale)
    ]


def _verdict(requirement: Table, side: Side) -> str:
    """Return what a kept or broken test, or one of which nothing is on record, makes of it."""
    asks, only_broken = requirement.get("ask_instead"), requirement.get("breaks_only")
    if side == "kept":
        return "not_applicable" if only_broken else "met"
    if side == "broken":
        return "not_shown" if asks else "not_met"
    form = requirement["test"]["form"]
    if form == "paper":
        spared = requirement["test"].get("silent", "aside") == "aside"
    else:
        spared = requirement.get("only_if_read") or requirement["weight"] != "law"
    return "not_applicable" if asks or spared or form == "instrument" else "not_shown"


def food_words(when: Mapping[str, Any]) -> str:
    """Name a food for which a requirement is made.

    Examples
    --------
    >>> food_words({"species": ["beef", "lamb"], "form_not": ["stuffed"], "cut": ["roast"]})
    'lamb roast'
    """
    species = when.get("species") or [s for s in _USUAL if s not in when.get("species_not", ())]
    kind = "lamb" if "lamb" in species else species[0]
    form = "" if "form" not in when or "intact" in when["form"] else when["form"][0]
    cut = when["cut"][0] if "cut" in when else ""
    if not {"species", "form", "cut"} & set(when):
        return "lamb" if "species_not" in when and kind == "lamb" else "food"
    return " ".join(word.replace("_", " ") for word in (form, _NAMES.get(kind, kind), cut) if word)


_USUAL = ("lamb", "beef", "chicken", "fish", "plant")
_NAMES = {"plant": "vegetables", "mixed": "food of several kinds"}


def _scale(test: Any, unit: str) -> str:  # noqa: ANN401 - whatever stands in a test
    """Return the code's own scale if all figures of a test are printed in it, else the other."""
    printed = list(_printed(test))
    if all(unit in scales for scales in printed):
        return unit
    return "F" if unit == "C" else "C"


def _printed(value: Any) -> Iterator[str]:  # noqa: ANN401 - as above
    if isinstance(value, dict):
        scales = "".join(key.upper() for key in ("f", "c") if key in value)
        if scales:
            yield scales
        for inner in value.values():
            yield from _printed(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _printed(inner)


def _figure(limit: Table, scale: str) -> Decimal:
    return Decimal(limit[scale.lower()])


def _step(figure: Decimal) -> Decimal:
    """Return the last place of a printed figure."""
    exponent = figure.as_tuple().exponent
    return Decimal(1).scaleb(exponent) if isinstance(exponent, int) else Decimal(1)


def _kept(limit: Table, scale: str) -> Decimal:
    """Return the figure that just keeps a limit."""
    figure = _figure(limit, scale)
    if "=" in limit["op"]:
        return figure
    return figure + (_step(figure) if limit["op"] == ">" else -_step(figure))


def _broken(limit: Table, scale: str) -> Decimal:
    """Return the figure that just breaks a limit."""
    figure = _figure(limit, scale)
    if "=" not in limit["op"]:
        return figure
    return figure - (_step(figure) if limit["op"] == ">=" else -_step(figure))


def _steady(value: Decimal, lasts: float, start: float = 0.0) -> Trace:
    """Readings of one value, a few minutes apart."""
    apart = _APART if lasts > _APART else max(lasts, 1.0)
    steps = int(lasts // apart)
    inner = tuple((start + n * apart, float(value)) for n in range(steps + 1))
    last = start + lasts
    return inner if inner[-1][0] == last else (*inner, (last, float(value)))


def _subject(requirement: Table) -> str:
    """Say what is read: the food, or what is around it."""
    point = requirement.get("point", "coldest")
    food = food_words(requirement.get("when", {}))
    if point == "surface":
        return f"the surface of {food}"
    if point in ("air", "medium"):
        return {"air": "the air", "medium": "the water"}[point] + f" around {food}"
    return food


def _nothing(requirement: Table) -> _Situation:
    return _Situation("silent", f"{_subject(requirement)}, nothing measured")


def _throughout(requirement: Table, scale: str) -> Iterator[_Situation]:
    limit = requirement["test"]["limit"]
    keep, broke = _kept(limit, scale), _broken(limit, scale)
    what = _subject(requirement)
    lasts = _HOUR + parse_duration(requirement["test"].get("but_last", "0 s"))
    words = f"{what} that reads {keep} °{scale} all the time"
    yield _Situation("kept", words, _steady(keep, lasts), lasts)
    if requirement["test"].get("once_reached"):
        words = f"{what} that reads {keep} °{scale} first and {broke} °{scale} later"
        yield _Situation("broken", words, ((0.0, float(keep)), (lasts, float(broke))), lasts)
    else:
        yield _Situation(
            "broken", f"{what} that reads {broke} °{scale}", _steady(broke, lasts), lasts
        )
    yield _nothing(requirement)


def _outside_band(requirement: Table, scale: str) -> Iterator[_Situation]:
    test, what = requirement["test"], _subject(requirement)
    for side in ("cold", "hot"):
        keep = _kept(test[side], scale)
        words = f"{what} that reads {keep} °{scale} all the time"
        yield _Situation("kept", words, _steady(keep, _HOUR))
    broke = _broken(test["hot"], scale)
    yield _Situation("broken", f"{what} that reads {broke} °{scale}", _steady(broke, _HOUR))
    yield _nothing(requirement)


def _reach(requirement: Table, scale: str) -> Iterator[_Situation]:
    row = min(requirement["test"]["rows"], key=lambda r: _figure(r, scale))
    figure, hold, what = _figure(row, scale), parse_duration(row["hold"]), _subject(requirement)
    at = figure + _step(figure) if row.get("op") == ">" else figure
    below = at - _step(figure)
    stays = f"{what} that stands at {at} °{scale}"
    once = f"{what} that reaches {at} °{scale} once"
    words = f"{stays} for {duration_words(hold)}" if hold else once
    yield _Situation("kept", words, _dwell(at, below, hold), hold + 2 * _INSTANT)
    lasts = max(hold, _MINUTE)
    words = f"{what} that never passes {below} °{scale}"
    yield _Situation("broken", words, _steady(below, lasts), lasts)
    if hold:
        less = hold - (_MINUTE if hold > _MINUTE else 1.0)
        if less:
            words = f"{stays} for {duration_words(less)}"
            yield _Situation("broken", words, _dwell(at, below, less), less + 2 * _INSTANT)
    yield _nothing(requirement)


def _dwell(at: Decimal, below: Decimal, hold: float) -> Trace:
    """Readings that stand at a figure for exactly a time, with one step below on both sides."""
    stay = _steady(at, hold, _INSTANT) if hold else ((_INSTANT, float(at)),)
    return ((0.0, float(below)), *stay, (2 * _INSTANT + hold, float(below)))


def _transit(requirement: Table, scale: str) -> Iterator[_Situation]:
    test, what = requirement["test"], _subject(requirement)
    within, hold = parse_duration(test["within"]), parse_duration(test.get("hold", "0 s"))
    begin, keep, broke = _begin(test, scale), _kept(test["to"], scale), _broken(test["to"], scale)
    before = within - _MINUTE if test.get("op") == "<" else within
    stage = requirement["stages"][0].replace("_", " ")
    of = _SINCE[test.get("clock", "crossing")].format(stage)
    way = f"{what} that is at {begin} °{scale}" if not of else what
    since = f"after {of}" if of else "later"
    held = f" and stays there for {duration_words(hold)}" if hold else ""
    start = _away(begin, before, broke)
    kept = (*start, *(((before, float(keep)),) if not hold else _steady(keep, hold, before)))
    link = "and" if not of else "that"
    if not test.get("or_room"):  # then a figure of the room's decides too
        words = f"{way} {link} reads {keep} °{scale} {duration_words(before)} {since}{held}"
        yield _Situation("kept", words, kept, before + hold)
    late = (*_away(begin, within, broke), (within, float(broke)))
    yield _Situation(
        "broken",
        f"{way} {link} still reads {broke} °{scale} {duration_words(within)} {since}",
        late,
        within,
    )
    yield _nothing(requirement)


_SINCE = {
    "crossing": "",
    "stage": "the {} began",
    "cooked": "the cook",
    "heat_ended": "the heat ended",
    "left_cold": "leaving the cold",
}


def _begin(test: Table, scale: str) -> Decimal:
    """Return where the way begins: at the first limit, a little before it, or far from the end."""
    if "start" not in test:
        far = _FAR if test["form"] == "fall" else -_FAR
        return _figure(test["to"], scale) + far
    figure = _figure(test["start"], scale)
    return figure if "=" in test["start"]["op"] else _kept(test["start"], scale)


def _away(begin: Decimal, until: float, end: Decimal) -> Trace:
    """Readings on a straight way from one value to another, without the last one."""
    steps = max(int(until // (2 * _APART)), 1)
    slope = float(end - begin) / (steps + 1)
    return tuple(
        (n * until / (steps + 1), round(float(begin) + slope * n, 2)) for n in range(steps + 1)
    )


def _band_clock(requirement: Table, scale: str) -> Iterator[_Situation]:
    test, what = requirement["test"], _subject(requirement)
    edges = [_kept(test[side], scale) for side in ("low", "high") if side in test]
    inside = round(sum(edges, Decimal(0)) / len(edges))
    heat = ", the heat gone" if test.get("unheated_only") else ""
    for side, lasts in _around(test):
        words = f"{what} that stands at {inside} °{scale} for {duration_words(lasts)} in all{heat}"
        trace = ((0.0, float(inside)), *_steady(Decimal(inside), lasts - _INSTANT, _INSTANT))
        yield _Situation(side, words, trace, lasts)
    yield _nothing(requirement)


def _longest(requirement: Table, scale: str) -> Iterator[_Situation]:
    del scale
    stage = (requirement.get("stages") or [""])[0].replace("_", " ")
    for side, lasts in _around(requirement["test"]):
        yield _Situation(side, f"a {stage} of {duration_words(lasts)}", lasts=lasts)


def _around(test: Table) -> Iterator[tuple[Side, float]]:
    """Yield a time that just keeps a cap, and one that just breaks it."""
    cap = parse_duration(test["at_most"])
    less = test.get("op") == "<"
    yield "kept", cap - _MINUTE if less else cap
    yield "broken", cap if less else cap + _MINUTE


def _time_control(requirement: Table, scale: str) -> Iterator[_Situation]:
    """Give examples of its end alone; its other parts are decided by papers and marks."""
    test, what = requirement["test"], food_words(requirement.get("when", {}))
    if test["part"] != "end":
        return
    at = _kept(test["ceiling"], scale) if "ceiling" in test else None
    below = f" at {at} °{scale}" if at is not None else ""
    for side, lasts in _around(test):
        words = f"{what} kept{below} by the clock alone and used up after {duration_words(lasts)}"
        trace = _steady(at, lasts) if at is not None else ()
        yield _Situation(side, words, trace, lasts)


def _shelf_life(requirement: Table, scale: str) -> Iterator[_Situation]:
    del scale
    test, what = requirement["test"], food_words(requirement.get("when", {}))
    marked = ", marked with its date" if "mark_after" in test else ""
    for side, day in (("kept", test["days"]), ("broken", test["days"] + 1)):
        words = f"{what} prepared on day 1 and used on day {day}{marked}"
        yield _Situation("kept" if side == "kept" else "broken", words, lasts=float(day))


def _paper(requirement: Table, scale: str) -> Iterator[_Situation]:
    del scale
    question = requirement["test"]["question"]
    yield _Situation("kept", f"“{question}” answered yes", answer="yes")
    yield _Situation("broken", f"“{question}” answered no", answer="no")
    yield _Situation("silent", "a record that does not say")


def _instrument(requirement: Table, scale: str) -> Iterator[_Situation]:
    allowed = _figure(requirement["test"], scale)
    more = allowed + _step(allowed)
    yield _Situation(
        "kept", f"a probe {allowed} °{scale} off in ice water", ((0.0, float(allowed)),)
    )
    yield _Situation("broken", f"a probe {more} °{scale} off in ice water", ((0.0, float(more)),))
    yield _Situation("silent", "a probe that nobody checked")


_FORMS: Mapping[str, Callable[[Table, str], Iterator[_Situation]]] = {
    "throughout": _throughout,
    "outside_band": _outside_band,
    "reach": _reach,
    "fall": _transit,
    "rise": _transit,
    "band_clock": _band_clock,
    "longest": _longest,
    "time_control": _time_control,
    "shelf_life": _shelf_life,
    "paper": _paper,
    "instrument": _instrument,
}
