"""Corrected bounds beside every reading."""

from __future__ import annotations

from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np

from tempwitness.calibration.checks import findings
from tempwitness.calibration.spans import spans
from tempwitness.model.logs import CorrectedLog, Correction
from tempwitness.model.vocabulary import Flag

if TYPE_CHECKING:
    from tempwitness.calibration.spans import Span
    from tempwitness.model.logs import Bools, Channel, Floats, Ints, QualifiedLog, RawLog
    from tempwitness.model.lot import Probe

__all__ = ["correct"]

# Sums of figures with a few decimals, freed of what binary fractions add.
_DECIMALS = 6


def correct(log: QualifiedLog) -> CorrectedLog:
    """Put the corrected reading's least and greatest value beside each reading.

    Parameters
    ----------
    log : QualifiedLog

    Returns
    -------
    CorrectedLog
        A reading that must not decide has the bounds minus and plus infinity; one that says
        nothing has NaN.
    """
    lower = [(c.value if c.low is None else c.low).copy() for c in log.raw.channels]
    upper = [(c.value if c.high is None else c.high).copy() for c in log.raw.channels]
    made: list[Correction] = []
    for probe in log.raw.probes:
        if probe.checks:
            made += _one_probe(log.raw, probe, lower, upper)
    for low, high, flags in zip(lower, upper, log.flags, strict=True):
        doubtful = flags == Flag.SUSPECT
        low[doubtful], high[doubtful] = -np.inf, np.inf
        mute = (flags == Flag.FAIL) | (flags == Flag.MISSING)
        low[mute] = high[mute] = np.nan
    return CorrectedLog(log, tuple(lower), tuple(upper), tuple(made))


def _one_probe(
    raw: RawLog, probe: Probe, lower: list[Floats], upper: list[Floats]
) -> list[Correction]:
    mine = [_taken_by(channel, probe.id) for channel in raw.channels]
    moments = [channel.at[rows] for channel, rows in zip(raw.channels, mine, strict=True)]
    taken = np.sort(np.concatenate(moments)) if moments else np.zeros(0)
    found = spans(probe, findings(probe, taken.tolist(), ZoneInfo(raw.lot.zone)))
    made = []
    for span in found:
        added: list[float] = []
        for i, channel in enumerate(raw.channels):
            rows = np.flatnonzero(mine[i] & (channel.at >= span.start) & (channel.at < span.end))
            if len(rows):
                added += _add(span, channel, rows, lower[i], upper[i])
        if span.reason and added:
            made.append(
                Correction(probe.id, span.start, span.end, min(added), max(added), span.reason)
            )
    return made


def _taken_by(channel: Channel, probe: str) -> Bools:
    if len(channel.probe) == 1:
        return np.full(len(channel), channel.probe[0] == probe)
    return np.array([taken == probe for taken in channel.probe], np.bool_)


def _add(
    span: Span,
    channel: Channel,
    rows: Ints,
    low: Floats,
    high: Floats,
) -> list[float]:
    """Widen the bounds of rows; return the least and the most that was added [°F].

    Where a line has a slope, each bound is moved by what it needs itself.
    """
    celsius = channel.celsius[rows]
    scale = np.where(celsius, 1.8, 1.0)
    least = span.bounds(_fahrenheit(low[rows], celsius))[0]
    most = span.bounds(_fahrenheit(high[rows], celsius))[1]
    low[rows] = np.round(low[rows] + least / scale, _DECIMALS)
    high[rows] = np.round(high[rows] + most / scale, _DECIMALS)
    value = channel.value[rows]
    known = ~np.isnan(value)
    if not bool(known.any()):
        return []
    least, most = span.bounds(_fahrenheit(value[known], celsius[known]))
    return [float(least.min()), float(most.max())]


def _fahrenheit(values: Floats, celsius: Bools) -> Floats:
    return np.where(celsius, values * 1.8 + 32.0, values)
