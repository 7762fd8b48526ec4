"""Numbers that a requirement says in words: in its title, question, notes and actions."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from tests.published.rows.figures import DAY

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.model.rule import Alternative, CodeHead, Requirement
    from tests.published.rows.figures import Figure

__all__ = ["said", "words_of", "words_of_head"]

#: How far behind its number a unit may stand, as in "3 to 4 days".
_NEAR = 24
_TIMES = {
    r"s\b|seconds?\b": 1,
    r"min": 60,
    r"h\b|hours?\b": 3600,
    r"days?\b|d\b": DAY,
    r"weeks?\b": 7 * DAY,
}
_MONTHS = {r"months?\b": 1, r"years?\b": 12}
_UNITS = {
    "°F": r"°F",
    "°C": r"°C",
    "± °F": r"°F",
    "± °C": r"°C",
    "z °C": r"",
    "number": r"",
    "g": r"g\b",
    "kg": r"kg\b",
    "lb": r"lb\b",
    "in": r"in\b|inch",
    "cm": r"cm\b",
    "business days": r"(?:business|working) days",
}
_SPELT = {
    "1": "once|one|each|every",
    "2": "twice|two",
    "3": "three",
    "25": "quarter",
    "50": "half",
}


def words_of(requirement: Requirement) -> str:
    """Return all that a requirement says in words."""
    parts: list[object] = [requirement.why, requirement.note]
    ways: list[Requirement | Alternative] = [requirement, *requirement.alternatives]
    for one in ways:
        parts += _said_by(one)
    parts += [text for action in requirement.actions for text in (action.do, action.otherwise)]
    return " \n".join(str(part) for part in parts)


def words_of_head(head: CodeHead) -> str:
    """Return what the head of a code says of all of it."""
    return f"{head.edition} \n{head.scope} \n{head.note}"


def _said_by(one: Requirement | Alternative) -> list[object]:
    fields = getattr(one.test, "fields", ())
    return [one.title, one.question, getattr(one.test, "question", ""), *fields]


def said(figure: Figure, text: str) -> bool:
    """Whether the words name the number, with its unit behind it."""
    return any(
        re.search(rf"(?<![\d.])(?:{number})(?![\d])(?!\.\d)[^\n]{{0,{_NEAR}}}?(?:{unit})", text)
        for number, unit in _written(figure)
    )


def _written(figure: Figure) -> Iterator[tuple[str, str]]:
    """Yield the ways in which a number may be written, with what stands behind it."""
    scales = {"s": _TIMES, "months": _MONTHS}.get(figure.what)
    if scales is None:
        yield _spelt(figure.value), _UNITS[figure.what]
        return
    for unit, each in scales.items():
        amount = figure.value / each
        if amount == round(amount, 2):
            yield _spelt(amount), unit


def _spelt(value: Decimal) -> str:
    plain = f"{value:f}"
    if "." in plain:
        plain = plain.rstrip("0").rstrip(".")
    written = re.escape(plain).replace(r"\-", "[-−]") + (r"(?:\.0+)?" if "." not in plain else "")
    return f"{written}|{_SPELT[plain]}" if plain in _SPELT else written
