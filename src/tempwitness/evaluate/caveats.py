"""What takes back an answer: an open question of the record, of the stage or of the rule."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict

if TYPE_CHECKING:
    from tempwitness.criteria.applies import Applies
    from tempwitness.criteria.case import Case
    from tempwitness.criteria.outcome import Outcome
    from tempwitness.model.logs import Stage
    from tempwitness.model.rule import Requirement

__all__ = ["asking", "if_it_applies", "if_stage_is_so"]


def if_it_applies(outcome: Outcome, found: Applies) -> Outcome:
    """Keep *met*; anything worse holds only if the requirement applies, which is not known."""
    if outcome.verdict in (Verdict.MET, Verdict.NOT_APPLICABLE):
        return outcome
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"{found.why}, and this decides whether the requirement applies; if it does: "
        f"{outcome.reason}",
        question=f"Say it in the record: {found.why}.",
    )


def if_stage_is_so(outcome: Outcome, stage: Stage) -> Outcome:
    """Where the trace may be another stage as well, neither *met* nor *not met* is shown."""
    if outcome.verdict in (Verdict.NOT_SHOWN, Verdict.NOT_APPLICABLE):
        return outcome
    return outcome.but(
        verdict=Verdict.NOT_SHOWN,
        reason=f"the trace does not say whether this was {stage.name.words}; if it was: "
        f"{outcome.reason}",
        question=stage.question,
        deadline=None,
    )


def asking(requirement: Requirement, outcome: Outcome, case: Case) -> Outcome:
    """Let a requirement that only the authority can weigh ask instead of judging."""
    kept = outcome.verdict is Verdict.MET
    if requirement.breaks_only and kept and outcome.most and _never_heated_again(case):
        return outcome.but(
            verdict=Verdict.NOT_SHOWN,
            reason=f"{outcome.reason}; no note says that the heat came back before the end",
            question=requirement.question,
        )
    if requirement.breaks_only and outcome.verdict in (Verdict.MET, Verdict.OPEN):
        return outcome.but(verdict=Verdict.NOT_APPLICABLE, question=requirement.question)
    if not requirement.ask_instead:
        return outcome
    if outcome.verdict is Verdict.NOT_MET:
        return outcome.but(verdict=Verdict.NOT_SHOWN, question=requirement.question)
    if outcome.verdict in (Verdict.NOT_SHOWN, Verdict.OPEN):
        return outcome.but(verdict=Verdict.NOT_APPLICABLE, question=requirement.question)
    return outcome


def _never_heated_again(case: Case) -> bool:
    """Whether the stage ended while its heat was noted as lost: it was no resumed cook."""
    return any(end == case.stage.end for _, end in case.stage.unheated)
