"""What cannot be understood about the columns of a table, with the question to answer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from tempwitness.model.vocabulary import Place
from tempwitness.readers.headers import Kind
from tempwitness.readers.problems import nearest

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from tempwitness.readers.columns import Cells
    from tempwitness.readers.problems import Problems

__all__ = [
    "counts",
    "refuse",
    "refuse_counter",
    "refuse_doubles",
    "refuse_role",
    "refuse_together",
    "refuse_two",
    "refuse_unitless",
    "refuse_unknown_names",
]

_KNOWN = (
    "time", "date", "temp_f", "temp_c", "piece", "place", "point", "probe", "step", "event",
    "method", "note",
)  # fmt: skip
_UNDERSTOOD = (
    f"{', '.join(_KNOWN)}, and for one column a probe its name with the unit, such as A_f, "
    f"'A (°F)', air_f or A_surface_f"
)
_SHARED = (Place.AIR, Place.MEDIUM)


class _Table(Protocol):
    @property
    def problems(self) -> Problems:
        """Takes the refusals."""

    @property
    def line(self) -> int:
        """Line of the header."""


def _leave_out(name: str) -> str:
    return f"--ignore-column '{name}' (in a record: ignore = [\"{name}\"])"


def refuse(name: str, kind: Kind, problems: Problems, line: int) -> None:
    """Refuse a column by what its name says, or does not say."""
    if kind is Kind.ELAPSED:
        what = (
            f"the column '{name}' holds the time that passed since a start, which says no time "
            f"of day"
        )
        hint = (
            f"leave it out with {_leave_out(name)} if another column holds the time of day; else "
            f"add the start to it in a spreadsheet and call the result time"
        )
    elif kind is Kind.NO_READING:
        what = f"the column '{name}' is a setting, an alarm or a summary by its name, not a reading"
        hint = (
            f"leave it out with {_leave_out(name)}; if it is a probe, say so in a record: "
            f'columns."{name}" = {{piece = "…"}}'
        )
    else:
        near = nearest(name, _KNOWN)
        what = f"the column '{name}' is not understood{near}; understood are {_UNDERSTOOD}"
        hint = f"rename it, or leave it out with {_leave_out(name)}"
    problems.add(what, hint, line=line, column=name)


def refuse_role(name: str, role: str, known: Sequence[str], table: _Table) -> None:
    """Refuse what a record says that a column holds."""
    table.problems.add(
        f"the column '{name}' cannot hold '{role}'{nearest(role, known)}; known are "
        f"{', '.join(known)}",
        "correct it in the record, under columns",
        line=table.line,
        column=name,
    )


def refuse_unitless(name: str, problems: Problems, line: int, *, two: bool) -> None:
    """Ask for the unit of a column; it is never guessed from the figures."""
    what = "names both °F and °C" if two else "does not say its unit"
    problems.add(
        f"the column '{name}' {what}: is it °F or °C?",
        "call it temp_f or temp_c, or NAME_f or NAME_c for one probe"
        if two
        else 'answer with --unit F or --unit C (in a record, unit = "F" or "C" for the file), or '
        "write the unit into its name: temp_f or temp_c",
        line=line,
        column=name,
    )


def refuse_two(role: str, first: str, second: str, table: _Table) -> None:
    """Ask which of two columns is meant."""
    table.problems.add(
        f"'{first}' and '{second}' would both be the {role}: which one is meant?",
        f"leave the other out: {_leave_out(second)}",
        line=table.line,
        column=second,
    )


def counts(cells: Sequence[str]) -> bool:
    """Whether a column counts its rows one by one.

    Examples
    --------
    >>> counts(["1", "2", "3"]), counts(["1", "3"]), counts([])
    (True, False, False)
    """
    if not cells or not all(cell.isascii() and cell.isdigit() for cell in cells):
        return False
    numbers = [int(cell) for cell in cells]
    return numbers == list(range(numbers[0], numbers[0] + len(numbers)))


def refuse_counter(name: str, column: int, sample: Sequence[str], table: _Table) -> None:
    """Refuse a column that has the name of a counter, or none, and does not count."""
    if not name:
        table.problems.add(
            f"column {column + 1} has no name", "name it in the header", line=table.line
        )
        return
    seen = ", ".join(sample[:3])
    table.problems.add(
        f"the column '{name}' does not count the rows one by one ({seen} …)",
        f"rename it after what it holds, or leave it out with {_leave_out(name)}",
        line=table.line,
        column=name,
    )


def refuse_doubles(header: Sequence[str], problems: Problems, line: int) -> None:
    """Refuse two columns of one name."""
    lower = [name.lower() for name in header]
    for i, name in enumerate(header):
        if name and lower[i] in lower[:i]:
            problems.add(f"there are two columns '{name}'", "rename one", line=line, column=name)
    problems.check()


def refuse_unknown_names(
    header: Sequence[str], named: Iterable[str], problems: Problems, line: int
) -> None:
    """Refuse to leave out or map a column that is not there."""
    for name in named:
        if name not in header:
            problems.add(
                f"there is no column '{name}'{nearest(name, header)}",
                f"the header names {', '.join(header)}",
                line=line,
            )
    problems.check()


def refuse_together(
    header: Sequence[str],
    words: Mapping[str, int],
    cells: Sequence[Cells],
    problems: Problems,
    line: int,
) -> None:
    """Refuse columns that do not go together."""
    _refuse_missing(header, words, cells, problems, line)
    long = [c for c in cells if not c.wide]
    if long and any(c.wide and c.place not in _SHARED for c in cells):
        problems.add(
            "the table is long (temp_f or temp_c) and wide (NAME_f) at once",
            "keep one of the two layouts; air_f and medium_f may stand beside either",
            line=line,
        )
    scales = [c.unit for c in long]
    if len(set(scales)) < len(scales):
        names = ", ".join(f"'{header[c.column]}'" for c in long)
        problems.add(
            f"{names} would all hold the temperature of the same row",
            "keep one column in °F and one in °C at most, leave the others out, or map each as a "
            "probe of its own",
            line=line,
        )
    if not long and any(name in words for name in ("place", "point", "probe")):
        problems.add(
            "place, point and probe belong to a row, but each column of this table is a probe of "
            "its own",
            "put them into the columns' names, or map the columns in a record",
            line=line,
        )
    _refuse_same(header, cells, problems, line)


def _refuse_missing(
    header: Sequence[str],
    words: Mapping[str, int],
    cells: Sequence[Cells],
    problems: Problems,
    line: int,
) -> None:
    listed = ", ".join(name or "(no name)" for name in header)
    if "time" not in words:
        problems.add(
            f"there is no column 'time'; the header names {listed}",
            "name the columns in the header, the time of the readings as 'time'",
            line=line,
        )
    if not cells and not problems.found and not ({"step", "event", "note"} & set(words)):
        problems.add(
            f"there is no column of temperatures; the header names {listed}",
            "call it temp_f or temp_c after its unit",
            line=line,
        )


def _refuse_same(
    header: Sequence[str], cells: Sequence[Cells], problems: Problems, line: int
) -> None:
    """Two columns of one point are one quantity twice, unless a record says that they are not."""
    seen: dict[tuple[object, ...], Cells] = {}
    for c in cells:
        if not c.wide:
            continue
        key = (c.piece, c.place or Place.CORE, c.point or "", c.probe)
        other = seen.setdefault(key, c)
        if other is c or (other.mapped and c.mapped):
            continue
        first, second = header[other.column], header[c.column]
        problems.add(
            f"'{first}' and '{second}' would both be readings of the same point: which one shall "
            f"be kept?",
            f"leave the other out, such as {_leave_out(second)}, or name the points differently",
            line=line,
            column=second,
        )
