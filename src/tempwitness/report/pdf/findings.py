"""The tables of all findings, and what was kept or does not apply in short."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, PageBreak

from tempwitness.model.vocabulary import Confirmed, Verdict
from tempwitness.report.aside import ruled_out
from tempwitness.report.brief import close_call, measure, section, short_citation, whose
from tempwitness.report.groups import Group, grouped
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY, SMALL, grid, title, words
from tempwitness.report.second import strict_briefly
from tempwitness.report.wording import (
    CONFIRMED_BRIEFLY,
    WEIGHT,
    code_name,
    left_out,
    plain,
    titled,
    verdict_word,
)

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.finding import Evaluation, Finding

__all__ = ["all_findings"]


def all_findings(evaluation: Evaluation, width: float) -> list[Flowable]:
    """Set the tables of all findings: what decides, advice apart, what does not apply."""
    parts: list[Flowable] = [PageBreak(), Heading("All findings", "findings")]
    if not evaluation.findings:
        return [*parts, words("No requirement was applied.", BODY)]
    told = (
        f"A section without the name of a text is one of {code_name(evaluation.code)}. The short "
        "names behind the sections stand in the list of references."
    )
    parts.append(words(told, SMALL))
    parts += _table("Under the code", evaluation, evaluation.binding, width)
    beside = "Under the codes beside it – does not change the answer"
    parts += _table(beside, evaluation, evaluation.compared, width)
    broken = [f for f in evaluation.advice if f.verdict is not Verdict.MET]
    advice = "Advice – not law, does not change the answer"
    parts += _table(advice, evaluation, broken, width)
    parts += _kept_advice(evaluation)
    return parts + _left_out(evaluation, width)


def _table(
    name: str, evaluation: Evaluation, findings: Iterable[Finding], width: float
) -> list[Flowable]:
    groups = grouped(findings, evaluation.lot.pieces)
    if not groups:
        return []
    shares = (0.12, 0.16, 0.22, 0.28, 0.22)
    head = ("Answer", "Stage, pieces", "Requirement", "Measured; limit", "Section; how confirmed")
    rows = [_row(group, evaluation) for group in groups]
    return [*title(name), grid(head, rows, [share * width for share in shares])]


def _row(group: Group, evaluation: Evaluation) -> tuple[str, ...]:
    first = group.first
    limit = f"limit: {first.limit}" if first.limit else ""
    doubt, strict = close_call(group), strict_briefly(group)
    figures = (
        _measured(group),
        limit,
        f"strict: {strict}" if strict else "",
        f"doubt: {doubt}" if doubt else "",
    )
    cited = section(first, evaluation)
    weight = "" if first.weight.binds or WEIGHT[first.weight] in cited else WEIGHT[first.weight]
    confirmed = "number checked against the text"
    if first.confirmed is not Confirmed.TEXT:
        confirmed = CONFIRMED_BRIEFLY[first.confirmed]
    return (
        verdict_word(group.verdict),
        group.subject(len(evaluation.lot.pieces)),
        titled(first),
        "; ".join(part for part in figures if part),
        "; ".join(p for p in (cited, weight, confirmed, first.source) if p),
    )


def _measured(group: Group) -> str:
    """Return what was measured of each piece, once where it is the same."""
    shared = group.one(lambda finding: measure(finding) or finding.reason)
    if shared:
        return shared
    return "; ".join(
        f"{plain(name)}: {measure(finding) or finding.reason}"
        for name, finding in zip(group.names, group.findings, strict=True)
    )


def _kept_advice(evaluation: Evaluation) -> list[Flowable]:
    """Set the advice that was kept as one short line for each title."""
    kept = [f for f in evaluation.advice if f.verdict is Verdict.MET]
    places: dict[tuple[str, str], list[str]] = {}
    for group in grouped(kept, evaluation.lot.pieces):
        key = (group.first.title, whose(group.first, evaluation))
        places.setdefault(key, []).append(group.subject(len(evaluation.lot.pieces)))
    lines = [
        words(f"– {name} ({'; '.join(dict.fromkeys(where))}); {source}", SMALL)
        for (name, source), where in places.items()
    ]
    return [*title("Advice that was kept"), *lines] if lines else []


def _left_out(evaluation: Evaluation, width: float) -> list[Flowable]:
    """Set what does not apply: for the whole lot joined by reason, else as a table."""
    parts: list[Flowable] = []
    head = ("Requirement", "Stage, pieces", "Why it does not apply", "Section")
    columns = [share * width for share in (0.3, 0.22, 0.28, 0.2)]
    rows = [
        (name, where, reason, short_citation(cited, evaluation))
        for name, where, reason, cited in left_out(evaluation)
    ]
    if rows:
        parts += [
            *title(f"{verdict_word(Verdict.NOT_APPLICABLE)} to a stage"),
            grid(head, rows, columns),
        ]
    ruled = ruled_out(evaluation)
    if ruled:
        parts += title(f"{verdict_word(Verdict.NOT_APPLICABLE)} to this lot")
    return parts + [words(f"{reason}: {'; '.join(named)}.", SMALL) for reason, named in ruled]
