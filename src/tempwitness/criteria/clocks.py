"""Total time in a band, and the longest that a stage may last."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tempwitness.bounds.clip import Clip, clip
from tempwitness.criteria.case import Case, figure
from tempwitness.criteria.outcome import Cite, Outcome, Settling, not_applicable
from tempwitness.criteria.times import allowed_words, cap_words, exceeds, keeps_within
from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import Clock, StageName, Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.clip import Window
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.forms import BandClock, Longest
    from tempwitness.model.logs import Bools, Stage

__all__ = ["band_clock", "edge_cites", "longest", "own_window", "standing", "still_running"]


@dataclass(frozen=True, slots=True)
class _Time:
    """Certain and possible time inside the band [s], and whether the clock may still run."""

    least: float
    most: float
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
    are added, the certain ones for the least, everything not excluded for the most.
    """
    counted = _counted(test, case, trace, test.over or stages)
    if not counted:
        return not_applicable("the heat was never noted as lost")
    times = [_time_inside(test, trace, window) for window in counted]
    least, most = sum(t.least for t in times), sum(t.most for t in times)
    band, cap = _band_words(test), cap_words(test.at_most, test.op)
    allowed = allowed_words(test.at_most, test.op)
    took = f"{duration_words(least)} to {duration_words(most)}"
    outcome = Outcome(
        Verdict.NOT_SHOWN,
        f"the readings allow {took} {band}; {allowed}",
        measured=f"{took} in all",
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
    deadline = end + test.at_most - most
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
) -> list[Window]:
    """Stretches over which the clock is read: whole stages, or only those without heat."""
    own = [s for s in case.stages if s.name in stages and s.number <= case.stage.number]
    if test.unheated_only:
        return [
            replace(own_window(case, s, trace), start=start, end=end)
            for s in own
            for start, end in s.unheated
        ]
    return [own_window(case, s, trace) for s in own]


def _time_inside(test: BandClock, trace: Trace, window: Window) -> _Time:
    """Return certain and possible time inside the band in one stretch."""
    inside: Bools | None = None
    outside: Bools | None = None
    lengths = None
    running = True
    for edge in (test.low, test.high):
        if edge is None:
            continue
        body: Clip = clip(trace, trace.state(edge), window)
        lengths = body.lengths
        running = running and not bool(body.no[-1])
        inside = body.between_yes if inside is None else inside & body.between_yes
        outside = body.between_no if outside is None else outside | body.between_no
    if lengths is None or inside is None or outside is None:
        return _Time(0.0, window.end - window.start, running=True)
    return _Time(float(lengths[inside].sum()), float(lengths[~outside].sum()), running)


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
    own = [case.stage]
    if test.total:
        own = [s for s in case.stages if s.name in stages and s.number <= case.stage.number]
    took = sum(s.end - s.start for s in own)
    cap = cap_words(test.at_most, test.op)
    outcome = Outcome(
        Verdict.MET,
        f"it lasted {duration_words(took)}; {allowed_words(test.at_most, test.op)}",
        measured=duration_words(took),
        limit=cap,
        least=took,
        most=took,
        began=own[0].start,
        deadline=case.stage.end + test.at_most - took,
        clock=Clock.STAGE,
    )
    if exceeds(took, test.at_most, test.op):
        return outcome.but(verdict=Verdict.NOT_MET)
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
