"""Stages in a form that a hand can write down: name, start and end in hours."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Unpack

from tempwitness.model.logs import Channel, Note, Stage, StagedLog
from tests.support import ZERO, Readings, Stated, channel, staged

Shown = list[tuple[str, float, float]]


def shown(log: StagedLog, piece: str = "1") -> Shown:
    """Stages of a piece."""
    return [(s.name.value, hour(s.start), hour(s.end)) for s in of(log, piece)]


def of(log: StagedLog, piece: str = "1") -> list[Stage]:
    """Stages of a piece as they are."""
    return [s for s in log.stages if s.piece == piece]


def hour(moment: float) -> float:
    """Hours since 0:00."""
    return (moment - ZERO) / 3600


def noted(
    readings: Readings, steps: Sequence[Note], *more: Channel, **lot: Unpack[Stated]
) -> StagedLog:
    """A log of one core with notes."""
    first = [channel(readings)] if readings else []
    return staged([*first, *more], steps, **lot)


def inferred(readings: Readings, *steps: Note, celsius: bool = False) -> StagedLog:
    """A log of one core without any noted step."""
    return staged([channel(readings, celsius=celsius)], steps)
