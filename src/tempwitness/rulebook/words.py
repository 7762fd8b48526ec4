"""Tests put into words, from rule files as they are written; nothing heavy is imported here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

__all__ = ["CONFIRMED_WORDS", "limit_words", "stage_words", "test_words", "when_words"]

_OP_WORDS = {">=": "at least", ">": "above", "<=": "at most", "<": "below"}

CONFIRMED_WORDS = {
    "text": "read in a text that reproduces the section",
    "second-hand": "unconfirmed: second-hand",
    "memory": "unconfirmed: from memory",
}
"""How a number was confirmed, as it is printed beside it."""


def limit_words(limit: Mapping[str, Any]) -> str:
    """Write a limit with its direction and both printed figures.

    Examples
    --------
    >>> limit_words({"f": 135, "c": 57, "op": ">="})
    'at least 135 °F (57 °C)'
    """
    return f"{_OP_WORDS[limit['op']]} {_figures(limit)}"


def test_words(test: Mapping[str, Any]) -> str:
    """Write a test in one sentence, durations as the rule file writes them."""
    return _FORMS[test["form"]](test)


def stage_words(stages: list[str]) -> str:
    """Write the stages that a requirement speaks of."""
    return ", ".join(stage.replace("_", " ") for stage in stages) or "any stage"


def when_words(when: Mapping[str, Any]) -> list[str]:
    """Write each condition of a predicate as one phrase."""
    return [_condition(key, value) for key, value in when.items()]


def _figures(limit: Mapping[str, Any]) -> str:
    if "f" not in limit or "c" not in limit:
        return f"{limit['f']} °F" if "f" in limit else f"{limit['c']} °C"
    return f"{limit['f']} °F ({limit['c']} °C)"


def _within(test: Mapping[str, Any], key: str = "within") -> str:
    return f"{'in less than' if test.get('op') == '<' else 'within'} {test[key]}"


def _cap(test: Mapping[str, Any]) -> str:
    return f"{'less than' if test.get('op') == '<' else 'at most'} {test['at_most']}"


def _over(test: Mapping[str, Any]) -> str:
    return f" over {stage_words(test['over'])}" if test.get("over") else ""


def _row(row: Mapping[str, Any]) -> str:
    figures = f"{'above ' if row.get('op') == '>' else ''}{_figures(row)}"
    at_once = row["hold"].split()[0] in ("0", "0.0")
    return f"{figures} at once" if at_once else f"{figures} for {row['hold']}"


def _throughout(test: Mapping[str, Any]) -> str:
    last = f", but for the last {test['but_last']}" if "but_last" in test else ""
    first = " from the first reading on that keeps it" if test.get("once_reached") else ""
    return f"{limit_words(test['limit'])} throughout{first}{last}"


def _outside_band(test: Mapping[str, Any]) -> str:
    return f"{limit_words(test['cold'])} or {limit_words(test['hot'])}, never between"


def _reach(test: Mapping[str, Any]) -> str:
    rows = "; or ".join(_row(row) for row in test["rows"])
    return f"reaches {rows}"


def _fall(test: Mapping[str, Any]) -> str:
    room = ", or the room's temperature where that is colder," if test.get("or_room") else ""
    since = _SINCE.get(test.get("clock", "crossing"))
    if since is not None:
        return f"{limit_words(test['to'])}{room} {_within(test)} of {since}"
    return f"from {_figures(test['start'])} to {_figures(test['to'])}{room} {_within(test)}"


def _rise(test: Mapping[str, Any]) -> str:
    hold = f", held {test['hold']}," if "hold" in test else ""
    since = _SINCE.get(test.get("clock", "crossing"))
    if since is not None:
        return f"{limit_words(test['to'])}{hold} {_within(test)} of {since}"
    return f"from {_figures(test['start'])} to {_figures(test['to'])}{hold} {_within(test)}"


_SINCE = {
    "stage": "the start of the stage",
    "cooked": "the end of the cook",
    "heat_ended": "the end of the heat",
    "left_cold": "leaving the cold",
}


def _once(test: Mapping[str, Any]) -> str:
    beyond = f", {limit_words(test['beyond'])} even then" if "beyond" in test else ""
    return f"{limit_words(test['limit'])}; beyond it once, for {_cap(test)}{beyond}{_over(test)}"


def _reach_by(test: Mapping[str, Any]) -> str:
    name = test["by"].replace("_", " ")
    first, last = test["rows"][0], test["rows"][-1]
    return (
        f"reaches any one row of a table by {name}, from {_figures(first)} to {_figures(last)}; "
        f"for {name} {test['columns'][-1]}: {_column(test)}"
    )


def _column(test: Mapping[str, Any]) -> str:
    return "; ".join(
        _row({**{k: v for k, v in row.items() if k != "holds"}, "hold": row["holds"][-1]})
        for row in test["rows"]
    )


def _lethality(test: Mapping[str, Any]) -> str:
    return (
        f"heat adds up to as much as {_figures(test['at'])} for {test['hold']} "
        f"(z = {test['z_c']} °C, counted from {_figures(test['counts_from'])})"
    )


def _count(test: Mapping[str, Any]) -> str:
    return f"{stage_words(test['of'])} at most {test['at_most']} time(s)"


def _monitoring(test: Mapping[str, Any]) -> str:
    if "every" in test:
        return f"a reading written down every {test['every']}"
    if "per_day" in test:
        return f"{test['per_day']} readings written down a day"
    return f"{test['at_least']} readings written down"


def _evidence(test: Mapping[str, Any]) -> str:
    return f"{test.get('what', 'a process proved safe')}: {test['question']}"


def _paper(test: Mapping[str, Any]) -> str:
    parts = [f"a paper ({test['kind']}): {test['question']}"]
    if "grams" in test:
        parts.append(f"at least {test['grams']} g")
    if test.get("at"):
        parts.append("kept at " + " or ".join(limit_words(limit) for limit in test["at"]))
    if "keep" in test:
        parts.append(f"kept {test['keep']}")
    if "ahead" in test:
        parts.append(f"handed in {test['ahead']} ahead")
    return "; ".join(parts)


def _band_clock(test: Mapping[str, Any]) -> str:
    band = " and ".join(limit_words(test[side]) for side in ("low", "high") if side in test)
    heat = " while nothing heats it" if test.get("unheated_only") else ""
    span = f"in any {test['in_any']}" if "in_any" in test else "in all"
    after = " after the first cook" if "after_cook" in test else ""
    return f"{band} for {_cap(test)} {span}{after}{heat}{_over(test)}"


def _longest(test: Mapping[str, Any]) -> str:
    together = ", all stages together" if test.get("total") else ""
    after = " from the end of the last cook on" if "after_cook" in test else ""
    return f"lasts {_cap(test)}{after}{together}"


def _time_control(test: Mapping[str, Any]) -> str:
    starts = " or ".join(limit_words(limit) for limit in test.get("start", ()))
    long = f"for {test['ceiling_for']}" if "ceiling_for" in test else "throughout"
    ceiling = f", {limit_words(test['ceiling'])} {long}" if "ceiling" in test else ""
    return {
        "written": f"the procedure for {test['at_most']} was written before it was used",
        "start": f"starts at {starts}{ceiling}",
        "end": f"served or discarded within {test['at_most']}{ceiling}",
        "marked": f"marked with the time at which the {test['at_most']} end",
    }[test["part"]]


def _shelf_life(test: Mapping[str, Any]) -> str:
    days = f"at most {test['days']} days, the day of preparation being day 1"
    if test.get("after_preparation"):
        days = f"at most {test['days'] - 1} days after the day of preparation"
    mark = test.get("mark_after")
    return f"{days}; marked when kept longer than {mark}" if mark else days


def _method(test: Mapping[str, Any]) -> str:
    return "one of: " + ", ".join(name.replace("_", " ") for name in test["allowed"])


def _duty(test: Mapping[str, Any]) -> str:
    return f"a duty: {test['question']}"


def _instrument(test: Mapping[str, Any]) -> str:
    if "f" not in test or "c" not in test:
        return f"true to ±{test['f']} °F" if "f" in test else f"true to ±{test['c']} °C"
    return f"true to ±{test['f']} °F (±{test['c']} °C where the device shows °C)"


def _day_end(_: Mapping[str, Any]) -> str:
    return "what is left is discarded by the end of the day"


def _conditions(_: Mapping[str, Any]) -> str:
    return "nothing beyond its conditions"


_FORMS: Mapping[str, Callable[[Mapping[str, Any]], str]] = {
    "throughout": _throughout,
    "outside_band": _outside_band,
    "once": _once,
    "reach_by": _reach_by,
    "lethality": _lethality,
    "count": _count,
    "monitoring": _monitoring,
    "evidence": _evidence,
    "paper": _paper,
    "reach": _reach,
    "fall": _fall,
    "rise": _rise,
    "band_clock": _band_clock,
    "longest": _longest,
    "time_control": _time_control,
    "shelf_life": _shelf_life,
    "method": _method,
    "duty": _duty,
    "instrument": _instrument,
    "day_end": _day_end,
    "conditions": _conditions,
}

_CONDITION_WORDS = {
    "species": "food: {}",
    "species_not": "not for: {}",
    "form": "form: {}",
    "form_not": "not: {}",
    "cut": "cut: {}",
    "cut_not": "not cut as: {}",
    "method": "method: {}",
    "method_not": "not by: {}",
    "events": "after it was: {}",
    "events_not": "not once it was: {}",
    "after": "after: {}",
    "not_after": "not after: {}",
    "before": "followed by: {}",
    "business": "business: {}",
}

_WEIGHT_WORDS = {
    "weight_at_least": "at least",
    "weight_more_than": "more than",
    "weight_at_most": "at most",
    "weight_below": "under",
}


def _weight(bound: Mapping[str, Any]) -> str:
    pounds, kilograms = (f"{bound[u]} {u}" if u in bound else "" for u in ("lb", "kg"))
    return f"{pounds} ({kilograms})" if pounds and kilograms else pounds or kilograms


def _condition(key: str, value: Any) -> str:  # noqa: ANN401 - a TOML value
    if key in _CONDITION_WORDS:
        return _CONDITION_WORDS[key].format(_list(value))
    if key == "thickness_at_most":
        return "at most " + " / ".join(
            f"{value[k]} {unit}" for k, unit in (("inch", "in"), ("cm", "cm")) if k in value
        )
    if key in ("numbers_at_least", "numbers_below"):
        word = "at least" if key == "numbers_at_least" else "below"
        return "; ".join(f"{_plain(fact)} {word} {bound}" for fact, bound in value.items())
    if key in _WEIGHT_WORDS:
        return f"pieces of {_WEIGHT_WORDS[key]} {_weight(value)}"
    link = " is not " if key == "facts_not" else " is "
    return "; ".join(f"{_plain(fact)}{link}{_list(answers)}" for fact, answers in value.items())


def _list(words: list[str]) -> str:
    *most, last = (_plain(word) for word in words)
    return f"{', '.join(most)} or {last}" if most else last


def _plain(word: str) -> str:
    return word.replace("_", " ")
