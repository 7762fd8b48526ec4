"""Total time in a band, and the longest that a stage may last."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from tempwitness.bounds.clip import Clip, clip
from tempwitness.criteria.case import Case, figure
from tempwitness.criteria.outcome import Cite, Outcome, Settling, not_applicable
from tempwitness.criteria.times import allowed_words, cap_words, exceeds, keeps_within
from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import Clock, Decided, StageName, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.bounds.clip import Window
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.forms import BandClock, Longest
    from tempwitness.model.logs import Bools, Floats, Stage

__all__ = ["band_clock", "edge_cites", "longest", "own_window", "standing", "still_running"]


@dataclass(frozen=True, slots=True, eq=False)
class _Inside:
    """Where the food certainly and where it possibly was inside the band, stretch by stretch.

    `at` holds where each stretch begins, and where the last one ends [s]; `running` says whether
    the clock may still run at that end.
    """

    at: Floats
    certain: Bools
    possible: Bools
    running: bool


def own_window(case: Case, stage: Stage, trace: Trace) -> Window:
    """Return the window of another stage of the case, with its own monitoring interval.

    Of a stage that still runs, the time since the last reading of the point is left out: the next
    reading tells of it, if it comes soon enough and nobody disturbed the food.
    """
    window = case.window(start=stage.start, end=stage.end)
    if stage is case.stage and case.live and stage.start <= trace.last < stage.end:
        soon = case.asked - trace.last <= case.interval
        if soon and not case.disturbed(trace.last, stage.end):
            window = replace(window, end=trace.last)
    last = stage.number == case.stages[-1].number
    return replace(window, interval=case.intervals[stage.name], own_end=last)


def band_clock(test: BandClock, case: Case, trace: Trace, stages: tuple[StageName, ...]) -> Outcome:
    """Judge the total time inside a band, over all stages that the requirement names.

    The clock is never reset by cooling the food again: the times of all the stages up to this one
    are added, the certain ones for the least, everything not excluded for the most. With `in_any`
    those within each stretch of that length are added, and the longest sum counts.
    """
    sure, counted = _counted(test, case, trace, test.over or stages)
    if not counted:
        return not_applicable("the heat was never noted as lost")
    times = [_inside(test, trace, window) for window in counted]
    possible = _Held.of((t.at, t.possible) for t in times)
    certain = _Held.of((t.at, t.certain & told) for t, told in zip(times, sure, strict=True))
    least, most = certain.longest(test.in_any), possible.longest(test.in_any)
    stretch = "" if test.in_any is None else f"in any {duration_words(test.in_any)} "
    band, cap = f"{stretch}{_band_words(test)}", cap_words(test.at_most, test.op)
    allowed = allowed_words(test.at_most, test.op)
    took = f"{duration_words(least)} to {duration_words(most)}"
    outcome = Outcome(
        Verdict.NOT_SHOWN,
        f"the readings allow {took} {band}; {allowed}",
        measured=f"{took} {stretch.strip() or 'in all'}",
        limit=f"{cap} {band}",
        least=least,
        most=most,
        began=counted[0].start,
        cites=edge_cites(trace, case),
    )
    if exceeds(least, test.at_most, test.op):
        reason = f"at least {duration_words(least)} {band}; {allowed}"
        return outcome.but(verdict=Verdict.NOT_MET, reason=reason)
    if not keeps_within(most, test.at_most, test.op):
        what = "readings closer to the moments at which the food entered and left "
        return outcome.but(settle=Settling(f"{what}{_band_words(test, trace)}"))
    reason = f"at most {duration_words(most)} {band}; {allowed}"
    kept = outcome.but(verdict=Verdict.MET, reason=reason)
    end = own_window(case, case.stage, trace).end
    if case.stage.closed or counted[-1].end < end:
        return kept
    if not times[-1].running:
        return standing(kept, case, trace)
    since = -np.inf if test.in_any is None else end - test.in_any
    deadline = end + test.at_most - possible.since(since)
    return still_running(kept.but(deadline=deadline, clock=Clock.BAND), case)


def standing(outcome: Outcome, case: Case, trace: Trace) -> Outcome:
    """Answer for a clock that stood still at the last reading of a stage that was not ended.

    A reading that comes in time shows that it stood still all along; without one it may have run
    since. A record about which nobody named a moment is judged up to its last entry.
    """
    if not (case.live or case.explicit):
        return outcome
    due = min(case.stage.end, trace.last) + case.interval
    words = f"{outcome.reason}; the next reading is due by {case.local.say(due)}"
    return still_running(outcome.but(reason=words, deadline=due, clock=Clock.READING), case)


def still_running(outcome: Outcome, case: Case) -> Outcome:
    """Answer for a clock that may run on after the record's last word, up to its deadline."""
    deadline = outcome.deadline
    if deadline is None or max(case.asked, case.stage.end) <= deadline:
        return outcome.but(verdict=Verdict.OPEN)
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        most=None,
        reason=f"{outcome.reason}; there the record stops, and the clock may have run on",
        settle=Settling("a note that the food was finished, or a later reading", deadline),
    )


def _counted(
    test: BandClock, case: Case, trace: Trace, stages: tuple[StageName, ...]
) -> tuple[list[bool], list[Window]]:
    """Stretches over which the clock is read: whole stages, or only those without heat.

    Of each is told whether it counts for sure: a stage that only the trace seems to show may have
    been another one.
    """
    own = [s for s in case.stages if s.name in stages and s.number <= case.stage.number]
    cooks = _cooks(case)
    if test.after_cook is not None and cooks:
        own = [s for s in own if s.number > cooks[0].number]
    if not test.unheated_only:
        return [not s.question for s in own], [own_window(case, s, trace) for s in own]
    sure = [not s.question for s in own for _ in s.unheated]
    return sure, [
        replace(own_window(case, s, trace), start=start, end=end)
        for s in own
        for start, end in s.unheated
    ]


def _inside(test: BandClock, trace: Trace, window: Window) -> _Inside:
    """Say where the food certainly and where it possibly was inside the band in one stretch."""
    bodies: list[Clip] = [
        clip(trace, trace.state(edge), window) for edge in (test.low, test.high) if edge is not None
    ]
    if not bodies:
        always = np.ones(1, bool)
        return _Inside(np.array([window.start, window.end]), always, always, running=True)
    return _Inside(
        bodies[0].at,
        np.logical_and.reduce([body.between_yes for body in bodies]),
        ~np.logical_or.reduce([body.between_no for body in bodies]),
        running=not any(bool(body.no[-1]) for body in bodies),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Held:
    """Stretches in which something held, in order: where each begins and ends [s]."""

    begins: Floats
    ends: Floats

    @classmethod
    def of(cls, parts: Iterable[tuple[Floats, Bools]]) -> _Held:
        """Gather the stretches that held."""
        parts = tuple(parts)
        return cls(
            np.concatenate([at[:-1][held] for at, held in parts]),
            np.concatenate([at[1:][held] for at, held in parts]),
        )

    def longest(self, span: float | None) -> float:
        """Longest time for which it held within a span, or in all [s].

        The time is longest in a span that begins where it began to hold, or ends where it ended.
        """
        if span is None or not len(self.begins):
            return float((self.ends - self.begins).sum())
        starts = np.concatenate([self.begins, self.ends - span])
        return float((self._before(starts + span) - self._before(starts)).max())

    def since(self, moment: float) -> float:
        """Time for which it held after a moment [s]."""
        return float(np.maximum(self.ends - np.maximum(self.begins, moment), 0.0).sum())

    def _before(self, moments: Floats) -> Floats:
        """Time for which it held before each of some moments [s]."""
        done = np.concatenate([[0.0], np.cumsum(self.ends - self.begins)])
        begun = self.begins.searchsorted(moments, "right")
        last = np.maximum(begun - 1, 0)
        running = np.minimum(moments, self.ends[last]) - self.begins[last]
        times: Floats = np.where(begun > 0, done[last] + running, 0.0)
        return times


def _band_words(test: BandClock, trace: Trace | None = None) -> str:
    edges = [e for e in (test.low, test.high) if e is not None]
    if trace is None:
        return " and ".join(e.words for e in edges)
    return " and ".join(figure(e, trace) for e in edges)


def edge_cites(trace: Trace, case: Case) -> tuple[Cite, ...]:
    """Cite the first and the last reading of a stage."""
    first = int(trace.at.searchsorted(case.stage.start, "left"))
    last = int(trace.at.searchsorted(case.stage.end, "right")) - 1
    return tuple(Cite(trace, i) for i in sorted({first, last}) if 0 <= i < len(trace))


def longest(test: Longest, case: Case, stages: tuple[StageName, ...]) -> Outcome:
    """Judge the length of a stage, or of several together, from noted starts to noted ends."""
    own = _lasting(test, case, stages)
    took = sum(part.end - part.start for part in own)
    sure = sum(part.end - part.start for part in own if part.sure)
    cap = cap_words(test.at_most, test.op)
    outcome = Outcome(
        Verdict.MET,
        f"it lasted {duration_words(took)}; {allowed_words(test.at_most, test.op)}",
        measured=duration_words(took),
        limit=cap,
        least=sure,
        most=took,
        began=own[0].start,
        deadline=case.stage.end + test.at_most - took,
        clock=Clock.STAGE,
    )
    if exceeds(took, test.at_most, test.op):
        broken = exceeds(sure, test.at_most, test.op)
        return outcome.but(verdict=Verdict.NOT_MET if broken else Verdict.NOT_SHOWN)
    if not case.stage.closed:
        asked = max(case.asked, case.stage.end)
        if asked <= case.stage.end + test.at_most - took:
            return outcome.but(verdict=Verdict.OPEN, most=None)
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            most=None,
            reason="the end of the stage was not noted, and the time allowed has run out",
        )
    return outcome


class _Part(NamedTuple):
    """A stretch of time that counts; a stage that only the trace seems to show is not sure."""

    start: float
    end: float
    sure: bool


def _lasting(test: Longest, case: Case, stages: tuple[StageName, ...]) -> list[_Part]:
    """Stretches of time that count: a stage, several of them, or all since the last cook.

    Without a cook on record all that went before counts.
    """
    so_far = [s for s in case.stages if s.number <= case.stage.number]
    cooks = [] if test.after_cook is None else _cooks(case)
    if test.total:
        after = cooks[-1].number if cooks else 0
        return [
            _Part(s.start, s.end, not s.question or s is case.stage)
            for s in so_far
            if s.name in stages and s.number > after
        ]
    since = case.stage.start
    if test.after_cook is not None:
        since = cooks[-1].end if cooks else so_far[0].start
    return [_Part(since, case.stage.end, sure=True)]


def _cooks(case: Case) -> list[Stage]:
    """Cooks before this stage, without one that was only guessed."""
    return [
        s
        for s in case.stages
        if s.name is StageName.COOK
        and s.number < case.stage.number
        and not (s.question and s.decided is Decided.INFERRED)
    ]
