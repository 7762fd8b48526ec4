"""Times that stand in a ladder beside another temperature than the rows print."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.published.rows.shipped import holds_beside
from tests.published.rows.tables import LADDERS

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tempwitness.model.rule import Code
    from tests.published.rows.check import Named
    from tests.published.rows.figures import Figure
    from tests.published.rows.tables import Line

__all__ = ["mispaired"]

Pair = tuple[list["Figure"], "Figure"]


def mispaired(code: Code, naming: Mapping[str, Sequence[Named]]) -> Iterator[str]:
    """Say which rows of a ladder no row prints, though it prints their temperature or their time.

    The tables of the plant guideline are compared cell by cell elsewhere.
    """
    for requirement in code.requirements:
        name = f"{code.head.id}#{requirement.id}"
        rows = [n for n in naming.get(name, ()) if n.row.rpartition(".")[0] not in LADDERS]
        printed = [pair for named in rows for pair in _pairs(named.lines)]
        for degrees, hold in holds_beside(requirement):
            if hold.asked and _parted((degrees, hold), printed):
                pair = ", ".join(map(str, degrees))
                yield f"{name}: no row that names it prints {hold} beside {pair}"


def _parted(pair: Pair, printed: Sequence[Pair]) -> bool:
    """Whether the rows print the temperature and the time, but not beside each other."""
    beside = [(_any_same(pair[0], there), pair[1].same_number(time)) for there, time in printed]
    return any(t for t, _ in beside) and any(h for _, h in beside) and (True, True) not in beside


def _any_same(some: Sequence[Figure], others: Sequence[Figure]) -> bool:
    return any(figure.same_number(other) for figure in some for other in others)


def _pairs(lines: Sequence[Line]) -> Iterator[Pair]:
    """Yield each time with the temperatures right before it, the last in each unit."""
    degrees: dict[str, Figure] = {}
    for figure in (line.figure for line in lines):
        if figure is None or figure.what not in ("°F", "°C", "s"):
            return
        if figure.what == "s" and degrees:
            yield list(degrees.values()), figure
            degrees = {}
        elif figure.what != "s":
            degrees[figure.what] = figure
