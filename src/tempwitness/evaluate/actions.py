"""What to do about an outcome, by when, and on whose word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.figures import duration_words
from tempwitness.model.finding import Action, Rescue
from tempwitness.model.vocabulary import Clock, Event, StageName, Verdict

if TYPE_CHECKING:
    from tempwitness.evaluate.judge import Judged
    from tempwitness.evaluate.subject import Subject
    from tempwitness.model.rule import ActionRule

__all__ = ["action_for", "rescue_for"]

_BREAKABLE = (Verdict.NOT_MET, Verdict.NOT_SHOWN, Verdict.OPEN)


def action_for(judged: Judged, subject: Subject) -> Action | None:
    """Choose the requirement's action for its verdict, with its deadline.

    A rescue is offered only while its deadline, counted from the earliest moment at which the
    limit may have been broken, lies ahead of the moment of asking; afterwards the other action of
    the rule stands. Where the record shows that the food was heated again, that is said instead.
    """
    outcome = judged.outcome
    if outcome.verdict in (Verdict.NOT_APPLICABLE, Verdict.MET):
        return None
    rule = _rule(judged, outcome.verdict)
    gone = _gone(judged, subject)
    if gone:
        return Action(gone, None, "practice")
    if rule is None:
        return _asking(judged)
    return _by_its_deadline(rule, judged, subject)


def rescue_for(judged: Judged, subject: Subject) -> Rescue | None:
    """Say what the rule lets a person do once the limit is broken, and until when.

    Of a stage that is still open its time counts from the earliest moment at which the limit may
    come to be broken: the start of a clock, or the last reading that kept it.
    """
    verdict = judged.outcome.verdict
    if judged.stage is None or verdict not in _BREAKABLE or _gone(judged, subject):
        return None
    if verdict is not Verdict.OPEN and _heated_again(judged, subject):
        return None
    rule = _rule(judged, Verdict.NOT_MET)
    if rule is None:
        return None
    by = None if rule.within is None else _since(rule, judged, subject)
    return Rescue(
        rule.do,
        None if by is None or rule.within is None else subject.local.iso(by + rule.within),
        rule.otherwise,
        rule.basis,
    )


def _rule(judged: Judged, verdict: Verdict) -> ActionRule | None:
    """Return the first of the requirement's actions that is for a verdict at this stage."""
    stage = judged.stage
    return next(
        (
            a
            for a in judged.requirement.actions
            if verdict in a.on and (not a.stages or (stage and stage.name in a.stages))
        ),
        None,
    )


def _since(rule: ActionRule, judged: Judged, subject: Subject) -> float | None:
    """Moment from which the time for a rescue counts [s]."""
    outcome, stage = judged.outcome, judged.stage
    if stage is not None and rule.since == "last":
        return stage.end
    if outcome.began is None and stage is not None and outcome.clock is Clock.READING:
        # Broken at the earliest right after the last reading, from which the next falls due.
        due = outcome.deadline
        return None if due is None else due - subject.intervals[stage.name]
    return outcome.began


def _by_its_deadline(rule: ActionRule, judged: Judged, subject: Subject) -> Action:
    deadline = _deadline(rule, judged)
    if deadline is None:
        return Action(rule.do, None, rule.basis)
    say = subject.local.say(deadline)
    done = _heated_again(judged, subject)
    if done and judged.outcome.verdict is Verdict.NOT_MET:
        return Action(f"{done} The reheat is judged by itself below.", None, rule.basis)
    if subject.asked > deadline and rule.otherwise:
        words = f"{rule.otherwise} The time for saving it ran out at {say}."
        return Action(words, None, rule.basis)
    after = (
        f" After {say}: {rule.otherwise[0].lower()}{rule.otherwise[1:]}" if rule.otherwise else ""
    )
    return Action(f"{rule.do}{after}", subject.local.iso(deadline), rule.basis)


def _gone(judged: Judged, subject: Subject) -> str:
    """Say what is left to do about food that was noted as discarded or finished."""
    stage = judged.stage
    if stage is None or judged.outcome.verdict is Verdict.NEEDS_LIMIT:
        return ""
    ends = [
        n
        for n in subject.log.raw.notes
        if n.event is not None and n.event.ends and n.piece in (None, stage.piece)
    ]
    if not ends or max(subject.asked, stage.end) < ends[-1].at:
        return ""
    at = subject.local.say(ends[-1].at)
    if ends[-1].event is Event.DISCARDED:
        return f"Nothing more: it was noted as discarded at {at}. Keep this record."
    if judged.outcome.verdict is Verdict.NOT_MET:
        return (
            f"It was noted as finished at {at}. If any of it is left, discard it; tell the person "
            "in charge, and ask the health authority what follows."
        )
    return (
        f"It was noted as finished at {at}, so nothing can be read any more. If any of it is left, "
        "discard it or ask the health authority; next time take the reading named here."
    )


def _asking(judged: Judged) -> Action | None:
    question = judged.outcome.question
    if not question:
        return None
    return Action(f"Ask the health authority: {question}", None, "authority")


def _deadline(rule: ActionRule, judged: Judged) -> float | None:
    outcome = judged.outcome
    if rule.within is None:
        return outcome.deadline if outcome.verdict is Verdict.OPEN else None
    since = {"break": outcome.began, "start": outcome.began, "last": None}[rule.since]
    if rule.since == "last" and judged.stage is not None:
        since = judged.stage.end
    return None if since is None else since + rule.within


def _heated_again(judged: Judged, subject: Subject) -> str:
    """Say that a reheat followed, and how long the limit may have been broken until then."""
    stage, began = judged.stage, judged.outcome.began
    if stage is None or began is None:
        return ""
    later = [
        s
        for s in subject.stages[stage.piece]
        if s.number > stage.number and s.name is StageName.REHEAT
    ]
    if not later:
        return ""
    waited = duration_words(max(0.0, later[0].start - began))
    return f"It was put to reheat at {subject.local.say(later[0].start)}, at most {waited} later."
