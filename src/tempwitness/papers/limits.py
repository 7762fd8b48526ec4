"""Limits of requirements in words, as short as a table wants them and in full."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.model.base import Written
from tempwitness.model.figures import Degrees, duration_words
from tempwitness.model.forms import Reach, ReachBy
from tempwitness.rulebook.words import test_words

if TYPE_CHECKING:
    from tempwitness.model.rule import Requirement

__all__ = ["full_limit", "short_limit"]

_LONGEST_LADDER = 4


def full_limit(requirement: Requirement) -> str:
    """Write the whole test of a requirement in one sentence."""
    written = _as_written(requirement.test)
    if written.get("hold") == duration_words(0.0):
        del written["hold"]
    return _sentence(test_words(written).replace("starts at ", "at the start "))


def short_limit(requirement: Requirement) -> str:
    """Write the test for a table; of a long ladder its first and last row."""
    test = requirement.test
    if isinstance(test, ReachBy) or (isinstance(test, Reach) and len(test.rows) > _LONGEST_LADDER):
        rows = _as_written(test)["rows"]
        first, last = (_row(row) for row in (rows[0], rows[-1]))
        return f"One row of the table of {requirement.section}: from {first} to {last}"
    return full_limit(requirement)


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def _row(row: dict[str, Any]) -> str:
    figures = f"{row['f']} °F" if "f" in row else f"{row['c']} °C"
    if "f" in row and "c" in row:
        figures = f"{row['f']} °F ({row['c']} °C)"
    figures = f"above {figures}" if row.get("op") == ">" else figures
    hold = row["hold"] if "hold" in row else row["holds"][-1]
    return f"{figures} at once" if hold == duration_words(0.0) else f"{figures} for {hold}"


def _as_written(part: Written) -> dict[str, Any]:
    """Return a test as a rule file holds it: durations in words, figures that are printed only."""
    found: dict[str, Any] = {}
    for name in type(part).model_fields:
        value = getattr(part, name)
        if value is None or (isinstance(part, Degrees) and name == "printed"):
            continue
        if isinstance(part, Degrees) and name in ("f", "c") and part.printed not in ("both", name):
            continue
        found[name] = _value(value)
    return found


def _value(value: Any) -> Any:  # noqa: ANN401 - a figure, a text or a part
    if isinstance(value, Written):
        return _as_written(value)
    if isinstance(value, tuple):
        return [_value(one) for one in value]
    if isinstance(value, float):  # temperatures and counts are no floats here
        return duration_words(value)
    return value
