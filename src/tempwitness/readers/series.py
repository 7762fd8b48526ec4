"""The readings of a table, one channel for each point of each piece, sorted by time."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from tempwitness.model.logs import Channel
from tempwitness.model.vocabulary import Place
from tempwitness.readers.jobs import Whose
from tempwitness.readers.sheets import Numbers
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.model.logs import Bools, Floats
    from tempwitness.readers.columns import Cells
    from tempwitness.readers.jobs import Job
    from tempwitness.readers.sheets import Labels

__all__ = ["Series"]


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """Columns of temperatures with their moments.

    Parameters
    ----------
    job : Job
        The table that is being understood.
    at : Floats
        Moment of each row [s since 1970-01-01 UTC].
    values : dict of int to Numbers
        Columns of temperatures by position.
    """

    job: Job
    at: Floats
    values: Mapping[int, Numbers]

    def channels(self, groups: Sequence[Whose], spoken: Bools) -> list[Channel]:
        """Build all channels of the table.

        Parameters
        ----------
        groups : sequence of Whose
            Rows of each point, for the columns whose rows say whose they are.
        spoken : Bools
            Rows that hold a note; without a temperature they are no missing reading.
        """
        return [*self._long(groups, spoken), *self._wide()]

    def _long(self, groups: Sequence[Whose], spoken: Bools) -> list[Channel]:
        cells = [c for c in self.job.plan.cells if not c.wide]
        if not cells:
            return []
        numbers, celsius = self._one_column(cells)
        silent = spoken.copy()
        for other in self.job.plan.cells:
            if other.wide:
                silent |= ~self.values[other.column].blank
        silent &= numbers.blank
        probes = self.job.words("probe")
        found = []
        for group in groups:
            rows = group.rows[~silent[group.rows]] if bool(silent.any()) else group.rows
            if len(rows):
                whose = replace(group, rows=rows)
                found.append(self._channel(whose, numbers, celsius, self._probes(probes, whose)))
        return found

    def _wide(self) -> list[Channel]:
        found = []
        for cells in self.job.plan.cells:
            if not cells.wide:
                continue
            numbers = self.values[cells.column]
            rows = np.flatnonzero(~numbers.blank)
            if not len(rows):
                continue
            where = cells.place or Place.CORE
            header = self.job.header[cells.column]
            names, problems = self.job.names, self.job.problems
            piece = names.piece(cells.piece, where, problems, line=1, column=header)
            probe = names.probe(cells.probe, where, problems, line=1, column=header)
            celsius = _celsius(numbers, cells)
            whose = Whose(piece, where, cells.point or "", rows)
            found.append(self._channel(whose, numbers, celsius, (probe,)))
        return found

    def _one_column(self, cells: Sequence[Cells]) -> tuple[Numbers, Bools]:
        """One column of temperatures out of one for each unit, and which rows are in °C."""
        first = self.values[cells[0].column]
        celsius = _celsius(first, cells[0])
        if len(cells) == 1:
            return first, celsius
        second = self.values[cells[1].column]
        for row in np.flatnonzero(~first.blank & ~second.blank)[:3].tolist():
            self.job.problems.add(
                "the row has a temperature in °F and one in °C",
                "keep the one that was read",
                line=int(self.job.sheet.lines[row]),
            )
        other = first.blank & ~second.blank
        celsius[other] = _celsius(second, cells[1])[other]
        text = None
        if first.text is not None or second.text is not None:
            both = zip(_texts(first), _texts(second), other.tolist(), strict=True)
            text = [b if o else a for a, b, o in both]
        value = np.where(other, second.value, first.value)
        low, high = (_bound(first, second, other, side) for side in ("low", "high"))
        rough = None
        if first.rough is not None or second.rough is not None:
            rough = np.where(other, _flags(second), _flags(first))
        blank = first.blank & second.blank
        return Numbers(value, blank, text, low=low, high=high, rough=rough), celsius

    def _probes(self, probes: Labels, whose: Whose) -> tuple[str, ...]:
        """Probe of each row, or one for all."""
        codes = probes.codes[whose.rows]
        known: dict[int, str] = {}
        for code in [0] if len(probes.names) == 1 else np.unique(codes).tolist():
            row = int(whose.rows[int(np.argmax(codes == code))])
            known[code] = self.job.names.probe(
                probes.names[code] or self.job.said.probe,
                whose.place,
                self.job.problems,
                line=int(self.job.sheet.lines[row]),
                column=self.job.column("probe"),
            )
        if len(set(known.values())) == 1:
            return (next(iter(known.values())),)
        return tuple(known[code] for code in codes.tolist())

    def _channel(
        self, whose: Whose, numbers: Numbers, celsius: Bools, probe: tuple[str, ...]
    ) -> Channel:
        rows = whose.rows
        if bool((np.diff(self.at[rows]) < 0).any()):
            order = np.argsort(self.at[rows], kind="stable")
            rows = rows[order]
            probe = probe if len(probe) == 1 else tuple(probe[i] for i in order.tolist())
        value = numbers.value[rows]
        text = None
        if numbers.text is not None:
            text = tuple(numbers.text[row] for row in rows.tolist())
        elif bool(np.isnan(value).any()):
            text = tuple(_text(v) for v in value.tolist())
        return Channel(
            source=self.job.problems.file,
            piece=whose.piece,
            place=whose.place,
            point=whose.point,
            probe=probe,
            line=self.job.sheet.lines[rows],
            at=self.at[rows],
            value=value,
            celsius=celsius[rows],
            text=text,
            low=None if numbers.low is None else numbers.low[rows],
            high=None if numbers.high is None else numbers.high[rows],
            rough=None if numbers.rough is None else numbers.rough[rows],
        )


def _celsius(numbers: Numbers, cells: Cells) -> Bools:
    """Rows in °C: as the cells say, else as the column does."""
    if numbers.celsius is not None:
        return numbers.celsius.copy()
    return np.full(len(numbers.value), cells.unit is Unit.C)


def _bound(
    first: Numbers, second: Numbers, other: Bools, side: Literal["low", "high"]
) -> Floats | None:
    """Bounds of one column out of two; ``None`` if neither has any."""
    a: Floats | None = getattr(first, side)
    b: Floats | None = getattr(second, side)
    if a is None and b is None:
        return None
    return np.where(other, second.value if b is None else b, first.value if a is None else a)


def _flags(numbers: Numbers) -> Bools:
    return np.zeros(len(numbers.value), np.bool_) if numbers.rough is None else numbers.rough


def _texts(numbers: Numbers) -> list[str]:
    return numbers.text if numbers.text is not None else [_text(v) for v in numbers.value.tolist()]


def _text(value: float) -> str:
    return "" if np.isnan(value) else f"{value:g}"
