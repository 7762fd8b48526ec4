"""Text of the command that sets codes beside each other: columns if they fit, else line by line."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING, Any

from tempwitness.cli import wrapping
from tempwitness.cli.wrapping import fitted, wrapped
from tempwitness.rulebook.comparison.wording import (
    TITLES,
    aside,
    cell_lines,
    code_line,
    explanations,
    strictest_words,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.rulebook.comparison.tables import Row, TopicTable

__all__ = ["compare_text"]

_LABEL, _NARROWEST, _GAP = 22, 24, 2


def compare_text(codes: Sequence[dict[str, Any]], found: Sequence[TopicTable]) -> str:
    """Return the comparison of codes: what they are, one table a topic, and what its marks mean.

    Parameters
    ----------
    codes : sequence of dict
        As `raw_code` returns them.
    found : sequence of TopicTable
    """
    lines: list[str] = []
    for code in codes:
        lines += wrapped(code["head"]["id"], 0)
        lines += wrapped(code_line(code), 2)
    names = [code["head"]["id"] for code in codes]
    column = _column(names)
    body: list[str] = []
    for table in found:
        body += ["", *_table(table, names, column)]
    if not found:
        body += ["", "Nothing was found under these topics."]
    lines += [*body, ""]
    for sentence in explanations(found):
        lines += wrapped(sentence, 0)
    return "\n".join(lines)


def _column(names: Sequence[str]) -> int:
    """Return how wide each code's column can be, or 0 if they do not fit beside each other."""
    wide = (wrapping.width() - _LABEL) // len(names) - _GAP
    return wide if wide >= max(_NARROWEST, *(len(name) for name in names)) else 0


def _table(table: TopicTable, names: Sequence[str], column: int) -> Iterator[str]:
    title = TITLES[table.topic]
    yield title.upper()
    yield "=" * len(title)
    rows, left = aside(table)
    if column and rows:
        yield from _side_by_side("", [[name] for name in names], column)
    for row in rows:
        yield ""
        label = row.label(table.usual)
        if column:
            cells = [cell_lines(cell) for cell in row.cells.values()]
            yield from _side_by_side(label, cells, column)
        else:
            yield from wrapped(label[:1].upper() + label[1:], 0)
            yield from _stacked(row)
        said = strictest_words(row)
        if said:
            yield from wrapped(f"-> {said}", 2)
    yield from _aside(left, table.usual, names)


def _side_by_side(label: str, cells: Sequence[Sequence[str]], column: int) -> Iterator[str]:
    """Write one row in columns, the label first."""
    first = fitted(label[:1].upper() + label[1:], _LABEL - _GAP, hanging=0) if label else [""]
    parts = [first, *([x for text in cell for x in fitted(text, column)] for cell in cells)]
    widths = [_LABEL, *(column + _GAP for _ in cells)]
    for line in zip_longest(*parts, fillvalue=""):
        pairs = zip(line, widths, strict=True)
        yield "".join(text.ljust(wide) for text, wide in pairs).rstrip()


def _stacked(row: Row) -> Iterator[str]:
    """Write one row with a line or more for each code."""
    name_wide = max(len(name) for name in row.cells) + _GAP
    for name, cell in row.cells.items():
        before = name
        for text in cell_lines(cell):
            yield from wrapped(f"{before.ljust(name_wide)}{text}", 2, name_wide + _GAP)
            before = ""


def _aside(rows: Sequence[Row], usual: str, names: Sequence[str]) -> Iterator[str]:
    """Write what was found in one code only, code by code."""
    for name in names:
        own = [row for row in rows if row.found_in == (name,)]
        if own:
            yield ""
            yield from wrapped(f"Found in {name} only, under conditions or beside the figures:", 0)
        for row in own:
            texts = "; ".join(cell_lines(row.cells[name]))
            label = row.label(usual)
            yield from wrapped(f"{label[:1].upper()}{label[1:]}: {texts}", 2, 4)
