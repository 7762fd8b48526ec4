"""What each column of a table holds: by its name, or as the record maps it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Place
from tempwitness.readers.problems import Problems, nearest
from tempwitness.readers.sheets import Asked
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.readers.shape import ColumnTable

__all__ = ["Cells", "Plan", "Said", "plan_columns"]

WORDS = ("time", "piece", "place", "point", "probe", "step", "event", "method", "note")
_LONG = {"temp_f": Unit.F, "temp_c": Unit.C}
_ENDINGS = {"_f": Unit.F, "_c": Unit.C}
_UNDERSTOOD = (
    "time, temp_f, temp_c, piece, place, point, probe, step, event, method, note, and for one "
    "column a probe NAME_f or NAME_c, such as A_f, air_f or A_surface_f"
)
_LEAVE_OUT = "leave it out with --ignore-column '{0}' (in a record: ignore = [\"{0}\"])"


@dataclass(frozen=True, slots=True)
class Said:
    """What holds for a whole file where its columns do not say otherwise."""

    place: Place | None = None
    piece: str | None = None
    probe: str | None = None
    point: str | None = None
    unit: Unit | None = None
    columns: Mapping[str, ColumnTable] = field(default_factory=dict)
    ignore: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Cells:
    """A column of temperatures.

    Parameters
    ----------
    column : int
    unit : Unit
    wide : bool
        Whether the column is one probe of a wide table; piece, place, probe and point then come
        from here, otherwise from the row.
    """

    column: int
    unit: Unit
    wide: bool = False
    piece: str | None = None
    place: Place | None = None
    probe: str | None = None
    point: str | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """Columns by what they hold."""

    words: Mapping[str, int]
    cells: tuple[Cells, ...]
    understood: tuple[str, ...]

    @property
    def asked(self) -> Asked:
        """Columns that have to be read."""
        numbers = tuple((c.column, c.unit) for c in self.cells)
        return Asked(tuple(self.words.values()), numbers, self.words.get("time"))


def plan_columns(header: Sequence[str], said: Said, problems: Problems) -> Plan:
    """Decide what every column holds.

    Raises
    ------
    InputError
        If a column is not understood, stands twice, or time or temperature are missing.
    """
    _refuse_doubles(header, problems)
    _refuse_unknown_names(header, said, problems)
    words: dict[str, int] = {}
    cells: list[Cells] = []
    left_out: list[str] = []
    for column, name in enumerate(header):
        if name in said.ignore:
            left_out.append(name)
            continue
        role = _role(name, said)
        if role in WORDS:
            words[role] = column
            continue
        found = _cells(column, name, role, said)
        if found is None:
            _refuse(name, role, problems)
        else:
            cells.append(found)
    _refuse_missing(words, cells, header, problems)
    problems.check()
    return Plan(words, tuple(cells), _understood(header, words, cells, left_out))


def _role(name: str, said: Said) -> str:
    mapped = said.columns.get(name)
    if mapped is not None:
        return (mapped.holds or "").lower()
    return name.lower()


def _cells(column: int, name: str, role: str, said: Said) -> Cells | None:
    mapped = said.columns.get(name)
    if mapped is not None and not role:
        return _by_record(column, name, mapped, said)
    if role in _LONG:
        return Cells(column, _LONG[role])
    if role == "temp":
        unit = (mapped.unit if mapped else None) or said.unit
        return None if unit is None else Cells(column, unit)
    return None if mapped is not None else _by_ending(column, name, said)


def _by_record(column: int, name: str, mapped: ColumnTable, said: Said) -> Cells | None:
    unit = mapped.unit or _ENDINGS.get(name.lower()[-2:]) or said.unit
    if unit is None:
        return None
    return Cells(
        column,
        unit,
        wide=True,
        piece=mapped.piece or said.piece,
        place=mapped.place or said.place,
        probe=mapped.probe or said.probe,
        point=mapped.point or said.point,
    )


def _by_ending(column: int, name: str, said: Said) -> Cells | None:
    unit = _ENDINGS.get(name.lower()[-2:])
    stem = name[:-2].strip("_ ")
    if unit is None or not stem:
        return None
    piece, place, point = _whose(stem, said)
    return Cells(column, unit, wide=True, piece=piece, place=place, probe=said.probe, point=point)


def _whose(stem: str, said: Said) -> tuple[str | None, Place | None, str | None]:
    """Piece, place and point in the name of a column: A, surface, A_surface, air, air_left."""
    places = {place.value: place for place in Place}
    if stem.lower() in places:
        return said.piece, places[stem.lower()], said.point
    head, _, tail = stem.partition("_")
    if head.lower() in ("air", "medium"):
        return None, places[head.lower()], tail
    piece, _, last = stem.rpartition("_")
    if last.lower() in places:
        return piece, places[last.lower()], said.point
    return stem, said.place, said.point


def _refuse(name: str, role: str, problems: Problems) -> None:
    if not name:
        problems.add("a column has no name", "name it in the first line", line=1)
    elif role == "temp" or not role:
        problems.add(
            f"the column '{name}' does not say its unit",
            'call it temp_f or temp_c (in a record, unit = "F" or "C" for the file)',
            line=1,
            column=name,
        )
    else:
        known = (*WORDS, *_LONG)
        problems.add(
            f"the column '{name}' is not understood{nearest(role, known)}; understood are "
            f"{_UNDERSTOOD}",
            f"rename it, or {_LEAVE_OUT.format(name)}",
            line=1,
            column=name,
        )


def _refuse_doubles(header: Sequence[str], problems: Problems) -> None:
    lower = [name.lower() for name in header]
    for i, name in enumerate(header):
        if name and lower[i] in lower[:i]:
            problems.add(f"there are two columns '{name}'", "rename one", line=1, column=name)
    problems.check()


def _refuse_unknown_names(header: Sequence[str], said: Said, problems: Problems) -> None:
    for name in (*said.ignore, *said.columns):
        if name not in header:
            problems.add(
                f"there is no column '{name}'{nearest(name, header)}",
                f"the first line names {', '.join(header)}",
                line=1,
            )
    problems.check()


def _refuse_missing(
    words: Mapping[str, int], cells: Sequence[Cells], header: Sequence[str], problems: Problems
) -> None:
    if "time" not in words:
        problems.add(
            f"there is no column 'time'; the first line names {', '.join(header)}",
            "name the columns in the first line, the time of the readings as 'time'",
            line=1,
        )
    if not cells and not ({"step", "event", "note"} & set(words)):
        problems.add(
            f"there is no column of temperatures; the first line names {', '.join(header)}",
            "call it temp_f or temp_c after its unit",
            line=1,
        )
    long = [c for c in cells if not c.wide]
    if long and any(c.wide and c.place not in (Place.AIR, Place.MEDIUM) for c in cells):
        problems.add(
            "the table is long (temp_f or temp_c) and wide (NAME_f) at once",
            "keep one of the two layouts; air_f and medium_f may stand beside either",
            line=1,
        )
    scales = [c.unit for c in long]
    if len(set(scales)) < len(scales):
        names = ", ".join(f"'{header[c.column]}'" for c in long)
        problems.add(
            f"{names} would all hold the temperature of the same row",
            "keep one column in °F and one in °C at most, leave the others out, or map each as a "
            "probe of its own",
            line=1,
        )
    if not long and any(name in words for name in ("place", "point", "probe")):
        problems.add(
            "place, point and probe belong to a row, but each column of this table is a probe of "
            "its own",
            "put them into the columns' names, or map the columns in a record",
            line=1,
        )


def _understood(
    header: Sequence[str], words: Mapping[str, int], cells: Sequence[Cells], left_out: Sequence[str]
) -> tuple[str, ...]:
    said = [f"column '{header[at]}' is the {role}" for role, at in words.items()]
    for c in cells:
        whose = f" of piece {c.piece}" if c.piece else ""
        where = f" ({(c.place or Place.CORE).value}{whose})" if c.wide else ""
        said.append(f"column '{header[c.column]}' holds temperatures in {c.unit.symbol}{where}")
    said += [f"column '{name}' was left out on request" for name in left_out]
    return tuple(said)
