"""Which probe took which readings, and when it was last checked.

A record that lists one probe gives it every reading that names none. So either every column of
readings gets its probe here, or none does: a good check must never speak for a probe that nobody
checked.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.drafting.tables import with_probe
from tempwitness.model.vocabulary import Place

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.drafting.draft import Table
    from tempwitness.drafting.tables import Seen

__all__ = ["BY_HAND", "Group", "assign", "groups", "probe_tables"]

BY_HAND = "by hand"


@dataclass(frozen=True, slots=True)
class Group:
    """Readings that one probe took: a column of a file, or those typed in.

    Parameters
    ----------
    label : str
        By which it is asked for.
    file : int
        Index of the file; -1 for readings typed in.
    column : str
        Name of the column.
    air : bool
        Whether they were taken in the air.
    """

    label: str
    file: int = -1
    column: str = ""
    air: bool = False


def groups(seen: Sequence[Seen], readings: Sequence[Table]) -> list[Group]:
    """Return the groups of readings whose probe is not said yet."""
    columns = [
        (i, name, cells.place is Place.AIR)
        for i, file in enumerate(seen)
        for name, cells in file.columns
        if (cells.wide or not file.names_probes) and not cells.probe
    ]
    names = [name for _, name, _ in columns]
    found = [
        Group(name if names.count(name) == 1 else f"{seen[i].table['path']}:{name}", i, name, air)
        for i, name, air in columns
    ]
    loose = [r for r in readings if "probe" not in r]
    if loose:
        found.append(Group(BY_HAND, air=all(r.get("place") == "air" for r in loose)))
    return found


def assign(
    names: Mapping[Group, str], seen: Sequence[Seen], readings: Sequence[Table]
) -> tuple[list[Table], list[Table]]:
    """Write the probes into the tables of the files and into the readings.

    Returns
    -------
    list of Table, list of Table
        The files and the readings.
    """
    files = list(seen)
    typed = [dict(r) for r in readings]
    for group, name in names.items():
        if group.file >= 0:
            files[group.file] = with_probe(files[group.file], group.column, name)
        else:
            typed = [r if "probe" in r else {**r, "probe": name} for r in typed]
    return [file.table for file in files], typed


def probe_tables(
    names: Mapping[Group, str],
    seen: Sequence[Seen],
    readings: Sequence[Table],
) -> dict[str, Table]:
    """Return a ``[[probe]]`` for every probe that is named anywhere, in the order met."""
    reads: dict[str, list[str]] = {}
    for file in seen:
        for name, kind in file.probes.items():
            reads.setdefault(name, []).append(kind)
    for reading in readings:
        if "probe" in reading:
            kind = "air" if reading.get("place") == "air" else "food"
            reads.setdefault(str(reading["probe"]), []).append(kind)
    for group, name in names.items():
        reads.setdefault(name, []).append("air" if group.air else "food")
    return {
        name: {"id": name, "reads": "air"} if set(kinds) == {"air"} else {"id": name}
        for name, kinds in reads.items()
    }
