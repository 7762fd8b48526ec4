"""The tables of all findings, and what was kept or does not apply in short."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, PageBreak

from tempwitness.report.content.findings import HEAD, beside_rows, finding_rows, sections_told
from tempwitness.report.content.parts import Table
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY, SMALL, grid, title, words

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation

__all__ = ["all_findings"]

_SHARES = (0.12, 0.16, 0.22, 0.28, 0.22)
_LEFT_OUT = (0.3, 0.22, 0.28, 0.2)


def all_findings(evaluation: Evaluation, width: float) -> list[Flowable]:
    """Set the tables of all findings: what decides, advice apart, what does not apply."""
    parts: list[Flowable] = [PageBreak(), Heading("All findings", "findings")]
    if not evaluation.findings:
        return [*parts, words("No requirement was applied.", BODY)]
    parts.append(words(sections_told(evaluation), SMALL))
    for name, rows in finding_rows(evaluation):
        cells = [row.cells for row in rows]
        parts += [*title(name), grid(HEAD, cells, [share * width for share in _SHARES])]
    for part in beside_rows(evaluation):
        parts += title(part.name)
        if isinstance(part, Table):
            columns = [share * width for share in _LEFT_OUT]
            parts.append(grid(part.head, part.rows, columns))
        else:
            # What was kept is a list; what does not apply begins with its reason.
            dash = "– " if part.name.startswith("Advice") else ""
            parts += [words(f"{dash}{line}", SMALL) for line in part.lines]
    return parts
