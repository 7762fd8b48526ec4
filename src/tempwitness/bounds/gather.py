"""Bring the readings of one point together, whatever file or hand they came from."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.trace import Trace

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.logs import Bools, Channel, CorrectedLog, Floats, Ints, Note
    from tempwitness.model.vocabulary import Place

__all__ = ["gather", "undisturbed"]


@lru_cache(maxsize=1)
def gather(log: CorrectedLog) -> tuple[Trace, ...]:
    """Return one trace for each point of each piece, in order of first appearance.

    Readings that say nothing (missing, failed) are left out; doubtful ones stay, with infinite
    bounds, so that they decide nothing and still break the bracket between their neighbours.

    The last log's traces are kept: stages are found on them and then judged on the same ones.
    """
    groups: dict[tuple[str, Place, str], list[int]] = {}
    for index, channel in enumerate(log.raw.channels):
        groups.setdefault((channel.piece, channel.place, channel.point), []).append(index)
    traces = []
    for (piece, place, point), members in groups.items():
        trace = _merge(log, members, piece, place, point)
        if len(trace):
            traces.append(trace)
    return tuple(traces)


def _merge(log: CorrectedLog, members: list[int], piece: str, place: Place, point: str) -> Trace:
    channels = [log.raw.channels[i] for i in members]
    at = np.concatenate([c.at for c in channels])
    lower = np.concatenate([log.lower[i] for i in members])
    upper = np.concatenate([log.upper[i] for i in members])
    celsius = np.concatenate([c.celsius for c in channels])
    channel = np.concatenate(
        [np.full(len(c), i, dtype=np.int64) for i, c in zip(members, channels, strict=True)]
    )
    row = np.concatenate([np.arange(len(c), dtype=np.int64) for c in channels])
    speaks = ~np.isnan(lower)
    order = np.flatnonzero(speaks)
    if len(channels) > 1:
        order = order[np.argsort(at[order], kind="stable")]
    at = at[order]
    return Trace(
        piece,
        place,
        point,
        at,
        lower[order],
        upper[order],
        celsius[order],
        undisturbed(at, log.raw.notes, piece),
        channel[order],
        row[order],
        np.concatenate([c.value for c in channels])[order],
        _probes(channels, order),
        _bounded(channels, order),
    )


def _bounded(channels: list[Channel], order: Ints) -> Bools | None:
    """Mark the readings whose writer gave bounds; ``None`` if none did."""
    if all(c.low is None for c in channels):
        return None
    given = [
        np.zeros(len(c), np.bool_) if c.low is None or c.high is None else c.low != c.high
        for c in channels
    ]
    return np.concatenate(given)[order]


def _probes(channels: list[Channel], order: Ints) -> Ints | None:
    """Number the probes that took the readings; ``None`` if it was one."""
    numbers: dict[str, int] = {}
    for name in (name for c in channels for name in c.probe):
        numbers.setdefault(name, len(numbers))
    if len(numbers) < 2:
        return None
    taken = [
        np.full(len(c), numbers[c.probe[0]], dtype=np.int64)
        if len(c.probe) == 1
        else np.array([numbers[name] for name in c.probe], dtype=np.int64)
        for c in channels
    ]
    return np.concatenate(taken)[order]


def undisturbed(at: Floats, notes: Iterable[Note], piece: str) -> Bools:
    """Mark the stretches in which no note says that the food was disturbed."""
    calm = np.ones(max(len(at) - 1, 0), bool)
    for note in notes:
        if note.event is None or not note.event.disturbs or note.piece not in (None, piece):
            continue
        index = int(at.searchsorted(note.at, "right")) - 1
        if 0 <= index < len(calm):
            calm[index] = False
    return calm
