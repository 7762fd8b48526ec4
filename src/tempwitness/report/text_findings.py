"""The findings of an evaluation as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Confirmed, Verdict
from tempwitness.report.wording import (
    CONFIRMED,
    WEIGHT,
    action_words,
    by_urgency,
    counts_words,
    duration_span,
    left_out,
    subject,
)

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.finding import Evaluation, Evidence, Finding
    from tempwitness.report.lines import Lines
    from tempwitness.report.localtime import LocalTime

__all__ = ["put_findings"]


def put_findings(lines: Lines, evaluation: Evaluation, clock: LocalTime, *, full: bool) -> None:
    """Write what binds, the worst first, then advice apart, then what does not apply."""
    lines.heading(f"Under the code: {counts_words(evaluation)}")
    _put_all(lines, evaluation.binding, clock, full=full)
    if not evaluation.binding:
        lines.put("No requirement of the code was applied.")
    if evaluation.compared:
        lines.heading("Under the codes beside it – does not change the answer")
        _put_all(lines, evaluation.compared, clock, full=full)
    if evaluation.advice:
        lines.heading("Advice – not law, does not change the answer")
        _put_all(lines, evaluation.advice, clock, full=full)
    if full:
        _put_not_applicable(lines, evaluation)


def _put_all(lines: Lines, findings: Iterable[Finding], clock: LocalTime, *, full: bool) -> None:
    previous: Verdict | None = None
    for finding in by_urgency(findings):
        # What was met stands close together; everything else has air around it.
        if previous not in (None, Verdict.MET) or (previous and full):
            lines.blank()
        _put_finding(lines, finding, clock, full=full)
        previous = finding.verdict


def _put_finding(lines: Lines, finding: Finding, clock: LocalTime, *, full: bool) -> None:
    lines.verdict(finding.verdict, f"{subject(finding)}: {finding.title}")
    figures = [finding.measured, f"limit {finding.limit}" if finding.limit else ""]
    weight = "" if finding.weight.binds else f"({WEIGHT[finding.weight]})"
    if finding.citation == WEIGHT[finding.weight]:
        weight = ""
    cited = " ".join(part for part in (finding.citation, weight) if part)
    lines.put(" | ".join(part for part in (*figures, cited) if part), indent=2, hang=2)
    if finding.confirmed is not Confirmed.TEXT:
        lines.put(CONFIRMED[finding.confirmed], indent=2, hang=2)
    settled = finding.verdict is Verdict.MET
    if not settled:
        _put_next_steps(lines, finding, clock)
    if full or not settled:
        _put_evidence(lines, finding.evidence, clock)
    elif finding.evidence.doubt:
        lines.put(f"doubt: {finding.evidence.doubt}", indent=2, hang=2)
    _put_terms(lines, finding, note=full or not settled)
    if full and settled and finding.reason:
        lines.put(f"why: {finding.reason}", indent=2, hang=2)


def _put_next_steps(lines: Lines, finding: Finding, clock: LocalTime) -> None:
    if finding.reason:
        lines.put(f"why: {finding.reason}", indent=2, hang=2)
    if finding.deadline:
        lines.put(f"deadline: {clock.full(finding.deadline)}", indent=2, hang=2)
    if finding.settle:
        at = f" ({clock.full(finding.settle.at)})" if finding.settle.at else ""
        lines.put(f"would settle it: {finding.settle.what}{at}", indent=2, hang=2)
    if finding.action:
        by = f"by {clock.full(finding.action.by)}: " if finding.action.by else ""
        lines.put(f"do: {by}{action_words(finding.action)}", indent=2, hang=2)


def _put_terms(lines: Lines, finding: Finding, *, note: bool) -> None:
    for name, text in (
        ("allowance used", finding.allowance),
        ("local change; replaces", finding.replaces),
        ("note", finding.note if note else ""),
    ):
        if text:
            lines.put(f"{name}: {text}", indent=2, hang=2)


def _put_evidence(lines: Lines, evidence: Evidence, clock: LocalTime) -> None:
    lasted = duration_span(evidence.least_s, evidence.most_s)
    if lasted:
        lines.put(f"lasted: {lasted}", indent=2, hang=2)
    for reading in evidence.readings:
        probe = f", probe {reading.probe}" if reading.probe else ""
        where = f"({reading.source} line {reading.line}{probe})"
        lines.put(f"reading: {clock.full(reading.at)} {reading.reading} {where}", indent=2, hang=2)
    for gap in evidence.unread:
        lines.put(f"unread: {clock.span(gap.start, gap.end)}, {gap.why}", indent=2, hang=2)
    for name, text in (("inferred", evidence.inference), ("doubt", evidence.doubt)):
        if text:
            lines.put(f"{name}: {text}", indent=2, hang=2)


def _put_not_applicable(lines: Lines, evaluation: Evaluation) -> None:
    found = left_out(evaluation)
    if not found:
        return
    lines.heading("Does not apply")
    for title, where, reason, citation in found:
        lines.put(f"{title}: {reason} | {where} | {citation}", hang=2)
