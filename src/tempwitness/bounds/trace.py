"""A trace: the readings of one point of one piece as plain arrays, ready to be compared."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.logs import Bools, Floats, Ints

if TYPE_CHECKING:
    from tempwitness.model.rule import Limit
    from tempwitness.model.vocabulary import Place

__all__ = ["State", "Trace", "compare"]

#: For each reading: certainly keeps the condition, certainly does not.
State = tuple[Bools, Bools]


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """Readings of one point of one piece, sorted by time, columns of length n.

    Parameters
    ----------
    at : Floats
        Moment [s since 1970-01-01 UTC].
    lower, upper : Floats
        Bounds of the corrected reading [the unit it was written in]; equal for an ordinary
        reading, infinite for one that must not decide.
    celsius : Bools
        True where the reading was written in °C.
    undisturbed : Bools, length n - 1
        False where the food was disturbed between a reading and the next.
    channel, row : Ints
        Where each reading came from.
    shown : Floats, optional
        What the probe showed, as written [its own unit]; ``None`` if the trace does not say.
    probe : Ints, optional
        Number of the probe that took each reading; ``None`` when it was one all along.
    """

    piece: str
    place: Place
    point: str
    at: Floats
    lower: Floats
    upper: Floats
    celsius: Bools
    undisturbed: Bools
    channel: Ints
    row: Ints
    shown: Floats | None = None
    probe: Ints | None = None
    _states: dict[tuple[object, ...], State] = field(default_factory=dict, repr=False)
    _linked: dict[float, Bools] = field(default_factory=dict, repr=False)

    def __len__(self) -> int:
        return len(self.at)

    def since(self, row: int) -> Trace:
        """Return the trace from one of its readings on."""
        return self.only(np.arange(row, len(self), dtype=np.int64))

    def only(self, rows: Ints) -> Trace:
        """Return the trace of some of its readings, in their order."""
        disturbed = np.concatenate(([0], np.cumsum(~self.undisturbed)))[rows]
        return Trace(
            self.piece,
            self.place,
            self.point,
            self.at[rows],
            self.lower[rows],
            self.upper[rows],
            self.celsius[rows],
            np.diff(disturbed) == 0,
            self.channel[rows],
            self.row[rows],
            None if self.shown is None else self.shown[rows],
            None if self.probe is None else self.probe[rows],
        )

    def state(self, limit: Limit) -> State:
        """Compare every reading with a limit, in the unit in which it was written.

        Returns
        -------
        tuple of Bools
            Certainly keeps the limit; certainly does not. Neither for a doubtful reading.
        """
        return self.against(float(limit.f), float(limit.c), limit.op)

    def against(self, f: float, c: float, op: str) -> State:
        """Compare every reading with a figure given in both units; each question is asked once."""
        key = (f, c, op)
        known = self._states.get(key)
        if known is None:
            known = self._states[key] = _joined(self, compare(self, f, c, op))
        return known

    def linked(self, interval: float) -> Bools:
        """Mark the stretches between readings to which the bracketing assumption applies.

        Parameters
        ----------
        interval : float
            Monitoring interval [s].
        """
        known = self._linked.get(interval)
        if known is None:
            known = self._linked[interval] = self.undisturbed & (np.diff(self.at) <= interval)
        return known


def compare(trace: Trace, f: float, c: float, op: str) -> State:
    """Compare the bounds of every reading with a figure printed in both units."""
    celsius = trace.celsius
    if not celsius.any():
        figure: Floats | float = f
    elif celsius.all():
        figure = c
    else:
        figure = np.where(celsius, c, f)
    if op == ">=":
        return trace.lower >= figure, trace.upper < figure
    if op == ">":
        return trace.lower > figure, trace.upper <= figure
    if op == "<=":
        return trace.upper <= figure, trace.lower > figure
    return trace.upper < figure, trace.lower >= figure


def _joined(trace: Trace, single: State) -> State:
    """Let several readings of one moment speak together: the one furthest beyond a limit counts.

    Two thermometers in one point, or three spots read within a minute: the moment keeps a limit
    only if all of them do. A doubtful one stays doubtful and speaks for no other.
    """
    same = np.flatnonzero(trace.at[1:] == trace.at[:-1])
    if len(same) == 0:
        return single
    yes, no = single[0].copy(), single[1].copy()
    sure = np.isfinite(trace.lower)
    for moment in np.unique(trace.at[same]):
        rows = np.flatnonzero((trace.at == moment) & sure)
        yes[rows], no[rows] = yes[rows].all(), no[rows].any()
    return yes, no
