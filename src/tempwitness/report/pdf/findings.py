"""One page for each deviation or question, and the table of all findings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from tempwitness.model.vocabulary import Confirmed, Verdict
from tempwitness.report.pdf.forms import SignLine, Tick
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY, BODY_BOLD, SMALL, grid, pairs, title, words
from tempwitness.report.wording import (
    BASIS,
    CONFIRMED,
    WEIGHT,
    by_urgency,
    duration_span,
    left_out,
    stage_words,
    subject,
    verdict_word,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.report.localtime import LocalTime

    Draw = Callable[[Finding, int], Flowable | None]

__all__ = ["all_findings", "finding_pages", "to_explain"]

_MOST_READINGS = 40
_SETTLED = (Verdict.MET, Verdict.NOT_APPLICABLE)


def to_explain(evaluation: Evaluation) -> list[Finding]:
    """Return the findings that get a page of their own, the worst first."""
    return [f for f in by_urgency(evaluation.binding) if f.verdict not in _SETTLED]


def finding_pages(
    evaluation: Evaluation, clock: LocalTime, width: float, draw: Draw
) -> list[Flowable]:
    """Set a page for each; `draw` gives the chart of a finding and its number."""
    parts: list[Flowable] = []
    for number, finding in enumerate(to_explain(evaluation), 1):
        head = f"{number}. {verdict_word(finding.verdict)}: {subject(finding)}"
        parts += [PageBreak(), Heading(head, f"finding{number}")]
        parts.append(words(finding.title, BODY_BOLD))
        parts += [Spacer(1, 4), pairs(_account(finding, clock), (105, width - 105))]
        chart = draw(finding, number)
        parts += [Spacer(1, 6), chart] if chart is not None else []
        parts += _readings(finding, clock, width)
        parts += _action(finding, clock, width)
    return parts


def _account(finding: Finding, clock: LocalTime) -> list[tuple[str, str]]:
    evidence, settle = finding.evidence, finding.settle
    at = f" ({clock.full(settle.at)})" if settle and settle.at else ""
    unread = (f"{clock.span(u.start, u.end)}: {u.why}" for u in evidence.unread)
    return [
        ("Limit", finding.limit),
        ("Measured", finding.measured),
        ("Lasted", duration_span(evidence.least_s, evidence.most_s)),
        ("Why", finding.reason),
        ("Stage", clock.span(finding.stage_start, finding.stage_end)),
        ("Deadline", clock.full(finding.deadline)),
        ("Nothing was read", "; ".join(unread)),
        ("Inferred", evidence.inference),
        ("Doubt", evidence.doubt),
        ("Would settle it", f"{settle.what}{at}" if settle else ""),
        ("Allowance used", finding.allowance),
        ("Local change", f"replaces: {finding.replaces}" if finding.replaces else ""),
        ("Note", finding.note),
        ("Section", finding.citation),
        ("Confirmed", f"{CONFIRMED[finding.confirmed]} (source: {finding.source})"),
    ]


def _readings(finding: Finding, clock: LocalTime, width: float) -> list[Flowable]:
    cited = finding.evidence.readings
    if not cited:
        return []
    rows = [
        (clock.full(r.at), r.reading, r.probe or "unnamed", r.source, str(r.line))
        for r in cited[:_MOST_READINGS]
    ]
    columns = (130, 80, 80, width - 340, 50)
    head = ("When", "Reading", "Probe", "File", "Line")
    parts = [*title("Readings that decide"), grid(head, rows, columns)]
    if len(cited) > _MOST_READINGS:
        parts.append(words(f"{_MOST_READINGS} of {len(cited)} readings are printed here.", SMALL))
    return parts


def _action(finding: Finding, clock: LocalTime, width: float) -> list[Flowable]:
    action = finding.action
    if action is None:
        return []
    row: list[str | Flowable] = [
        Tick(),
        clock.full(action.by, "no deadline"),
        words(action.do),
        BASIS[action.basis],
    ]
    table = grid(("", "By", "What to do", "On whose word"), [row], (22, 105, width - 227, 100))
    signed = (SignLine("Done by", "on", "at"), SignLine("What was done instead, and why"))
    return [KeepTogether([*title("Action"), table, *signed])]


def all_findings(evaluation: Evaluation, width: float) -> list[Flowable]:
    """Set the table of all findings: what binds, advice apart, what does not apply."""
    parts: list[Flowable] = [PageBreak(), Heading("All findings", "findings")]
    parts += _table("Under the code", by_urgency(evaluation.binding), width)
    parts += _table(
        "Under the codes beside it – does not change the answer",
        by_urgency(evaluation.compared),
        width,
    )
    parts += _table(
        "Advice – not law, does not change the answer", by_urgency(evaluation.advice), width
    )
    parts += _left_out(evaluation, width)
    if not evaluation.findings:
        parts.append(words("No requirement was applied.", BODY))
    return parts


def _left_out(evaluation: Evaluation, width: float) -> list[Flowable]:
    rows = left_out(evaluation)
    if not rows:
        return []
    head = ("Requirement", "Stage, pieces", "Why it does not apply", "Section")
    columns = [share * width for share in (0.3, 0.22, 0.26, 0.22)]
    return [
        *title(verdict_word(Verdict.NOT_APPLICABLE)),
        grid(head, rows, columns),
    ]


def _table(name: str, findings: list[Finding], width: float) -> list[Flowable]:
    if not findings:
        return []
    shares = (0.13, 0.14, 0.24, 0.26, 0.23)
    head = ("Answer", "Stage, piece", "Requirement", "Measured; limit", "Section; how confirmed")
    rows = [_row(finding) for finding in findings]
    return [*title(name), grid(head, rows, [share * width for share in shares])]


def _row(finding: Finding) -> tuple[str, ...]:
    limit = f"limit: {finding.limit}" if finding.limit else ""
    figures = "; ".join(part for part in (finding.measured, limit) if part)
    weight = "" if finding.weight.binds else f"{WEIGHT[finding.weight]}; "
    confirmed = "" if finding.confirmed is Confirmed.TEXT else CONFIRMED[finding.confirmed] + "; "
    return (
        verdict_word(finding.verdict),
        ", ".join(
            part for part in (stage_words(finding.stage) or "the lot", finding.piece) if part
        ),
        finding.title,
        figures or finding.reason,
        f"{finding.citation}; {weight}{confirmed or 'checked against the text; '}{finding.source}",
    )
