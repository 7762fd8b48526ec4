"""One page for each deviation or question, with a row for every piece that shares it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.brief import how_long
from tempwitness.report.groups import Group, grouped, why
from tempwitness.report.pdf.forms import SignLine, Tick
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY_BOLD, SMALL, grid, pairs, title, words
from tempwitness.report.second import strict_words
from tempwitness.report.wording import BASIS, CONFIRMED, EFFECT, titled, verdict_word

if TYPE_CHECKING:
    from collections.abc import Callable

    from tempwitness.model.finding import Evaluation, Finding, SettlingReading
    from tempwitness.report.localtime import LocalTime

    Draw = Callable[[Group, int], Flowable | None]

__all__ = ["finding_pages", "to_explain"]

_MOST_READINGS = 40
_LEAST_OF_A_PIECE = 4
_SETTLED = (Verdict.MET, Verdict.NOT_APPLICABLE)


def to_explain(evaluation: Evaluation) -> list[Group]:
    """Return the findings that get a page of their own, the worst first."""
    groups = grouped(evaluation.binding, evaluation.lot.pieces)
    return [group for group in groups if group.verdict not in _SETTLED]


def finding_pages(
    evaluation: Evaluation, clock: LocalTime, width: float, draw: Draw
) -> list[Flowable]:
    """Set a page for each; `draw` gives the chart of a group and its number."""
    parts: list[Flowable] = []
    for number, group in enumerate(to_explain(evaluation), 1):
        subject = group.subject(len(evaluation.lot.pieces))
        head = f"{number}. {verdict_word(group.verdict)}: {subject}"
        parts += [PageBreak(), Heading(head, f"finding{number}")]
        parts.append(words(titled(group.first), BODY_BOLD))
        parts += [Spacer(1, 4), *_accounts(group, clock, width)]
        # What to do comes before the evidence: long lists may run on to another page.
        parts += _actions(group, clock, width)
        chart = draw(group, number)
        parts += [Spacer(1, 6), chart] if chart is not None else []
        parts += _readings(group, clock, width)
    return parts


def _accounts(group: Group, clock: LocalTime, width: float) -> list[Flowable]:
    """Set what all pieces share as pairs, and what differs as a row for each piece."""
    accounts = [_account(finding, clock) for finding in group.findings]
    shared = {
        name: text for name, text in accounts[0].items() if all(a[name] == text for a in accounts)
    }
    parts: list[Flowable] = [pairs(list(shared.items()), (105, width - 105))]
    if not group.several:
        return parts
    rows = [
        (name, account["Measured"], _rest(account, shared))
        for name, account in zip(group.names, accounts, strict=True)
    ]
    if "Measured" in shared and not any(rest for *_, rest in rows):
        return parts
    columns = (0.16 * width, 0.34 * width, 0.5 * width)
    head = ("Piece", "Measured", "What differs")
    return [*parts, *title("Piece by piece"), grid(head, rows, columns)]


def _rest(account: dict[str, str], shared: dict[str, str]) -> str:
    own = ((n, t) for n, t in account.items() if t and n not in shared and n != "Measured")
    return "; ".join(f"{name}: {text}" for name, text in own)


def _account(finding: Finding, clock: LocalTime) -> dict[str, str]:
    evidence = finding.evidence
    unread = (f"{clock.span(u.start, u.end)}: {u.why}" for u in evidence.unread)
    return {
        "Limit": finding.limit,
        "Measured": finding.measured,
        "How long": how_long(finding),
        "Why": why(finding),
        "Stage": clock.span(finding.stage_start, finding.stage_end),
        "Deadline": clock.full(finding.deadline),
        "Nothing was read": "; ".join(unread),
        "Inferred": evidence.inference,
        "Strict answer": strict_words(finding),
        "Doubt": evidence.doubt,
        "Would settle it": _reading(finding.settle, clock),
        "Or against it": _reading(finding.against, clock),
        "Allowance used": finding.allowance,
        "Local change": f"replaces: {finding.replaces}" if finding.replaces else "",
        "Effect": EFFECT.get(finding.effect, ""),
        "Note": finding.note,
        "Section": finding.citation,
        "Confirmed": f"{CONFIRMED[finding.confirmed]} (source: {finding.source})",
    }


def _reading(settling: SettlingReading | None, clock: LocalTime) -> str:
    if settling is None:
        return ""
    at = f" ({clock.full(settling.at)})" if settling.at else ""
    return f"{settling.what}{at}"


def _readings(group: Group, clock: LocalTime, width: float) -> list[Flowable]:
    most = max(_MOST_READINGS // len(group.findings), _LEAST_OF_A_PIECE)
    rows = [
        (f.piece or "all", clock.full(r.at), r.reading, r.probe or "unnamed", r.source, str(r.line))
        for f in group.findings
        for r in f.evidence.readings[:most]
    ]
    if not rows:
        return []
    columns = (70, 120, 65, 75, width - 370, 40)
    head = ("Piece", "When", "Reading", "Probe", "File", "Line")
    parts = [*title("Readings that decide"), grid(head, rows, columns)]
    cited = sum(len(f.evidence.readings) for f in group.findings)
    if cited > len(rows):
        parts.append(words(f"{len(rows)} of {cited} readings are printed here.", SMALL))
    return parts


def _actions(group: Group, clock: LocalTime, width: float) -> list[Flowable]:
    concerned: dict[tuple[str, str, str], list[str]] = {}
    for finding in group.findings:
        if finding.action is not None:
            by = clock.full(finding.action.by, "now")
            key = (by, finding.action.do, BASIS[finding.action.basis])
            concerned.setdefault(key, []).append(finding.piece)
    if not concerned:
        return []
    rows: list[list[str | Flowable]] = [
        [Tick(), by, words(_for_pieces(do, names, group)), basis]
        for (by, do, basis), names in concerned.items()
    ]
    table = grid(("", "By", "What to do", "On whose word"), rows, (22, 105, width - 227, 100))
    signed = (SignLine("Done by", "on", "at"), SignLine("What was done instead, and why"))
    if len(rows) > 1:
        return [*title("Action"), table, KeepTogether(list(signed))]
    return [KeepTogether([*title("Action"), table, *signed])]


def _for_pieces(do: str, names: list[str], group: Group) -> str:
    return do if len(names) == len(group.findings) else f"{', '.join(names)}: {do}"
