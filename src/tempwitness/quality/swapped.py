"""Two probes that exchange their levels from one reading to the next have been swapped."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place
from tempwitness.quality.handled import explained, next_handling

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Ints, Note
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["swapped"]

_FOOD = (Place.CORE, Place.SURFACE)


def swapped(traces: Sequence[Trace], notes: Sequence[Note], figures: Figures) -> None:
    """Flag both channels from where they exchange levels until they do so again.

    Or until a note says that food or probes were handled. Which of the two assignments is right the
    figures do not tell; the longer part is believed, as for any step.
    """
    leaping = [(t, rows) for t in traces if len(rows := _leaps(t, figures))]
    for (one, leaps), (other, _) in combinations(leaping, 2):
        if one.channel.place not in _FOOD and other.channel.place not in _FOOD:
            continue
        _mark_both(one, other, _exchanges(one, other, leaps, figures), notes, figures)


def _leaps(trace: Trace, figures: Figures) -> Ints:
    """Rows that lie far from the row before, one interval later."""
    degrees, at = trace.degrees, trace.channel.at
    far = np.flatnonzero(np.abs(np.diff(degrees)) >= figures.swap.apart - figures.swap.near)
    far = far[at[far + 1] - at[far] <= figures.gap.longest] + 1
    good = (trace.flags[far] == Flag.PASS) & (trace.flags[far - 1] == Flag.PASS)
    found: Ints = far[good]
    return found


def _exchanges(one: Trace, other: Trace, rows: Ints, figures: Figures) -> list[int]:
    """Rows where one channel's level goes to the other and back between two moments of both."""
    at = other.channel.at
    before, after = one.channel.at[rows - 1], one.channel.at[rows]
    j = np.clip(np.searchsorted(at, after), 1, len(at) - 1)
    a0, a1 = one.degrees[rows - 1], one.degrees[rows]
    b0, b1 = other.degrees[j - 1], other.degrees[j]
    near = figures.swap.near
    found = (at[j] == after) & (at[j - 1] == before) & (np.abs(a0 - b0) >= figures.swap.apart)
    exchanged = rows[found & (np.abs(a1 - b0) <= near) & (np.abs(b1 - a0) <= near)]
    crossings: list[int] = exchanged.tolist()
    return crossings


def _mark_both(
    one: Trace, other: Trace, crossings: list[int], notes: Sequence[Note], figures: Figures
) -> None:
    at = one.channel.at
    unknown = [r for r in crossings if not _noted(one, other, float(at[r]), notes, figures)]
    for k in range(0, len(unknown), 2):
        row = unknown[k]
        start = float(at[row])
        back = float(at[unknown[k + 1]]) if k + 1 < len(unknown) else np.inf
        handled = next_handling(notes, start)
        end = min(back, np.inf if handled is None else handled)
        if k == 0 and at[row - 1] - at[0] < min(end, float(at[-1])) - start:
            start = -np.inf
        for trace, partner in ((one, other), (other, one)):
            moments = trace.channel.at
            inside = (moments >= start) & (moments < end) & (trace.flags == Flag.PASS)
            reason = _reason(trace, partner, _row_at(trace, float(at[row])))
            trace.mark(np.flatnonzero(inside), Flag.SUSPECT, "swapped", reason)


def _noted(
    one: Trace, other: Trace, moment: float, notes: Sequence[Note], figures: Figures
) -> bool:
    """Whether a note explains a change at a moment in either of two channels."""
    return any(
        explained(t, np.arange(len(t.channel)), _row_at(t, moment), notes, figures)
        for t in (one, other)
    )


def _row_at(trace: Trace, moment: float) -> int:
    return int(np.searchsorted(trace.channel.at, moment))


def _reason(trace: Trace, partner: Trace, row: int) -> str:
    return (
        f"from {trace.words(row - 1)} to {trace.words(row)} is where {partner.name} was, which "
        "changed the other way at the same moment: the two probes were swapped; note the event "
        "probe_moved if it was done on purpose"
    )
