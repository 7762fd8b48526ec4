"""Between two checks: the least and the most that readings of a probe may need."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.calibration.checks import AS_READ, Line, Unknown
from tempwitness.calibration.settings import check_figures

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.calibration.checks import Finding
    from tempwitness.model.logs import Floats
    from tempwitness.model.lot import Probe

__all__ = ["Span", "spans"]

Ways = tuple[Line | Unknown, ...]
_DAY_S = 86_400.0


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
    ways: Ways
    reason: str

    def bounds(self, fahrenheit: Floats) -> tuple[Floats, Floats]:
        """Least and most to be added to readings [°F difference]; nothing to infinite ones."""
        if any(isinstance(way, Unknown) for way in self.ways):
            return np.full(len(fahrenheit), -np.inf), np.full(len(fahrenheit), np.inf)
        # A line has a slope near one: what has no end has none after it is corrected either.
        reading = np.where(np.isinf(fahrenheit), 0.0, fahrenheit)
        added = [
            way.shift + (way.slope - 1.0) * reading for way in self.ways if isinstance(way, Line)
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
        earlier = [f for f in failed if f is not before]
        if earlier:
            ways = (*ways, *(way for f in earlier for way in _after(probe, f)))
            reason = _still_failed(earlier, before, reason)
        found.append(Span(start, end, ways, reason))
        before = after
    return [*found[:-1], *_aged(found[-1], findings[-1])] if findings else found


def _aged(span: Span, latest: Finding) -> list[Span]:
    """Cut the time after the last check where that check is too old to speak for the probe.

    A good check that old says no more than none would: readings stand as they are. Whether a
    failed one still holds nobody knows.
    """
    oldest = check_figures().oldest
    cut = latest.at + oldest
    days = f"{oldest / _DAY_S:g} days"
    reason = f"{latest.words}: more than {days} before these readings, and no later check tells "
    if span.ways == (AS_READ,):
        reason += "how true the probe read by then; they stand as they are"
    else:
        reason += "whether its difference still held"
    ways = tuple(dict.fromkeys((*span.ways, AS_READ)))
    return [Span(span.start, cut, span.ways, span.reason), Span(cut, span.end, ways, reason)]


def _still_failed(earlier: Sequence[Finding], before: Finding | None, reason: str) -> str:
    words = "; ".join(f.words for f in earlier)
    if before is not None and before.good:
        return (
            f"{words}: failed, and a good check against something else does not show that it "
            "reads true there again"
        )
    return f"{reason}; {words}: failed too, and was not done again"


def _not_cleared(failed: tuple[Finding, ...], latest: Finding | None) -> tuple[Finding, ...]:
    """Return the failed checks that still stand: one of the same kind clears them, or a pair."""
    if latest is None:
        return failed
    pair = len(latest.kinds) > 1
    left = tuple(f for f in failed if not (pair or f.kinds <= latest.kinds))
    return left if latest.good else (*left, latest)


def _between(probe: Probe, before: Finding | None, after: Finding | None) -> tuple[Ways, str]:
    known = _after(probe, before)
    if after is None:
        return known, _reason_after(probe, before)
    if after.good and (before is None or before.good):
        return known, _reason_after(probe, before)
    if after.good:
        return (
            (*known, AS_READ),
            f"{after.words}: good again after a failed check, and nobody knows when it changed",
        )
    if probe.drift == "constant" and probe.correct and (before is None or before.good):
        return (
            after.ways,
            f"{after.words}; the record states that the difference was there all the time",
        )
    if before is not None and not before.good and known == after.ways:
        return (
            known,
            f"{after.words}: the same as at the check before, so readings between the two are "
            "corrected by it",
        )
    since = "since the check before" if before is not None else "before that"
    return (
        (*known, *after.ways),
        f"{after.words}: the probe failed, and nobody knows when {since} it went wrong",
    )


def _after(probe: Probe, finding: Finding | None) -> Ways:
    """What readings need after a check, as far as that check knows."""
    if finding is None or finding.good:
        return (AS_READ,)
    if not probe.correct:
        return (Unknown("not corrected"),)
    return finding.ways


def _reason_after(probe: Probe, finding: Finding | None) -> str:
    if finding is None or (finding.good and finding.exact):
        return ""
    if finding.good:
        return f"{finding.words}: within its tolerance, readings stand as they are"
    if not probe.correct:
        return f"{finding.words}: failed and not to be corrected, so nothing it reads decides"
    for way in finding.ways:
        if isinstance(way, Unknown):
            return f"{finding.words}: {way.why}"
    if AS_READ in finding.ways:
        return (
            f"{finding.words}: too near its tolerance to tell whether it passed, so readings after "
            "it may stand or need that difference"
        )
    return f"{finding.words}: readings after it are corrected"
