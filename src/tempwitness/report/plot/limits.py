"""Which lines of the chart stand for limits: the figures that the findings print."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.finding import Finding

__all__ = ["LimitLine", "limit_lines", "moment"]

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
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
        figures = _figures(finding, unit)
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


def _figures(finding: Finding, unit: Unit) -> list[float]:
    """Return a limit's figures in a scale, each once.

    Both stand in the finding; the limit's words name one of them at least.
    """
    printed = [p for p in finding.figures if any(_named(d, finding.limit) for d in (p.f, p.c))]
    return list(dict.fromkeys(p.f if unit is Unit.F else p.c for p in printed))


def _named(degrees: float, limit: str) -> bool:
    """Whether a limit speaks of a figure; a ladder may have been kept by another of its rows."""
    numbers = {float(number) for number in _NUMBER.findall(limit)}
    return not limit or degrees in numbers
