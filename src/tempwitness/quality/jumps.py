"""Tests that look at how the temperature inside food changes: spikes and steps.

A probe that slips out of the food shows a change that conduction cannot make. From there on its
readings are doubted until it is back where it was, or a person notes that it was moved.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag, Place, StageName

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.model.logs import Bools, Floats, Ints, Note
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["jumps"]

_FOOD = (Place.CORE, Place.SURFACE)
_HEATING = (StageName.COOK, StageName.REHEAT)
_MICROWAVE = "microwave"


def jumps(trace: Trace, notes: Sequence[Note], figures: Figures) -> None:
    """Flag spikes, then steps, of every probe of a channel inside food."""
    if trace.channel.place not in _FOOD:
        return
    mine = [n for n in notes if n.piece is None or n.piece == trace.channel.piece]
    for rows in _by_probe(trace):
        kept = rows[~_spikes(trace, rows, figures)]
        _steps(trace, kept, mine, figures)


def _by_probe(trace: Trace) -> Iterator[Ints]:
    good = trace.good()
    probes = trace.channel.probe
    if len(probes) == 1:
        yield good
        return
    taken = np.array([probes[row] for row in good.tolist()], dtype=object)
    for probe in dict.fromkeys(taken.tolist()):
        yield good[taken == probe]


def _spikes(trace: Trace, rows: Ints, figures: Figures) -> Bools:
    """Flag single readings off both neighbours; return which of `rows` they are."""
    found = np.zeros(len(rows), np.bool_)
    if len(rows) < 3:
        return found
    degrees, at = trace.degrees[rows], trace.channel.at[rows]
    up, down = degrees[1:-1] - degrees[:-2], degrees[1:-1] - degrees[2:]
    off = np.minimum(np.abs(up), np.abs(down))
    close = (np.diff(at)[:-1] <= figures.gap) & (np.diff(at)[1:] <= figures.gap)
    agree = np.abs(up - down) <= figures.agree * off
    found[1:-1] = (up * down > 0) & (off > figures.spike) & agree & close
    for i in np.flatnonzero(found).tolist():
        before, here, after = (trace.words(int(rows[j])) for j in (i - 1, i, i + 1))
        trace.mark(
            rows[i : i + 1],
            Flag.SUSPECT,
            "spike",
            f"{here} stands alone between {before} and {after}",
        )
    return found


def _steps(trace: Trace, rows: Ints, notes: Sequence[Note], figures: Figures) -> None:
    if len(rows) < 2:
        return
    starts, quick = _sudden(trace, rows, figures)
    free = 0
    for start in starts.tolist():
        # A step that begins among doubted readings is the way back, not a new one.
        if start - 1 < free or _explained(trace, rows, start, notes, figures):
            continue
        head = rows[free:start]
        free, why_end = _end(trace, rows, start, quick, notes=notes, figures=figures)
        before, after = trace.words(int(rows[start - 1])), trace.words(int(rows[start]))
        trace.mark(
            rows[start:free],
            Flag.SUSPECT,
            "step",
            f"from {before} to {after} is faster than heat moves inside food: the probe slipped "
            f"or was moved; doubted {why_end}; if it was moved on purpose, note the event "
            f"probe_moved at that time",
        )
        _doubt_head(trace, head, rows[start:free])


def _doubt_head(trace: Trace, head: Ints, tail: Ints) -> None:
    """Doubt also what stands before a step if it is the shorter part.

    A probe put into food late steps as one does that slips out of it. Which of the two happened
    the figures alone do not tell.
    """
    at = trace.channel.at
    if at[head[-1]] - at[head[0]] >= at[tail[-1]] - at[tail[0]]:
        return
    trace.mark(
        head,
        Flag.SUSPECT,
        "step",
        f"up to {trace.words(int(head[-1]))} the probe may not have been in the food yet: the next "
        "change is faster than heat moves inside food; note when the probe was moved",
    )


def _sudden(trace: Trace, rows: Ints, figures: Figures) -> tuple[Ints, Bools]:
    """Where changes begin that conduction cannot make, and which readings end one."""
    at, degrees = trace.channel.at[rows], trace.degrees[rows]
    usual = max(_middle(np.diff(at)), 1.0)
    lag = min(max(1, round(figures.window / usual)), len(rows) - 1)
    quick = np.zeros(len(rows), np.bool_)
    begins: set[int] = set()
    for reach in {1, lag}:
        span = at[reach:] - at[:-reach]
        change = np.abs(degrees[reach:] - degrees[:-reach])
        allowed = np.maximum(figures.least, figures.rate / 60.0 * span)
        found = (change > allowed) & (span <= figures.gap)
        quick[reach:] |= found
        begins |= {_onset(degrees, i, reach, figures) for i in np.flatnonzero(found).tolist()}
    return np.array(sorted(begins), np.int64), quick


def _middle(values: Floats) -> float:
    """Median; numpy's own would load all of its masked arrays first, as long as the whole check."""
    ordered = np.sort(values)
    return float(ordered[(len(ordered) - 1) // 2] + ordered[len(ordered) // 2]) / 2.0


def _onset(degrees: Floats, first: int, reach: int, figures: Figures) -> int:
    """First reading of a window that has left the level at which the window begins."""
    off = np.abs(degrees[first + 1 : first + reach + 1] - degrees[first])
    return first + 1 + int(np.argmax(off > figures.least / 2))


def _explained(
    trace: Trace, rows: Ints, start: int, notes: Sequence[Note], figures: Figures
) -> bool:
    """Whether a note says why the reading changed.

    Food or probe were handled, or a microwave is that fast. A drop where a cook or a reheat begins
    is a probe put into cold food. Any other beginning of a stage explains nothing: a probe left
    hanging in the cold would show a perfect cooling.
    """
    at = trace.channel.at
    before, after = float(at[rows[start - 1]]), float(at[rows[start]])
    begun = [n for n in notes if n.step is not None and n.at <= after]
    if begun and begun[-1].method == _MICROWAVE:
        return True
    near = [n for n in notes if before - figures.note_within <= n.at <= after + figures.note_within]
    if any(n.event is not None and n.event.disturbs for n in near):
        return True
    fell = trace.degrees[rows[start]] < trace.degrees[rows[start - 1]]
    return bool(fell) and any(n.step in _HEATING for n in near)


def _end(
    trace: Trace, rows: Ints, start: int, quick: Bools, *, notes: Sequence[Note], figures: Figures
) -> tuple[int, str]:
    """Where the doubt ends, and why there."""
    at, degrees = trace.channel.at[rows], trace.degrees[rows]
    away = (at[start + 1 :] - at[start - 1]) / 60.0
    off = np.abs(degrees[start + 1 :] - degrees[start - 1])
    returned = np.flatnonzero((off <= figures.back + figures.back_rate * away) & quick[start + 1 :])
    stop, why = len(rows), "to the end, as nothing shows that it came back"
    if len(returned):
        stop, why = start + 1 + int(returned[0]), "until it was back at its old level"
    moved = [n.at for n in notes if n.event is not None and n.event.disturbs and n.at > at[start]]
    if moved:
        noted = int(np.searchsorted(at, min(moved)))
        if noted < stop:
            stop, why = noted, "until a note says that probe or food were handled"
    return stop, why
