"""When the clock of a fall or a rise started, and when its second limit was reached.

Both moments are bracketed. The clock never restarts because the food crossed the first limit
again: it runs from the earliest moment at which it may have started.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

import numpy as np

from tempwitness.bounds.clip import Clip, Window, clip, runs
from tempwitness.criteria.case import HEATING
from tempwitness.criteria.times import within_words
from tempwitness.model.figures import Limit, step_words
from tempwitness.model.vocabulary import StageName

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.criteria.case import Case
    from tempwitness.model.forms import TimeOp
    from tempwitness.model.logs import Stage

__all__ = [
    "Arrival",
    "Start",
    "Transit",
    "arrival",
    "certainly_before",
    "contradicted_until",
    "started",
    "underway",
]

_COLD = frozenset(
    {
        StageName.COLD_HOLD,
        StageName.THAW,
        StageName.PREP,
        StageName.RECEIVE,
        StageName.FREEZE,
    }
)

#: Operator that holds from the limit's own figure onwards: food that reads just the figure at
#: which a clock starts is taken to stand at its start.
_ONWARDS: dict[str, Literal["<=", ">="]] = {">=": "<=", ">": "<=", "<=": ">=", "<": ">="}


@dataclass(frozen=True, slots=True)
class Start:
    """When the clock started: earliest and latest moment; the earliest may be unknown."""

    earliest: float | None
    latest: float | None
    index: int = -1


@dataclass(frozen=True, slots=True, eq=False)
class Transit:
    """One fall or rise to be judged.

    `given` is the start of a clock that something else than a crossing of the first limit starts;
    it is then said in `since` what starts it.
    """

    case: Case
    trace: Trace
    start: Limit | None
    to: Limit
    hold: float
    within: float
    op: TimeOp
    given: Start | None
    falling: bool
    since: str = ""
    _after: list[Clip] = field(default_factory=list, repr=False)

    @property
    def leaves(self) -> Limit:
        """The first limit, of a clock that its crossing starts."""
        if self.start is None:
            raise ValueError("this clock is not started by a crossing")
        return self.start

    def after(self) -> Clip:
        """Where the food stood at the first limit or beyond, on its way to the second."""
        if not self._after:
            start = self.leaves
            onwards = self.trace.against(float(start.f), float(start.c), _ONWARDS[start.op])
            self._after.append(clip(self.trace, onwards, self.case.window()))
        return self._after[0]

    @property
    def unheated(self) -> bool:
        """Whether it falls, and a person's note says that nothing heats it meanwhile."""
        return self.falling and self.case.window().passive_from < np.inf

    @property
    def limit(self) -> str:
        """The requirement as printed."""
        within = within_words(self.within, self.op)
        if self.given is not None:
            return f"{self.to.words} {within}"
        return f"{step_words(self.leaves, self.to)} {within}"


@dataclass(frozen=True, slots=True)
class Arrival:
    """When the second limit was certainly reached; ``None`` and -1 if no reading shows it."""

    at: float | None
    index: int


def arrival(ask: Transit, target: Clip, window: Window) -> Arrival:
    """Find the moment by which the second limit was certainly reached, and then held."""
    late = target.at >= contradicted_until(ask, window)
    hold = ask.hold
    if hold <= 0:
        points = np.flatnonzero(target.yes & late)
    else:
        firsts, lasts = runs(target.between_yes & late[:-1])
        points = firsts[target.at[lasts] - target.at[firsts] >= hold]
    if len(points) == 0:
        return Arrival(None, -1)
    first = int(points[0])
    return Arrival(float(target.at[first]), int(target.reading[first]))


def _first_known(ask: Transit, body: Clip) -> int:
    """First point to argue from.

    Where nothing heats the food, the first reading speaks for the unread time before it: the food
    was not cooler then. It does not reach back over a note that the food was disturbed.
    """
    if body.yes[0] or body.no[0] or not ask.unheated:
        return 0
    known = np.flatnonzero(body.reading >= 0)
    if len(known) == 0:
        return 0
    first = int(known[0])
    return 0 if _disturbed(ask.case, float(body.at[0]), float(body.at[first])) else first


def _disturbed(case: Case, start: float, end: float) -> bool:
    return any(
        n.event is not None and n.event.disturbs and start <= n.at < end
        for n in case.notes
        if n.piece in (None, case.stage.piece)
    )


def certainly_before(ask: Transit, target: Clip) -> float | None:
    """Moment up to which the second limit was certainly not reached, ``None`` if never certain."""
    first = _first_known(ask, target)
    if not target.no[first]:
        return None
    breaks = np.flatnonzero(~target.between_no[first:])
    return float(target.at[first + breaks[0]]) if len(breaks) else float(target.at[-1])


def contradicted_until(ask: Transit, window: Window) -> float:
    """Moment up to which an arrival is contradicted by a later reading [s].

    Nothing heats food that cools, and nothing cools food that heats: if it is read back beyond
    the middle between the two limits, what was read before was not the food, or it was another
    passage. Where the code names no first limit, the second one itself must not be left again; but
    food that was heated may cool once it has arrived for the last time.
    """
    at = ask.trace.at
    first = int(at.searchsorted(window.start, "left"))
    last = int(at.searchsorted(window.end, "right"))
    op = ask.start.op if ask.start is not None else ">=" if ask.falling else "<="
    held = np.flatnonzero(ask.trace.against(*_middle(ask, first), op).yes[first:last])
    return float(at[first + held[-1]]) if len(held) else window.start


def _middle(ask: Transit, first: int) -> tuple[float, float]:
    """Return the middle between the two limits [°F, °C].

    Where a clock starts otherwise than by a crossing there is no first one; the way then begins
    with what was first read.
    """
    begin = ask.to if ask.start is None else ask.start
    f, c = float(begin.f), float(begin.c)
    if ask.start is None and first < len(ask.trace):
        side = ask.trace.upper if ask.falling else ask.trace.lower
        read, celsius = float(side[first]), bool(ask.trace.celsius[first])
        if np.isfinite(read):
            f, c = (read * 1.8 + 32.0, read) if celsius else (read, (read - 32.0) / 1.8)
    return (f + float(ask.to.f)) / 2, (c + float(ask.to.c)) / 2


def started(ask: Transit, window: Window, reached: float | None) -> Start | None:
    """Bracket the moment at which the clock started; ``None`` if it has not started."""
    if ask.given is not None:
        return ask.given
    trace = ask.trace
    before = clip(trace, trace.state(ask.leaves), window, infer="yes" if ask.falling else None)
    first = _first_known(ask, before)
    after = ask.after()
    latest = _latest_start(after, reached)
    if not before.yes[first]:
        earliest, index = _search_back(ask)
        return Start(earliest, latest, index)
    breaks = np.flatnonzero(~before.between_yes[first:]) + first
    if len(breaks) == 0:
        at_end = len(before.at) - 1
        if after.yes[at_end]:
            return Start(
                float(before.at[at_end]), float(before.at[at_end]), int(before.reading[at_end])
            )
        return None
    k = int(breaks[0])
    return Start(float(before.at[k]), latest, int(before.reading[k]))


def underway(ask: Transit, target: Clip) -> float:
    """Longest time for which the clock certainly ran before the second limit can have been reached.

    Time that ran out is not given back by food that crosses the first limit again later [s].
    """
    if ask.given is not None:
        return 0.0
    first = _first_known(ask, target)
    not_yet = np.zeros(len(target.between_no), bool)
    if target.no[first]:
        not_yet[first:] = np.logical_and.accumulate(target.between_no[first:])
    after = ask.after()
    firsts, lasts = runs(after.between_yes & not_yet)
    return float((target.at[lasts] - target.at[firsts]).max(initial=0.0))


def _latest_start(after: Clip, reached: float | None) -> float | None:
    """First moment from which the clock was certainly running, up to the arrival."""
    points = np.arange(len(after.at))
    if reached is not None:
        points = points[after.at <= reached]
    doubtful = np.flatnonzero(~after.yes[points])
    first = int(doubtful[-1]) + 1 if len(doubtful) else 0
    return float(after.at[first]) if first < len(points) else None


def _search_back(ask: Transit) -> tuple[float | None, int]:
    """Look before the stage for the last moment at which the clock had certainly not started."""
    case, trace = ask.case, ask.trace
    earlier = [s for s in case.stages if s.end <= case.stage.start]
    at_rest = [s for s in earlier if s.name is not StageName.TRANSPORT]
    if not ask.falling and at_rest and at_rest[-1].name not in _COLD:
        # Food that comes hot to the reheat starts its clock there.
        return case.stage.start, -1
    floor = None
    if ask.falling:
        heated = [s for s in earlier if s.name in HEATING]
        floor = heated[-1] if heated else None
    held = np.flatnonzero(trace.state(ask.leaves).yes & (trace.at <= case.stage.start))
    since = -np.inf if floor is None else floor.start
    if len(held) and trace.at[held[-1]] >= since:
        return float(trace.at[held[-1]]), int(held[-1])
    if floor is not None:
        return _heat_ended(ask, floor), -1
    return None, -1


def _heat_ended(ask: Transit, heated: Stage) -> float:
    """Earliest start for food that was never read at the first limit while it was heated.

    If it certainly never got there, its clock starts when the heat ends; else it may have passed
    the limit, unread, as early as the readings allow.
    """
    window = ask.case.window(start=heated.start, end=heated.end)
    body = clip(ask.trace, ask.trace.state(ask.leaves), window)
    doubtful = np.flatnonzero(~body.between_no)
    return float(body.at[doubtful[0]]) if len(doubtful) else heated.end
