"""The invented readings of the lamb, and larger logs, staged by hand."""

from __future__ import annotations

from datetime import datetime

import numpy as np

from tempwitness.model.logs import (
    Channel,
    CorrectedLog,
    Correction,
    Doubt,
    Floats,
    QualifiedLog,
    RawLog,
    Source,
    Stage,
    StagedLog,
)
from tempwitness.model.lot import Food, Lot, Piece, Probe
from tempwitness.model.vocabulary import Decided, Flag, Place, Species, StageName

__all__ = ["START", "channel", "empty_log", "lamb_log", "long_log", "staged"]

START = datetime.fromisoformat("2025-06-14T06:00:00-04:00").timestamp()

_STAGES = (
    (StageName.COOK, 0.0, 6.5, Decided.NOTED, "into smoker"),
    (StageName.REST, 6.5, 8.5, Decided.NOTED, "wrapped into box"),
    (StageName.HOT_HOLD, 8.5, 11.5, Decided.INFERRED, "the core stays level above 140 °F"),
    (StageName.COOL, 11.5, 19.0, Decided.NOTED, "into ice bath"),
    (StageName.COLD_HOLD, 19.0, 24.0, Decided.NOTED, "into refrigerator"),
)


def channel(
    at: Floats, value: Floats, *, piece: str, place: Place = Place.CORE, celsius: bool = False
) -> Channel:
    """Readings of one probe, one line of the file each below a header."""
    return Channel(
        source="lamb.csv",
        piece=piece,
        place=place,
        point="",
        probe=(f"P{piece}",),
        line=np.arange(2, len(at) + 2, dtype=np.int64),
        at=at,
        value=value,
        celsius=np.full(len(at), celsius),
    )


def staged(
    channels: tuple[Channel, ...],
    doubts: tuple[Doubt, ...] = (),
    stages: tuple[Stage, ...] = (),
    *,
    added: float = 0.0,
) -> StagedLog:
    """Carry readings through with the given doubts; `added` corrects all of them [°F]."""
    flags = tuple(np.full(len(c), Flag.PASS, dtype=np.int8) for c in channels)
    lower = tuple(c.value + added for c in channels)
    upper = tuple(c.value + added for c in channels)
    for doubt in doubts:
        rows = slice(doubt.first, doubt.last + 1)
        flags[doubt.channel][rows] = doubt.flag
        lower[doubt.channel][rows] = -np.inf
        upper[doubt.channel][rows] = np.inf
    pieces = tuple(dict.fromkeys(c.piece for c in channels if c.piece))
    lot = Lot(
        id="LAMB-0614",
        food=Food("smoked lamb shoulder", Species.LAMB),
        code="us/food-code/2022",
        zone="America/New_York",
        pieces=tuple(Piece(p) for p in pieces),
    )
    probes = tuple(Probe(f"P{p}") for p in pieces)
    sources = (Source("lamb.csv", "ab" * 32, sum(len(c) for c in channels)),)
    raw = RawLog(lot, channels, (), probes, sources)
    corrections = (Correction("PA", -np.inf, np.inf, added, added, "ice point"),) if added else ()
    corrected = CorrectedLog(QualifiedLog(raw, flags, doubts), lower, upper, corrections)
    return StagedLog(corrected, stages)


def _course(hours: Floats, slow: float) -> Floats:
    """An invented core: heated to 195 °F, level in the box, then cooled by an ice bath."""
    heated = np.interp(hours, [0, 2, 4, 6.5, 8.5, 11.5], [38, 120, 152, 195, 165, 151])
    cooled = 36 + (151 - 36) * np.exp(-(np.maximum(hours, 11.5) - 11.5) / slow)
    return np.asarray(np.round(np.where(hours < 11.5, heated, cooled), 1), dtype=np.float64)


def _stages(pieces: tuple[str, ...]) -> tuple[Stage, ...]:
    return tuple(
        Stage(
            name=name,
            number=number,
            piece=piece,
            start=START + start * 3600,
            end=START + end * 3600,
            closed=name is not StageName.COLD_HOLD,
            decided=decided,
            reason=reason,
        )
        for piece in pieces
        for number, (name, start, end, decided, reason) in enumerate(_STAGES, 1)
    )


def lamb_log() -> StagedLog:
    """Two pieces and the air, every five minutes; the second probe was lost for three hours."""
    hours = np.arange(0, 24 + 1e-9, 1 / 12)
    at = START + hours * 3600
    first = _course(hours, 2.25)
    first[99] = 32.0
    kept = (hours <= 12.667) | (hours >= 15.5)
    second = _course(hours, 2.0)[kept]
    air = np.where(hours < 6.5, 240.0, np.where(hours < 11.5, 160.0, 38.0)) + 3 * np.sin(hours * 9)
    channels = (
        channel(at, first, piece="A"),
        channel(at[kept], second, piece="B"),
        channel(at, np.round(air, 1), piece="", place=Place.AIR),
    )
    doubt = Doubt(0, 99, 99, Flag.FAIL, "spike", "fell by 120 °F and came back")
    return staged(channels, (doubt,), _stages(("A", "B")), added=-0.4)


def long_log(pieces: int, step_s: float) -> StagedLog:
    """Many pieces read often for 24 h."""
    at = START + np.arange(0, 86400, step_s)
    hours = (at - START) / 3600
    names = tuple(f"{k}" for k in range(1, pieces + 1))
    channels = tuple(
        channel(at, _course(hours, 1.8 + 0.1 * k), piece=name) for k, name in enumerate(names)
    )
    return staged(channels, (), _stages(names))


def empty_log() -> StagedLog:
    """A record without a reading."""
    return staged(())
