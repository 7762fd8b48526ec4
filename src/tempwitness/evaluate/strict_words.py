"""What a strict answer says: its margin, and why it is open where it is."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.evaluate.points import near
from tempwitness.model.finding import Strict
from tempwitness.model.rule import Throughout, duration_words
from tempwitness.model.vocabulary import Place, Verdict
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from tempwitness.criteria.case import Case
    from tempwitness.criteria.outcome import Outcome
    from tempwitness.model.rule import Requirement
    from tempwitness.strict.traces import Bounded

__all__ = ["in_words"]

_MINUTE = 60.0


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
    margin, unit, when = _margin(requirement, case, mine)
    if outcome.verdict is Verdict.MET:
        reason = "every temperature history that the readings allow keeps it"
    elif outcome.verdict is Verdict.NOT_MET:
        reason = "no temperature history that the readings allow keeps it"
    elif outcome.verdict is Verdict.OPEN:
        reason = "the stage is still running"
    elif outcome.verdict is Verdict.NOT_APPLICABLE:
        reason = outcome.reason
    else:
        reason = _why_open(
            requirement, case, outcome, mine, _extreme(requirement, margin, unit, when)
        )
    return Strict(
        outcome.verdict,
        reason,
        outcome.least,
        outcome.most,
        None if margin is None else round(margin, 2),
        "" if margin is None else unit,
    )


def _margin(
    requirement: Requirement, case: Case, bodies: Iterable[Bounded]
) -> tuple[float | None, str, float]:
    """How far the least favourable history stays within a limit, its scale, and when [s]."""
    test = requirement.test
    best: tuple[float, str, float] | None = None
    if not isinstance(test, Throughout):
        return None, "", 0.0
    for body in bodies:
        trace = body.trace
        first = int(trace.at.searchsorted(case.stage.start, "left"))
        last = int(trace.at.searchsorted(case.stage.end, "left"))
        if last <= first:
            continue
        unit = Unit.C if trace.celsius[0] else Unit.F
        limit = float(test.limit.c if unit is Unit.C else test.limit.f)
        warm = test.limit.op in (">=", ">")
        room = trace.least[first:last] - limit if warm else limit - trace.most[first:last]
        worst = int(np.argmin(room))
        moment = float(trace.at[first + worst] + trace.at[first + worst + 1]) / 2.0
        if best is None or room[worst] < best[0]:
            best = (float(room[worst]), unit.value, moment)
    if best is None or not np.isfinite(best[0]):
        return None, "", 0.0
    return best


def _extreme(
    requirement: Requirement, margin: float | None, unit: str, when: float
) -> tuple[str, float] | None:
    """The least favourable temperature that the readings allow, in words, and its moment."""
    test = requirement.test
    if margin is None or not isinstance(test, Throughout):
        return None
    warm = test.limit.op in (">=", ">")
    limit = float(test.limit.c if unit == Unit.C else test.limit.f)
    value = round(limit + margin if warm else limit - margin, 1)
    return f"as {'low' if warm else 'high'} as {format_degrees(value, Unit(unit))}", when


def _why_open(
    requirement: Requirement,
    case: Case,
    outcome: Outcome,
    bodies: Sequence[Bounded],
    extreme: tuple[str, float] | None,
) -> str:
    say = case.local.say
    if not bodies:
        return "no reading was taken there"
    why = _conflict(case, bodies) or _without_bounds(case, bodies)
    if why:
        return why
    if extreme is not None:
        return (
            f"between the readings it may have been {extreme[0]}, about {say(_minute(extreme[1]))}"
        )
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
