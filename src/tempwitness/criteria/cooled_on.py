"""A cooling that goes on in the cold: the two stages taken together."""

from __future__ import annotations

from dataclasses import replace
from itertools import takewhile
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import StageName

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.criteria.case import Case
    from tempwitness.model.figures import Limit
    from tempwitness.model.logs import Stage

__all__ = ["cooled_on"]

_IN_THE_COLD = frozenset({StageName.COLD_HOLD, StageName.FREEZE})


def cooled_on(case: Case, trace: Trace, to: Limit) -> Case:
    """Return the case in which a fall to a limit is looked for.

    A cooling ends where the food is called cold or was put away, which may be before it is as
    cold as a requirement asks: then the fall is looked for in the cold stages that follow, too.

    Parameters
    ----------
    case : Case
        Of a stage of any name.
    trace : Trace
        Readings of one point.
    to : Limit
        Second limit of the fall.

    Returns
    -------
    Case
        The same one where the limit was read before the cooling ended, or nothing cold follows.
    """
    stage, cold = case.stage, _cold_after(case)
    if stage.name is not StageName.COOL or not cold:
        return case
    during = (trace.at >= stage.start) & (trace.at <= stage.end)
    if bool((trace.state(to).yes & during).any()):
        return case
    whole = replace(stage, end=cold[-1].end, closed=cold[-1].closed)
    kept = tuple(whole if s is stage else s for s in case.stages if s not in cold)
    return replace(case, stage=whole, stages=kept, _whole=None)


def _cold_after(case: Case) -> list[Stage]:
    """Stages in the cold that follow a stage without a break."""
    later = [s for s in case.stages if s.number > case.stage.number]
    return list(takewhile(lambda s: s.name in _IN_THE_COLD, later))
