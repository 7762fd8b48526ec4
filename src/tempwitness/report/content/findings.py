"""All findings in short: what decides, advice apart, what does not apply."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Confirmed, Verdict
from tempwitness.report.aside import ruled_out
from tempwitness.report.brief import close_call, measure, section, short_citation, whose
from tempwitness.report.content.parts import Part, Sentences, Table
from tempwitness.report.groups import Group, grouped
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

__all__ = ["HEAD", "FindingRow", "beside_rows", "finding_rows", "sections_told"]

HEAD = ("Answer", "Stage, pieces", "Requirement", "Measured; limit", "Section; how confirmed")


@dataclass(frozen=True, slots=True)
class FindingRow:
    """The row of findings that share an answer, under the names of `HEAD`."""

    group: Group
    cells: tuple[str, ...]


def sections_told(evaluation: Evaluation) -> str:
    """Say how sections and sources are to be read."""
    return (
        f"A section without the name of a text is one of {code_name(evaluation.code)}. The short "
        "names behind the sections stand in the list of references."
    )


def finding_rows(evaluation: Evaluation) -> list[tuple[str, list[FindingRow]]]:
    """Return the tables of findings with their names; one without rows is left out."""
    broken = [f for f in evaluation.advice if f.verdict is not Verdict.MET]
    tables: tuple[tuple[str, Iterable[Finding]], ...] = (
        ("Under the code", evaluation.binding),
        ("Under the codes beside it – does not change the answer", evaluation.compared),
        ("Advice – not law, does not change the answer", broken),
    )
    made = [
        (name, [_row(group, evaluation) for group in grouped(findings, evaluation.lot.pieces)])
        for name, findings in tables
    ]
    return [(name, rows) for name, rows in made if rows]


def beside_rows(evaluation: Evaluation) -> list[Part]:
    """Return the advice that was kept, and what does not apply."""
    parts: tuple[Part, ...] = (
        _kept_advice(evaluation),
        _left_out(evaluation),
        Sentences(
            f"{verdict_word(Verdict.NOT_APPLICABLE)} to this lot",
            tuple(f"{reason}: {'; '.join(named)}." for reason, named in ruled_out(evaluation)),
        ),
    )
    return [p for p in parts if (p.rows if isinstance(p, Table) else p.lines)]


def _row(group: Group, evaluation: Evaluation) -> FindingRow:
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
    cells = (
        verdict_word(group.verdict),
        group.subject(len(evaluation.lot.pieces)),
        titled(first),
        "; ".join(part for part in figures if part),
        "; ".join(p for p in (cited, weight, confirmed, first.source) if p),
    )
    return FindingRow(group, cells)


def _measured(group: Group) -> str:
    """Return what was measured of each piece, once where it is the same."""
    shared = group.one(lambda finding: measure(finding) or finding.reason)
    if shared:
        return shared
    return "; ".join(
        f"{plain(name)}: {measure(finding) or finding.reason}"
        for name, finding in zip(group.names, group.findings, strict=True)
    )


def _kept_advice(evaluation: Evaluation) -> Sentences:
    """Return the advice that was kept as one short line for each title."""
    kept = [f for f in evaluation.advice if f.verdict is Verdict.MET]
    places: dict[tuple[str, str], list[str]] = {}
    for group in grouped(kept, evaluation.lot.pieces):
        key = (group.first.title, whose(group.first, evaluation))
        places.setdefault(key, []).append(group.subject(len(evaluation.lot.pieces)))
    lines = tuple(
        f"{name} ({'; '.join(dict.fromkeys(where))}); {source}"
        for (name, source), where in places.items()
    )
    return Sentences("Advice that was kept", lines)


def _left_out(evaluation: Evaluation) -> Table:
    head = ("Requirement", "Stage, pieces", "Why it does not apply", "Section")
    rows = tuple(
        (name, where, reason, short_citation(cited, evaluation))
        for name, where, reason, cited in left_out(evaluation)
    )
    return Table(f"{verdict_word(Verdict.NOT_APPLICABLE)} to a stage", head, rows)
