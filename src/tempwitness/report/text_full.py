"""Findings with all their evidence, one by one, as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Confirmed, Verdict
from tempwitness.report.brief import how_long
from tempwitness.report.groups import probe_of, why
from tempwitness.report.second import strict_words
from tempwitness.report.text_account import next_steps
from tempwitness.report.wording import CONFIRMED, EFFECT, WEIGHT, by_urgency, subject, titled

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.finding import Finding
    from tempwitness.report.lines import Lines
    from tempwitness.report.localtime import LocalTime

__all__ = ["put_full"]


def put_full(lines: Lines, findings: Iterable[Finding], clock: LocalTime) -> None:
    """Write findings, the worst first, each with air around it."""
    for place, finding in enumerate(by_urgency(findings)):
        if place:
            lines.blank()
        _put_finding(lines, finding, clock)


def _put_finding(lines: Lines, finding: Finding, clock: LocalTime) -> None:
    probe = probe_of(finding)
    lines.verdict(
        finding.verdict, f"{f'probe {probe}' if probe else subject(finding)}: {titled(finding)}"
    )
    figures = [finding.measured, f"limit {finding.limit}" if finding.limit else ""]
    told = "" if finding.weight.binds or _named(finding) else f"({WEIGHT[finding.weight]})"
    cited = " ".join(part for part in (finding.citation, told) if part)
    _put(lines, "", " | ".join(part for part in (*figures, cited) if part))
    if finding.confirmed is not Confirmed.TEXT:
        _put(lines, "", CONFIRMED[finding.confirmed])
    _put(lines, "why", why(finding))
    if finding.verdict is not Verdict.MET:
        for name, text in next_steps(finding, clock):
            _put(lines, name, text)
    _put_evidence(lines, finding, clock)
    _put(lines, "strict", strict_words(finding))
    for name, text in (
        ("allowance used", finding.allowance),
        ("local change; replaces", finding.replaces),
        ("effect", EFFECT.get(finding.effect, "")),
        ("note", finding.note),
        ("source", finding.source),
    ):
        _put(lines, name, text)


def _named(finding: Finding) -> bool:
    """Whether the citation says by itself on whose word it stands."""
    return WEIGHT[finding.weight] in finding.citation


def _put_evidence(lines: Lines, finding: Finding, clock: LocalTime) -> None:
    evidence = finding.evidence
    _put(lines, "", how_long(finding))
    for reading in evidence.readings:
        probe = f", probe {reading.probe}" if reading.probe else ""
        where = f"({reading.source} line {reading.line}{probe})"
        _put(lines, "reading", f"{clock.full(reading.at)} {reading.reading} {where}")
    for gap in evidence.unread:
        _put(lines, "not read", f"{clock.span(gap.start, gap.end)}, {gap.why}")
    for name, text in (("inferred", evidence.inference), ("doubt", evidence.doubt)):
        _put(lines, name, text)


def _put(lines: Lines, name: str, text: str) -> None:
    if text:
        lines.put(f"{name}: {text}" if name else text, indent=2, hang=2)
