"""Where the header of a table stands, what stands before it, and which way the table lies."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.logs import Change
from tempwitness.readers.headers import Kind, heading, unit_alone

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from tempwitness.readers.problems import Problems
    from tempwitness.units import Unit

__all__ = [
    "HeadRow",
    "Layout",
    "find_header",
    "is_names",
    "preamble",
    "stated_unit",
    "without_names",
]

_TIME = (Kind.TIME, Kind.DATE, Kind.ELAPSED)
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)*")
_MOMENT = re.compile(r"\d{1,4}[-/.:]\d{1,2}(?!\d*$)|\d{1,2}:\d{2}\b|\d{1,2}\s?[ap]\.?m", re.I)
_CORNERS = {"", "probe", "piece", "sensor", "channel", "name", "point"}
# What may stand in a row of units besides units: the face of a clock, its zone, percent.
_BESIDE_UNITS = re.compile(r"[ymdhs:/.\s-]*|%|(?:GMT|UTC)(?:\s*[+-]\d{1,2}(?::?\d{2})?)?", re.I)
_STATES_UNIT = re.compile(r"\bunits?\b|\bscale\b", re.I)


@dataclass(frozen=True, slots=True)
class HeadRow:
    """A row near the beginning of a file, with the lines on which it begins and ends."""

    first: int
    last: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the header stands.

    Parameters
    ----------
    index : int
        Row of the header among the rows that were looked at.
    heads : tuple of tuples of str
        The header as written, in one row or two.
    header : tuple of str
        Names of the columns, those of the second row joined to those of the first.
    turned : bool
        Whether times run along the row and each row below is one probe.
    """

    index: int
    heads: tuple[tuple[str, ...], ...]
    header: tuple[str, ...]
    turned: bool = False

    @property
    def body(self) -> int:
        """Row after the header."""
        return self.index + len(self.heads)


def find_header(
    rows: Sequence[HeadRow], named: Collection[str], problems: Problems
) -> Layout | None:
    """Find the header: the line that names a time and something else that is known.

    Parameters
    ----------
    rows : sequence of HeadRow
        First rows of the file.
    named : collection of str
        Columns that the record maps: where all stand in a row, the row is a header too.
    problems : Problems

    Returns
    -------
    Layout or None
        ``None`` if no row is one.

    Raises
    ------
    InputError
        If two different rows could be the header.
    """
    found = list(_candidates(rows, named))
    if not found:
        turned = next((i for i in range(len(rows)) if _runs_along(rows, i)), None)
        if turned is not None:
            cells = rows[turned].cells
            return Layout(turned, (cells,), cells, turned=True)
        loose = next((i for i in range(len(rows)) if _before_figures(rows, i)), None)
        return None if loose is None else _layout(rows, loose)
    first, *others = found
    for other in others:
        if _lower(rows[other].cells) != _lower(rows[first].cells):
            problems.stop(
                f"lines {rows[first].first} and {rows[other].first} could both be the header: "
                f"'{_shown(rows[first].cells)}' and '{_shown(rows[other].cells)}'; which one "
                f"names the columns?",
                "delete the other line",
                line=rows[other].first,
            )
    return _layout(rows, first)


def _candidates(rows: Sequence[HeadRow], named: Collection[str]) -> Iterator[int]:
    """Rows that name a time and something known, down to the first row of readings."""
    met = False
    for i, row in enumerate(rows):
        if is_names(_layout(rows, i).header) or (named and set(named) <= set(row.cells)):
            met = True
            yield i
        elif met and any(_MOMENT.match(cell) for cell in row.cells):
            return


def is_names(cells: Sequence[str]) -> bool:
    """Whether a row names a time and something else that is known, and holds no figures."""
    filled = [cell for cell in cells if cell]
    if len(filled) < 2 or any(_figure(cell) for cell in filled):
        return False
    kinds = [heading(cell).kind for cell in filled]
    timed = [kind for kind in kinds if kind in _TIME]
    return bool(timed) and any(k not in (*_TIME, Kind.UNKNOWN) for k in kinds)


def without_names(cells: Sequence[str]) -> bool:
    """Whether a row holds figures or times where names of columns should stand."""
    return any(_figure(cell) for cell in cells)


def _figure(cell: str) -> bool:
    return bool(_NUMBER.fullmatch(cell) or _MOMENT.match(cell))


def _before_figures(rows: Sequence[HeadRow], i: int) -> bool:
    """Whether a row without figures stands before one of the same width that has some."""
    cells = rows[i].cells
    below = next((row.cells for row in rows[i + 1 :] if any(row.cells)), ())
    plain = len([c for c in cells if c]) > 1 and not any(_figure(c) for c in cells)
    return plain and len(below) == len(cells) and any(_figure(c) for c in below)


def _runs_along(rows: Sequence[HeadRow], i: int) -> bool:
    """Whether times run along a row, and names stand below its first cell."""
    corner, *times = rows[i].cells or ("",)
    filled = [cell for cell in times if cell]
    if not filled or not all(_MOMENT.match(cell) for cell in filled):
        return False
    if corner.lower() not in _CORNERS and heading(corner).kind not in _TIME:
        return False
    below = [row.cells for row in rows[i + 1 :] if any(row.cells)]
    return bool(below) and all(
        cells[0] and not _figure(cells[0]) and len(cells) <= len(times) + 1 for cells in below
    )


def _layout(rows: Sequence[HeadRow], i: int) -> Layout:
    cells = rows[i].cells
    units = rows[i + 1].cells if i + 1 < len(rows) else ()
    if not _is_units(units) or len(units) > len(cells) or any(_figure(c) for c in cells):
        return Layout(i, (cells,), cells)
    wide = (*units, *[""] * (len(cells) - len(units)))
    joined = tuple(_join(name, unit) for name, unit in zip(cells, wide, strict=True))
    return Layout(i, (cells, units), joined)


def _is_units(cells: Sequence[str]) -> bool:
    return any(unit_alone(c) for c in cells) and all(
        unit_alone(c) or _BESIDE_UNITS.fullmatch(c) for c in cells
    )


def _join(name: str, unit: str) -> str:
    if unit_alone(unit):
        said, found = heading(name).unit, heading(unit).unit
        if said is found:
            return name
        # Two units that differ are both written down, and so refused later.
        return f"{name} [°{found}]" if said is None else f"{name} [°{said}] [°{found}]"
    return f"{name} {unit}" if unit.upper().startswith(("GMT", "UTC")) else name


def preamble(rows: Sequence[HeadRow], layout: Layout, file: str) -> list[Change]:
    """List the lines before the header, one by one."""
    line = rows[layout.index].first
    return [
        Change(
            source=file,
            line=row.first,
            column="",
            written=_shown(row.cells),
            used="",
            reason=f"stands before the header in line {line}"
            if any(row.cells)
            else f"an empty line before the header in line {line}",
        )
        for row in rows[: layout.index]
    ]


def stated_unit(rows: Sequence[HeadRow]) -> tuple[Unit, int] | None:
    """Unit that a line before the header states for the whole file, and that line."""
    for row in rows:
        text = ", ".join(cell for cell in row.cells if cell)
        found = heading(re.split(r"[:,=]", text)[-1].strip()).unit
        if found is not None and _STATES_UNIT.search(text):
            return found, row.first
    return None


def _lower(cells: Sequence[str]) -> list[str]:
    return [cell.lower() for cell in cells]


def _shown(cells: Sequence[str]) -> str:
    text = " | ".join(cell for cell in cells if cell)
    return text if len(text) <= 120 else f"{text[:119]}…"
