"""What each column of a table holds: by its name, or as the record maps it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Place
from tempwitness.readers import column_faults as faults
from tempwitness.readers.headers import Heading, Kind, heading
from tempwitness.readers.sheets import Asked
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.readers.problems import Problems
    from tempwitness.readers.shape import ColumnTable

__all__ = ["WORDS", "Cells", "Plan", "Said", "plan_columns"]

WORDS = ("time", "date", "piece", "place", "point", "probe", "step", "event", "method", "note")
_LONG = {"temp": None, "temp_f": Unit.F, "temp_c": Unit.C}
# Names for the surroundings and for the inside of the food that are no names of a piece.
_AIR = {
    "air", "ambient", "cabinet", "chamber", "cooker", "fridge", "oven", "pit", "refrigerator",
    "smoker",
}  # fmt: skip
_CORE = {"core", "internal"}


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
    mapped : bool
        Whether the record says what it holds.
    """

    column: int
    unit: Unit
    wide: bool = False
    piece: str | None = None
    place: Place | None = None
    probe: str | None = None
    point: str | None = None
    mapped: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """Columns by what they hold.

    Parameters
    ----------
    words : dict of str to int
        Columns of words by role; ``date`` stands beside ``time`` if the two have a column each.
    cells : tuple of Cells
    understood : tuple of str
        One sentence a column.
    offset : float, optional
        Offset from UTC that the name of the time column gives to all rows [s].
    """

    words: Mapping[str, int]
    cells: tuple[Cells, ...]
    understood: tuple[str, ...]
    offset: float | None = None

    @property
    def asked(self) -> Asked:
        """Columns that have to be read."""
        numbers = tuple((c.column, c.unit) for c in self.cells)
        return Asked(tuple(self.words.values()), numbers, self.words.get("time"))


def plan_columns(
    header: Sequence[str],
    said: Said,
    problems: Problems,
    *,
    sample: Sequence[Sequence[str]] = (),
    line: int = 1,
) -> Plan:
    """Decide what every column holds.

    Parameters
    ----------
    header : sequence of str
    said : Said
    problems : Problems
    sample : sequence of rows
        First rows of the table, by which a column of plain counting is known.
    line : int
        Line of the header in the file.

    Raises
    ------
    InputError
        If a column is not understood, stands twice, or time or temperature are missing.
    """
    faults.refuse_doubles(header, problems, line)
    faults.refuse_unknown_names(header, (*said.ignore, *said.columns), problems, line)
    draft = _Draft(header, said, problems, line)
    for column in range(len(header)):
        draft.take(column, [row[column] if column < len(row) else "" for row in sample])
    draft.settle()
    problems.check()
    return Plan(draft.words, tuple(draft.cells), draft.understood(), draft.offset)


@dataclass(slots=True)
class _Draft:
    """A plan on its way."""

    header: Sequence[str]
    said: Said
    problems: Problems
    line: int
    words: dict[str, int] = field(default_factory=dict)
    cells: list[Cells] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    clocks: dict[int, float] = field(default_factory=dict)
    offset: float | None = None

    def take(self, column: int, sample: Sequence[str]) -> None:
        """Decide what one column holds."""
        name = self.header[column]
        if name in self.said.ignore:
            self.left_out.append(f"column '{name}' was left out on request")
            return
        mapped = self.said.columns.get(name)
        if mapped is not None:
            self._as_mapped(column, name, mapped)
            return
        found = heading(name)
        if found.offset is not None:
            self.clocks[column] = found.offset
        if found.kind in (Kind.TIME, Kind.DATE):
            self._word(found.kind.name.lower(), column)
        elif found.kind is Kind.WORD:
            self._word(found.stem, column)
        elif found.kind is Kind.COUNT or not name:
            self._counter(name, column, sample)
        elif found.kind in (Kind.TEMPERATURE, Kind.PROBE):
            self._degrees(column, name, found)
        else:
            faults.refuse(name, found.kind, self.problems, self.line)

    def _word(self, role: str, column: int) -> None:
        before = self.words.setdefault(role, column)
        if before != column:
            faults.refuse_two(role, self.header[before], self.header[column], self)

    def _counter(self, name: str, column: int, sample: Sequence[str]) -> None:
        # Without a name it is the row number of an export only where it stands first.
        counting = faults.counts(sample) and (bool(name) or (column == 0 and len(sample) > 1))
        if counting or (name and not sample):
            called = f"'{name}'" if name else "without a name"
            number = column + 1
            self.left_out.append(f"column {called} (number {number}) counts the rows: left out")
        else:
            faults.refuse_counter(name, column, sample, self)

    def _as_mapped(self, column: int, name: str, mapped: ColumnTable) -> None:
        role = (mapped.holds or "").lower()
        unit = mapped.unit or _LONG.get(role) or heading(name).unit or self.said.unit
        if role in WORDS:
            self._word(role, column)
        elif role and role not in _LONG:
            faults.refuse_role(name, role, (*WORDS, *_LONG), self)
        elif unit is None:
            faults.refuse_unitless(name, self.problems, self.line, two=False)
        elif role:
            self.cells.append(Cells(column, unit, mapped=True))
        else:
            self.cells.append(
                Cells(
                    column,
                    unit,
                    wide=True,
                    piece=mapped.piece or self.said.piece,
                    place=mapped.place or self.said.place,
                    probe=mapped.probe or self.said.probe,
                    point=mapped.point or self.said.point,
                    mapped=True,
                )
            )

    def _degrees(self, column: int, name: str, found: Heading) -> None:
        unit = found.unit or (None if found.two_units else self.said.unit)
        if unit is None:
            faults.refuse_unitless(name, self.problems, self.line, two=found.two_units)
        elif found.kind is Kind.TEMPERATURE:
            self.cells.append(Cells(column, unit))
        else:
            piece, place, point = _whose(found.stem, self.said)
            self.cells.append(
                Cells(column, unit, True, piece, place, self.said.probe, point)  # noqa: FBT003
            )

    def settle(self) -> None:
        """Look at the columns together."""
        if "date" in self.words and "time" not in self.words:
            self.words["time"] = self.words.pop("date")
        faults.refuse_together(self.header, self.words, self.cells, self.problems, self.line)
        for column, offset in self.clocks.items():
            if column == self.words.get("time"):
                self.offset = offset

    def understood(self) -> tuple[str, ...]:
        """One sentence for each column, and one for a clock that its name tells."""
        told = [f"column '{self.header[at]}' is the {role}" for role, at in self.words.items()]
        if self.offset is not None:
            sign = "-" if self.offset < 0 else "+"
            hours, minutes = divmod(int(abs(self.offset)) // 60, 60)
            told.append(
                f"by the name of its column the time is that of UTC{sign}{hours:02d}:{minutes:02d}"
            )
        for c in self.cells:
            whose = f" of piece {c.piece}" if c.piece else ""
            where = f" ({(c.place or Place.CORE).value}{whose})" if c.wide else ""
            name = self.header[c.column]
            told.append(f"column '{name}' holds temperatures in {c.unit.symbol}{where}")
        return (*told, *self.left_out)


def _whose(stem: str, said: Said) -> tuple[str | None, Place | None, str | None]:
    """Piece, place and point in the name of a column: A, surface, A_surface, air, air_left."""
    places = {place.value: place for place in Place}
    places |= dict.fromkeys(_AIR, Place.AIR) | dict.fromkeys(_CORE, Place.CORE)
    if stem.lower() in places:
        return said.piece, places[stem.lower()], said.point
    plain = stem.replace(" ", "_")
    head, _, tail = plain.partition("_")
    if head.lower() in (*_AIR, "medium"):
        return None, places[head.lower()], tail
    cut = plain.rfind("_")
    if cut > 0 and plain[cut + 1 :].lower() in places:
        return stem[:cut], places[plain[cut + 1 :].lower()], said.point
    return stem, said.place, said.point
