"""What was not kept or not shown, as text: measured, why, what would settle it, what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.brief import close_call, how_long, measure, whose
from tempwitness.report.groups import why
from tempwitness.report.second import strict_briefly
from tempwitness.report.wording import EFFECT, action_words, plain

if TYPE_CHECKING:
    from tempwitness.model.finding import Action, Evaluation, Finding
    from tempwitness.report.groups import Group
    from tempwitness.report.lines import Lines
    from tempwitness.report.localtime import LocalTime

__all__ = ["next_steps", "put_account", "shared_steps"]

_MOST_READINGS = 6


def put_account(lines: Lines, group: Group, evaluation: Evaluation, clock: LocalTime) -> None:
    """Write the account of findings that share an answer; what differs stands piece by piece."""
    first = group.first
    limit = f"limit {first.limit}" if first.limit else ""
    cited = whose(first, evaluation)
    if group.several:
        _put(lines, "", " | ".join(part for part in (limit, cited) if part))
        for name, finding in zip(group.names, group.findings, strict=True):
            lines.put(f"{plain(name)}: {_said(group, finding, clock)}", indent=2, bullet="- ")
        _put(lines, "why", group.one(why))
    else:
        _put_one(lines, first, clock, (limit, cited))
    for name, text in shared_steps(group, clock):
        listed = _pointed(first.action, evaluation) if name == "do" and first.action else ""
        _put(lines, name, listed or text)
    told = (("strict", strict_briefly(group)), ("doubt", close_call(group)), *_terms(first))
    for name, text in told:
        _put(lines, name, text)


def _put_one(
    lines: Lines, finding: Finding, clock: LocalTime, limit_and_section: tuple[str, str]
) -> None:
    limit, cited = limit_and_section
    if _repeats(finding):
        told = "; ".join(part for part in (finding.reason, how_long(finding)) if part)
        _put(lines, "", f"{told} | {cited}")
    else:
        _put(lines, "", " | ".join(part for part in (measure(finding), limit, cited) if part))
        _put(lines, "why", why(finding))
    _put(lines, "readings", _readings(finding, clock))
    for gap in finding.evidence.unread:
        _put(lines, "not read", f"{clock.span(gap.start, gap.end)}, {gap.why}")
    _put(lines, "inferred", finding.evidence.inference)


def _said(group: Group, finding: Finding, clock: LocalTime) -> str:
    """Say of one piece of several what was measured, why, and what only it needs."""
    reason = "" if group.one(why) else why(finding)
    told = _repeats(finding) and reason
    said = [reason, how_long(finding)] if told else [measure(finding), reason]
    shared = shared_steps(group, clock)
    own = [step for step in next_steps(finding, clock) if step not in shared]
    said += [f"{name}: {text}" for name, text in own]
    return "; ".join(part.rstrip(".") for part in said if part)


def _repeats(finding: Finding) -> bool:
    """Whether the reason says again what was measured and what the limit is."""
    return bool(finding.limit) and f"the limit is {finding.limit}" in finding.reason


def _pointed(action: Action, evaluation: Evaluation) -> str:
    """Return the number under which an action stands in the list of what to do."""
    for number, listed in enumerate(evaluation.do_now, 1):
        same = (listed.by, listed.basis) == (action.by, action.basis)
        if same and (listed.do == action.do or listed.do.endswith(f": {action.do}")):
            return f"number {number} of the list above"
    return ""


def _readings(finding: Finding, clock: LocalTime) -> str:
    """List the readings that decide, unless there is one and the measure names it."""
    cited = finding.evidence.readings
    if len(cited) == 1 and cited[0].reading in finding.measured:
        return ""
    said = [f"{clock.short(r.at)} {r.reading}" for r in cited[:_MOST_READINGS]]
    more = len(cited) - _MOST_READINGS
    return "; ".join(said) + (f"; and {more} more" if more > 0 else "")


def next_steps(finding: Finding, clock: LocalTime) -> list[tuple[str, str]]:
    """Return what is due, what would settle it and what to do, each with its name."""
    steps = []
    if finding.deadline:
        steps.append(("deadline", clock.full(finding.deadline)))
    for name, reading in (("would settle it", finding.settle), ("or against it", finding.against)):
        if reading:
            at = f" ({clock.full(reading.at)})" if reading.at else ""
            steps.append((name, f"{reading.what}{at}"))
    if finding.action:
        by = f"by {clock.full(finding.action.by)}: " if finding.action.by else ""
        steps.append(("do", f"{by}{action_words(finding.action)}"))
    return steps


def shared_steps(group: Group, clock: LocalTime) -> list[tuple[str, str]]:
    """Return the steps that all findings of a group share."""
    others = [next_steps(finding, clock) for finding in group.findings[1:]]
    return [step for step in next_steps(group.first, clock) if all(step in o for o in others)]


def _terms(finding: Finding) -> tuple[tuple[str, str], ...]:
    return (
        ("allowance used", finding.allowance),
        ("local change; replaces", finding.replaces),
        ("effect", EFFECT.get(finding.effect, "")),
        ("note", finding.note),
    )


def _put(lines: Lines, name: str, text: str) -> None:
    if text:
        lines.put(f"{name}: {text}" if name else text, indent=2, hang=2)
