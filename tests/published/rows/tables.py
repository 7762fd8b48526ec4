"""The typed tables, and what the writers of the rule files made of each row."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

from tests.published.rows.figures import Figure, typed_figure

__all__ = ["LADDERS", "Entry", "Line", "Region", "read_tables", "typed_rows"]

HERE = Path(__file__).parent
#: The tables of the plant guideline that stand in files of their own, by the names of their rows.
LADDERS = {
    "FSIS.M": "fsis_meat",
    "FSIS.CHICKEN": "fsis_chicken",
    "FSIS.TURKEY": "fsis_turkey",
}
_LADDER_REGION = "us_plant"
_ENCODED = "encoded_"
_LADDER = "fsis_"
_KIND_OF = {"s": "time", "min": "time"}


@dataclass(frozen=True, slots=True)
class Line:
    """One number of a published row, or a row that prints none."""

    figure: Figure | None
    seen: str
    weight: str
    section: str
    source: str


@dataclass(frozen=True, slots=True)
class Entry:
    """Where a row stands in the rule files, as ``code#requirement`` or a code's id alone."""

    row: str
    names: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class Region:
    """The rows of one table, typed twice: as numbers, and as names of requirements."""

    name: str
    typed: dict[str, tuple[Line, ...]]
    encoded: tuple[Entry, ...]


def read_tables(folder: Path = HERE) -> tuple[Region, ...]:
    """Read all tables; what a row is encoded as goes with its region, whatever file it stands in.

    A row that is encoded but typed nowhere stays under the name of its file.
    """
    typed = {name: typed_rows(name, folder) for name in _typed_names(folder)}
    region_of = {row: name for name, rows in typed.items() for row in rows}
    encoded: dict[str, list[Entry]] = {name: [] for name in typed}
    for path in sorted(folder.glob(f"{_ENCODED}*.csv")):
        for line in _lines(path):
            entry = Entry(line["row"], tuple(line["encoded_as"].split()), line["reason"].strip())
            name = region_of.get(entry.row, path.stem.removeprefix(_ENCODED))
            encoded.setdefault(name, []).append(entry)
    return tuple(
        Region(name, typed.get(name, {}), tuple(entries)) for name, entries in encoded.items()
    )


def _typed_names(folder: Path) -> list[str]:
    names = [path.stem for path in folder.glob("*.csv")]
    return sorted(name for name in names if not name.startswith((_ENCODED, _LADDER)))


def typed_rows(name: str, folder: Path = HERE) -> dict[str, tuple[Line, ...]]:
    """Return the numbers of each row of a region."""
    found: dict[str, list[Line]] = {}
    for line in _lines(folder / f"{name}.csv"):
        found.setdefault(line["row"], []).append(_line(line))
    if name == _LADDER_REGION:
        for row, file in LADDERS.items():
            if (folder / f"{file}.csv").exists():
                found |= _ladder_rows(row, folder / f"{file}.csv")
    return {row: tuple(lines) for row, lines in found.items()}


def _lines(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _line(line: dict[str, str]) -> Line:
    figure = None
    if line["kind"]:
        figure = typed_figure(line["kind"], line["op"], line["value"], line["unit"])
    return Line(figure, line["seen"], line["weight"], line["section"], line["source"])


def _ladder_rows(row: str, path: Path) -> dict[str, list[Line]]:
    """Return each row of a ladder: both temperatures, its times and the heads of its columns."""
    found = {}
    for cells in _lines(path):
        figures = [typed_figure("temp", "", cells["f"], "F")]
        figures.append(typed_figure("temp", "", cells["c"], "C"))
        for head in [key for key in cells if key not in ("f", "c")]:
            number, unit = cells[head].split()
            figures.append(typed_figure(_KIND_OF[unit], "", number, unit))
            if head.isdigit():
                figures.append(typed_figure("percent", "", head, ""))
        found[f"{row}.{cells['f']}"] = [
            Line(figure, "text", "plant", "Tables 2, 3, 4 and 6", "FSIS-GD-2021-14")
            for figure in figures
        ]
    return found
