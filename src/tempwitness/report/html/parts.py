"""Sections, tables, lists and the signs of answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.content.parts import Table
from tempwitness.report.html.markup import Markup, element, expanded, joined, text
from tempwitness.report.wording import verdict_word

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tempwitness.report.content.parts import Part

__all__ = ["Ids", "bullets", "pairs", "part", "section", "sign_lines", "table", "verdict"]

_LONG_WORD = 28

# Drawn in a square of 16: each answer has a shape of its own, whatever the colour.
_SIGNS = {
    Verdict.NOT_MET: '<path d="M1 1h14v14H1z"/><path class="cut" d="M4 4l8 8M12 4l-8 8"/>',
    Verdict.NOT_SHOWN: '<path class="line" d="M8 1.5a6.5 6.5 0 1 0 .01 0z"/>'
    '<path d="M8 1.5a6.5 6.5 0 0 1 0 13z"/>',
    Verdict.OPEN: '<path class="line" d="M8 1.5A6.5 6.5 0 1 1 1.5 8M8 4.5V8h3.5"/>',
    Verdict.NEEDS_LIMIT: '<path class="line" d="M2 13.5h12M4.5 2.5h7v7h-7z"/>',
    Verdict.MET: '<path class="line" d="M2 8.5l4 4.5 8-10"/>',
    Verdict.NOT_APPLICABLE: '<path class="line" d="M3 8h10"/>',
}


class Ids:
    """Hands out names of places in the page, each once."""

    def __init__(self) -> None:
        self._count = 0

    def next(self, kind: str) -> str:
        """Return a name that no other place has."""
        self._count += 1
        return f"{kind}-{self._count}"


def verdict(answer: Verdict) -> Markup:
    """Return an answer in words, with its sign."""
    sign = Markup(
        '<svg class="sign" viewBox="0 0 16 16" aria-hidden="true" focusable="false">'
        f"{_SIGNS[answer]}</svg>"
    )
    kind = answer.value.replace("_", "-")
    return element("strong", sign, verdict_word(answer), class_=f"verdict {kind}")


def section(key: str, heading: str, *children: str) -> Markup:
    """Return a section under a heading of the second rank."""
    return element("section", element("h2", heading), *children, id=key)


def pairs(rows: Iterable[tuple[str, str]]) -> Markup:
    """Return names with their words; a name without words is left out."""
    said = [
        element("div", element("dt", name), element("dd", expanded(words)))
        for name, words in rows
        if words
    ]
    return element("dl", *said) if said else Markup("")


def bullets(lines: Iterable[str], kind: str | None = None) -> Markup:
    """Return a list; nothing where there is no line."""
    items = [element("li", line) for line in lines]
    return element("ul", *items, class_=kind) if items else Markup("")


def table(
    ids: Ids,
    made: Table,
    *,
    rank: int = 3,
    names_row: int = 0,
    kind: str = "",
) -> Markup:
    """Return a table in a frame of its own that scrolls sideways and can be reached by key.

    Parameters
    ----------
    ids : Ids
    made : Table
    rank : int
        Rank of its heading.
    names_row : int
        Column whose cell names the row.
    kind : str
        Its class; by the number of columns if omitted.
    """
    caption = ids.next("table")
    columns = len(made.head)
    kind = kind or ("wide" if columns > 4 else "medium" if columns == 4 else "")
    head = joined(element("th", expanded(name), scope="col") for name in made.head)
    body = joined(_row(cells, names_row) for cells in made.rows)
    return element(
        "div",
        element(
            "table",
            element("caption", element(f"h{rank}", made.name), id=caption),
            element("thead", element("tr", head)),
            element("tbody", body),
        ),
        class_=f"frame {kind}".strip(),
        role="group",
        aria_labelledby=caption,
        tabindex="0",
    )


def _row(cells: Sequence[str], names_row: int) -> Markup:
    said = (
        element("th", cell, scope="row", class_=_kind(cell))
        if place == names_row
        else element("td", cell, class_=_kind(cell))
        for place, cell in enumerate(cells)
    )
    return element("tr", joined(said))


def _kind(cell: str) -> str | None:
    """Return the class of a cell with a word that no column is wide enough for."""
    if isinstance(cell, Markup) or len(cell) < _LONG_WORD:
        return None
    return "broken" if max(map(len, cell.split()), default=0) >= _LONG_WORD else None


def part(ids: Ids, made: Part) -> Markup:
    """Return a table, or sentences under a heading of the third rank."""
    if isinstance(made, Table):
        return table(ids, made)
    return joined([element("h3", made.name), bullets(map(expanded, made.lines))])


def sign_lines(*labels: str) -> Markup:
    """Return lines to write on, which stand on paper only."""
    return element("ul", *(element("li", text(label)) for label in labels), class_="paper")
