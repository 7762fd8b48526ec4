"""All quality tests over all channels; the worst flag of a reading counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.logs import QualifiedLog
from tempwitness.model.vocabulary import StageName
from tempwitness.quality.filled import filled_in
from tempwitness.quality.flat import flat_line
from tempwitness.quality.joined import dealt_out, joined
from tempwitness.quality.jumps import jumps, limits
from tempwitness.quality.noted import mine, noted_stages
from tempwitness.quality.order import hot_before_cold
from tempwitness.quality.sentinels import sentinels
from tempwitness.quality.settings import figures
from tempwitness.quality.single import bounded, missing, out_of_range, rough, same_moment
from tempwitness.quality.surroundings import against_air, all_air
from tempwitness.quality.swapped import swapped
from tempwitness.quality.times import back_in_time, gaps, impossible_time
from tempwitness.quality.trace import Trace
from tempwitness.quality.units import other_scale, switched, unit_questions

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Note, RawLog
    from tempwitness.quality.noted import NotedStage
    from tempwitness.quality.settings import Figures

__all__ = ["qualify"]

_HEATING = (StageName.COOK, StageName.REHEAT)


def qualify(raw: RawLog, latest: float | None = None) -> QualifiedLog:
    """Put a flag beside every reading.

    Parameters
    ----------
    raw : RawLog
    latest : float, optional
        The latest moment at which anything can have been read [s since 1970-01-01 UTC]; without it
        readings of the future are not looked for.

    Returns
    -------
    QualifiedLog
        Every reading is kept; one that must not decide by itself is flagged, with the reason.
    """
    numbers = figures()
    tested = joined(raw)
    traces = [one.trace for one in tested]
    stages = {t.channel.piece: noted_stages(raw.notes, t.channel.piece) for t in traces}
    for trace in traces:
        _alone(trace, raw, stages[trace.channel.piece], latest, numbers)
    swapped(traces, raw.notes, numbers)
    for trace in traces:
        _changes(trace, raw, stages[trace.channel.piece], numbers)
    _together(traces, stages, numbers)
    flags, doubts, remarks = dealt_out(raw, tested)
    asked = _questions(raw, traces, stages, numbers)
    return QualifiedLog(raw, tuple(flags), tuple(doubts), tuple(remarks), asked)


def _alone(
    trace: Trace, raw: RawLog, stages: Sequence[NotedStage], latest: float | None, numbers: Figures
) -> None:
    """Tests of single readings and of moments."""
    missing(trace, numbers)
    impossible_time(trace, latest, raw.lot.zone, numbers)
    gaps(trace, raw.lot.zone, numbers)
    rough(trace)
    bounded(trace)
    sentinels(trace, numbers)
    other_scale(trace, numbers)
    out_of_range(trace, stages, numbers)
    same_moment(trace, numbers)


def _changes(trace: Trace, raw: RawLog, stages: Sequence[NotedStage], numbers: Figures) -> None:
    """Tests of how readings follow each other."""
    notes: list[Note] = mine(raw.notes, trace.channel.piece)
    hot_before_cold(trace, stages, numbers)
    switched(trace, notes, numbers)
    heated = not stages or any(s.name in _HEATING for s in stages)
    jumps(trace, notes, limits(raw.lot.food, heated=heated, figures=numbers), numbers)


def _together(
    traces: Sequence[Trace], stages: dict[str, list[NotedStage]], numbers: Figures
) -> None:
    """Tests of channels beside each other."""
    air = all_air(traces)
    for trace in traces:
        piece = trace.channel.piece
        against_air(trace, air, stages[piece], numbers)
        others = [t for t in traces if t is not trace and piece and t.channel.piece == piece]
        flat_line(trace, air=air, others=others, stages=stages[piece], figures=numbers)


def _questions(
    raw: RawLog, traces: Sequence[Trace], stages: dict[str, list[NotedStage]], numbers: Figures
) -> tuple[str, ...]:
    # How a list was written down is asked of each file by itself.
    lists = [Trace.of(i, channel) for i, channel in enumerate(raw.channels)]
    asked = [back_in_time(one, numbers) for one in lists]
    for trace in traces:
        asked += unit_questions(trace, stages[trace.channel.piece], numbers)
    asked += filled_in(raw, lists, numbers)
    return tuple(dict.fromkeys(question for question in asked if question))
