"""The status of a lot: its evaluation read for what is due."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from tempwitness.model.status import STATUS_SCHEMA, Due, Saving, Settled, Status, Waiting
from tempwitness.model.vocabulary import Clock, Verdict
from tempwitness.outlook.pieces import pieces_now

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from tempwitness.model.finding import Evaluation, Finding, Rescue
    from tempwitness.model.logs import StagedLog

__all__ = ["status"]

_WORST_FIRST = tuple(Verdict(v) for v in ("not_met", "not_shown", "needs_limit", "met"))
_BY_THE_DAY = (Clock.SHELF_LIFE, Clock.DAY_END)
_NOT_YET = (Verdict.OPEN, Verdict.NOT_SHOWN)
_AT_RISK = (Verdict.NOT_MET, Verdict.NOT_SHOWN)


def status(evaluation: Evaluation, log: StagedLog, asked: float) -> Status:
    """Say how a lot stands at the moment for which it was evaluated.

    Parameters
    ----------
    evaluation : Evaluation
        Made for that moment, from a log that holds nothing later (`known_at`).
    log : StagedLog
        The log on which it rests.
    asked : float
        [s since 1970-01-01 UTC]

    Returns
    -------
    Status
        Every deadline, action and reading asked for in it is one of the evaluation's findings.
    """
    applied = [f for f in evaluation.findings if f.verdict is not Verdict.NOT_APPLICABLE]
    ahead = _ahead(applied, evaluation, asked)
    zone = evaluation.lot.zone
    return Status(
        schema=STATUS_SCHEMA,
        tool=evaluation.tool,
        lot=evaluation.lot.id,
        food=evaluation.lot.food,
        zone=zone,
        code=evaluation.code,
        asked_at=evaluation.asked_at or "",
        verdict=evaluation.verdict,
        headline=evaluation.headline,
        pieces=pieces_now(evaluation, log, asked),
        next_readings=_next_readings(ahead),
        clocks=tuple(d for d in ahead if d.clock not in (*_BY_THE_DAY, Clock.READING)),
        use_by=tuple(d for d in ahead if d.clock in _BY_THE_DAY),
        saving=_saving(evaluation.binding, asked),
        waiting=_waiting(evaluation.binding),
        settled=_settled(evaluation.binding),
        questions=evaluation.questions,
        caution=evaluation.caution,
    )


def _moment(text: str) -> float:
    return datetime.fromisoformat(text).timestamp()


def _joined(
    findings: Iterable[Finding], same: Callable[[Finding], tuple[object, ...]]
) -> list[tuple[Finding, tuple[str, ...]]]:
    """Join findings that say the same of several pieces."""
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        groups.setdefault(same(finding), []).append(finding)
    return [
        (own[0], tuple(dict.fromkeys(f.piece for f in own if f.piece))) for own in groups.values()
    ]


def _same(finding: Finding) -> tuple[object, ...]:
    return finding.requirement, finding.stage, finding.stage_number, finding.verdict


def _ahead(findings: Iterable[Finding], evaluation: Evaluation, asked: float) -> list[Due]:
    """All deadlines that lie ahead, the first first; law before advice."""
    running = [
        f
        for f in findings
        if f.deadline and f.clock and f.verdict in _NOT_YET and _moment(f.deadline) >= asked
    ]
    beside = tuple(f"{code.id}#" for code in evaluation.beside)
    made = [
        _due(f, pieces, f.clock, by=f.deadline, asked=asked, beside=beside)
        for f, pieces in _joined(running, lambda f: (*_same(f), f.deadline))
        if f.deadline and f.clock
    ]
    return sorted(made, key=lambda d: (_moment(d.by), d.beside, not d.weight.binds))


def _due(
    finding: Finding,
    pieces: tuple[str, ...],
    clock: Clock,
    *,
    by: str,
    asked: float,
    beside: tuple[str, ...],
) -> Due:
    evidence, action = finding.evidence, finding.action
    return Due(
        clock=clock,
        pieces=pieces,
        stage=finding.stage,
        stage_number=finding.stage_number,
        requirement=finding.requirement,
        title=finding.title,
        weight=finding.weight,
        beside=finding.requirement.startswith(beside),
        by=by,
        left_s=_moment(by) - asked,
        sure=finding.verdict is Verdict.OPEN,
        reason=finding.reason,
        limit=finding.limit,
        least_s=evidence.least_s,
        most_s=evidence.most_s,
        do="" if action is None else action.do,
        rescue=finding.rescue,
        citation=finding.citation,
    )


def _next_readings(ahead: list[Due]) -> tuple[Due, ...]:
    """For each piece the deadline that falls first of those that a reading can keep.

    What is law goes before advice; advice stands where no law asks for a reading.
    """
    first: dict[str, Due] = {}
    wanted = [d for d in ahead if d.clock.stopped_by_reading]
    for due in sorted(wanted, key=lambda d: (d.beside, not d.weight.binds)):
        for piece in due.pieces:
            first.setdefault(piece, due)
    return tuple(dict.fromkeys(sorted(first.values(), key=lambda d: d.left_s)))


def _saving(findings: Iterable[Finding], asked: float) -> tuple[Saving, ...]:
    """What can still be saved, the first to run out first, and then what is too late."""
    broken = [f for f in findings if f.verdict in _AT_RISK and f.rescue is not None]
    joined = _joined(broken, lambda f: (f.title, f.stage, f.verdict, f.rescue))
    made = [_one_saving(f, pieces, f.rescue, asked) for f, pieces in joined if f.rescue]
    return tuple(sorted(made, key=_urgency))


def _urgency(saving: Saving) -> tuple[bool, bool, float]:
    left = float("inf") if saving.left_s is None else saving.left_s
    return saving.verdict is not Verdict.NOT_MET, left < 0, left


def _one_saving(finding: Finding, pieces: tuple[str, ...], rescue: Rescue, asked: float) -> Saving:
    return Saving(
        pieces=pieces,
        stage=finding.stage,
        requirement=finding.requirement,
        title=finding.title,
        verdict=finding.verdict,
        do=rescue.do,
        by=rescue.by,
        left_s=None if rescue.by is None else _moment(rescue.by) - asked,
        otherwise=rescue.otherwise,
        basis=rescue.basis,
        first=_first(finding),
    )


def _first(finding: Finding) -> str:
    unknown = finding.verdict is Verdict.NOT_SHOWN and finding.action is not None
    return finding.action.do if unknown and finding.action is not None else ""


def _waiting(findings: Iterable[Finding]) -> tuple[Waiting, ...]:
    still = [f for f in findings if f.verdict is Verdict.OPEN and not f.deadline]
    return tuple(
        Waiting(pieces, f.stage, f.requirement, f.title, f.reason)
        for f, pieces in _joined(still, lambda f: (f.requirement, f.stage, f.reason))
    )


def _settled(findings: Iterable[Finding]) -> tuple[Settled, ...]:
    done = [f for f in findings if f.verdict in _WORST_FIRST]
    joined = _joined(done, _same)
    made = [_one_settled(f, pieces) for f, pieces in joined]
    return tuple(sorted(made, key=lambda s: _WORST_FIRST.index(s.verdict)))


def _one_settled(finding: Finding, pieces: tuple[str, ...]) -> Settled:
    action, settle = finding.action, finding.settle
    return Settled(
        pieces=pieces,
        stage=finding.stage,
        stage_number=finding.stage_number,
        requirement=finding.requirement,
        title=finding.title,
        verdict=finding.verdict,
        reason=finding.reason,
        do="" if action is None else action.do,
        settle="" if settle is None else settle.what,
        settle_at=None if settle is None else settle.at,
        citation=finding.citation,
    )
