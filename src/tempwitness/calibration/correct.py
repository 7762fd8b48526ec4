"""Corrected bounds beside every reading."""

from __future__ import annotations

import numpy as np

from tempwitness.model.logs import CorrectedLog, Floats, QualifiedLog
from tempwitness.model.vocabulary import Flag

__all__ = ["correct"]


def correct(log: QualifiedLog) -> CorrectedLog:
    """Put the corrected reading's least and greatest value beside each reading."""
    lower: list[Floats] = []
    upper: list[Floats] = []
    for channel, flags in zip(log.raw.channels, log.flags, strict=True):
        low, high = channel.value.copy(), channel.value.copy()
        doubtful = flags == Flag.SUSPECT
        low[doubtful], high[doubtful] = -np.inf, np.inf
        mute = (flags == Flag.FAIL) | (flags == Flag.MISSING)
        low[mute] = high[mute] = np.nan
        lower.append(low)
        upper.append(high)
    return CorrectedLog(log, tuple(lower), tuple(upper), ())
