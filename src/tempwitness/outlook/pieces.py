"""Where each piece stands: its stage, and the last reading of each of its points."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np

from tempwitness.model.status import Latest, PieceNow
from tempwitness.model.vocabulary import Decided, Flag, Verdict, worst
from tempwitness.units import Unit, convert, format_degrees

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.model.logs import Channel, Stage, StagedLog

__all__ = ["pieces_now"]


def pieces_now(evaluation: Evaluation, log: StagedLog, asked: float) -> tuple[PieceNow, ...]:
    """Return where each piece of the lot stands, in the order of the record."""
    unit = Unit(evaluation.code.unit)
    readings = dict(_latest(log, unit, asked))
    return tuple(_now(piece, evaluation, log, readings) for piece in evaluation.lot.pieces)


def _now(
    piece: str,
    evaluation: Evaluation,
    log: StagedLog,
    readings: dict[tuple[str, str, str], Latest],
) -> PieceNow:
    own = [s for s in log.stages if s.piece == piece]
    last: Stage | None = own[-1] if own else None
    iso = _writer(log)
    binding = [f for f in evaluation.binding if f.piece == piece]
    return PieceNow(
        piece=piece,
        stage="" if last is None else last.name.value,
        method="" if last is None else last.method,
        since=None if last is None else iso(last.start),
        ended=iso(last.end) if last is not None and last.closed else None,
        inferred=last is not None and last.decided is Decided.INFERRED,
        latest=tuple(v for (of, _, _), v in readings.items() if of == piece),
        verdict=worst([f.verdict for f in binding]),
        read_now=last is not None
        and not last.closed
        and any(_unread(f) and f.stage_number == last.number for f in binding),
    )


def _unread(finding: Finding) -> bool:
    """Whether it is not shown for want of a reading; of notes and papers it has no figures."""
    return finding.verdict is Verdict.NOT_SHOWN and bool(finding.figures)


def _writer(log: StagedLog) -> Callable[[float], str]:
    """Return what writes a moment as the evaluation does."""
    zone = ZoneInfo(log.raw.lot.zone)
    return lambda moment: datetime.fromtimestamp(moment, zone).isoformat()


def _latest(
    log: StagedLog, unit: Unit, asked: float
) -> Iterator[tuple[tuple[str, str, str], Latest]]:
    """Yield the last reading of each point: core before surface, air and medium."""
    iso = _writer(log)
    newest: dict[tuple[str, str, str], tuple[Channel, int, int]] = {}
    for number, channel in enumerate(log.raw.channels):
        row = _last_row(channel)
        if row is None:
            continue
        key = channel.piece, channel.place.value, channel.point
        known = newest.get(key)
        if known is None or channel.at[row] >= known[0].at[known[1]]:
            newest[key] = channel, row, number
    order = ("core", "surface", "air", "medium")
    for key in sorted(newest, key=lambda k: (k[0], order.index(k[1]), k[2])):
        channel, row, number = newest[key]
        at = float(channel.at[row])
        yield (
            key,
            Latest(
                at=iso(at),
                age_s=asked - at,
                reading=_words(channel, row, unit),
                place=channel.place.value,
                point=channel.point,
                probe=channel.probe_of(row),
                doubt=_doubt(log, number, row),
            ),
        )


def _last_row(channel: Channel) -> int | None:
    written = np.flatnonzero(~np.isnan(channel.value))
    return int(written[np.argmax(channel.at[written])]) if len(written) else None


def _words(channel: Channel, row: int, unit: Unit) -> str:
    """Write a reading in the scale of the code; what was written stands beside it."""
    written = channel.written(row)
    own = Unit.C if channel.celsius[row] else Unit.F
    value = float(channel.value[row])
    if own is unit or written != format_degrees(value, own):
        return written
    return f"{format_degrees(round(convert(value, own, unit), 1), unit)} ({written})"


def _doubt(log: StagedLog, number: int, row: int) -> str:
    qualified = log.corrected.qualified
    return next(
        (
            d.reason
            for d in qualified.doubts
            if d.channel == number and d.first <= row <= d.last and d.flag is not Flag.NOT_EVALUATED
        ),
        "",
    )
