"""How often a temperature was taken and written down.

A record that lacks a reading does not show that nobody took it, so that nothing here is broken.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.criteria.outcome import Outcome, Settling, not_applicable
from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import Clock, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.criteria.case import Case
    from tempwitness.model.forms import Monitoring
    from tempwitness.model.logs import Floats

__all__ = ["monitoring"]


def monitoring(test: Monitoring, case: Case) -> Outcome:
    """Judge how often the temperature was written down in a stage."""
    start, end = case.stage.start, case.stage.end
    at = np.concatenate([np.empty(0), *(t.at for t in case.traces)])
    at = np.sort(at[(at >= start) & (at <= end)])
    if test.every is not None:
        return _every(test.every, case, at)
    if test.per_day is not None:
        return _per_day(test.per_day, case, at)
    return _at_least(test.at_least or 1, case, at)


def _every(every: float, case: Case, at: Floats) -> Outcome:
    say = case.local.say
    moments = np.concatenate(([case.stage.start], at, [case.stage.end]))
    gaps = np.diff(moments)
    worst = int(gaps.argmax())
    longest = float(gaps[worst])
    outcome = Outcome(
        Verdict.MET,
        f"written down at least every {duration_words(every)}",
        measured=f"longest time without a reading: {duration_words(longest)}",
        limit=f"a reading every {duration_words(every)}",
    )
    if longest <= every:
        return outcome if case.stage.closed else _goes_on(outcome, case, at, every)
    first, last = float(moments[worst]), float(moments[worst + 1])
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"no reading between {say(first)} and {say(last)} is on record",
        unread=((first, last, "no reading on record"),),
        settle=Settling("a reading written down", first + every),
    )


def _goes_on(outcome: Outcome, case: Case, at: Floats, every: float) -> Outcome:
    """Answer for a stage that was not ended and was written down often enough so far."""
    due = (float(at[-1]) if len(at) else case.stage.start) + every
    if max(case.asked, case.stage.end) <= due:
        return outcome.but(
            verdict=Verdict.OPEN,
            reason=f"{outcome.reason} so far; the next reading is due by {case.local.say(due)}",
            deadline=due,
            clock=Clock.READING,
        )
    if not case.explicit:
        return outcome
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"the record stops, and the next reading was due by {case.local.say(due)}",
        unread=((due - every, due, "the record stops"),),
        settle=Settling("a reading written down", due),
    )


def _per_day(wanted: int, case: Case, at: Floats) -> Outcome:
    days = list(_full_days(case))
    if not days:
        return not_applicable("the stage covers no full day")
    counts = [int(((at >= a) & (at < b)).sum()) for a, b in days]
    fewest = min(counts)
    day = case.local.when(days[counts.index(fewest)][0]).date()
    outcome = Outcome(
        Verdict.MET,
        f"at least {fewest} readings on each full day",
        measured=f"fewest on {day}: {fewest}",
        limit=f"at least {wanted} readings a day",
    )
    if fewest >= wanted:
        return outcome
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"{fewest} of {wanted} readings are on record for {day}",
        settle=Settling(f"{wanted} readings written down on {day}"),
    )


def _full_days(case: Case) -> Iterator[tuple[float, float]]:
    """Local days that lie within the stage whole [s]."""
    zone = case.local.when(0.0).tzinfo
    day = case.local.when(case.stage.start).date()
    while True:
        start = datetime.combine(day, datetime.min.time(), zone).timestamp()
        day += timedelta(days=1)
        end = datetime.combine(day, datetime.min.time(), zone).timestamp()
        if end > case.stage.end:
            return
        if start >= case.stage.start:
            yield start, end


def _at_least(wanted: int, case: Case, at: Floats) -> Outcome:
    outcome = Outcome(
        Verdict.MET,
        f"{len(at)} readings of this stage are on record",
        measured=f"{len(at)} readings",
        limit=f"at least {wanted} readings",
    )
    if len(at) >= wanted:
        return outcome
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        settle=Settling(f"{wanted} readings written down in this stage"),
    )
