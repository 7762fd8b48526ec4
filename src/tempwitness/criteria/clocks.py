"""Total time in a band, and the longest that a stage may last."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.bounds.clip import Clip, clip
from tempwitness.criteria.case import Case, figure
from tempwitness.criteria.outcome import Cite, Outcome, Settling, not_applicable
from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import StageName, Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.forms import BandClock, Longest
    from tempwitness.model.logs import Bools

__all__ = ["band_clock", "longest"]


@dataclass(frozen=True, slots=True)
class _Time:
    """Certain and possible time inside the band [s], and whether the clock may still run."""

    least: float
    most: float
    running: bool


def band_clock(test: BandClock, case: Case, trace: Trace, stages: tuple[StageName, ...]) -> Outcome:
    """Judge the total time inside a band, over all stages that the requirement names.

    The clock is never reset by cooling the food again: the times of all the stages up to this one
    are added, the certain ones for the least, everything not excluded for the most.
    """
    counted = _counted(test, case, stages)
    if not counted:
        return not_applicable("the heat was never noted as lost")
    times = [_time_inside(test, case, trace, start, end) for start, end in counted]
    least, most = sum(t.least for t in times), sum(t.most for t in times)
    band, cap = _band_words(test), duration_words(test.at_most)
    took = f"{duration_words(least)} to {duration_words(most)}"
    outcome = Outcome(
        Verdict.NOT_SHOWN,
        f"the readings allow {took} {band}; {cap} are allowed",
        measured=f"{took} in all",
        limit=f"at most {cap} {band}",
        least=least,
        most=most,
        began=counted[0][0],
        cites=_edge_cites(trace, case),
    )
    if least > test.at_most:
        reason = f"at least {duration_words(least)} {band}; {cap} are allowed"
        return outcome.but(verdict=Verdict.NOT_MET, reason=reason)
    if most > test.at_most:
        what = "readings closer to the moments at which the food entered and left "
        return outcome.but(settle=Settling(f"{what}{_band_words(test, trace)}"))
    reason = f"at most {duration_words(most)} {band}; {cap} are allowed"
    kept = outcome.but(verdict=Verdict.MET, reason=reason)
    if case.stage.closed or not times[-1].running or counted[-1][1] < case.stage.end:
        return kept
    return _still_running(kept, case, case.stage.end + test.at_most - most)


def _still_running(outcome: Outcome, case: Case, deadline: float) -> Outcome:
    """Answer for a clock that may run on after the record's last word."""
    if max(case.asked, case.stage.end) <= deadline:
        return outcome.but(verdict=Verdict.OPEN, deadline=deadline)
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        most=None,
        reason=f"{outcome.reason}; there the record stops, and the clock may have run on",
        settle=Settling("a note that the food was finished, or a later reading", deadline),
    )


def _counted(
    test: BandClock, case: Case, stages: tuple[StageName, ...]
) -> list[tuple[float, float]]:
    """Stretches over which the clock is read: whole stages, or only those without heat."""
    own = [s for s in case.stages if s.name in stages and s.number <= case.stage.number]
    if test.unheated_only:
        return [stretch for s in own for stretch in s.unheated]
    return [(s.start, s.end) for s in own]


def _time_inside(test: BandClock, case: Case, trace: Trace, start: float, end: float) -> _Time:
    """Return certain and possible time inside the band in one stretch."""
    window = case.window(start=start, end=end)
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
        return _Time(0.0, end - start, running=True)
    return _Time(float(lengths[inside].sum()), float(lengths[~outside].sum()), running)


def _band_words(test: BandClock, trace: Trace | None = None) -> str:
    edges = [e for e in (test.low, test.high) if e is not None]
    if trace is None:
        return " and ".join(e.words for e in edges)
    return " and ".join(figure(e, trace) for e in edges)


def _edge_cites(trace: Trace, case: Case) -> tuple[Cite, ...]:
    first = int(trace.at.searchsorted(case.stage.start, "left"))
    last = int(trace.at.searchsorted(case.stage.end, "right")) - 1
    return tuple(Cite(trace, i) for i in sorted({first, last}) if 0 <= i < len(trace))


def longest(test: Longest, case: Case) -> Outcome:
    """Judge the length of a stage from its noted start to its noted end."""
    took = case.stage.end - case.stage.start
    limit = f"at most {duration_words(test.at_most)}"
    outcome = Outcome(
        Verdict.MET,
        f"it lasted {duration_words(took)}; {duration_words(test.at_most)} are allowed",
        measured=duration_words(took),
        limit=limit,
        least=took,
        most=took,
        began=case.stage.start,
        deadline=case.stage.start + test.at_most,
    )
    if took > test.at_most:
        return outcome.but(verdict=Verdict.NOT_MET)
    if not case.stage.closed:
        asked = max(case.asked, case.stage.end)
        if asked <= case.stage.start + test.at_most:
            return outcome.but(verdict=Verdict.OPEN, most=None)
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            most=None,
            reason="the end of the stage was not noted, and the time allowed has run out",
        )
    return outcome
