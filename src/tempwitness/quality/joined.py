"""Readings of one point from several files, tested as one log and flagged where they stand."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.vocabulary import Flag
from tempwitness.quality.trace import Trace

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from tempwitness.model.logs import Channel, Doubt, Floats, Ints, RawLog, Remark

__all__ = ["Joined", "dealt_out", "joined"]

_RECORD = "record"


@dataclass(frozen=True, slots=True, eq=False)
class Joined:
    """One or several channels under test as one.

    Parameters
    ----------
    trace : Trace
    channel, row : Ints, optional
        For each of its readings the channel and the row of it in the log; ``None`` for a channel
        that is tested as it stands.
    """

    trace: Trace
    channel: Ints | None = None
    row: Ints | None = None


def joined(raw: RawLog) -> list[Joined]:
    """Join the channels of each point, whichever file they come from.

    A log that was split into files is doubted as the whole one would be. Readings typed into the
    record stay by themselves: a hand reads otherwise than an instrument.
    """
    groups: dict[tuple[object, ...], list[int]] = {}
    for i, channel in enumerate(raw.channels):
        typed = channel.source == _RECORD
        key = (channel.piece, channel.place, channel.point, typed)
        groups.setdefault(key, []).append(i)
    return [_one(raw, members) for members in groups.values()]


def _one(raw: RawLog, members: list[int]) -> Joined:
    if len(members) == 1:
        return Joined(Trace.of(members[0], raw.channels[members[0]]))
    parts = [raw.channels[i] for i in members]
    at = np.concatenate([part.at for part in parts])
    order = np.argsort(at, kind="stable")
    number = np.concatenate([np.full(len(p), i) for i, p in zip(members, parts, strict=True)])
    row = np.concatenate([np.arange(len(part)) for part in parts])
    whole = replace(
        parts[0],
        source=", ".join(dict.fromkeys(part.source for part in parts)),
        probe=_probes(parts, order),
        line=np.concatenate([part.line for part in parts])[order],
        at=at[order],
        value=np.concatenate([part.value for part in parts])[order],
        celsius=np.concatenate([part.celsius for part in parts])[order],
        text=_texts(parts, order),
        low=_bounds([part.low for part in parts], parts, order),
        high=_bounds([part.high for part in parts], parts, order),
        rough=_rough(parts, order),
    )
    trace = Trace.of(members[0], whole)
    trace.origin = number[order]
    return Joined(trace, trace.origin, row[order])


def _probes(parts: Sequence[Channel], order: Ints) -> tuple[str, ...]:
    names = [name for p in parts for name in (p.probe * len(p) if len(p.probe) == 1 else p.probe)]
    return parts[0].probe if len(set(names)) == 1 else tuple(names[i] for i in order.tolist())


def _texts(parts: Sequence[Channel], order: Ints) -> tuple[str, ...] | None:
    if all(part.text is None for part in parts):
        return None
    texts = [t for p in parts for t in (p.text or tuple(f"{v:g}" for v in p.value.tolist()))]
    return tuple(texts[i] for i in order.tolist())


def _bounds(given: Sequence[Floats | None], parts: Sequence[Channel], order: Ints) -> Floats | None:
    if all(bound is None for bound in given):
        return None
    whole = [p.value if b is None else b for b, p in zip(given, parts, strict=True)]
    return np.asarray(np.concatenate(whole)[order])


def _rough(parts: Sequence[Channel], order: Ints) -> NDArray[np.bool_] | None:
    if all(part.rough is None for part in parts):
        return None
    marked = [np.zeros(len(p), np.bool_) if p.rough is None else p.rough for p in parts]
    return np.asarray(np.concatenate(marked)[order])


def dealt_out(
    raw: RawLog, tested: Sequence[Joined]
) -> tuple[list[NDArray[np.int8]], list[Doubt], list[Remark]]:
    """Give flags, doubts and remarks back to the channels in which the readings stand.

    Returns
    -------
    list of arrays of int8
        A flag for each reading of each channel.
    list of Doubt
        By channel, in order of rows.
    list of Remark
    """
    flags = [np.full(len(channel), Flag.PASS, np.int8) for channel in raw.channels]
    doubts: list[Doubt] = []
    remarks: list[Remark] = []
    for one in tested:
        trace = one.trace
        if one.channel is None or one.row is None:
            flags[trace.number] = trace.flags
            doubts += trace.doubts
            remarks += trace.remarks
            continue
        for number in dict.fromkeys(one.channel.tolist()):
            here = one.channel == number
            flags[number][one.row[here]] = trace.flags[here]
        doubts += [part for doubt in trace.doubts for part in _parts(doubt, one.channel, one.row)]
        remarks += [
            replace(
                remark,
                channel=int(one.channel[remark.first]),
                first=int(one.row[remark.first]),
                last=int(one.row[remark.first]),
            )
            for remark in trace.remarks
        ]
    return flags, sorted(doubts, key=lambda d: (d.channel, d.first)), remarks


def _parts(doubt: Doubt, channel: Ints, row: Ints) -> list[Doubt]:
    """Cut a doubt into runs of rows of each channel."""
    span = slice(doubt.first, doubt.last + 1)
    found = []
    for number in dict.fromkeys(channel[span].tolist()):
        rows = np.sort(row[span][channel[span] == number])
        breaks = np.flatnonzero(np.diff(rows) > 1)
        firsts = rows[np.concatenate(([0], breaks + 1))].tolist()
        lasts = rows[np.concatenate((breaks, [len(rows) - 1]))].tolist()
        found += [
            replace(doubt, channel=number, first=first, last=last)
            for first, last in zip(firsts, lasts, strict=True)
        ]
    return found
