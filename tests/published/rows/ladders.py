"""The tables of the plant guideline, cell by cell."""

from __future__ import annotations

import csv
from decimal import Decimal
from typing import TYPE_CHECKING

from tempwitness.model.figures import parse_duration
from tests.published.rows.figures import seconds
from tests.published.rows.tables import HERE

if TYPE_CHECKING:
    from tempwitness.model.forms import Reach, ReachBy

__all__ = ["Cells", "longer_of", "of_reach", "of_reach_by", "typed_column", "typed_table"]

#: Of each row both temperatures and its times, in seconds.
Cells = list[tuple[Decimal, Decimal, tuple[Decimal, ...]]]


def _rows(file: str) -> list[dict[str, str]]:
    with (HERE / f"{file}.csv").open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


def _typed(file: str, heads: list[str]) -> Cells:
    return [
        (
            Decimal(row["f"]),
            Decimal(row["c"]),
            tuple(seconds(parse_duration(row[head])) for head in heads),
        )
        for row in _rows(file)
    ]


def typed_column(file: str, head: str) -> Cells:
    """Return one column of times, as typed."""
    return _typed(file, [head])


def typed_table(file: str) -> tuple[list[Decimal], Cells]:
    """Return the heads of all columns and their times, as typed."""
    heads = [head for head in _rows(file)[0] if head not in ("f", "c")]
    return [Decimal(head) for head in heads], _typed(file, heads)


def longer_of(one: Cells, other: Cells) -> Cells:
    """Return the longer time of each cell of two tables with the same temperatures.

    Raises
    ------
    ValueError
        If a temperature stands in one of them only.
    """
    longer = []
    for (f, c, holds), (f2, c2, holds2) in zip(one, other, strict=True):
        if (f, c) != (f2, c2):
            raise ValueError(f"{f} °F ({c} °C) stands beside {f2} °F ({c2} °C)")
        longer.append((f, c, tuple(map(max, holds, holds2))))
    return longer


def of_reach(test: Reach) -> Cells:
    """Return the cells of a shipped ladder with one column."""
    return [(row.f, row.c, (seconds(row.hold),)) for row in test.rows]


def of_reach_by(test: ReachBy) -> Cells:
    """Return the cells of a shipped ladder with several columns."""
    return [(row.f, row.c, tuple(map(seconds, row.holds))) for row in test.rows]
