"""Food that left the heat although nobody noted it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Decided, Event, StageName

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.bounds.trace import Trace
    from tempwitness.model.figures import Limit
    from tempwitness.model.logs import Note, Stage
    from tempwitness.stages.defaults import InferenceLimits

__all__ = ["left_the_heat"]

_HEATED = frozenset({StageName.COOK, StageName.REHEAT})
_QUESTION = (
    "The food fell far below the temperatures of cooking before any next step was noted. Was it "
    'taken off the heat? Note the step and when it began: step = "rest" or step = "cool". If the '
    'fire went out, note event = "heat_lost".'
)


def left_the_heat(
    s: Stage,
    cores: tuple[Trace, ...],
    limits: InferenceLimits,
    notes: Iterable[Note],
    *,
    last: bool,
) -> list[Stage]:
    """Split a noted heating from which the food fell and never came back.

    A cook or a reheat that nobody ended would let hot food stand for hours under its name. What
    follows the first reading that is far too cool carries a question, so that nothing is shown of
    it. Where the heat was noted as lost, that note is judged instead; a probe that was moved tells
    of another spot and not of time.

    Parameters
    ----------
    last : bool
        Whether no stage follows, so that a reading just at the end belongs to this one.
    """
    if s.name not in _HEATED or _told(s, notes):
        return [s]
    found = [_fell(s, trace, limits, last=last) for trace in cores]
    moment = min((m for m in found if m is not None), default=None)
    if moment is None:
        return [s]
    after = replace(
        s,
        name=StageName.HOT_HOLD,
        start=moment,
        decided=Decided.INFERRED,
        reason="the food fell from this reading on and did not come back, and no step was noted",
        method="",
        question=_QUESTION,
    )
    return [replace(s, end=moment, closed=True), after]


def _still_heated(s: Stage, trace: Trace, limits: InferenceLimits) -> Limit:
    """Limit below which food is no longer heated.

    A roast may cook for hours between the lowest row of the ladder and the hot limit; food that
    was hotter before does not cook on there.
    """
    inside = (trace.at >= s.start) & (trace.at <= s.end)
    done = bool((trace.state(limits.reheated).yes & inside).any())
    return limits.hot if done or s.name is StageName.REHEAT else limits.cooking


def _told(s: Stage, notes: Iterable[Note]) -> bool:
    """Whether a note explains the fall."""
    return any(
        n.event in (Event.HEAT_LOST, Event.PROBE_MOVED)
        and n.piece in (None, s.piece)
        and s.start <= n.at <= s.end
        for n in notes
    )


def _fell(s: Stage, trace: Trace, limits: InferenceLimits, *, last: bool) -> float | None:
    """Moment of the first reading that is too cool, if no later one is hot again [s].

    A hot reading with which the next stage begins shows that the food came back before.
    """
    to_the_end = (trace.at >= s.start) & (trace.at <= s.end)
    still = trace.state(_still_heated(s, trace, limits))
    hottest = np.flatnonzero(still.yes & to_the_end)
    if len(hottest) == 0:
        return None
    below = np.flatnonzero(still.no & (to_the_end if last else to_the_end & (trace.at < s.end)))
    below = below[below > hottest[-1]]
    return float(trace.at[below[0]]) if len(below) else None
