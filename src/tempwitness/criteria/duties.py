"""Duties and papers: what an approval, an answer of the record or a count settles."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.criteria.outcome import Outcome, Settling, not_applicable
from tempwitness.model.vocabulary import Verdict

if TYPE_CHECKING:
    from datetime import date

    from tempwitness.criteria.case import Case
    from tempwitness.model.forms import Count, Duty, Evidence, Paper
    from tempwitness.model.lot import Approval

__all__ = ["count", "duty", "evidence", "paper"]


def duty(test: Duty, case: Case) -> Outcome:
    """Judge a duty that has been triggered: an approval on record settles it."""
    day = case.local.when(case.stage.start).date()
    for approval in case.lot.approvals:
        if approval.kind != test.settled_by:
            continue
        words = _approval_words(approval)
        if approval.holds_on(day):
            return Outcome(
                Verdict.MET,
                f"approved by {words}",
                measured=words,
                limit=test.question,
                allowance=f"approval used: {words}",
            )
        return Outcome(
            Verdict.NOT_MET if approval.expires and approval.expires < day else Verdict.NOT_SHOWN,
            f"the approval on record ({words}) was not in force on {day}",
            measured=words,
            limit=test.question,
            question=test.question,
        )
    return Outcome(
        test.otherwise,
        "the code sets a duty here that no reading can settle"
        if test.otherwise is Verdict.NOT_SHOWN
        else "the code sets a duty without a number; the operator's or authority's limit is needed",
        limit=test.question,
        question=test.question,
        settle=Settling("the authority's answer, on record"),
    )


def _approval_words(approval: Approval) -> str:
    return f"{approval.authority}, no. {approval.number}, {approval.granted}"


def evidence(test: Evidence, case: Case) -> Outcome:
    """Judge a process that was proved safe, or the like: it is a way out only if it is on record.

    Even then nothing is shown: its limits stand in its own papers.
    """
    day: date = case.local.when(case.stage.start).date()
    proved = [a for a in case.lot.approvals if a.kind == test.settled_by and a.holds_on(day)]
    if not proved:
        reason = f"{test.what} is not on record, or not in force"
        return Outcome(Verdict.NOT_MET, reason, limit=test.question)
    return Outcome(
        Verdict.NOT_SHOWN,
        f"the record names {test.what} ({_approval_words(proved[0])}); the limits that go with it "
        "are not part of this code: lay them over it as a local change",
        limit=test.question,
        question=test.question,
    )


def paper(test: Paper, case: Case) -> Outcome:
    """Judge a paper, a label or a sample by what the record says of it."""
    answer = case.lot.facts.get(test.answered_by, "unknown")
    limit = paper_words(test)
    name = test.answered_by.replace("_", " ")
    if answer == "yes":
        return Outcome(Verdict.MET, f"the record says so ({name}: yes)", "yes", limit)
    if answer == "no":
        return Outcome(Verdict.NOT_MET, f"the record says that it is missing ({name})", "no", limit)
    if test.silent == "aside":
        return not_applicable(f"the code asks for it beside the readings: {limit}")
    return Outcome(
        Verdict.NOT_SHOWN,
        f"the record does not say: {name}",
        limit=limit,
        question=test.question,
        settle=Settling(f"the answer under '{test.answered_by}', on record"),
    )


def paper_words(test: Paper) -> str:
    """Write what a paper is, how long it is kept and how far ahead it is due."""
    parts = [test.question]
    if test.grams is not None:
        parts.append(f"at least {test.grams} g")
    if test.at:
        parts.append(f"kept at {' or '.join(limit.words for limit in test.at)}")
    if test.keep is not None:
        since = {"record": "", "use": " after the food is used", "service": " after service"}
        parts.append(f"kept {test.keep}{since[test.keep_from]}")
    if test.ahead is not None:
        days = " (business days)" if test.business_days else ""
        parts.append(f"handed in {test.ahead} ahead{days}")
    return "; ".join(parts)


def count(test: Count, case: Case) -> Outcome:
    """Judge how often stages of some names came, up to this one."""
    before = [s for s in case.stages if s.number <= case.stage.number]
    times = sum(
        s.name in test.of and (i == 0 or before[i - 1].name is not s.name)
        for i, s in enumerate(before)
    )
    names = " or ".join(n.words for n in test.of)
    limit = f"at most {_times(test.at_most)} ({names})"
    kept = times <= test.at_most
    return Outcome(
        Verdict.MET if kept else Verdict.NOT_MET,
        f"{names} {_times(times)} so far; {_times(test.at_most)} is allowed",
        measured=_times(times),
        limit=limit,
    )


def _times(number: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(number, f"{number} times")
