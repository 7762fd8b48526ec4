"""What a strict answer says: its margin, and why it is open where it is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.evaluate.points import near
from tempwitness.model.figures import duration_words
from tempwitness.model.finding import Strict
from tempwitness.model.forms import Throughout
from tempwitness.model.vocabulary import Place, Verdict
from tempwitness.strict.figures import rate_figures
from tempwitness.units import Unit, convert, format_degrees

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from tempwitness.bounds.enveloped import EnvelopedTrace
    from tempwitness.criteria.case import Case
    from tempwitness.criteria.outcome import Outcome
    from tempwitness.model.rule import Requirement
    from tempwitness.strict.traces import Bounded

__all__ = ["OTHER_COOK", "in_words"]

OTHER_COOK = "another cook of this piece may have been enough"

_MINUTE = 60.0
# Rounding leaves a bound this close to the edge of what food reaches [degrees].
_NEAR = 1e-3


def in_words(
    requirement: Requirement, case: Case, outcome: Outcome, bodies: Sequence[Bounded]
) -> Strict:
    """Put the outcome of the second judgement into words.

    Parameters
    ----------
    requirement : Requirement
    case : Case
        Of the second judgement.
    outcome : Outcome
    bodies : sequence of Bounded
        All traces of the piece, and those of air and medium.
    """
    mine = [b for b in bodies if any(b.trace is t for t in case.traces) and near(b.trace, case)]
    worst = _worst(requirement, case, mine, broken=outcome.verdict is Verdict.NOT_MET)
    if outcome.reason == OTHER_COOK:
        reason = outcome.reason
    elif outcome.verdict is Verdict.MET:
        reason = "every temperature history that the readings allow keeps it"
    elif outcome.verdict is Verdict.NOT_MET:
        reason = "no temperature history that the readings allow keeps it"
    elif outcome.verdict is Verdict.OPEN:
        reason = "the stage is still running"
    elif outcome.verdict is Verdict.NOT_APPLICABLE:
        reason = outcome.reason
    else:
        reason = _why_open(requirement, case, outcome, mine, worst)
    told = worst is not None and not worst.boundless
    return Strict(
        outcome.verdict,
        reason,
        outcome.least,
        outcome.most,
        round(worst.margin, 2) if told and worst else None,
        worst.unit.value if told and worst else "",
    )


@dataclass(frozen=True, slots=True)
class _Worst:
    """How far histories stay within a limit, negative beyond it, and where that is decided.

    Parameters
    ----------
    margin : float
        [`unit`]
    value : float
        The temperature there [`unit`].
    when : float
        Its moment [s].
    boundless : bool
        Whether the readings lie too far apart to bound it at all.
    warm : bool
        Whether the limit is a lower one.
    """

    margin: float
    value: float
    unit: Unit
    when: float
    boundless: bool
    warm: bool

    @property
    def words(self) -> str:
        """The temperature and which side it lies on."""
        told = format_degrees(round(self.value, 1), self.unit)
        return f"as {'low' if self.warm else 'high'} as {told}"


def _worst(
    requirement: Requirement, case: Case, bodies: Iterable[Bounded], *, broken: bool
) -> _Worst | None:
    """Find the least favourable history; of a limit that is broken, the most favourable one."""
    test = requirement.test
    if not isinstance(test, Throughout):
        return None
    found = [_of_trace(test, case, body.trace, broken=broken) for body in bodies]
    known = [one for one in found if one is not None]
    return min(known, key=lambda one: one.margin, default=None)


def _of_trace(
    test: Throughout, case: Case, trace: EnvelopedTrace, *, broken: bool
) -> _Worst | None:
    first = int(trace.at.searchsorted(case.stage.start, "left"))
    last = int(trace.at.searchsorted(case.stage.end, "left"))
    if last <= first:
        return None
    unit = Unit.C if trace.celsius[0] else Unit.F
    limit = float(test.limit.c if unit is Unit.C else test.limit.f)
    warm = test.limit.op in (">=", ">")
    if broken:
        # Temperature does not jump: what holds as the next stage begins holds as this one ends.
        values = (trace.upper if warm else trace.lower)[first : last + 1]
        moments = trace.at[first : last + 1]
    else:
        values = (trace.least if warm else trace.most)[first:last]
        moments = (trace.at[first:last] + trace.at[first + 1 : last + 1]) / 2.0
    room = values - limit if warm else limit - values
    worst = int(np.argmin(room))
    value = float(values[worst])
    edge = rate_figures().otherwise[0 if warm else 1]
    edge = convert(edge, Unit.F, unit)
    boundless = not np.isfinite(value) or (value <= edge + _NEAR if warm else value >= edge - _NEAR)
    return _Worst(float(room[worst]), value, unit, float(moments[worst]), boundless, warm)


def _why_open(
    requirement: Requirement,
    case: Case,
    outcome: Outcome,
    bodies: Sequence[Bounded],
    worst: _Worst | None,
) -> str:
    say = case.local.say
    if not bodies:
        return "no reading was taken there"
    why = _conflict(case, bodies) or _without_bounds(case, bodies)
    if why:
        return why
    if worst is not None and worst.boundless:
        cold = "cold" if worst.warm else "warm"
        return f"the readings lie too far apart to bound how {cold} it may have been between them"
    if worst is not None:
        at = say(_minute(worst.when))
        return f"between the readings it may have been {worst.words}, about {at}"
    if outcome.most is not None and outcome.least is not None and requirement.test.form != "reach":
        least, most = _whole(outcome.least, math.floor), _whole(outcome.most, math.ceil)
        return f"the readings allow {duration_words(least)} to {duration_words(most)}"
    return "the readings, with their error and the time between them, leave room for both"


def _conflict(case: Case, bodies: Sequence[Bounded]) -> str:
    """Name the readings about the stage that cannot both be true."""
    say = case.local.say
    for one, other in (pair for body in bodies for pair in body.conflicts):
        if one <= case.stage.end and other >= case.stage.start:
            return (
                f"the readings at {say(one)} and {say(other)} cannot both be true: neither their "
                "error nor the fastest change explains the difference"
            )
    return ""


def _without_bounds(case: Case, bodies: Sequence[Bounded]) -> str:
    if all(b.trace.place is not Place.CORE for b in bodies):
        return "nothing bounds how fast air, water or the outside of food change between readings"
    if any(_unbounded(b, case.stage.start, case.stage.end) for b in bodies):
        return "nothing bounds how fast the food changed in part of this stage"
    return ""


def _minute(moment: float) -> float:
    return round(moment / _MINUTE) * _MINUTE


def _whole(seconds: float, towards: Callable[[float], int]) -> float:
    """Round a time of many minutes to whole ones, so that it stays a bound."""
    return towards(seconds / _MINUTE) * _MINUTE if seconds > 10 * _MINUTE else seconds


def _unbounded(body: Bounded, start: float, end: float) -> bool:
    trace = body.trace
    first = int(trace.at.searchsorted(start, "left"))
    last = int(trace.at.searchsorted(end, "left"))
    return not bool(trace.undisturbed[first:last].all())
