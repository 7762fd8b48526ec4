"""How far the deciding reading stands from the limit, beside what its probe can tell apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.calibration.budget import budget, chance_at_least, guard_band
from tempwitness.model.finding import Guard
from tempwitness.units import Unit, convert, convert_difference, format_degrees

if TYPE_CHECKING:
    from tempwitness.calibration.budget import Budget
    from tempwitness.criteria.outcome import Cite, Outcome
    from tempwitness.evaluate.subject import Subject

__all__ = ["doubt_words", "guard_of"]

#: Uncertainties are told to a hundredth of a degree; a chance to a thousandth.
_DEGREES, _CHANCE = 2, 3


def guard_of(outcome: Outcome, subject: Subject) -> Guard | None:
    """Return the guard band of the deciding reading; ``None`` where no single reading decides."""
    cite = outcome.closest or next(iter(outcome.cites), None)
    if outcome.margin is None or cite is None:
        return None
    trace, index = cite.trace, cite.index
    name = subject.log.raw.channels[int(trace.channel[index])].probe_of(int(trace.row[index]))
    probe = next((p for p in subject.log.raw.probes if p.id == name), None)
    if probe is None:
        return None
    unit = Unit.C if trace.celsius[index] else Unit.F
    known = budget(probe, float(trace.at[index]), convert(_shown(cite), unit, Unit.F))
    u = convert_difference(known.u, Unit.F, unit)
    value = float(trace.lower[index] if outcome.floor else trace.upper[index])
    limit = value - outcome.margin if outcome.floor else value + outcome.margin
    band = guard_band(u)
    return Guard(
        probe=name,
        unit=unit.value,
        margin=round(outcome.margin, _DEGREES),
        u=round(u, _DEGREES),
        expanded=round(convert_difference(known.expanded, Unit.F, unit), _DEGREES),
        accepted=round(limit + band if outcome.floor else limit - band, _DEGREES),
        chance=round(chance_at_least(outcome.margin, 0.0, u), _CHANCE),
        parts=_parts(known, unit),
        unknown=known.unknown,
    )


def _shown(cite: Cite) -> float:
    """What the probe showed [its own unit]."""
    trace, index = cite.trace, cite.index
    return float(trace.lower[index] if trace.shown is None else trace.shown[index])


def _parts(known: Budget, unit: Unit) -> tuple[str, ...]:
    return tuple(
        f"{part.words}: u {convert_difference(part.u, Unit.F, unit):.2f} {unit.symbol}"
        for part in known.parts
    )


def doubt_words(guard: Guard | None) -> str:
    """Say when the deciding reading stands closer to the limit than the probe can tell."""
    if guard is None or abs(guard.margin) >= guard.expanded:
        return ""
    unit = Unit(guard.unit)
    side = "from" if guard.margin >= 0 else "beyond"
    where = f"{format_degrees(abs(guard.margin), unit)} {side} the limit"
    if not guard.margin:
        where = "right on the limit"
    return (
        f"the reading stands {where}; with the uncertainty of probe {guard.probe or '(unnamed)'} "
        f"(U {guard.expanded:g} {unit.symbol}) the chance that the true temperature keeps the "
        f"limit is about {guard.chance:.0%}. Not in it: {' and '.join(guard.unknown)}"
    )
