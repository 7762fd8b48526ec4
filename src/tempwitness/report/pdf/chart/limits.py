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

_FIGURE = re.compile(r"(?<![\d.])(-?\d+(?:\.\d+)?) °F(?: \((-?\d+(?:\.\d+)?) °C\))?")
_CELSIUS = re.compile(r"(?<![\d.(])(-?\d+(?:\.\d+)?) °C")
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
    figures = []
    for fahrenheit, celsius in _FIGURE.findall(limit):
        if unit is Unit.F:
            figures.append(float(fahrenheit))
        else:
            figures.append(float(celsius) if celsius else convert(float(fahrenheit), Unit.F, unit))
    if not figures:
        figures = [convert(float(c), Unit.C, unit) for c in _CELSIUS.findall(limit)]
    return list(dict.fromkeys(figures))
