"""A log as it stood at an earlier moment."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from tempwitness.model.logs import Bools, Channel, Floats, RawLog

__all__ = ["known_at"]


def known_at(raw: RawLog, moment: float) -> RawLog:
    """Leave out of a raw log what had not happened yet.

    Readings, notes and probe checks later than the moment are left out; what the record states of
    the lot as a whole is not, because it bears no moment.

    Parameters
    ----------
    raw : RawLog
    moment : float
        [s since 1970-01-01 UTC]; what happened at that very moment is kept.

    Returns
    -------
    RawLog
    """
    channels = tuple(_cut(c, ~(c.at > moment)) for c in raw.channels)
    lot = replace(raw.lot, time_control=tuple(p for p in raw.lot.time_control if p.start <= moment))
    probes = tuple(
        replace(p, checks=tuple(c for c in p.checks if c.at <= moment)) for p in raw.probes
    )
    return replace(
        raw,
        lot=lot,
        channels=channels,
        notes=tuple(n for n in raw.notes if n.at <= moment),
        probes=probes,
    )


def _cut(channel: Channel, keep: Bools) -> Channel:
    if keep.all():
        return channel
    rows = np.flatnonzero(keep)

    def of(values: Floats | None) -> Floats | None:
        return None if values is None else values[rows]

    probe, text = channel.probe, channel.text
    return replace(
        channel,
        probe=probe if len(probe) == 1 else tuple(probe[i] for i in rows),
        line=channel.line[rows],
        at=channel.at[rows],
        value=channel.value[rows],
        celsius=channel.celsius[rows],
        text=None if text is None else tuple(text[i] for i in rows),
        low=of(channel.low),
        high=of(channel.high),
        rough=None if channel.rough is None else channel.rough[rows],
    )
