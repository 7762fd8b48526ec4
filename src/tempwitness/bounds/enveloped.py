"""A trace whose bounds hold at every moment, not only at its readings.

Rows stand at the readings, at moments that matter and wherever a bound crosses a figure; between
two rows the least and the greatest possible temperature are known as well. So the criteria can be
asked about it like about any other trace.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.trace import State, Trace, figure_for, keeps

if TYPE_CHECKING:
    from tempwitness.model.logs import Bools, Floats, Ints

__all__ = ["EnvelopedTrace"]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class EnvelopedTrace(Trace):
    """A trace of n rows with bounds in between.

    Parameters
    ----------
    least, most : Floats, length n - 1
        Least and greatest possible temperature from each row to the next [its unit].
    read_from, read_until : float
        First and last moment that was read [s].
    """

    least: Floats
    most: Floats
    read_from: float
    read_until: float

    @property
    def first(self) -> float:
        """First moment that was read [s]."""
        return self.read_from

    @property
    def last(self) -> float:
        """Last moment that was read [s]."""
        return self.read_until

    def only(self, rows: Ints) -> EnvelopedTrace:
        """Return the trace of some of its rows, which follow each other."""
        if len(rows) == 0 or np.any(np.diff(rows) != 1):
            raise ValueError("bounds in between are kept for rows that follow each other")
        cut, gaps = slice(rows[0], rows[-1] + 1), slice(rows[0], rows[-1])
        return replace(
            self,
            at=self.at[cut],
            lower=self.lower[cut],
            upper=self.upper[cut],
            celsius=self.celsius[cut],
            undisturbed=self.undisturbed[gaps],
            channel=self.channel[cut],
            row=self.row[cut],
            least=self.least[gaps],
            most=self.most[gaps],
            _states={},
            _linked={},
        )

    def against(self, f: float, c: float, op: str) -> State:
        """Compare every row, and every stretch between two, with a figure given in both units."""
        key = (f, c, op)
        known = self._states.get(key)
        if known is None:
            figure = figure_for(self, f, c)
            yes, no = keeps(self.lower, self.upper, figure, op)
            between_yes, between_no = keeps(self.least, self.most, figure, op)
            known = self._states[key] = State(yes, no, between_yes, between_no)
        return known

    def linked(self, interval: float) -> Bools:
        """Mark the stretches for which bounds are known, however long they are."""
        del interval
        return self.undisturbed
