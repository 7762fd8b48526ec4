"""All findings in tables, and the same lot under other codes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.content import comparison
from tempwitness.report.content.account import to_explain
from tempwitness.report.content.findings import HEAD, beside_rows, finding_rows, sections_told
from tempwitness.report.content.parts import Table
from tempwitness.report.html.markup import Markup, element, joined
from tempwitness.report.html.parts import part, section, table, verdict

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.report.content.findings import FindingRow
    from tempwitness.report.html.parts import Ids

__all__ = ["all_findings", "under_codes"]

_REQUIREMENT = HEAD.index("Requirement")


def all_findings(evaluation: Evaluation, ids: Ids) -> Markup:
    """Return the tables of all findings: what decides, advice apart, what does not apply."""
    if not evaluation.findings:
        told = element("p", "No requirement was applied.")
        return section("findings", "All findings", told)
    numbers = {
        id(finding): number
        for number, group in enumerate(to_explain(evaluation), 1)
        for finding in group.findings
    }
    tables = (
        table(
            ids,
            Table(name, HEAD, tuple(_cells(row, numbers) for row in rows)),
            names_row=_REQUIREMENT,
        )
        for name, rows in finding_rows(evaluation)
    )
    return section(
        "findings",
        "All findings",
        element("p", sections_told(evaluation), class_="small"),
        *tables,
        *(part(ids, made) for made in beside_rows(evaluation)),
    )


def _cells(row: FindingRow, numbers: dict[int, int]) -> tuple[str, ...]:
    """Return the cells with the answer's sign, and a link to where it is explained."""
    number = numbers.get(id(row.group.first))
    answer = verdict(row.group.verdict)
    if number is not None:
        link = element("a", f"explained as number {number}", href=f"#finding-{number}")
        answer = joined([answer, " ", element("span", link, class_="small screen")])
    return (answer, *row.cells[1:])


def under_codes(evaluation: Evaluation, ids: Ids) -> Markup:
    """Return the same lot under many codes; nothing where it was judged under its own alone."""
    if not evaluation.under:
        return Markup("")
    silent = comparison.nothing_said(evaluation)
    return section(
        "under",
        comparison.under_heading(evaluation),
        element("p", comparison.under_told(evaluation), class_="small"),
        _broken(evaluation, ids),
        *(part(ids, made) for made in comparison.kept_lists(evaluation)),
        element("p", silent) if silent else Markup(""),
    )


def _broken(evaluation: Evaluation, ids: Ids) -> Markup:
    rows = comparison.shared_rows(evaluation)
    if not rows:
        return element("p", comparison.NONE_BROKEN)
    cells = tuple((verdict(row.verdict), *row.cells()[1:]) for row in rows)
    made = Table(comparison.broken_name(evaluation), comparison.HEAD, cells)
    return table(ids, made, names_row=comparison.HEAD.index("The row that decides"))
