"""Figures of rules: durations and temperatures as codes print them.

Durations are written with their unit ("2 h", "112 min", "15 s") and become seconds. A temperature
stands as it is printed: in both units where the code prints both, else in the one that it prints.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator

from tempwitness.model.base import Written
from tempwitness.model.durations import duration_words, parse_duration

__all__ = [
    "ColumnRow",
    "Degrees",
    "Duration",
    "Limit",
    "Row",
    "Span",
    "WeightBound",
    "duration_words",
    "parse_duration",
    "step_words",
]

_POUND = Decimal("0.45359237")  # the international pound, by definition [kg]

Duration = Annotated[float, BeforeValidator(parse_duration)]

#: How long a paper is kept, or how long ahead it is handed in: days, or months of the calendar.
Span = Annotated[str, Field(pattern=r"^[1-9]\d* (days?|weeks?|months?|years?)$")]


class Degrees(Written):
    """A temperature as a code prints it.

    A figure that the code does not print is left out; it is then the exact conversion of the
    other one, used only for readings in that unit.

    Parameters
    ----------
    f, c : Decimal
        [°F], [°C]
    printed : {"both", "f", "c"}
        Which of the two the code prints. It follows from what is written.
    """

    f: Decimal
    c: Decimal
    printed: Literal["both", "f", "c"] = "both"

    @model_validator(mode="before")
    @classmethod
    def _complete(cls, written: Any) -> Any:  # noqa: ANN401 - whatever a rule file holds
        if not isinstance(written, dict) or ("f" in written) == ("c" in written):
            return written
        given = "f" if "f" in written else "c"
        try:
            figure = Decimal(written[given])
        except (ArithmeticError, TypeError, ValueError):
            return written
        other = _plain((figure - 32) * 5 / 9 if given == "f" else figure * 9 / 5 + 32)
        return {**written, "c" if given == "f" else "f": other, "printed": given}

    @property
    def figures(self) -> str:
        """What the code prints: both figures, or the one."""
        if self.printed == "both":
            return f"{self.f} °F ({self.c} °C)"
        return f"{self.f} °F" if self.printed == "f" else f"{self.c} °C"


class WeightBound(Written):
    """A weight as a code prints it: in pounds, in kilograms, or in both.

    A figure that the code does not print is left out; it is then the exact conversion of the
    other one, used only for weights that were entered in that unit.

    Parameters
    ----------
    lb, kg : Decimal
        [lb], [kg]
    printed : {"both", "lb", "kg"}
        Which of the two the code prints. It follows from what is written.
    """

    lb: Decimal
    kg: Decimal
    printed: Literal["both", "lb", "kg"] = "both"

    @model_validator(mode="before")
    @classmethod
    def _complete(cls, written: Any) -> Any:  # noqa: ANN401 - whatever a rule file holds
        if not isinstance(written, dict) or ("lb" in written) == ("kg" in written):
            return written
        given = "lb" if "lb" in written else "kg"
        try:
            figure = Decimal(str(written[given]))
            other = figure * _POUND if given == "lb" else figure / _POUND
        except ArithmeticError:
            return written
        return {**written, "kg" if given == "lb" else "lb": other, "printed": given}


def _plain(figure: Decimal) -> Decimal:
    """Return a figure without needless zeros; a third that never ends keeps nine places."""
    return Decimal(f"{figure:.9f}".rstrip("0").rstrip("."))


def step_words(start: Degrees, to: Degrees) -> str:
    """Write the way from one temperature to another, in the units that the code prints."""
    fahrenheit = f"{start.f} → {to.f} °F"
    celsius = f"{start.c} → {to.c} °C"
    printed = {start.printed, to.printed}
    if printed == {"c"}:
        return celsius
    return fahrenheit if printed == {"f"} else f"{fahrenheit} ({celsius})"


class Limit(Degrees):
    """A temperature limit with its direction."""

    op: Literal[">=", ">", "<=", "<"]

    @property
    def words(self) -> str:
        """The limit as printed."""
        return f"{_OP_WORDS[self.op]} {self.figures}"


_OP_WORDS = {">=": "at least", ">": "above", "<=": "at most", "<": "below"}


class Row(Degrees):
    """One row of a ladder: a temperature, how long it must last, and whether it must be passed."""

    hold: Duration
    op: Literal[">=", ">"] = ">="


class ColumnRow(Degrees):
    """One row of a ladder whose times stand in several columns."""

    holds: tuple[Duration, ...]
