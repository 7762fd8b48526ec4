"""Which readings are printed when there are more than fit on a few sheets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag

if TYPE_CHECKING:
    from tempwitness.model.finding import CitedReading, Evaluation
    from tempwitness.model.logs import Bools, Channel, Ints, StagedLog

__all__ = ["MOST", "Choice", "choose"]

MOST = 1000
_LONGEST_SHOWN_SINGLY = 3


@dataclass(frozen=True, slots=True, eq=False)
class Choice:
    """What is printed of one channel.

    Parameters
    ----------
    channel : int
        Index into the log's channels.
    single : Ints
        Rows that are printed one by one.
    runs : tuple of (int, int)
        First and last row of each run of readings under one flag, printed as one entry.
    cited : frozenset of int
        Rows on which a finding rests.
    every : int
        Of the ordinary rows, one in so many is printed.
    """

    channel: int
    single: Ints
    runs: tuple[tuple[int, int], ...]
    cited: frozenset[int]
    every: int


def choose(evaluation: Evaluation, log: StagedLog) -> list[Choice]:
    """Choose the rows to print: all, or if they are many, those that matter and a thinned rest."""
    channels = log.raw.channels
    rows = sum(len(channel) for channel in channels)
    every = 1 if rows <= MOST else -(-rows // MOST)
    wanted = [r for f in evaluation.findings for r in f.evidence.readings]
    found = (
        _choose(k, channel, log.corrected.qualified.flags[k], _cited(channel, wanted), every)
        for k, channel in enumerate(channels)
    )
    return [choice for choice in found if len(choice.single) or choice.runs]


def _choose(
    index: int, channel: Channel, flags: np.ndarray, cited: frozenset[int], every: int
) -> Choice:
    doubted = np.asarray(flags) >= Flag.SUSPECT
    runs = () if every == 1 else _runs(flags, doubted)
    keep = _thinned(channel, every, ~doubted)
    keep |= doubted
    for first, last in runs:
        keep[first : last + 1] = False
    keep[list(cited)] = True
    return Choice(index, np.flatnonzero(keep), runs, cited, every)


def _thinned(channel: Channel, every: int, decides: Bools) -> Bools:
    keep = np.zeros(len(channel), dtype=np.bool_)
    keep[::every] = True
    keep[-1:] = True
    rows = np.flatnonzero(decides & np.isfinite(channel.value))
    if len(rows):
        value = channel.value[rows]
        keep[[rows[np.argmin(value)], rows[np.argmax(value)]]] = True
    return keep


def _runs(flags: np.ndarray, doubted: Bools) -> tuple[tuple[int, int], ...]:
    """Find runs of the same doubtful flag that are too long to be printed one by one."""
    if not doubted.any():
        return ()
    edges = np.flatnonzero(np.diff(flags)) + 1
    starts = np.concatenate(([0], edges))
    ends = np.concatenate((edges, [len(flags)])) - 1
    return tuple(
        (int(first), int(last))
        for first, last in zip(starts, ends, strict=True)
        if doubted[first] and last - first >= _LONGEST_SHOWN_SINGLY
    )


def _cited(channel: Channel, wanted: list[CitedReading]) -> frozenset[int]:
    lines = {r.line: r.probe for r in wanted if r.source == channel.source}
    if not lines:
        return frozenset()
    rows = np.flatnonzero(np.isin(channel.line, list(lines)))
    pairs = {(r.line, r.probe) for r in wanted if r.source == channel.source}
    return frozenset(
        row for row in rows.tolist() if (int(channel.line[row]), channel.probe_of(row)) in pairs
    )
