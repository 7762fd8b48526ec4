"""From the columns of a table to channels and notes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.logs import Bools, Channel, Floats, Ints, Note
from tempwitness.model.vocabulary import Place
from tempwitness.readers.jobs import Job, Whose
from tempwitness.readers.moments import Column, parse_all
from tempwitness.readers.remarks import read_remarks
from tempwitness.readers.sheets import Labels, Numbers
from tempwitness.readers.timeline import Frame, day_assumption, place
from tempwitness.readers.words import word
from tempwitness.readers.zones import UnplacedTimeError
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.readers.columns import Cells

__all__ = ["Built", "build"]


@dataclass(frozen=True, slots=True)
class Built:
    """What a table held."""

    channels: tuple[Channel, ...]
    notes: tuple[Note, ...]
    assumptions: tuple[str, ...]


def build(job: Job, frame: Frame) -> Built:
    """Turn a table into channels and notes.

    Raises
    ------
    InputError
        With all cells that cannot be read, all names that are not known, or the first time that
        cannot be placed.
    """
    values = {cells.column: job.sheet.numbers(cells.column) for cells in job.plan.cells}
    groups = _groups(job)
    column = _times(job)
    job.problems.check()
    if not len(job.sheet.lines):
        return Built((), (), ("the file holds no rows",))
    try:
        at, local = place(column, frame, groups=[g.rows for g in groups])
    except UnplacedTimeError as wrong:
        line = int(job.sheet.lines[wrong.row])
        job.problems.stop(wrong.what, wrong.hint, line=line, column=job.column("time"))
    blank = np.ones(len(at), np.bool_)
    for numbers in values.values():
        blank &= numbers.blank
    notes, spoken = read_remarks(job, at, groups)
    silent = blank & spoken
    channels = [*_long(job, groups, values, at, silent), *_wide(job, values, at)]
    job.problems.check()
    said = day_assumption(
        column, local, lambda row: f"{job.problems.file}, line {job.sheet.lines[row]}"
    )
    return Built(tuple(channels), tuple(notes), (said,) if said else ())


def _times(job: Job) -> Column:
    labels = job.words("time")
    parsed, wrong = parse_all(labels.names, job.pattern)
    for code, what in wrong.items():
        row = np.flatnonzero(labels.codes == code)
        if not len(row):
            continue
        empty = labels.names[code] == ""
        job.problems.add(
            "the row has no time" if empty else what,
            "" if not empty else "give every row its time",
            line=int(job.sheet.lines[row[0]]),
            column=job.column("time"),
        )
    codes = labels.codes
    return Column(parsed.seconds[codes], parsed.dated[codes], parsed.offset[codes])


def _groups(job: Job) -> list[Whose]:
    """Rows of each point, by the words of the row or else what was said of the file."""
    pieces, places, points = (job.words(role) for role in ("piece", "place", "point"))
    found: dict[tuple[str, Place, str], list[Ints]] = {}
    for rows in _rows_by(pieces, places, points):
        first = int(rows[0])
        line = int(job.sheet.lines[first])
        where = _place(job, places.at(first), line)
        point = points.at(first) or job.said.point or ""
        named = pieces.at(first) or job.said.piece
        piece = _piece(job, named, where, line)
        found.setdefault((piece, where, point), []).append(rows)
    merged = {k: np.sort(np.concatenate(v)) if len(v) > 1 else v[0] for k, v in found.items()}
    return [Whose(*whose, rows) for whose, rows in merged.items()]


def _piece(job: Job, named: str | None, where: Place, line: int) -> str:
    if not job.long:
        # In a wide table a row belongs to a piece only if a column says so.
        return named or ""
    return job.names.piece(named, where, job.problems, line=line, column=job.column("piece"))


def _place(job: Job, text: str, line: int) -> Place:
    if not text:
        return job.said.place or Place.CORE
    try:
        return word(text, Place, "place of a probe")
    except ValueError as why:
        job.problems.add(str(why), line=line, column=job.column("place"))
        return Place.CORE


def _rows_by(*columns: Labels) -> list[Ints]:
    """Rows that bear the same words, in the order in which they first appear."""
    wide = [c for c in columns if len(c.names) > 1]
    if len(wide) < 2:
        labels = wide[0] if wide else columns[0]
        found = [np.flatnonzero(labels.codes == code) for code in range(len(labels.names))]
    else:
        key = np.zeros(len(wide[0].codes), np.int64)
        for labels in wide:
            key = key * len(labels.names) + labels.codes
        found = [np.flatnonzero(key == k) for k in np.unique(key).tolist()]
    return sorted((rows for rows in found if len(rows)), key=lambda rows: int(rows[0]))


def _long(
    job: Job,
    groups: Sequence[Whose],
    values: dict[int, Numbers],
    at: Floats,
    silent: Bools,
) -> list[Channel]:
    cells = [c for c in job.plan.cells if not c.wide]
    if not cells:
        return []
    numbers, celsius = _merged(job, cells, values)
    probes = job.words("probe")
    channels = []
    for group in groups:
        rows = group.rows[~silent[group.rows]]
        if len(rows):
            taken = _probes(job, probes, rows, group.place)
            channels.append(_channel(job, group, rows, at, numbers, celsius, taken))
    return channels


def _merged(job: Job, cells: Sequence[Cells], values: dict[int, Numbers]) -> tuple[Numbers, Bools]:
    """One column of temperatures out of one for each unit."""
    first = values[cells[0].column]
    celsius = np.full(len(first.value), cells[0].unit is Unit.C)
    if len(cells) == 1:
        return first, celsius
    second = values[cells[1].column]
    both = np.flatnonzero(~first.blank & ~second.blank)
    for row in both[:3].tolist():
        job.problems.add(
            "the row has a temperature in °F and one in °C",
            "keep the one that was read",
            line=int(job.sheet.lines[row]),
        )
    other = first.blank & ~second.blank
    celsius[other] = cells[1].unit is Unit.C
    text = None
    if first.text is not None or second.text is not None:
        text = [b if o else a for a, b, o in zip(_texts(first), _texts(second), other, strict=True)]
    value = np.where(other, second.value, first.value)
    return Numbers(value, first.blank & second.blank, text), celsius


def _texts(numbers: Numbers) -> list[str]:
    if numbers.text is not None:
        return numbers.text
    return ["" if np.isnan(v) else f"{v:g}" for v in numbers.value.tolist()]


def _probes(job: Job, probes: Labels, rows: Ints, where: Place) -> tuple[str, ...]:
    codes = probes.codes[rows]
    known: dict[int, str] = {}
    for code in np.unique(codes).tolist():
        named = probes.names[code] or job.said.probe
        line = int(job.sheet.lines[rows[np.flatnonzero(codes == code)[0]]])
        known[code] = job.names.probe(named, where, job.problems, line=line)
    if len(known) == 1:
        return tuple(known.values())
    return tuple(known[code] for code in codes.tolist())


def _wide(job: Job, values: dict[int, Numbers], at: Floats) -> list[Channel]:
    channels = []
    for cells in job.plan.cells:
        if not cells.wide:
            continue
        numbers = values[cells.column]
        rows = np.flatnonzero(~numbers.blank)
        if not len(rows):
            continue
        where = cells.place or Place.CORE
        header = job.header[cells.column]
        piece = job.names.piece(cells.piece, where, job.problems, line=1, column=header)
        probe = job.names.probe(cells.probe, where, job.problems, line=1, column=header)
        group = Whose(piece, where, cells.point or "", rows)
        celsius = np.full(len(at), cells.unit is Unit.C)
        channels.append(_channel(job, group, rows, at, numbers, celsius, (probe,)))
    return channels


def _channel(
    job: Job,
    group: Whose,
    rows: Ints,
    at: Floats,
    numbers: Numbers,
    celsius: Bools,
    probe: tuple[str, ...],
) -> Channel:
    moments = at[rows]
    if bool((np.diff(moments) < 0).any()):
        order = np.argsort(moments, kind="stable")
        rows, moments = rows[order], moments[order]
        probe = probe if len(probe) == 1 else tuple(probe[i] for i in order)
    value = numbers.value[rows]
    text = None
    if numbers.text is not None:
        text = tuple(numbers.text[row] for row in rows.tolist())
    elif bool(np.isnan(value).any()):
        text = tuple("" if np.isnan(v) else f"{v:g}" for v in value.tolist())
    return Channel(
        job.problems.file, group.piece, group.place, group.point, probe,
        job.sheet.lines[rows], moments, value, celsius[rows], text,
    )  # fmt: skip
