"""Falls and rises between two limits within a time: cooling and reheating.

The moment at which the clock starts and the moment at which the second limit is reached are both
bracketed, so the duration is an interval. The clock never restarts because the food crossed the
first limit again: it runs from the earliest moment at which it may have started.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

import numpy as np

from tempwitness.bounds.clip import Clip, Window, clip, runs
from tempwitness.bounds.trace import compare
from tempwitness.criteria.case import Case, figure, reading_words
from tempwitness.criteria.outcome import Cite, Outcome, Settling, not_applicable
from tempwitness.criteria.throughout import unread_stretches
from tempwitness.model.rule import Limit, duration_words
from tempwitness.model.vocabulary import StageName, Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.logs import Stage
    from tempwitness.model.rule import Fall, Rise

__all__ = ["fall", "rise"]

_HOT = frozenset({StageName.COOK, StageName.REHEAT})
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


@dataclass(frozen=True, slots=True, eq=False)
class _Transit:
    """One fall or rise to be judged."""

    case: Case
    trace: Trace
    start: Limit
    to: Limit
    hold: float
    within: float
    by_stage: bool
    falling: bool

    @property
    def limit(self) -> str:
        """The requirement as printed."""
        return (
            f"{self.start.f} → {self.to.f} °F ({self.start.c} → {self.to.c} °C) "
            f"within {duration_words(self.within)}"
        )


@dataclass(frozen=True, slots=True)
class _Start:
    """When the clock started: earliest and latest moment; the earliest may be unknown."""

    earliest: float | None
    latest: float | None
    index: int = -1


def fall(test: Fall, case: Case, trace: Trace) -> Outcome:
    """Judge a fall, such as 135 °F to 70 °F within 2 h."""
    return _judge(
        _Transit(
            case,
            trace,
            test.start,
            test.to,
            0.0,
            test.within,
            by_stage=test.clock == "stage",
            falling=True,
        )
    )


def rise(test: Rise, case: Case, trace: Trace) -> Outcome:
    """Judge a rise, such as 41 °F to 165 °F, held for 15 s, within 2 h."""
    return _judge(
        _Transit(
            case,
            trace,
            test.start,
            test.to,
            test.hold,
            test.within,
            by_stage=False,
            falling=False,
        )
    )


def _judge(ask: _Transit) -> Outcome:
    case, trace = ask.case, ask.trace
    window = case.window()
    target = clip(trace, trace.state(ask.to), window, infer="no" if ask.falling else None)
    arrival, arrival_index = _arrival(target, ask.hold, _contradicted(ask, window))
    start = _started(ask, window, arrival)
    if start is None:
        return _not_started(ask)
    reached_after = _certainly_before(target, passive=ask.falling)
    least = 0.0
    if start.latest is not None and reached_after is not None:
        least = max(0.0, reached_after - start.latest)
    most = None
    if arrival is not None and start.earliest is not None:
        most = max(0.0, arrival - start.earliest)
    outcome = Outcome(
        Verdict.NOT_SHOWN,
        "",
        measured=_measured(ask, start, arrival_index, least, most),
        limit=ask.limit,
        least=least,
        most=most,
        began=start.earliest,
        deadline=None if start.earliest is None else start.earliest + ask.within,
        cites=_cites(ask, start, arrival_index, target),
    )
    if most is not None and most <= ask.within:
        return outcome.but(
            verdict=Verdict.MET,
            reason=f"it took at most {duration_words(most)}; "
            f"{duration_words(ask.within)} are allowed",
        )
    if least >= ask.within and start.latest is not None and reached_after is not None:
        return outcome.but(
            verdict=Verdict.NOT_MET,
            reason=f"more than {duration_words(least)} passed before {figure(ask.to, trace)} was "
            f"reached; {duration_words(ask.within)} are allowed",
        )
    return _unsettled(ask, outcome, start, arrival, target)


def _arrival(target: Clip, hold: float, since: float) -> tuple[float | None, int]:
    """Moment by which the second limit was certainly reached (and then held), and its reading.

    Nothing before `since` counts.
    """
    late = target.at >= since
    if hold <= 0:
        points = np.flatnonzero(target.yes & late)
    else:
        firsts, lasts = runs(target.between_yes & late[:-1])
        points = firsts[target.at[lasts] - target.at[firsts] >= hold]
    if len(points) == 0:
        return None, -1
    first = int(points[0])
    return float(target.at[first]), int(target.reading[first])


def _first_known(body: Clip, *, passive: bool) -> int:
    """First point to argue from.

    Where nothing heats the food, the first reading speaks for the unread time before it: the food
    was not cooler then.
    """
    known = np.flatnonzero(body.reading >= 0)
    if passive and len(known) and not (body.yes[0] or body.no[0]):
        return int(known[0])
    return 0


def _certainly_before(target: Clip, *, passive: bool) -> float | None:
    """Moment up to which the second limit was certainly not reached, ``None`` if never certain."""
    first = _first_known(target, passive=passive)
    if not target.no[first]:
        return None
    breaks = np.flatnonzero(~target.between_no[first:])
    return float(target.at[first + breaks[0]]) if len(breaks) else float(target.at[-1])


def _contradicted(ask: _Transit, window: Window) -> float:
    """Moment up to which an arrival is contradicted by a later reading [s].

    Nothing heats food that cools, and nothing cools food that heats: if it is read back beyond
    the middle between the two limits, what was read before was not the food, or it was another
    passage.
    """
    middle = (float(ask.start.f + ask.to.f) / 2, float(ask.start.c + ask.to.c) / 2)
    back = clip(ask.trace, compare(ask.trace, *middle, ask.start.op), window)
    held = np.flatnonzero(back.yes)
    return float(back.at[held[-1]]) if len(held) else window.start


def _started(ask: _Transit, window: Window, arrival: float | None) -> _Start | None:
    """Bracket the moment at which the clock started; ``None`` if it has not started."""
    if ask.by_stage:
        return _Start(window.start, window.start)
    trace = ask.trace
    before = clip(trace, trace.state(ask.start), window, infer="yes" if ask.falling else None)
    first = _first_known(before, passive=ask.falling)
    onwards = Limit(f=ask.start.f, c=ask.start.c, op=_ONWARDS[ask.start.op])
    after = clip(trace, trace.state(onwards), window)
    latest = _latest_start(after, arrival)
    if not before.yes[first]:
        earliest, index = _search_back(ask)
        return _Start(earliest, latest, index)
    breaks = np.flatnonzero(~before.between_yes[first:]) + first
    if len(breaks) == 0:
        at_end = len(before.at) - 1
        if after.yes[at_end]:
            return _Start(
                float(before.at[at_end]), float(before.at[at_end]), int(before.reading[at_end])
            )
        return None
    k = int(breaks[0])
    return _Start(float(before.at[k]), latest, int(before.reading[k]))


def _latest_start(after: Clip, arrival: float | None) -> float | None:
    """First moment from which the clock was certainly running, up to the arrival."""
    points = np.arange(len(after.at))
    if arrival is not None:
        points = points[after.at <= arrival]
    doubtful = np.flatnonzero(~after.yes[points])
    first = int(doubtful[-1]) + 1 if len(doubtful) else 0
    return float(after.at[first]) if first < len(points) else None


def _search_back(ask: _Transit) -> tuple[float | None, int]:
    """Look before the stage for the last moment at which the clock had certainly not started."""
    case, trace = ask.case, ask.trace
    earlier = [s for s in case.stages if s.end <= case.stage.start]
    at_rest = [s for s in earlier if s.name is not StageName.TRANSPORT]
    if not ask.falling and at_rest and at_rest[-1].name not in _COLD:
        # Food that comes hot to the reheat starts its clock there.
        return case.stage.start, -1
    floor = None
    if ask.falling:
        heated = [s for s in earlier if s.name in _HOT]
        floor = heated[-1] if heated else None
    held = np.flatnonzero(trace.state(ask.start)[0] & (trace.at <= case.stage.start))
    since = -np.inf if floor is None else floor.start
    if len(held) and trace.at[held[-1]] >= since:
        return float(trace.at[held[-1]]), int(held[-1])
    if floor is not None:
        return _heat_ended(ask, floor), -1
    return None, -1


def _heat_ended(ask: _Transit, heated: Stage) -> float:
    """Earliest start for food that was never read at the first limit while it was heated.

    If it certainly never got there, its clock starts when the heat ends; else it may have passed
    the limit, unread, as early as the readings allow.
    """
    window = ask.case.window(start=heated.start, end=heated.end)
    body = clip(ask.trace, ask.trace.state(ask.start), window)
    doubtful = np.flatnonzero(~body.between_no)
    return float(body.at[doubtful[0]]) if len(doubtful) else heated.end


def _not_started(ask: _Transit) -> Outcome:
    case = ask.case
    words = figure(ask.start, ask.trace)
    side = "above" if ask.falling else "below"
    reason = f"the food stayed {side} {words} all through; its clock has not started"
    if case.live:
        return Outcome(Verdict.OPEN, reason, limit=ask.limit)
    if not case.stage.closed:
        reason = f"the record stops while the food is still {side} {words}"
    elif _given_up(case):
        return not_applicable(f"{reason}; the food was discarded or heated again")
    return Outcome(
        Verdict.NOT_SHOWN,
        reason,
        limit=ask.limit,
        settle=Settling(f"a reading of {figure(ask.to, ask.trace)}"),
    )


def _given_up(case: Case) -> bool:
    """Whether the food was heated again or thrown away at the stage's end."""
    following = case.following
    if following is not None:
        return following.name in _HOT
    return any(
        n.event is not None and n.event.value == "discarded" and n.at >= case.stage.end
        for n in case.notes
    )


def _restarted_before(case: Case) -> bool:
    """Whether an earlier stage like this one was followed by heat, so that this is a restart."""
    earlier = case.stages[: case.stages.index(case.stage)]
    return any(
        one.name is case.stage.name and following.name is StageName.REHEAT
        for one, following in pairwise(earlier)
    )


def _unsettled(
    ask: _Transit, outcome: Outcome, start: _Start, arrival: float | None, target: Clip
) -> Outcome:
    case, trace = ask.case, ask.trace
    deadline = outcome.deadline
    settle = _settling(ask, start, arrival, target)
    outcome = outcome.but(unread=unread_stretches(target), settle=settle)
    if arrival is None and not case.stage.closed and deadline is not None:
        asked = max(case.asked, case.stage.end)
        if asked <= deadline:
            return outcome.but(
                verdict=Verdict.OPEN,
                reason=f"still running: {figure(ask.to, trace)} must be reached by "
                f"{case.local.say(deadline)}",
            )
    in_time = deadline is not None and case.stage.end <= deadline
    if arrival is None and case.stage.closed and in_time and _given_up(case):
        if _restarted_before(case):
            return outcome.but(
                reason="the cooling was broken off and restarted more than once",
                question="May a cooling be restarted a second time? Common practice allows one.",
                settle=None,
            )
        return not_applicable(
            "the food was heated again or discarded before the time ran out; "
            "what came after is judged by itself"
        )
    if arrival is None:
        return outcome.but(
            reason=f"no reading shows {figure(ask.to, trace)}, and the time allowed ran out unread"
            if deadline is not None and case.asked > deadline
            else f"no reading shows {figure(ask.to, trace)} before the stage ended"
        )
    if start.earliest is None:
        return outcome.but(
            reason=f"no reading shows when the food passed {figure(ask.start, trace)}"
        )
    return outcome.but(
        reason=f"the readings allow {duration_words(outcome.least or 0.0)} to "
        f"{duration_words(outcome.most or 0.0)}; {duration_words(ask.within)} are allowed"
    )


def _settling(ask: _Transit, start: _Start, arrival: float | None, target: Clip) -> Settling:
    """Name the one reading: at the clock's start if the arrival is known, else at the deadline."""
    trace, to = ask.trace, figure(ask.to, ask.trace)
    first = figure(ask.start, trace)
    more, less = ("or more", "or less") if ask.falling else ("or less", "or more")
    if arrival is not None:
        moment = arrival - ask.within
        if start.earliest is None or (start.latest is not None and moment < start.latest):
            return Settling(f"a reading of {first} {more}", moment)
    if start.earliest is not None:
        return Settling(f"a reading of {to} {less}", start.earliest + ask.within)
    del target
    return Settling(
        f"a reading of {first} {more} when the clock started, and of {to} {less} in time"
    )


def _measured(
    ask: _Transit, start: _Start, arrival_index: int, least: float, most: float | None
) -> str:
    trace, say = ask.trace, ask.case.local.say
    if start.earliest is None:
        head = f"passed {figure(ask.start, trace)} at a moment that was not read"
    else:
        head = f"clock from {say(start.earliest)}"
        if start.latest is not None and start.latest > start.earliest:
            head += f" at the earliest, {say(start.latest)} at the latest"
    if arrival_index >= 0:
        tail = f"{reading_words(trace, arrival_index)} at {say(float(trace.at[arrival_index]))}"
    else:
        tail = f"{figure(ask.to, trace)} not read"
    if most is None:
        return f"{head}; {tail}; at least {duration_words(least)}"
    if most == least:
        return f"{head}; {tail}: {duration_words(most)}"
    return f"{head}; {tail}: {duration_words(least)} to {duration_words(most)}"


def _cites(ask: _Transit, start: _Start, arrival_index: int, target: Clip) -> tuple[Cite, ...]:
    indices = [start.index, arrival_index]
    still = np.flatnonzero(target.no & (target.reading >= 0))
    if len(still):
        indices.append(int(target.reading[still[-1]]))
    return tuple(Cite(ask.trace, i) for i in sorted(set(indices)) if i >= 0)
