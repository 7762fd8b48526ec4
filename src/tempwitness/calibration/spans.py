"""Between two checks: the least and the most that readings of a probe may need."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.calibration.checks import Line, Unknown

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.calibration.checks import Finding
    from tempwitness.model.logs import Floats
    from tempwitness.model.lot import Probe

__all__ = ["Span", "spans"]

_AS_READ = Line(0.0)


@dataclass(frozen=True, slots=True)
class Span:
    """Readings from `start` up to, not including, `end` [s], and what may have to be added.

    Parameters
    ----------
    ways : tuple of Line or Unknown
        Each of them is possible, and everything in between.
    reason : str
        Why; ``""`` if there is nothing to say.
    """

    start: float
    end: float
    ways: tuple[Line | Unknown, ...]
    reason: str

    def bounds(self, fahrenheit: Floats) -> tuple[Floats, Floats]:
        """Least and most to be added to readings [°F difference]."""
        if any(isinstance(way, Unknown) for way in self.ways):
            return np.full(len(fahrenheit), -np.inf), np.full(len(fahrenheit), np.inf)
        added = [
            way.shift + (way.slope - 1.0) * fahrenheit for way in self.ways if isinstance(way, Line)
        ]
        return np.minimum.reduce(added), np.maximum.reduce(added)


def spans(probe: Probe, findings: Sequence[Finding]) -> list[Span]:
    """Cut time at the checks of a probe."""
    found: list[Span] = []
    before: Finding | None = None
    failed: tuple[Finding, ...] = ()
    for after in (*findings, None):
        start = -math.inf if before is None else before.at
        end = math.inf if after is None else after.at
        ways, reason = _between(probe, before, after)
        failed = _not_cleared(failed, before)
        if failed and before is not None and before.good:
            ways = (*ways, *(_after(probe, f) for f in failed))
            words = "; ".join(f.words for f in failed)
            reason = f"{words}: failed, and a good check against something else does not show that "
            reason += "it reads true there again"
        found.append(Span(start, end, ways, reason))
        before = after
    return found


def _not_cleared(failed: tuple[Finding, ...], latest: Finding | None) -> tuple[Finding, ...]:
    """Return the failed checks that still stand: one of the same kind clears them, or a pair."""
    if latest is None:
        return failed
    pair = len(latest.kinds) > 1
    left = tuple(f for f in failed if not (pair or f.kinds <= latest.kinds))
    return left if latest.good else (*left, latest)


def _between(
    probe: Probe, before: Finding | None, after: Finding | None
) -> tuple[tuple[Line | Unknown, ...], str]:
    known = _after(probe, before)
    if after is None:
        return (known,), _reason_after(probe, before)
    if after.good and (before is None or before.good):
        return (known,), _reason_after(probe, before)
    if after.good:
        return (
            (known, _AS_READ),
            f"{after.words}: good again after a failed check, and nobody knows when it changed",
        )
    if probe.drift == "constant" and probe.correct and (before is None or before.good):
        return (
            (after.change,),
            f"{after.words}; the record states that the difference was there all the time",
        )
    if before is not None and isinstance(known, Line) and known == after.change:
        return (
            (known,),
            f"{after.words}: the same as at the check before, so readings between the two are "
            "corrected by it",
        )
    since = "since the check before" if before is not None else "before that"
    return (
        (known, after.change),
        f"{after.words}: the probe failed, and nobody knows when {since} it went wrong",
    )


def _after(probe: Probe, finding: Finding | None) -> Line | Unknown:
    """What readings need after a check, as far as that check knows."""
    if finding is None or finding.good:
        return _AS_READ
    if not probe.correct:
        return Unknown("not corrected")
    return finding.change


def _reason_after(probe: Probe, finding: Finding | None) -> str:
    if finding is None or (finding.good and finding.exact):
        return ""
    if finding.good:
        return f"{finding.words}: within its tolerance, readings stand as they are"
    if not probe.correct:
        return f"{finding.words}: failed and not to be corrected, so nothing it reads decides"
    if isinstance(finding.change, Unknown):
        return f"{finding.words}: {finding.change.why}"
    return f"{finding.words}: readings after it are corrected"
