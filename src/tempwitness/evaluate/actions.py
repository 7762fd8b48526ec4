"""What to do about an outcome, by when, and on whose word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.figures import duration_words
from tempwitness.model.finding import Action
from tempwitness.model.vocabulary import Event, StageName, Verdict

if TYPE_CHECKING:
    from tempwitness.evaluate.judge import Judged
    from tempwitness.evaluate.subject import Subject
    from tempwitness.model.rule import ActionRule

__all__ = ["action_for"]


def action_for(judged: Judged, subject: Subject) -> Action | None:
    """Choose the requirement's action for its verdict, with its deadline.

    A rescue is offered only while its deadline, counted from the earliest moment at which the
    limit may have been broken, lies ahead of the moment of asking; afterwards the other action of
    the rule stands. Where the record shows that the food was heated again, that is said instead.
    """
    outcome = judged.outcome
    if outcome.verdict in (Verdict.NOT_APPLICABLE, Verdict.MET):
        return None
    stage = judged.stage
    rule = next(
        (
            a
            for a in judged.requirement.actions
            if outcome.verdict in a.on and (not a.stages or (stage and stage.name in a.stages))
        ),
        None,
    )
    gone = _gone(judged, subject)
    if gone:
        return Action(gone, None, "practice")
    if rule is None:
        return _asking(judged)
    return _by_its_deadline(rule, judged, subject)


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
