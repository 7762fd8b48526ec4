"""One page: the same lot under many codes, those that it fails first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, PageBreak

from tempwitness.report.content.comparison import (
    HEAD,
    NONE_BROKEN,
    broken_name,
    kept_lists,
    nothing_said,
    shared_rows,
    under_heading,
    under_told,
)
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY, SMALL, grid, title, words

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation

__all__ = ["comparison_page"]

#: Rows of the table, and codes named in one of them, that a page has room for.
_MOST_ROWS = 20
_MOST_NAMED = 8


def comparison_page(evaluation: Evaluation, width: float) -> list[Flowable]:
    """Set the page; nothing where the lot was judged under its own code alone."""
    if not evaluation.under:
        return []
    parts: list[Flowable] = [PageBreak(), Heading(under_heading(evaluation), "under")]
    parts.append(words(under_told(evaluation), SMALL))
    parts += _broken(evaluation, width)
    for part in kept_lists(evaluation):
        parts += title(part.name)
        parts += [words(line, SMALL) for line in part.lines]
    silent = nothing_said(evaluation)
    return [*parts, words(silent, SMALL)] if silent else parts


def _broken(evaluation: Evaluation, width: float) -> list[Flowable]:
    """Set what is not met and not shown as a table, as far as the page has room."""
    shared = shared_rows(evaluation)
    if not shared:
        return [words(NONE_BROKEN, BODY)]
    rows = [row.cells(_MOST_NAMED) for row in shared[:_MOST_ROWS]]
    columns = [share * width for share in (0.12, 0.33, 0.42, 0.13)]
    parts = [*title(broken_name(evaluation)), grid(HEAD, rows, columns)]
    more = len(shared) - len(rows)
    if more:
        parts.append(words(f"{more} more rows have no room here; check --all lists them.", SMALL))
    return parts
