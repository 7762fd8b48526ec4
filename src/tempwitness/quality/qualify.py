"""All quality tests over all channels; the worst flag of a reading counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.logs import QualifiedLog
from tempwitness.model.vocabulary import Place
from tempwitness.quality.jumps import jumps
from tempwitness.quality.order import hot_before_cold
from tempwitness.quality.settings import figures
from tempwitness.quality.single import missing, out_of_range, rough, same_moment, sentinels
from tempwitness.quality.surroundings import hotter_than_air
from tempwitness.quality.trace import Trace

if TYPE_CHECKING:
    from tempwitness.model.logs import RawLog

__all__ = ["qualify"]


def qualify(raw: RawLog) -> QualifiedLog:
    """Put a flag beside every reading.

    Parameters
    ----------
    raw : RawLog

    Returns
    -------
    QualifiedLog
        Every reading is kept; one that must not decide by itself is flagged, with the reason.
    """
    numbers = figures()
    traces = [Trace.of(i, channel) for i, channel in enumerate(raw.channels)]
    for trace in traces:
        missing(trace)
        rough(trace)
        sentinels(trace, numbers)
        out_of_range(trace, numbers)
        same_moment(trace, numbers)
        hot_before_cold(trace, raw.notes, numbers)
        jumps(trace, raw.notes, numbers)
    air = [trace for trace in traces if trace.channel.place is Place.AIR]
    for trace in traces:
        hotter_than_air(trace, air, raw.notes, numbers)
    doubts = [doubt for trace in traces for doubt in sorted(trace.doubts, key=lambda d: d.first)]
    return QualifiedLog(raw, tuple(trace.flags for trace in traces), tuple(doubts))
