"""Falls and rises between two limits within a time: cooling and reheating."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.clip import Clip, clip
from tempwitness.criteria.case import HEATING, Case, figure, reading_words
from tempwitness.criteria.cooled_on import cooled_on
from tempwitness.criteria.events import SINCE, clock_start
from tempwitness.criteria.outcome import Cite, Outcome, Settling, not_applicable
from tempwitness.criteria.passage import (
    Arrival,
    Start,
    Transit,
    arrival,
    certainly_before,
    contradicted_until,
    started,
    underway,
)
from tempwitness.criteria.throughout import unread_stretches
from tempwitness.criteria.times import allowed_words, keeps_within
from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import Clock, Event, StageName, Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.forms import Fall, Rise

__all__ = ["fall", "rise"]

#: Of a reading that has not come to a limit yet.
_SHORT = {">=": "below", ">": "at or below", "<=": "above", "<": "at or above"}


def fall(test: Fall, case: Case, trace: Trace) -> Outcome:
    """Judge a fall, such as 135 °F to 70 °F within 2 h."""
    case = cooled_on(case, trace, test.to)
    given = clock_start(test.clock, case)
    since = SINCE.get(test.clock, "")
    ask = Transit(
        case,
        trace,
        test.start,
        test.to,
        0.0,
        test.within,
        test.op,
        given,
        falling=True,
        since=since,
    )
    outcome = _judge(ask)
    if not test.or_room or outcome.verdict is not Verdict.MET:
        return outcome
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"{outcome.reason}; where the room was colder than {test.to.figures}, its "
        "temperature had to be reached, and the record does not say how warm it was",
        question="How warm was the room in which it was cooled?",
        settle=Settling("the room's temperature, on record"),
    )


def rise(test: Rise, case: Case, trace: Trace) -> Outcome:
    """Judge a rise, such as 41 °F to 165 °F, held for 15 s, within 2 h."""
    given = clock_start(test.clock, case)
    since, hold = SINCE.get(test.clock, ""), test.hold
    ask = Transit(
        case,
        trace,
        test.start,
        test.to,
        hold,
        test.within,
        test.op,
        given,
        falling=False,
        since=since,
    )
    return _judge(ask)


def _judge(ask: Transit) -> Outcome:
    case, trace = ask.case, ask.trace
    window = case.window()
    target = clip(trace, trace.state(ask.to), window, infer="no" if ask.falling else None)
    reached = arrival(ask, target, window)
    start = started(ask, window, reached.at)
    if start is None:
        return _not_started(ask)
    least, most = _duration(ask, start, reached, target)
    outcome = Outcome(
        Verdict.NOT_SHOWN,
        "",
        measured=_measured(ask, start, reached, (least, most)),
        limit=ask.limit,
        least=least,
        most=most,
        began=start.earliest,
        deadline=None if start.earliest is None else start.earliest + ask.within,
        clock=Clock.FALL if ask.falling else Clock.RISE,
        cites=_cites(ask, start, reached, target),
    )
    allowed = allowed_words(ask.within, ask.op)
    if most is not None and keeps_within(most, ask.within, ask.op):
        reason = f"it took at most {duration_words(most)}; {allowed}"
        return outcome.but(verdict=Verdict.MET, reason=reason)
    if least >= ask.within:
        reason = (
            f"more than {duration_words(least)} passed before {figure(ask.to, trace)} was "
            f"reached; {allowed}"
        )
        return outcome.but(verdict=Verdict.NOT_MET, reason=reason)
    outcome = _open(ask, outcome, start, reached, target)
    if reached.at is None:
        return _not_reached(ask, outcome)
    if start.earliest is None:
        reason = f"the record does not say {ask.since}"
        if ask.given is None:
            reason = f"no reading shows when the food passed {figure(ask.leaves, trace)}"
        return outcome.but(reason=reason)
    took = f"{duration_words(least)} to {duration_words(most or 0.0)}"
    return outcome.but(reason=f"the readings allow {took}; {allowed}")


def _open(ask: Transit, outcome: Outcome, start: Start, reached: Arrival, target: Clip) -> Outcome:
    """Add what was not read, and the reading that would have decided either way."""
    return outcome.but(
        unread=unread_stretches(target),
        settle=_settling(ask, start, reached, target),
        against=_against(ask, start, target),
    )


def _duration(
    ask: Transit, start: Start, reached: Arrival, target: Clip
) -> tuple[float, float | None]:
    """Least and most time that the passage took [s]; the most is unknown without both ends."""
    least, most = 0.0, None
    until = certainly_before(ask, target)
    if start.latest is not None and until is not None:
        least = max(0.0, until - start.latest)
    least = max(least, underway(ask, target))
    if reached.at is not None and start.earliest is not None:
        most = max(0.0, reached.at - start.earliest)
    return least, most


def _not_started(ask: Transit) -> Outcome:
    case = ask.case
    words = figure(ask.leaves, ask.trace)
    side = "above" if ask.falling else "below"
    reason = f"the food stayed {side} {words} all through; its clock has not started"
    if case.live:
        return _may_start(ask, reason)
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


def _may_start(ask: Transit, reason: str) -> Outcome:
    """Answer for a clock that may start right after the last reading.

    What is reached within the time counted from there is in time for certain; a later reading
    before the first limit moves that moment on, so that to pass it unread breaks nothing.
    """
    case, since = ask.case, ask.case.stage.end
    outcome = Outcome(Verdict.OPEN, reason, limit=ask.limit)
    due = since + ask.within
    if case.asked > due:
        return outcome
    to = figure(ask.to, ask.trace)
    words = f"{reason}; if it starts at once, {to} must be reached by {case.local.say(due)}"
    clock = Clock.FALL if ask.falling else Clock.RISE
    return outcome.but(reason=words, began=since, deadline=due, clock=clock)


def _given_up(case: Case) -> bool:
    """Whether the food was heated again or thrown away at the stage's end."""
    following = case.following
    if following is not None:
        return following.name in HEATING
    return any(n.event is Event.DISCARDED and n.at >= case.stage.end for n in case.notes)


def _restarted_before(case: Case) -> bool:
    """Whether an earlier stage like this one was followed by heat, so that this is a restart."""
    earlier = case.stages[: case.stages.index(case.stage)]
    return any(
        one.name is case.stage.name and following.name is StageName.REHEAT
        for one, following in pairwise(earlier)
    )


def _not_reached(ask: Transit, outcome: Outcome) -> Outcome:
    """Answer for a passage of which no reading shows the end."""
    case, deadline = ask.case, outcome.deadline
    to = figure(ask.to, ask.trace)
    if deadline is not None and not case.stage.closed:
        if max(case.asked, case.stage.end) <= deadline:
            reason = f"still running: {to} must be reached by {case.local.say(deadline)}"
            return outcome.but(verdict=Verdict.OPEN, reason=reason)
        return outcome.but(reason=f"no reading shows {to}, and the time allowed ran out unread")
    in_time = deadline is not None and case.stage.end <= deadline
    if not in_time or not _given_up(case):
        return outcome.but(reason=f"no reading shows {to} before the stage ended")
    if not _restarted_before(case):
        return not_applicable(
            "the food was heated again or discarded before the time ran out; "
            "what came after is judged by itself"
        )
    return outcome.but(
        reason="the cooling was broken off and restarted more than once",
        question="May a cooling be restarted a second time? Common practice allows one.",
        settle=None,
    )


def _settling(ask: Transit, start: Start, reached: Arrival, target: Clip) -> Settling | None:
    """Name the one reading: at the clock's start if the arrival is known, else at the deadline.

    Nothing settles a stage that ended beyond its second limit before the deadline, nor one that
    was read far from it afterwards.
    """
    trace = ask.trace
    more, less = ("or more", "or less") if ask.falling else ("or less", "or more")
    first = f"a note of {ask.since}"
    if ask.given is None:
        first = f"a reading of {figure(ask.leaves, trace)} {more}"
    last = f"a reading of {figure(ask.to, trace)} {less}"
    if ask.hold:
        last = (
            f"two readings of {figure(ask.to, trace)} {less}, {duration_words(ask.hold)} apart, "
            "the first"
        )
    if reached.at is not None:
        # A second limit that is only bracketed at the start would be undone by a reading before it.
        moment = reached.at - (ask.within if reached.index >= 0 else 0.0)
        unsure = start.earliest is None or (start.latest is not None and moment < start.latest)
        if unsure and ask.given is not None:
            return Settling(first)
        if unsure and not _left_before(ask, start, moment):
            return _at_the_start(ask, start, moment, first)
    due = None if start.earliest is None else start.earliest + ask.within
    if due is not None and due >= ask.case.stage.start:
        if due < contradicted_until(ask, ask.case.window()):
            return None
        if ask.case.stage.closed and due >= ask.case.stage.end:
            return None if target.no[-1] else Settling(last, ask.case.stage.end)
        return Settling(last, due)
    when = " when the clock started" if ask.given is None else ""
    return Settling(f"{first}{when}, and {last} in time")


def _against(ask: Transit, start: Start, target: Clip) -> Settling | None:
    """Name the one reading that would show that the time ran out: still short of the second limit.

    It must stand where a bracket reaches it from the last reading that was short of it for certain.
    """
    until = certainly_before(ask, target)
    if start.latest is None or until is None:
        return None
    moment, window = start.latest + ask.within, ask.case.window()
    if not until < moment <= min(until + window.interval, window.end):
        return None
    before = int(ask.trace.at.searchsorted(until, "right")) - 1
    calm = 0 <= before < len(ask.trace.undisturbed) and bool(ask.trace.undisturbed[before])
    if not calm or ask.trace.at[before + 1] <= moment:
        return None
    return Settling(f"a reading {_SHORT[ask.to.op]} {figure(ask.to, ask.trace)}", moment)


def _left_before(ask: Transit, start: Start, moment: float) -> bool:
    """Whether food was read beyond the first limit before a moment, since it last kept it."""
    since = -np.inf if start.earliest is None else start.earliest
    at = ask.trace.at
    return bool((ask.trace.state(ask.leaves).no & (at > since) & (at <= moment)).any())


def _at_the_start(ask: Transit, start: Start, moment: float, first: str) -> Settling:
    """Ask for the first limit at a moment, and at the stage's start where that is left open.

    Where nothing heats the food, a reading speaks for the unread time before it.
    """
    case = ask.case
    joined = start.earliest is not None and moment - start.earliest <= case.interval
    if ask.unheated or joined or moment <= case.stage.start:
        return Settling(first, moment)
    began = case.local.say(case.stage.start)
    return Settling(f"{first} at {began}, when the stage began, and another one", moment)


def _measured(
    ask: Transit, start: Start, reached: Arrival, took: tuple[float, float | None]
) -> str:
    trace, say = ask.trace, ask.case.local.say
    if start.earliest is None:
        head = f"the record does not say {ask.since}"
        if ask.given is None:
            head = f"passed {figure(ask.leaves, trace)} at a moment that was not read"
    else:
        head = f"clock from {say(start.earliest)}"
        if start.latest is not None and start.latest > start.earliest:
            head += f" at the earliest, {say(start.latest)} at the latest"
    tail = f"{figure(ask.to, trace)} not read"
    if reached.index >= 0:
        tail = f"{reading_words(trace, reached.index)} at {say(float(trace.at[reached.index]))}"
    least, most = took
    if most is None:
        return f"{head}; {tail}; at least {duration_words(least)}"
    if most == least:
        return f"{head}; {tail}: {duration_words(most)}"
    return f"{head}; {tail}: {duration_words(least)} to {duration_words(most)}"


def _cites(ask: Transit, start: Start, reached: Arrival, target: Clip) -> tuple[Cite, ...]:
    indices = [start.index, reached.index]
    still = np.flatnonzero(target.no & (target.reading >= 0))
    if len(still):
        indices.append(int(target.reading[still[-1]]))
    return tuple(Cite(ask.trace, i) for i in sorted(set(indices)) if i >= 0)
