"""A trace: the readings of one point of one piece as plain arrays, ready to be compared."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from tempwitness.model.figures import Limit
    from tempwitness.model.logs import Bools, Floats, Ints
    from tempwitness.model.vocabulary import Place

__all__ = ["State", "Trace", "figure_for", "keeps"]


class State(NamedTuple):
    """What is certain of a condition at n rows of a trace, and between them.

    Parameters
    ----------
    yes, no : Bools
        At each row: certainly keeps it, certainly does not.
    between_yes, between_no : Bools, optional
        The same for all of the time from each row to the next, where the trace knows it; ``None``
        where it follows from the readings on both sides.
    """

    yes: Bools
    no: Bools
    between_yes: Bools | None = None
    between_no: Bools | None = None


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
    bounded : Bools, optional
        True where the writer gave bounds ("<41") in place of one figure; ``None`` if nowhere.
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
    bounded: Bools | None = None
    _states: dict[tuple[object, ...], State] = field(default_factory=dict, repr=False)
    _linked: dict[float, Bools] = field(default_factory=dict, repr=False)

    def __len__(self) -> int:
        return len(self.at)

    @property
    def first(self) -> float:
        """First moment that was read [s]."""
        return float(self.at[0])

    @property
    def last(self) -> float:
        """Last moment that was read [s]."""
        return float(self.at[-1])

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
            None if self.bounded is None else self.bounded[rows],
        )

    def state(self, limit: Limit) -> State:
        """Compare every reading with a limit, in the unit in which it was written.

        Returns
        -------
        State
            Neither certain for a doubtful reading.
        """
        return self.against(float(limit.f), float(limit.c), limit.op)

    def against(self, f: float, c: float, op: str) -> State:
        """Compare every reading with a figure given in both units; each question is asked once."""
        key = (f, c, op)
        known = self._states.get(key)
        if known is None:
            known = self._states[key] = _joined(
                self, State(*keeps(self.lower, self.upper, figure_for(self, f, c), op))
            )
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


def figure_for(trace: Trace, f: float, c: float) -> Floats | float:
    """Return a figure in the scale of each reading, one number where they share it."""
    celsius = trace.celsius
    if not celsius.any():
        return f
    return c if celsius.all() else np.where(celsius, c, f)


def keeps(lower: Floats, upper: Floats, figure: Floats | float, op: str) -> tuple[Bools, Bools]:
    """Compare bounds with a figure: certainly keeps it, certainly does not."""
    if op == ">=":
        return lower >= figure, upper < figure
    if op == ">":
        return lower > figure, upper <= figure
    if op == "<=":
        return upper <= figure, lower > figure
    return upper < figure, lower >= figure


def _joined(trace: Trace, single: State) -> State:
    """Let several readings of one moment speak together: the one furthest beyond a limit counts.

    Two thermometers in one point, or three spots read within a minute: the moment keeps a limit
    only if all of them do. A doubtful one stays doubtful and speaks for no other.
    """
    same = np.flatnonzero(trace.at[1:] == trace.at[:-1])
    if len(same) == 0:
        return single
    yes, no = single.yes.copy(), single.no.copy()
    # A bound on one side is no doubt: it says what it says.
    sure = np.isfinite(trace.lower) | np.isfinite(trace.upper)
    for moment in np.unique(trace.at[same]):
        rows = np.flatnonzero((trace.at == moment) & sure)
        yes[rows], no[rows] = yes[rows].all(), no[rows].any()
    return State(yes, no)
