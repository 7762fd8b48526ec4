"""What each check of a probe shows: good, or off by how much.

An ice check alone shifts all readings by one difference; ice and boiling together, with no
reading in between, give a straight line. Differences are in °F; a reading in °C takes them over
1.8.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from tempwitness.calibration.settings import check_figures
from tempwitness.units import Unit, convert, convert_difference, format_degrees

if TYPE_CHECKING:
    from collections.abc import Sequence
    from zoneinfo import ZoneInfo

    from tempwitness.model.lot import Probe, ProbeCheck

__all__ = ["Finding", "Line", "Unknown", "findings", "tolerance", "within"]

# Differences of figures with one or two decimals, freed of what binary fractions add.
_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class Line:
    """Added to a reading r [°F]: shift + (slope - 1) r."""

    shift: float
    slope: float = 1.0


@dataclass(frozen=True, slots=True)
class Unknown:
    """Nobody can say what to add."""

    why: str


@dataclass(frozen=True, slots=True)
class Finding:
    """What one check, or two that belong together, showed.

    Parameters
    ----------
    at : float
        When the last of them was done [s since 1970-01-01 UTC].
    good : bool
        Whether all lie within the probe's tolerance.
    change : Line or Unknown
        What readings after it need.
    words : str
        The checks in words, with their figures.
    exact : bool
        Whether they showed no difference at all.
    kinds : frozenset of str
        With what the probe was compared.
    """

    at: float
    good: bool
    change: Line | Unknown
    words: str
    exact: bool
    kinds: frozenset[str]


def tolerance(probe: Probe) -> tuple[float, Unit]:
    """How far a check may be off, and on which scale that is meant.

    A probe that shows °C is held to the Celsius figure. A maker's accuracy counts where it is
    the narrower of the two.
    """
    scale = Unit.F if probe.scale == "F" else Unit.C
    printed = check_figures().tolerance[probe.reads, scale.value.lower()]
    if probe.accuracy is None:
        return printed, scale
    stated = round(convert_difference(probe.accuracy, probe.accuracy_unit, scale), _DECIMALS)
    return min(printed, stated), scale


def findings(probe: Probe, taken: Sequence[float], zone: ZoneInfo) -> list[Finding]:
    """Judge the checks of a probe in order of time.

    Parameters
    ----------
    probe : Probe
    taken : sequence of float
        Moments of the probe's readings, sorted [s].
    zone : ZoneInfo
        For the times in the words.
    """
    found: list[Finding] = []
    checks = list(probe.checks)
    while checks:
        first = checks.pop(0)
        if checks and _belong(first, checks[0], taken):
            found.append(_pair(probe, first, checks.pop(0), zone))
        else:
            found.append(_single(probe, first, zone))
    return found


def _belong(first: ProbeCheck, second: ProbeCheck, taken: Sequence[float]) -> bool:
    near = second.at - first.at <= check_figures().together
    between = any(first.at < moment < second.at for moment in taken)
    return near and not between and {first.kind, second.kind} == {"ice", "boiling"}


def within(check: ProbeCheck, scale: Unit) -> tuple[float, float]:
    """Least and most to be added to a reading, as far as is known what was due [`scale`]."""
    due = (
        check.expected if check.least is None else check.least,
        check.expected if check.most is None else check.most,
    )
    low, high = (convert_difference(d - check.read, check.unit, scale) for d in due)
    return round(low, _DECIMALS), round(high, _DECIMALS)


def _off(check: ProbeCheck) -> float:
    """Add this to a reading [°F]."""
    return round(convert_difference(check.expected - check.read, check.unit, Unit.F), _DECIMALS)


def _good(probe: Probe, check: ProbeCheck) -> bool:
    allowed, scale = tolerance(probe)
    off = round(convert_difference(check.expected - check.read, check.unit, scale), _DECIMALS)
    return abs(off) <= allowed


def _words(check: ProbeCheck, zone: ZoneInfo) -> str:
    when = datetime.fromtimestamp(check.at, zone).strftime("%Y-%m-%d %H:%M")
    read = format_degrees(check.read, check.unit)
    due = format_degrees(check.expected, check.unit)
    return f"{check.kind} check of {when} read {read} where {due} was due"


def _single(probe: Probe, check: ProbeCheck, zone: ZoneInfo) -> Finding:
    off = _off(check)
    change = _broken(check) or Line(off)
    kinds = frozenset({check.kind})
    return Finding(check.at, _good(probe, check), change, _words(check, zone), off == 0.0, kinds)


def _broken(check: ProbeCheck) -> Unknown | None:
    """Say that a probe is too far off to be merely shifted."""
    off = _off(check)
    if abs(off) <= check_figures().largest:
        return None
    return Unknown(f"off by {-off:+.1f} °F: the probe is broken, not shifted; replace it")


def _pair(probe: Probe, first: ProbeCheck, second: ProbeCheck, zone: ZoneInfo) -> Finding:
    words = f"{_words(first, zone)}, {_words(second, zone)}"
    good = _good(probe, first) and _good(probe, second)
    exact = _off(first) == 0.0 and _off(second) == 0.0
    change = _line(first, second)
    if isinstance(change, Line):
        change = _broken(first) or _broken(second) or change
    return Finding(second.at, good, change, words, exact, frozenset({first.kind, second.kind}))


def _line(first: ProbeCheck, second: ProbeCheck) -> Line | Unknown:
    """Straight line through two checks; a slope far from one means a broken probe."""
    read = [convert(c.read, c.unit, Unit.F) for c in (first, second)]
    due = [convert(c.expected, c.unit, Unit.F) for c in (first, second)]
    low, high = check_figures().slope
    if read[0] == read[1]:
        return Unknown("both checks read the same: the probe does not measure")
    slope = (due[1] - due[0]) / (read[1] - read[0])
    if not low <= slope <= high:
        return Unknown(f"the slope between its checks is {slope:.3f}: replace the probe")
    return Line(due[0] - slope * read[0], slope)
