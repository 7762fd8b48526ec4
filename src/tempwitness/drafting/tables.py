"""Files of readings that a record will point at: what their columns hold, and whether they read."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Place
from tempwitness.readers.columns import WORDS, Said, plan_columns
from tempwitness.readers.encoding import GZIP_SUFFIX
from tempwitness.readers.files import (
    JSON_SUFFIXES,
    TEXT_SUFFIXES,
    WORKBOOK_SUFFIXES,
    read_file,
    text_of,
)
from tempwitness.readers.names import Names
from tempwitness.readers.opening import bytes_of
from tempwitness.readers.problems import Problems, nearest
from tempwitness.readers.shape import FileTable
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from tempwitness.drafting.draft import Table
    from tempwitness.drafting.toml_text import Value
    from tempwitness.readers.columns import Cells
    from tempwitness.readers.timeline import Frame

__all__ = ["Seen", "add_column", "header_of", "see", "settle_columns", "unclear", "with_probe"]

_ENDINGS = ("_f", "_c")
_PER_ROW = {"piece", "place", "point", "probe"}
_LONG = ("temp_f", "temp_c")
_SHARED = (Place.AIR.value, Place.MEDIUM.value)


@dataclass(frozen=True, slots=True)
class Seen:
    """A file of readings as it was understood.

    Parameters
    ----------
    table : Table
        What the record says of it.
    rows : int
    understood : tuple of str
        One sentence each.
    columns : tuple of (str, Cells)
        Columns of temperatures by name.
    pieces : tuple of str
        Pieces that the file names.
    probes : dict of str to str
        Probes that its rows name, with what each reads: ``food`` or ``air``.
    unnamed : bool
        Whether it holds readings of food that name no piece.
    names_probes : bool
        Whether a column names the probe of every row.
    """

    table: Table
    rows: int
    understood: tuple[str, ...]
    columns: tuple[tuple[str, Cells], ...]
    pieces: tuple[str, ...]
    probes: dict[str, str]
    unnamed: bool
    names_probes: bool


def header_of(path: Path, sheet: str | None = None) -> tuple[str, ...]:
    """Return the names of a file's columns; none where the kind of file is not read at all.

    Raises
    ------
    InputError
        If the file cannot be opened, or its first line cannot be understood.
    """
    raw = bytes_of(path, name=str(path))
    plain = path.with_suffix("") if path.suffix.lower() == GZIP_SUFFIX else path
    if plain.suffix.lower() not in (*TEXT_SUFFIXES, *WORKBOOK_SUFFIXES, *JSON_SUFFIXES):
        return ()
    return text_of(path, raw, sheet, Problems(str(path))).header


def unclear(header: Sequence[str]) -> list[str]:
    """Return the columns whose names alone do not say what they hold.

    Examples
    --------
    >>> unclear(("time", "left_f", "Probe 1", "temp"))
    ['Probe 1', 'temp']
    """
    return [name for name in header if name and not _plain(name.lower())]


def _plain(name: str) -> bool:
    ending = name[-2:] in _ENDINGS and bool(name[:-2].strip("_ "))
    return name in WORDS or ending


def add_column(table: Table, name: str, answer: str) -> None:
    """Write what a column holds into the table of its file.

    Parameters
    ----------
    table : Table
        The ``[[file]]``, changed in place.
    name : str
        The column.
    answer : str
        ``ignore``, a word such as ``time``, or a unit, which a piece and a place may follow:
        ``F``, ``F:left``, ``C:air``, ``F:left:surface``.

    Raises
    ------
    ValueError
        Saying what cannot be understood.
    """
    what, *whose = [part.strip() for part in answer.split(":")]
    columns = _columns(table)
    if what.upper() in Unit.__members__:
        table["columns"] = {**columns, name: {**_whose(whose), "unit": what.upper()}}
    elif what.lower() in WORDS and not whose:
        table["columns"] = {**columns, name: {"as": what.lower()}}
    elif what.lower() == "ignore" and not whose:
        table["ignore"] = [*_ignored(table), name]
    else:
        raise ValueError(
            f"'{answer}' does not say what a column holds{nearest(what, ('ignore', *WORDS))}; it "
            f"is F or C, {', '.join(WORDS)}, or ignore"
        )


def settle_columns(table: Table, header: Sequence[str]) -> None:
    """Let columns of temperatures stand for their rows where other columns say whose a row is.

    Parameters
    ----------
    table : Table
        The ``[[file]]`` with all its columns, changed in place.
    header : sequence of str
        All columns of the file.

    Raises
    ------
    ValueError
        If a column was given a piece of its own although the rows name theirs, or a row has more
        temperatures than it can hold.
    """
    columns = _columns(table)
    plain = set(header) - columns.keys() - set(map(str, _ignored(table)))
    roles = {name.lower() for name in plain} | {str(held.get("as")) for held in columns.values()}
    if not _PER_ROW & roles:
        return
    for name, held in columns.items():
        if "unit" not in held or held.get("place") in _SHARED:
            continue
        if "piece" in held or "place" in held:
            raise ValueError(
                f"the rows of this file say themselves whose they are, so '{name}' cannot have a "
                f"piece or place; write '{name}={held['unit']}'"
            )
        held["as"] = "temp"
    temps = [name for name in plain if name.lower() in _LONG]
    temps += [name for name, held in columns.items() if held.get("as") == "temp"]
    if len(temps) > 2:
        raise ValueError(
            f"{len(temps)} columns hold the temperature of a row ({', '.join(sorted(temps))}); "
            f"one in °F and one in °C are the most"
        )
    table["columns"] = dict(columns)


def _whose(parts: Sequence[str]) -> Table:
    found: Table = {}
    for part in parts:
        place = part.lower() in Place.__members__.values()
        role = "place" if place else "piece"
        if not part or role in found:
            raise ValueError(f"'{':'.join(parts)}' is not a piece, a place, or both: left:surface")
        found[role] = part.lower() if place else part
    return found


def see(folder: Path, table: Table, frame: Frame) -> Seen:
    """Read a file as the record would.

    Parameters
    ----------
    folder : Path
        Folder of the record.
    table : Table
        The ``[[file]]``.
    frame : Frame
        Zone and first day of the record.

    Raises
    ------
    InputError
        If it cannot be understood.
    """
    told = FileTable.model_validate(table)
    names = Names()
    part = read_file(folder, told, frame, names)
    problems = Problems(told.path)
    names.pieces(problems)
    problems.check()
    said = Said(
        told.place, told.piece, told.probe, told.point, told.unit, told.columns, told.ignore
    )
    path = folder / told.path
    raw = bytes_of(path, name=str(path))
    text = text_of(path, raw, told.sheet, problems, tuple(told.columns))
    header = text.header
    plan = plan_columns(header, said, problems, sample=text.sample, line=text.line)
    return Seen(
        table=table,
        rows=part.source.rows,
        understood=(*part.source.understood, *part.assumptions),
        columns=tuple((header[cells.column], cells) for cells in plan.cells),
        pieces=_pieces(names),
        probes=_probes([(c.probe, c.place) for c in part.channels]),
        unnamed=names.unnamed,
        names_probes="probe" in plan.words and not any("" in c.probe for c in part.channels),
    )


def _pieces(names: Names) -> tuple[str, ...]:
    """Pieces that are named; the one that stands for "not named" is none."""
    return () if names.unnamed else tuple(names.met_pieces)


def _probes(taken: Sequence[tuple[Sequence[str], Place]]) -> dict[str, str]:
    found: dict[str, str] = {}
    for probes, place in taken:
        for name in filter(None, probes):
            reads = "air" if place is Place.AIR else "food"
            found[name] = reads if found.get(name, reads) == reads else "food"
    return found


def with_probe(seen: Seen, column: str, name: str) -> Seen:
    """Write which probe a column's readings were taken with."""
    table = dict(seen.table)
    cells = next(cells for held, cells in seen.columns if held == column)
    if not cells.wide:
        table["probe"] = name
        return replace(seen, table=table)
    columns = dict(_columns(table))
    known = {
        "piece": cells.piece,
        "place": cells.place.value if cells.place else None,
        "point": cells.point or None,
        "probe": name,
    }
    before = columns.get(column, {})
    columns[column] = {**before, **{k: v for k, v in known.items() if v}}
    table["columns"] = columns
    return replace(seen, table=table)


def _columns(table: Table) -> dict[str, Table]:
    held = table.get("columns", {})
    return {name: dict(said) for name, said in held.items()} if isinstance(held, dict) else {}


def _ignored(table: Table) -> list[Value]:
    held = table.get("ignore", [])
    return list(held) if isinstance(held, list) else []
