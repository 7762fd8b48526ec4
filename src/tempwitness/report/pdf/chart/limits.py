"""Which lines of the chart stand for limits: the figures that the findings print."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.units import Unit, convert, format_degrees

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.finding import Finding

__all__ = ["LimitLine", "limit_lines", "moment"]

# A figure, or several that lead from one to the next: "135 °F (57 °C)", "135 → 70 °F (57 → 21 °C)".
_NUMBERS = r"(-?\d+(?:\.\d+)?(?: → -?\d+(?:\.\d+)?)*)"
_FAHRENHEIT = re.compile(rf"(?<![\d.]){_NUMBERS} °F(?: \({_NUMBERS} °C\))?")
_CELSIUS = re.compile(rf"(?<![\d.(]){_NUMBERS} °C")
_MOST_FIGURES = 3


@dataclass(frozen=True, slots=True)
class LimitLine:
    """A limit over the stage to which it applies.

    Parameters
    ----------
    degrees : float
        [unit of the chart].
    start, end : float
        [s since 1970-01-01 UTC].
    words : str
        The figure with its unit.
    stage : str
        Name of the stage.
    """

    degrees: float
    start: float
    end: float
    words: str
    stage: str


def moment(iso: str) -> float:
    """Return an ISO 8601 moment as s since 1970-01-01 UTC."""
    return datetime.fromisoformat(iso).timestamp()


def limit_lines(findings: Iterable[Finding], unit: Unit) -> list[LimitLine]:
    """Return the limits of what was judged, one line for each figure and name of stage.

    A ladder of many figures is left out: it would hide the trace.
    """
    found: dict[tuple[float, str], LimitLine] = {}
    for finding in findings:
        if finding.verdict is Verdict.NOT_APPLICABLE or not finding.stage_start:
            continue
        figures = _figures(finding.limit, unit)
        if len(figures) > _MOST_FIGURES or not finding.stage_end:
            continue
        start, end = moment(finding.stage_start), moment(finding.stage_end)
        for degrees in figures:
            known = found.get((degrees, finding.stage))
            if known:
                start, end = min(start, known.start), max(end, known.end)
            words = format_degrees(degrees, unit)
            found[degrees, finding.stage] = LimitLine(degrees, start, end, words, finding.stage)
    return list(found.values())


def _figures(limit: str, unit: Unit) -> list[float]:
    figures: list[float] = []
    for fahrenheit, celsius in _FAHRENHEIT.findall(limit):
        printed = unit is Unit.F or bool(celsius)
        numbers = _split(fahrenheit if unit is Unit.F or not celsius else celsius)
        figures += numbers if printed else [convert(f, Unit.F, unit) for f in numbers]
    if not figures:
        found = [c for numbers in _CELSIUS.findall(limit) for c in _split(numbers)]
        figures = [convert(c, Unit.C, unit) for c in found]
    return list(dict.fromkeys(figures))


def _split(numbers: str) -> list[float]:
    return [float(number) for number in numbers.split(" → ")]
