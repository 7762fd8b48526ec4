"""What each check of a probe shows: good, or off by how much.

An ice check alone shifts all readings by one difference; ice and boiling together, with no
reading in between, give a straight line. Where what was due is known within bounds only, each
value within them is possible. Differences are in °F; a reading in °C takes them over 1.8.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from itertools import product
from typing import TYPE_CHECKING

from tempwitness.calibration.accuracy import printed_tolerance
from tempwitness.calibration.settings import check_figures
from tempwitness.units import Unit, convert, convert_difference, format_degrees

if TYPE_CHECKING:
    from collections.abc import Sequence
    from zoneinfo import ZoneInfo

    from tempwitness.model.lot import Probe, ProbeCheck

__all__ = ["AS_READ", "Finding", "Line", "Unknown", "findings", "passed", "tolerance", "within"]

# Differences of figures with one or two decimals, freed of what binary fractions add.
_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class Line:
    """Added to a reading r [°F]: shift + (slope - 1) r."""

    shift: float
    slope: float = 1.0


#: A reading stands as it was read.
AS_READ = Line(0.0)


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
    ways : tuple of Line or Unknown
        What readings after a failed one may need: each is possible, and everything in between.
    words : str
        The checks in words, with their figures.
    exact : bool
        Whether they showed no difference at all.
    kinds : frozenset of str
        With what the probe was compared.
    """

    at: float
    good: bool
    ways: tuple[Line | Unknown, ...]
    words: str
    exact: bool
    kinds: frozenset[str]


def tolerance(probe: Probe) -> tuple[float, Unit]:
    """How far a check may be off, and on which scale that is meant.

    A probe that shows °C is held to the Celsius figure. A maker's accuracy counts where it is
    the narrower of the two; the class of a sensor does not, for a check tests the whole
    instrument.
    """
    printed, scale = printed_tolerance(probe)
    if probe.accuracy is None:
        return printed, scale
    stated = round(convert_difference(probe.accuracy, probe.accuracy_unit, scale), _DECIMALS)
    return min(printed, stated), scale


def passed(probe: Probe, check: ProbeCheck) -> bool:
    """Whether a check lies within a probe's tolerance.

    Where what was due is known within bounds only, it must lie within the printed tolerance all
    through them, and within the maker's accuracy at the value that is likeliest.
    """
    allowed, scale = tolerance(probe)
    printed, _ = printed_tolerance(probe)
    off = round(convert_difference(check.expected - check.read, check.unit, scale), _DECIMALS)
    worst = max(abs(side) for side in within(check, scale))
    return abs(off) <= allowed and worst <= max(printed, allowed)


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


def _may_have_passed(probe: Probe, check: ProbeCheck) -> bool:
    allowed, scale = tolerance(probe)
    low, high = within(check, scale)
    return low <= allowed and high >= -allowed


def _words(check: ProbeCheck, zone: ZoneInfo) -> str:
    when = datetime.fromtimestamp(check.at, zone).strftime("%Y-%m-%d %H:%M")
    read = format_degrees(check.read, check.unit)
    due = format_degrees(check.expected, check.unit)
    if check.least is not None and check.most is not None:
        least, most = (format_degrees(side, check.unit) for side in (check.least, check.most))
        due = f"{least} to {most}"
    return f"{check.kind} check of {when} read {read} where {due} was due"


def _exact(*checks: ProbeCheck) -> bool:
    return all(side == 0.0 for check in checks for side in within(check, Unit.F))


def _single(probe: Probe, check: ProbeCheck, zone: ZoneInfo) -> Finding:
    broken = _broken(check)
    ways = (broken,) if broken else tuple(Line(side) for side in dict.fromkeys(_sides(check)))
    return _found(probe, (check,), ways, zone)


def _pair(probe: Probe, first: ProbeCheck, second: ProbeCheck, zone: ZoneInfo) -> Finding:
    broken = _slope_of_broken(first, second) or _broken(first) or _broken(second)
    ways = (broken,) if broken else _lines(first, second)
    return _found(probe, (first, second), ways, zone)


def _found(
    probe: Probe, checks: tuple[ProbeCheck, ...], ways: tuple[Line | Unknown, ...], zone: ZoneInfo
) -> Finding:
    good = all(passed(probe, check) for check in checks)
    if not good and all(_may_have_passed(probe, check) for check in checks):
        ways = (*ways, AS_READ)
    return Finding(
        max(check.at for check in checks),
        good,
        ways,
        ", ".join(_words(check, zone) for check in checks),
        _exact(*checks),
        frozenset(check.kind for check in checks),
    )


def _sides(check: ProbeCheck) -> tuple[float, float]:
    """Least and most to be added to a reading [°F]."""
    return within(check, Unit.F)


def _broken(check: ProbeCheck) -> Unknown | None:
    """Say that a probe is too far off to be merely shifted."""
    off = max(_sides(check), key=abs)
    if abs(off) <= check_figures().largest:
        return None
    return Unknown(f"off by {-off:+.1f} °F: the probe is broken, not shifted; replace it")


def _slope_of_broken(first: ProbeCheck, second: ProbeCheck) -> Unknown | None:
    """Say that the line through two checks is too steep or too flat for a sound probe."""
    read = [convert(c.read, c.unit, Unit.F) for c in (first, second)]
    due = [convert(c.expected, c.unit, Unit.F) for c in (first, second)]
    low, high = check_figures().slope
    if read[0] == read[1]:
        return Unknown("both checks read the same: the probe does not measure")
    slope = (due[1] - due[0]) / (read[1] - read[0])
    if not low <= slope <= high:
        return Unknown(f"the slope between its checks is {slope:.3f}: replace the probe")
    return None


def _lines(first: ProbeCheck, second: ProbeCheck) -> tuple[Line, ...]:
    """Straight lines through two checks, one for each end of what may have been due."""
    one, two = (convert(c.read, c.unit, Unit.F) for c in (first, second))
    lines = []
    for off_one, off_two in product(dict.fromkeys(_sides(first)), dict.fromkeys(_sides(second))):
        slope = (two + off_two - one - off_one) / (two - one)
        lines.append(Line(one + off_one - slope * one, slope))
    return tuple(lines)
