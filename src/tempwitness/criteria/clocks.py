"""Total time in a band, longest stage, and time instead of temperature."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.bounds.clip import Clip, clip
from tempwitness.criteria.case import Case, figure, reading_words
from tempwitness.criteria.outcome import Cite, Outcome, Settling, not_applicable
from tempwitness.model.rule import Limit, duration_words
from tempwitness.model.vocabulary import Answer, StageName, Verdict

if TYPE_CHECKING:
    import numpy as np

    from tempwitness.bounds.trace import Trace
    from tempwitness.model.rule import BandClock, Longest, TimeControl

__all__ = ["band_clock", "longest", "time_control"]


def band_clock(test: BandClock, case: Case, trace: Trace, stages: tuple[StageName, ...]) -> Outcome:
    """Judge the total time inside a band, over all stages that the requirement names.

    The clock is never reset by cooling the food again: the times of all the stages up to this one
    are added, the certain ones for the least, everything not excluded for the most.
    """
    counted = _counted(test, case, stages)
    if not counted:
        return not_applicable("the heat was never noted as lost")
    least = most = 0.0
    for start, end in counted:
        inside, possible = _time_inside(test, case, trace, start, end)
        least, most = least + inside, most + possible
    limit = f"at most {duration_words(test.at_most)} {_band_words(test)}"
    outcome = Outcome(
        Verdict.NOT_SHOWN,
        "",
        measured=f"{duration_words(least)} to {duration_words(most)} in all",
        limit=limit,
        least=least,
        most=most,
        began=counted[0][0],
        cites=_edge_cites(trace, case),
    )
    if most <= test.at_most:
        verdict = Verdict.OPEN if case.live else Verdict.MET
        deadline = case.stage.end + test.at_most - most if case.live else None
        return outcome.but(
            verdict=verdict,
            reason=f"at most {duration_words(most)} {_band_words(test)}; "
            f"{duration_words(test.at_most)} are allowed",
            deadline=deadline,
        )
    if least > test.at_most:
        return outcome.but(
            verdict=Verdict.NOT_MET,
            reason=f"at least {duration_words(least)} {_band_words(test)}; "
            f"{duration_words(test.at_most)} are allowed",
        )
    return outcome.but(
        reason=f"the readings allow {duration_words(least)} to {duration_words(most)} "
        f"{_band_words(test)}; {duration_words(test.at_most)} are allowed",
        settle=Settling(
            "readings closer to the moments at which the food entered and left "
            f"{_band_words(test, trace)}",
            None,
        ),
    )


def _counted(
    test: BandClock, case: Case, stages: tuple[StageName, ...]
) -> list[tuple[float, float]]:
    """Stretches over which the clock is read: whole stages, or only those without heat."""
    own = [s for s in case.stages if s.name in stages and s.number <= case.stage.number]
    if test.unheated_only:
        return [stretch for s in own for stretch in s.unheated]
    return [(s.start, s.end) for s in own]


def _time_inside(
    test: BandClock, case: Case, trace: Trace, start: float, end: float
) -> tuple[float, float]:
    """Return certain and possible time inside the band in one stretch [s]."""
    window = case.window(start=start, end=end)
    inside: np.ndarray | None = None  # type: ignore[type-arg]
    outside: np.ndarray | None = None  # type: ignore[type-arg]
    lengths = None
    for edge in (test.low, test.high):
        if edge is None:
            continue
        body: Clip = clip(trace, trace.state(edge), window)
        lengths = body.lengths
        inside = body.between_yes if inside is None else inside & body.between_yes
        outside = body.between_no if outside is None else outside | body.between_no
    if lengths is None or inside is None or outside is None:
        return 0.0, end - start
    return float(lengths[inside].sum()), float(lengths[~outside].sum())


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


def time_control(test: TimeControl, case: Case, trace: Trace | None) -> Outcome:
    """Judge one part of a written time control: the paper, the mark, the start or the end."""
    plan = case.stage.time_control
    if plan is None:
        return not_applicable("time is not used as the control")
    if plan.option != test.option:
        return not_applicable(f"the written procedure is for {plan.option}, not {test.option}")
    if test.part == "written":
        return _written(case)
    if test.part == "marked":
        return _marked(plan.marked)
    if test.part == "start":
        return _start_temperature(test, case, trace)
    return _ended(test, case, trace)


def _written(case: Case) -> Outcome:
    plan = case.stage.time_control
    limit = "a procedure written in advance"
    if plan is None or plan.written is None:
        return Outcome(
            Verdict.NOT_SHOWN,
            "the record names no written procedure; it must exist before the food leaves "
            "temperature control",
            limit=limit,
            settle=Settling("the date on which the procedure was written"),
        )
    start = case.local.when(plan.start).date()
    if plan.written > start:
        return Outcome(
            Verdict.NOT_MET,
            f"the procedure was written on {plan.written}, after the food left temperature control",
            measured=f"written {plan.written}",
            limit=limit,
        )
    return Outcome(
        Verdict.MET, f"written on {plan.written}", measured=f"written {plan.written}", limit=limit
    )


def _marked(answer: Answer) -> Outcome:
    limit = "marked with the time by which it must be used"
    if answer is Answer.YES:
        return Outcome(Verdict.MET, "the record says that it was marked", "marked", limit)
    if answer is Answer.NO:
        return Outcome(Verdict.NOT_MET, "the record says that it was not marked", "no mark", limit)
    return Outcome(
        Verdict.NOT_SHOWN,
        "the record does not say whether the food was marked",
        limit=limit,
        settle=Settling("a note that the food was marked, made when it was"),
    )


def _start_temperature(test: TimeControl, case: Case, trace: Trace | None) -> Outcome:
    plan = case.stage.time_control
    limit = " or ".join(s.words for s in test.start)
    unread = Outcome(
        Verdict.NOT_SHOWN,
        "no reading shows the temperature at which the food left temperature control",
        limit=limit,
        settle=Settling(
            "a reading as the food leaves temperature control", None if plan is None else plan.start
        ),
    )
    if plan is None or trace is None or len(trace) == 0:
        return unread
    window = case.window(start=plan.start, end=plan.start)
    bodies = [clip(trace, trace.state(option), window) for option in test.start]
    index = int(bodies[0].reading[0])
    found = reading_words(trace, index) if index >= 0 else "bracketed by readings"
    cites = (Cite(trace, index),) if index >= 0 else ()
    if any(bool(b.yes[0]) for b in bodies):
        return Outcome(Verdict.MET, f"{found} at the start", found, limit, cites=cites)
    if all(bool(b.no[0]) for b in bodies):
        return Outcome(
            Verdict.NOT_MET,
            f"{found} at the start: this food may not be put under time control",
            found,
            limit,
            cites=cites,
        )
    return unread


def _ended(test: TimeControl, case: Case, trace: Trace | None) -> Outcome:
    plan = case.stage.time_control
    if plan is None:
        return not_applicable("time is not used as the control")
    deadline = plan.start + test.at_most
    warm = _too_warm(test, case, trace)
    limit = f"served or discarded within {duration_words(test.at_most)}"
    if test.ceiling is not None:
        limit = f"{limit}, never {_over(test.ceiling)}"
    ended = case.stage.end
    outcome = Outcome(
        Verdict.MET,
        f"over at {case.local.say(ended)}; the time ran until {case.local.say(deadline)}",
        measured=duration_words(ended - plan.start),
        limit=limit,
        least=ended - plan.start,
        most=ended - plan.start,
        began=plan.start,
        deadline=deadline,
    )
    if warm is Verdict.NOT_MET:
        return outcome.but(
            verdict=Verdict.NOT_MET, reason="a reading above the ceiling: discard at once"
        )
    following = case.following
    if (
        following is not None
        and following.time_control is None
        and following.name not in (StageName.SERVE,)
    ):
        return outcome.but(
            verdict=Verdict.NOT_MET,
            reason=f"the food went back to temperature control ({following.name.words}); "
            "food under time control may not return",
        )
    if ended > deadline:
        return outcome.but(verdict=Verdict.NOT_MET)
    if not case.stage.closed:
        if max(case.asked, ended) <= deadline:
            return outcome.but(
                verdict=Verdict.OPEN,
                reason=f"serve or discard by {case.local.say(deadline)}",
            )
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason=f"no note shows that the food was gone by {case.local.say(deadline)}",
            settle=Settling("a note of when it was served out or discarded", deadline),
        )
    if warm is Verdict.NOT_SHOWN:
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason="the readings do not show that the food stayed at or below the ceiling",
            settle=Settling(
                f"readings of the warmest portion of {test.ceiling and test.ceiling.words}"
            ),
        )
    return outcome


def _over(ceiling: Limit) -> str:
    return f"above {ceiling.f} °F ({ceiling.c} °C)"


def _too_warm(test: TimeControl, case: Case, trace: Trace | None) -> Verdict:
    """Whether the ceiling was kept, as far as the readings show."""
    plan = case.stage.time_control
    if test.ceiling is None or plan is None:
        return Verdict.MET
    if trace is None or len(trace) == 0:
        return Verdict.NOT_SHOWN
    body = clip(trace, trace.state(test.ceiling), case.window(start=plan.start))
    if bool((body.no & (body.reading >= 0)).any()) or bool(body.between_no.any()):
        return Verdict.NOT_MET
    return Verdict.MET if body.always else Verdict.NOT_SHOWN
