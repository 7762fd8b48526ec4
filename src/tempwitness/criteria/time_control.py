"""Time instead of temperature: the paper, the mark, the start and the end."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.bounds.clip import clip
from tempwitness.criteria.case import HEATING, reading_words
from tempwitness.criteria.outcome import Cite, Outcome, Settling, not_applicable
from tempwitness.model.figures import duration_words
from tempwitness.model.vocabulary import Answer, Clock, StageName, Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.criteria.case import Case
    from tempwitness.model.forms import TimeControl

__all__ = ["time_control"]


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
    plan, following = case.stage.time_control, case.following
    if plan is None:
        return not_applicable("time is not used as the control")
    if following is not None and following.time_control == plan:
        return not_applicable(
            f"the same time control goes on ({following.name.words}); its end is judged there"
        )
    deadline = plan.start + test.at_most
    warm = _too_warm(test, case, trace)
    limit = f"served or discarded within {duration_words(test.at_most)}"
    if test.ceiling is not None:
        limit = f"{limit}, never {_over(test)}"
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
        clock=Clock.TIME_CONTROL,
    )
    broken = _broken(case, deadline, warm)
    if broken is not None:
        return outcome.but(verdict=Verdict.NOT_MET, reason=broken or outcome.reason)
    return _not_broken(test, case, outcome, deadline, warm)


def _not_broken(
    test: TimeControl, case: Case, outcome: Outcome, deadline: float, warm: Verdict
) -> Outcome:
    """Answer for a time control of which nothing shows that it was broken."""
    say, following, ended = case.local.say, case.following, case.stage.end
    if following is not None and following.name in HEATING:
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason=f"heated afterwards ({following.name.words}); no note shows that it was then "
            f"served by {say(deadline)}",
            question="Was it cooked and served within the time of the procedure?",
        )
    if _started_anew(case):
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason="another time control follows for the same piece, and the time does not start "
            "anew for food that was out before; no note shows that what was out from "
            f"{say(deadline - test.at_most)} was gone by {say(deadline)}",
            settle=Settling("a note of when it was served out or discarded", ended),
        )
    if not case.stage.closed:
        return _running(outcome, case, deadline)
    if warm is Verdict.NOT_SHOWN and test.ceiling is not None:
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason="the readings do not show that the food stayed at or below the ceiling",
            settle=Settling(f"readings of the warmest portion of {test.ceiling.words}"),
        )
    return outcome


def _broken(case: Case, deadline: float, warm: Verdict) -> str | None:
    """How the time control was broken: empty if it only ran over, ``None`` if it was not."""
    following = case.following
    if warm is Verdict.NOT_MET:
        return "a reading above the ceiling: discard at once"
    heated = following is not None and following.name in HEATING
    back = following is not None and following.time_control is None and not heated
    if following is not None and back and following.name is not StageName.SERVE:
        return (
            f"the food went back to temperature control ({following.name.words}); "
            "food under time control may not return"
        )
    if heated and case.stages[-1].end > deadline:
        return f"it was still there after {case.local.say(deadline)}, when the time ran out"
    return "" if case.stage.end > deadline else None


def _started_anew(case: Case) -> bool:
    """Whether a later stage stands under another time control than this one."""
    later = (s.time_control for s in case.stages if s.number > case.stage.number)
    return any(plan is not None and plan != case.stage.time_control for plan in later)


def _running(outcome: Outcome, case: Case, deadline: float) -> Outcome:
    """Answer for a time control whose end nobody noted."""
    if max(case.asked, case.stage.end) <= deadline:
        return outcome.but(
            verdict=Verdict.OPEN, reason=f"serve or discard by {case.local.say(deadline)}"
        )
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"no note shows that the food was gone by {case.local.say(deadline)}",
        settle=Settling("a note of when it was served out or discarded", deadline),
    )


def _over(test: TimeControl) -> str:
    figures = "" if test.ceiling is None else test.ceiling.figures
    first = "" if test.ceiling_for is None else f" in the first {duration_words(test.ceiling_for)}"
    return f"above {figures}{first}"


def _too_warm(test: TimeControl, case: Case, trace: Trace | None) -> Verdict:
    """Whether the ceiling was kept, as far as the readings show."""
    plan = case.stage.time_control
    if test.ceiling is None or plan is None:
        return Verdict.MET
    if trace is None or len(trace) == 0:
        return Verdict.NOT_SHOWN
    window = case.window(start=plan.start)
    if test.ceiling_for is not None and window.end > plan.start + test.ceiling_for:
        window = replace(window, end=plan.start + test.ceiling_for, own_end=True)
    body = clip(trace, trace.state(test.ceiling), window)
    above = body.no & (body.reading >= 0)
    if not window.own_end:
        above[-1] = False  # that reading begins the next stage
    if bool(above.any()) or bool(body.between_no.any()):
        return Verdict.NOT_MET
    return Verdict.MET if body.always else Verdict.NOT_SHOWN
