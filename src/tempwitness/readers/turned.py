"""A table that lies on its side: times run along a row, and each row below is one probe."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.readers.columns import Cells, Plan
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.readers.grid import Row
    from tempwitness.readers.sniff import Text

__all__ = ["turn"]

_NOTED = ("step", "event", "method", "note")
_WHOSE = ("piece", "place", "point", "probe")
_HEADER = ("time", "temp_f", "temp_c", *_WHOSE, *_NOTED)
_AT = {name: at for at, name in enumerate(_HEADER)}
_UNITS = {Unit.F: "temp_f", Unit.C: "temp_c"}


def turn(text: Text, plan: Plan) -> tuple[Text, Plan]:
    """Turn a table so that each reading is a row with the line of its probe.

    Parameters
    ----------
    text : Text
        A table that lies on its side.
    plan : Plan
        What each of its rows holds, as if it were a column.

    Returns
    -------
    Text, Plan
        The same table, one reading a row.
    """
    rows = text.rows or ()
    found: list[Row] = []
    for column in range(1, len(rows[0][1])):
        found += _moment(rows, column, plan)
    words = {name: at for name, at in _AT.items() if at not in (1, 2)}
    used = {_UNITS[c.unit] for c in plan.cells}
    cells = tuple(Cells(_AT[name], unit) for unit, name in _UNITS.items() if name in used)
    first, last = rows[0][0], rows[-1][0]
    said = (
        f"the table lies on its side: times run along line {first}, each line down to {last} is "
        f"one probe or one kind of note, and the line of a reading is that of its probe"
    )
    turned = Plan(words, cells, (said, *plan.understood[1:]), plan.offset)
    return replace(text, header=_HEADER, rows=tuple(found)), turned


def _moment(rows: Sequence[Row], column: int, plan: Plan) -> Iterator[Row]:
    """Readings and notes of one moment."""

    def at(row: int) -> str:
        cells = rows[row][1]
        return cells[column] if column < len(cells) else ""

    time = at(plan.words["time"])
    named = {role: at(plan.words[role]) for role in _WHOSE if role in plan.words}
    noted = {role: at(plan.words[role]) for role in _NOTED if role in plan.words}
    if any(noted.values()):
        first = min(plan.words[role] for role, word in noted.items() if word)
        # Without a piece it concerns all of them, as a word about the air does.
        whose = named if named.get("piece") else {**named, "place": "air"}
        yield rows[first][0], _row({"time": time, **whose, **noted})
    for cells in plan.cells:
        written = at(cells.column)
        if written:
            own = {
                "piece": cells.piece,
                "place": cells.place.value if cells.place else None,
                "point": cells.point,
                "probe": cells.probe,
            }
            known = {role: word for role, word in own.items() if word}
            whole = {"time": time, **named, **known, _UNITS[cells.unit]: written}
            yield rows[cells.column][0], _row(whole)


def _row(cells: dict[str, str]) -> list[str]:
    return [cells.get(name, "") for name in _HEADER]
