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
    return f"{limit['f']} °F ({limit['c']} °C)"


def _row(row: Mapping[str, Any]) -> str:
    at_once = row["hold"].split()[0] in ("0", "0.0")
    return f"{_figures(row)} at once" if at_once else f"{_figures(row)} for {row['hold']}"


def _throughout(test: Mapping[str, Any]) -> str:
    return f"{limit_words(test['limit'])} throughout"


def _outside_band(test: Mapping[str, Any]) -> str:
    return f"{limit_words(test['cold'])} or {limit_words(test['hot'])}, never between"


def _reach(test: Mapping[str, Any]) -> str:
    rows = "; or ".join(_row(row) for row in test["rows"])
    return f"reaches {rows}"


def _fall(test: Mapping[str, Any]) -> str:
    if test.get("clock") == "stage":
        return f"{limit_words(test['to'])} within {test['within']} of the start of the stage"
    return f"from {_figures(test['start'])} to {_figures(test['to'])} within {test['within']}"


def _rise(test: Mapping[str, Any]) -> str:
    hold = f", held {test['hold']}," if "hold" in test else ""
    return f"from {_figures(test['start'])} to {_figures(test['to'])}{hold} within {test['within']}"


def _band_clock(test: Mapping[str, Any]) -> str:
    band = " and ".join(limit_words(test[side]) for side in ("low", "high") if side in test)
    heat = " while nothing heats it" if test.get("unheated_only") else ""
    return f"{band} for at most {test['at_most']} in all{heat}"


def _longest(test: Mapping[str, Any]) -> str:
    return f"lasts at most {test['at_most']}"


def _time_control(test: Mapping[str, Any]) -> str:
    starts = " or ".join(limit_words(limit) for limit in test.get("start", ()))
    ceiling = f", {limit_words(test['ceiling'])} throughout" if "ceiling" in test else ""
    return {
        "written": f"the procedure for {test['at_most']} was written before it was used",
        "start": f"starts at {starts}{ceiling}",
        "end": f"served or discarded within {test['at_most']}{ceiling}",
        "marked": f"marked with the time at which the {test['at_most']} end",
    }[test["part"]]


def _shelf_life(test: Mapping[str, Any]) -> str:
    return (
        f"at most {test['days']} days, the day of preparation being day 1; "
        f"marked when kept longer than {test['mark_after']}"
    )


def _method(test: Mapping[str, Any]) -> str:
    return "one of: " + ", ".join(name.replace("_", " ") for name in test["allowed"])


def _duty(test: Mapping[str, Any]) -> str:
    return f"a duty: {test['question']}"


def _instrument(test: Mapping[str, Any]) -> str:
    return f"true to ±{test['f']} °F (±{test['c']} °C where the device shows °C)"


def _day_end(_: Mapping[str, Any]) -> str:
    return "what is left is discarded by the end of the day"


def _conditions(_: Mapping[str, Any]) -> str:
    return "nothing beyond its conditions"


_FORMS: Mapping[str, Callable[[Mapping[str, Any]], str]] = {
    "throughout": _throughout,
    "outside_band": _outside_band,
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


def _condition(key: str, value: Any) -> str:  # noqa: ANN401 - a TOML value
    if key in _CONDITION_WORDS:
        return _CONDITION_WORDS[key].format(_list(value))
    if key in ("weight_below", "weight_at_least"):
        word = "under" if key == "weight_below" else "at least"
        return f"pieces of {word} {value['lb']} lb ({value['kg']} kg)"
    link = " is not " if key == "facts_not" else " is "
    return "; ".join(f"{_plain(fact)}{link}{_list(answers)}" for fact, answers in value.items())


def _list(words: list[str]) -> str:
    *most, last = (_plain(word) for word in words)
    return f"{', '.join(most)} or {last}" if most else last


def _plain(word: str) -> str:
    return word.replace("_", " ")
