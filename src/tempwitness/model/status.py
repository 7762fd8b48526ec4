"""How a lot stands at one moment: what runs, what is due, what can still be saved."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

# The schema of the document is made from these types.
from tempwitness.model.finding import CodeUsed, Rescue  # noqa: TC001
from tempwitness.model.vocabulary import Clock, Verdict, Weight

__all__ = [
    "STATUS_SCHEMA",
    "Due",
    "Latest",
    "PieceNow",
    "Saving",
    "Settled",
    "Status",
    "Waiting",
]

STATUS_SCHEMA = "tempwitness/status/1"


@dataclass(frozen=True, slots=True)
class Latest:
    """The last reading of one point.

    Parameters
    ----------
    at : str
        Moment (ISO 8601).
    age_s : float
        Time since then [s].
    reading : str
        In the scale of the code, with what was written beside it where that is another scale.
    place, point, probe : str
        Where it was taken and with what.
    doubt : str
        Why it must not decide by itself; ``""`` if nothing speaks against it.
    """

    at: str
    age_s: float
    reading: str
    place: str
    point: str
    probe: str
    doubt: str


@dataclass(frozen=True, slots=True)
class PieceNow:
    """Where one piece stands.

    Parameters
    ----------
    stage : str
        Its last stage; ``""`` before the first one.
    since : str, optional
        When that began (ISO 8601).
    ended : str, optional
        When it was noted as over; ``None`` while it runs.
    inferred : bool
        Whether nobody noted the stage, so that it was read from the trace.
    verdict : Verdict
        Worst binding answer so far.
    read_now : bool
        Whether its stage still runs and something of it is already not shown for want of a
        reading.
    """

    piece: str
    stage: str
    method: str
    since: str | None
    ended: str | None
    inferred: bool
    latest: tuple[Latest, ...]
    verdict: Verdict
    read_now: bool


@dataclass(frozen=True, slots=True)
class Due:
    """A deadline that lies ahead.

    Parameters
    ----------
    stage_number : int
        Number of the stage within the first of the pieces.
    by : str
        Moment (ISO 8601).
    left_s : float
        Time until then [s].
    sure : bool
        Whether keeping it keeps the requirement; else the record also leaves open whether the
        requirement applies, as `reason` says.
    least_s, most_s : float, optional
        Bounds of the time already used [s].
    do : str
        What to do until then.
    rescue : Rescue, optional
        What is left to do if it is missed.
    """

    clock: Clock
    pieces: tuple[str, ...]
    stage: str
    stage_number: int
    requirement: str
    title: str
    weight: Weight
    beside: bool
    by: str
    left_s: float
    sure: bool
    reason: str
    limit: str
    least_s: float | None
    most_s: float | None
    do: str
    rescue: Rescue | None
    citation: str

    @property
    def not_started(self) -> bool:
        """Whether a fall or a rise has not begun, so that the next reading may move its end on."""
        return self.clock in (Clock.FALL, Clock.RISE) and self.least_s is None


@dataclass(frozen=True, slots=True)
class Saving:
    """What can still be done about food whose limit is, or may be, broken.

    Parameters
    ----------
    by : str, optional
        Until when (ISO 8601).
    left_s : float, optional
        Time until then [s]; negative once it ran out.
    first : str
        Of what is not shown: what to do to find out.
    """

    pieces: tuple[str, ...]
    stage: str
    requirement: str
    title: str
    verdict: Verdict
    do: str
    by: str | None
    left_s: float | None
    otherwise: str
    basis: Literal["code", "practice", "authority"]
    first: str


@dataclass(frozen=True, slots=True)
class Waiting:
    """A requirement that is still open without a deadline."""

    pieces: tuple[str, ...]
    stage: str
    requirement: str
    title: str
    reason: str


@dataclass(frozen=True, slots=True)
class Settled:
    """An answer that no longer depends on what comes.

    Parameters
    ----------
    settle : str
        The reading that would have settled it, with its moment apart.
    """

    pieces: tuple[str, ...]
    stage: str
    stage_number: int
    requirement: str
    title: str
    verdict: Verdict
    reason: str
    do: str
    settle: str
    settle_at: str | None
    citation: str


@dataclass(frozen=True, slots=True)
class Status:
    """How a lot stands at the moment of asking; every figure in it comes from its evaluation.

    Parameters
    ----------
    asked_at : str
        Moment of asking (ISO 8601); nothing that was written down later is looked at.
    verdict : Verdict
        Worst answer of the requirements that bind.
    next_readings : tuple of Due
        For each piece the reading that falls due first.
    clocks : tuple of Due
        All running clocks, the first to run out first; advice and codes beside are among them.
    use_by : tuple of Due
        Last days of cold food and ends of the day of service.
    saving : tuple of Saving
        What can still be saved, and until when, the most urgent first.
    waiting : tuple of Waiting
    settled : tuple of Settled
        Binding answers, the worst first.
    """

    schema: str
    tool: str
    lot: str
    food: str
    zone: str
    code: CodeUsed
    asked_at: str
    verdict: Verdict
    headline: str
    pieces: tuple[PieceNow, ...]
    next_readings: tuple[Due, ...]
    clocks: tuple[Due, ...]
    use_by: tuple[Due, ...]
    saving: tuple[Saving, ...]
    waiting: tuple[Waiting, ...]
    settled: tuple[Settled, ...]
    questions: tuple[str, ...]
    caution: tuple[str, ...]

    @property
    def over(self) -> bool:
        """Whether nothing runs any more: all pieces ended and no deadline lies ahead."""
        ended = all(p.ended is not None for p in self.pieces)
        return bool(self.pieces) and ended and not (self.clocks or self.use_by)
