"""Other ways by which a requirement may be kept, and the conditions on them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.criteria.applies import both, to_lot, to_stage
from tempwitness.evaluate.points import judge_on_record
from tempwitness.model.forms import COOKED
from tempwitness.model.vocabulary import Clock, Verdict

if TYPE_CHECKING:
    from collections.abc import Callable

    from tempwitness.criteria.case import Case
    from tempwitness.criteria.outcome import Outcome
    from tempwitness.model.logs import Stage
    from tempwitness.model.rule import Alternative, Requirement
    from tempwitness.model.vocabulary import Point

__all__ = ["Met", "with_alternatives"]


class Met:
    """What each requirement of one code was answered so far, for those that rest on it."""

    __slots__ = ("_answers",)

    def __init__(self) -> None:
        self._answers: dict[tuple[str, str], dict[int, tuple[Verdict, bool]]] = {}

    def record(self, requirement: Requirement, stage: Stage, verdict: Verdict) -> None:
        """Keep the answer of a requirement at a stage of a piece."""
        heated = isinstance(requirement.test, COOKED)
        answers = self._answers.setdefault((requirement.id, stage.piece), {})
        answers[stage.number] = verdict, heated

    def state(self, name: str, stage: Stage) -> bool | None:
        """Whether a requirement is met for a piece by the time of a stage: yes, no, not known.

        One heating that was enough is enough. Of whatever must be kept, the answer at that very
        stage decides; where there is none, it must have been kept at every earlier stage.
        """
        answers = self._answers.get((name, stage.piece), {})
        so_far = [(v, heated) for n, (v, heated) in answers.items() if n <= stage.number]
        states = [_YES_OR_NO[v] for v, _ in so_far if v in _YES_OR_NO]
        if any(heated for _, heated in so_far):
            return _any(states)
        if stage.number in answers:
            return _YES_OR_NO.get(answers[stage.number][0], False)
        return _all(states)


_YES_OR_NO = {
    Verdict.MET: True,
    Verdict.NOT_MET: False,
    Verdict.NOT_SHOWN: None,
    Verdict.OPEN: None,
}


def _any(states: list[bool | None]) -> bool | None:
    """Whether any is so: yes, no, not known."""
    if True in states:
        return True
    return None if None in states else False


def _all(states: list[bool | None]) -> bool | None:
    """Whether all of at least one are so: yes, no, not known."""
    if False in states or not states:
        return False
    return None if None in states else True


_BEST_FIRST = (Verdict.MET, Verdict.OPEN, Verdict.NOT_SHOWN, Verdict.NOT_MET)


def with_alternatives(
    requirement: Requirement,
    case: Case,
    main: Outcome,
    met: Met,
    *,
    elsewhere: Callable[[Point], Case],
) -> Outcome:
    """Return the best answer that the requirement's own test and its alternatives give.

    `elsewhere` gives the same stage with the readings of another point, such as the air.

    An alternative whose conditions the record leaves open can raise *not met* to *not shown* at
    most, with the question that would decide.
    """
    best = main
    for alternative in requirement.alternatives:
        if best.clock is Clock.READING and best.verdict is Verdict.OPEN:
            # Kept so far and still running: no other way is needed, and none can end it before.
            break
        if best.verdict not in (Verdict.NOT_MET, Verdict.NOT_SHOWN, Verdict.OPEN):
            break
        outcome = _judged(alternative, requirement, case, met, elsewhere)
        if outcome is not None and _better(outcome, best):
            best = outcome
    return best


def _better(one: Outcome, other: Outcome) -> bool:
    if one.verdict not in _BEST_FIRST:
        return False
    return _BEST_FIRST.index(one.verdict) < _BEST_FIRST.index(other.verdict)


def _judged(
    alternative: Alternative,
    requirement: Requirement,
    case: Case,
    met: Met,
    elsewhere: Callable[[Point], Case],
) -> Outcome | None:
    """Judge one alternative; ``None`` if its conditions bar it."""
    of_lot = to_lot(alternative.when, case.lot, silence_bars=False)
    found = both(of_lot, to_stage(alternative.when, case))
    if found.answer is False:
        return None
    conditions, why = _conditions(alternative, case, met)
    if conditions is False:
        return None
    point = alternative.point or requirement.point
    there = case if alternative.point is None else elsewhere(point)
    outcome = judge_on_record(alternative.test, there, requirement.stages, point)
    if outcome.verdict is Verdict.MET and conditions and found.answer:
        return outcome.but(
            allowance=f"{alternative.title} ({alternative.section}){_effect(alternative)}",
            reason=f"{outcome.reason}; allowed by {alternative.section}",
        )
    if outcome.verdict in (Verdict.MET, Verdict.OPEN, Verdict.NOT_SHOWN):
        doubt = found.why or why
        if not doubt:
            return outcome
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason=f"{outcome.reason}; {alternative.title} ({alternative.section}) would allow "
            f"it, but {doubt}",
            question=alternative.question,
        )
    return None


def _effect(alternative: Alternative) -> str:
    """Say what the wording of the code makes of it, where that is less than a permission."""
    return ": a defence if it is proved, no permission" if alternative.effect == "defence" else ""


def _conditions(alternative: Alternative, case: Case, met: Met) -> tuple[bool | None, str]:
    """Whether the requirements that the alternative names are met: yes, no, not known."""
    for name in alternative.requires:
        state = met.state(name, case.stage)
        if state is not True:
            return state, f"'{name}' is not shown to be met"
    if not alternative.requires_any:
        return True, ""
    states = [met.state(name, case.stage) for name in alternative.requires_any]
    if True in states:
        return True, ""
    names = " or ".join(f"'{n}'" for n in alternative.requires_any)
    if alternative.question or None in states:
        return None, f"{names} is not shown to be met"
    return False, ""
