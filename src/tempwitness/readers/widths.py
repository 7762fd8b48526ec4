"""Rows with more or fewer cells than the header names columns, and lines that broke off."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tempwitness.readers.columns import Plan
    from tempwitness.readers.grid import Row
    from tempwitness.readers.problems import Problems
    from tempwitness.readers.sniff import Text

__all__ = ["fit", "refuse_open_end"]

_NUMBER = re.compile(r"[+-]?(\d+)(?:([.,])(\d*))?")
# With fewer others than this nothing is known about how long a figure should be.
_ENOUGH = 2
_NAMES = ("piece", "place", "point", "probe", "step", "event")


def fit(rows: Sequence[Row], text: Text, plan: Plan, problems: Problems) -> list[Row]:
    """Make all rows as wide as the header; refuse surplus cells and half lines.

    Parameters
    ----------
    rows : sequence of Row
    text : Text
    plan : Plan
    problems : Problems
        Takes the refusals.
    """
    wide = len(text.header)
    if text.data:
        _refuse_half_lines(rows, text, plan, problems)
    # A separator at the end of every row is a habit of the writer; at the end of some it may be
    # the comma within a number.
    at = [c.column for c in plan.cells]
    even = len({len(cells) for _, cells in rows}) == 1
    harmless = even or text.separator != "," or not any(column + 1 < wide for column in at)
    for line, cells in rows:
        if len(cells) > wide and (any(cells[wide:]) or not harmless):
            _refuse_surplus(line, cells, text, at, problems)
    return [(line, [*cells[:wide], *[""] * (wide - len(cells))]) for line, cells in rows]


def _refuse_surplus(
    line: int, cells: Sequence[str], text: Text, degrees: Sequence[int], problems: Problems
) -> None:
    wide = len(text.header)
    if text.layout is not None and any(cells[wide : len(text.layout.header)]):
        problems.add(
            f"column {wide + 1} has no name, but line {line} has something in it: "
            f"'{next(filter(None, cells[wide:]))}'",
            "name it in the header",
            line=text.line,
        )
        return
    split = text.separator == "," and any(
        cells[i].lstrip("+-").isdigit() and cells[i + 1].isdigit()
        for i in degrees
        if i + 1 < len(cells)
    )
    if split:
        why = "; it looks as if decimal commas had split the numbers"
        hint = (
            "export the table again with semicolons or tabs between the columns, or with decimal "
            "points; a comma inside a cell needs quotation marks around the cell"
        )
    elif text.data:
        why, hint = "", "a comma inside a cell needs quotation marks around the cell"
    else:
        why, hint = "", "name the column, or clear the cells that stand beside the table"
    problems.add(
        f"the row has {len(cells)} cells where the header names {wide} columns{why}",
        hint,
        line=line,
    )


def _refuse_half_lines(rows: Sequence[Row], text: Text, plan: Plan, problems: Problems) -> None:
    """Refuse short rows that may have lost their end, and a last line that may have."""
    wide = len(text.header)
    short = [row for row in rows if len(row[1]) < wide]
    open_end = not text.data.endswith((b"\n", b"\r"))
    if not short and not open_end:
        return
    padded = any(len(cells) >= wide and not cells[wide - 1] for _, cells in rows)
    habit = not padded and 2 * len(short) >= len(rows)
    shapes = _Shapes.of((cells for _, cells in rows), plan)
    for row in short:
        last = open_end and row is rows[-1]
        if last or not habit or shapes.shortened(row[1]):
            problems.add(
                f"the row has {len(row[1])} of {wide} cells"
                f"{', and the file ends in the midst of it' if last else ''}: it may be half a "
                f"line, and its last figure half a number",
                "complete the row, with an empty cell for each that holds nothing, or delete it",
                line=row[0],
            )
    if open_end and rows and len(rows[-1][1]) >= wide:
        _refuse_tail(rows[-1], shapes, problems)


def refuse_open_end(rows: Sequence[Row], plan: Plan, problems: Problems) -> None:
    """Refuse a last line without a line break that may have lost its end.

    Parameters
    ----------
    rows : sequence of Row
        The last rows of a table, as wide as its header.
    """
    if rows:
        _refuse_tail(rows[-1], _Shapes.of((cells for _, cells in rows), plan), problems)
        problems.check()


def _refuse_tail(row: Row, shapes: _Shapes, problems: Problems) -> None:
    line, cells = row
    if shapes.shortened(cells):
        problems.add(
            f"the file ends without a line break, and its last cell '{cells[-1]}' is shorter than "
            f"those above: the line may be broken off",
            "if it is whole, end the line with a line break; else complete or delete it",
            line=line,
        )


@dataclass(slots=True)
class _Shapes:
    """How long the figures and words of each column are.

    Parameters
    ----------
    plan : Plan
    decimals, digits, length : dict of int to Counter
        For each column how many rows have so many decimals, figures before them, signs.
    words : dict of int to Counter
        Words of each column that holds names.
    """

    plan: Plan
    decimals: dict[int, Counter[int]] = field(default_factory=dict)
    digits: dict[int, Counter[int]] = field(default_factory=dict)
    length: dict[int, Counter[int]] = field(default_factory=dict)
    words: dict[int, Counter[str]] = field(default_factory=dict)

    @classmethod
    def of(cls, rows: Iterable[Sequence[str]], plan: Plan) -> _Shapes:
        """Measure rows."""
        found = cls(plan)
        degrees = {c.column for c in plan.cells}
        names = {plan.words[role] for role in _NAMES if role in plan.words}
        for cells in rows:
            for at, cell in enumerate(cells):
                if at in degrees:
                    found._take(at, cell)
                elif at in names:
                    found.words.setdefault(at, Counter())[cell] += 1
                else:
                    found.length.setdefault(at, Counter())[len(cell)] += 1
        return found

    def _take(self, at: int, cell: str) -> None:
        match = _NUMBER.fullmatch(cell)
        if match is not None:
            self.decimals.setdefault(at, Counter())[len(match[3] or "")] += 1
            self.digits.setdefault(at, Counter())[len(match[1])] += 1

    def shortened(self, cells: Sequence[str]) -> bool:
        """Whether the last cell of a row is shorter than all others of its column."""
        at = len(cells) - 1
        cell = cells[at]
        match = _NUMBER.fullmatch(cell)
        if at in self.decimals and match is not None:
            if match[2] and not match[3]:
                return True
            return _below(self.decimals[at], len(match[3] or "")) or _below(
                self.digits[at], len(match[1])
            )
        if at in self.words:
            known = self.words[at]
            return known[cell] == 1 and any(w != cell and w.startswith(cell) for w in known)
        return at == self.plan.words["time"] and _below(self.length[at], len(cell))


def _below(seen: Counter[int], mine: int) -> bool:
    """Whether one size that was counted too is below all others."""
    others = seen - Counter([mine])
    return others.total() >= _ENOUGH and mine < min(others)
