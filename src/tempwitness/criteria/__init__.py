"""One function for each form of requirement."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.criteria.clocks import band_clock, longest
from tempwitness.criteria.duties import count, duty, evidence, paper
from tempwitness.criteria.lethality import lethality
from tempwitness.criteria.monitoring import monitoring
from tempwitness.criteria.once import once
from tempwitness.criteria.outcome import Outcome
from tempwitness.criteria.papers import day_end, method, shelf_life
from tempwitness.criteria.reach import reach
from tempwitness.criteria.throughout import outside_band, throughout
from tempwitness.criteria.time_control import time_control
from tempwitness.criteria.transit import fall, rise
from tempwitness.model.vocabulary import Verdict

if TYPE_CHECKING:
    from collections.abc import Callable

    from tempwitness.bounds.trace import Trace
    from tempwitness.criteria.case import Case
    from tempwitness.model.figures import Degrees
    from tempwitness.model.forms import Conditions, Test
    from tempwitness.model.vocabulary import StageName

__all__ = ["judge_test", "on_readings"]


def _conditions(test: Conditions, case: Case) -> Outcome:
    del test, case
    return Outcome(Verdict.MET, "it asks for nothing beyond its conditions")


#: Forms judged on the readings of one point, so that the worst point of a piece decides.
_ON_READINGS: dict[str, Callable[[Any, Case, Trace], Outcome]] = {
    "throughout": throughout,
    "outside_band": outside_band,
    "reach": reach,
    "fall": fall,
    "rise": rise,
    "lethality": lethality,
}

#: Forms judged on the readings of one point over several stages.
_OVER_STAGES: dict[str, Callable[[Any, Case, Trace, tuple[StageName, ...]], Outcome]] = {
    "band_clock": band_clock,
    "once": once,
}

#: Forms judged on notes, papers and days.
_ON_PAPER: dict[str, Callable[[Any, Case], Outcome]] = {
    "count": count,
    "evidence": evidence,
    "monitoring": monitoring,
    "paper": paper,
    "method": method,
    "duty": duty,
    "shelf_life": shelf_life,
    "day_end": day_end,
    "conditions": _conditions,
}


def on_readings(test: Test) -> bool:
    """Whether a test is judged on the readings of a point, so that the worst point decides."""
    return test.form in _ON_READINGS or test.form in _OVER_STAGES


def judge_test(
    test: Test, case: Case, trace: Trace | None, stages: tuple[StageName, ...]
) -> Outcome:
    """Give a test to the function of its form.

    Raises
    ------
    ValueError
        If a test that is judged on readings is given none, or has a form without a function.
    """
    if test.form in _ON_PAPER:
        return _ON_PAPER[test.form](test, case)
    if test.form == "longest":
        return longest(test, case, stages)
    if test.form == "time_control":
        return time_control(test, case, trace)
    if trace is None:
        raise ValueError(f"a test of form '{test.form}' needs readings")
    if test.form in _OVER_STAGES:
        outcome = _OVER_STAGES[test.form](test, case, trace, stages)
    elif test.form in _ON_READINGS:
        outcome = _ON_READINGS[test.form](test, case, trace)
    else:
        raise ValueError(f"no criterion for a test of form '{test.form}'")
    if outcome.verdict is not Verdict.NOT_APPLICABLE:
        outcome.figures = _figures(test)
    return outcome


#: Where each form keeps its limits.
_LIMITS: dict[str, tuple[str, ...]] = {
    "throughout": ("limit",),
    "once": ("limit",),
    "lethality": ("at",),
    "outside_band": ("cold", "hot"),
    "fall": ("start", "to"),
    "rise": ("start", "to"),
    "band_clock": ("low", "high"),
}


def _figures(test: Any) -> tuple[tuple[float, float], ...]:  # noqa: ANN401 - one of many forms
    """Figures of a test in °F and °C, for the lines of a chart; of a ladder only the last row."""
    limits: list[Degrees | None] = [getattr(test, name) for name in _LIMITS.get(test.form, ())]
    if test.form == "reach":
        limits = [test.rows[-1]]
    return tuple((float(x.f), float(x.c)) for x in limits if x is not None)
