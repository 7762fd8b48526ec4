"""All quality tests over all channels; the worst flag of a reading counts."""

from __future__ import annotations

import numpy as np

from tempwitness.model.logs import Doubt, QualifiedLog, RawLog
from tempwitness.model.vocabulary import Flag

__all__ = ["qualify"]


def qualify(raw: RawLog) -> QualifiedLog:
    """Put a flag beside every reading."""
    flags = []
    doubts: list[Doubt] = []
    for number, channel in enumerate(raw.channels):
        missing = np.isnan(channel.value)
        flags.append(np.where(missing, Flag.MISSING, Flag.PASS).astype(np.int8))
        doubts += [
            Doubt(number, row, row, Flag.MISSING, "missing", "no temperature was written down")
            for row in np.flatnonzero(missing).tolist()
        ]
    return QualifiedLog(raw, tuple(flags), tuple(doubts))
