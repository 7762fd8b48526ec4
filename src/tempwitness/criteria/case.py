"""What a criterion is given: one stage of one piece, its readings and the moment of asking."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np

from tempwitness.bounds.clip import Window
from tempwitness.model.vocabulary import Decided, StageName
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tempwitness.bounds.trace import Trace
    from tempwitness.criteria.outcome import Outcome
    from tempwitness.model.figures import Limit
    from tempwitness.model.logs import Note, Stage
    from tempwitness.model.lot import Lot, Probe
    from tempwitness.model.vocabulary import Point

__all__ = ["Case", "Local", "distance", "figure", "reading_words"]

#: Stages in which nothing heats the food.
PASSIVE = frozenset({StageName.REST})

#: Stages in which the food is being heated on purpose.
HEATING = frozenset({StageName.COOK, StageName.REHEAT})


# The report is in English wherever it is made: names of days do not come from the machine.
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class Local:
    """Writes moments in the zone of the record."""

    __slots__ = ("_days", "_iso", "_said", "_zone")

    def __init__(self, zone: str, *, many_days: bool) -> None:
        self._zone = ZoneInfo(zone)
        self._days = many_days
        self._iso: dict[float, str] = {}
        self._said: dict[float, str] = {}

    def when(self, moment: float) -> datetime:
        """Return the moment as an aware local datetime."""
        return datetime.fromtimestamp(moment, self._zone)

    def say(self, moment: float) -> str:
        """Write a moment for a person: the time of day, with the date if the record has several.

        Seconds are written only where there are any; the offset only where the clocks change.
        """
        said = self._said.get(moment)
        if said is None:
            said = self._said[moment] = self._words(moment)
        return said

    def _words(self, moment: float) -> str:
        local = self.when(moment)
        text = f"{local.hour:02d}:{local.minute:02d}"
        if local.second or local.microsecond:
            text += f":{local.second:02d}"
        if self._days:
            day, month = _DAYS[local.weekday()], _MONTHS[local.month - 1]
            text = f"{day} {local.day} {month} {text}"
        return f"{text} ({local.tzname()})" if self._ambiguous(local) else text

    def iso(self, moment: float) -> str:
        """Write a moment as ISO 8601 with its offset."""
        text = self._iso.get(moment)
        if text is None:
            text = self._iso[moment] = self.when(moment).isoformat()
        return text

    @staticmethod
    def _ambiguous(local: datetime) -> bool:
        return local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()


@dataclass(slots=True, eq=False)
class Case:
    """One stage of one piece, with everything that its requirements may ask.

    Parameters
    ----------
    stage : Stage
    stages : tuple of Stage
        All stages of the piece, in order.
    traces : tuple of Trace
        Readings that can prove the requirement.
    others : tuple of Trace
        Readings of the food elsewhere, which can only disprove it.
    asked : float
        Moment of asking [s].
    explicit : bool
        Whether somebody named that moment. Then a limit that must be kept throughout is asked up
        to it; else a finished record is judged up to its last entry.
    intervals : mapping of StageName to float
        Longest time between readings over which the bracketing assumption is made [s].
    infer : bool
        Whether a reading may speak for an unread time in which nothing heated the food.
    judged : dict
        Answers found so far, by what was asked; a changed copy of a case begins without any.

    Notes
    -----
    Not frozen, because a lot makes hundreds and freezing doubles their cost; nobody changes one.
    """

    lot: Lot
    stage: Stage
    stages: tuple[Stage, ...]
    traces: tuple[Trace, ...]
    others: tuple[Trace, ...]
    notes: tuple[Note, ...]
    probes: tuple[Probe, ...]
    asked: float
    intervals: Mapping[StageName, float]
    local: Local
    explicit: bool = False
    infer: bool = True
    _whole: Window | None = None
    judged: dict[tuple[int, tuple[StageName, ...], Point], Outcome] = field(
        default_factory=dict, init=False
    )

    @property
    def interval(self) -> float:
        """Monitoring interval of the stage [s]."""
        return self.intervals[self.stage.name]

    @property
    def live(self) -> bool:
        """Whether the stage may still be running at the moment of asking."""
        return not self.stage.closed and self.asked - self.stage.end <= self.interval

    @property
    def previous(self) -> Stage | None:
        """The stage before this one."""
        return self._neighbour(-1)

    @property
    def following(self) -> Stage | None:
        """The stage after this one."""
        return self._neighbour(1)

    def _neighbour(self, step: int) -> Stage | None:
        index = next(i for i, s in enumerate(self.stages) if s.number == self.stage.number) + step
        return self.stages[index] if 0 <= index < len(self.stages) else None

    def disturbed(self, start: float, end: float) -> bool:
        """Whether a note says that this piece was disturbed from one moment to another [s]."""
        return any(
            n.event is not None and n.event.disturbs and start <= n.at <= end
            for n in self.notes
            if n.piece in (None, self.stage.piece)
        )

    def window(self, *, start: float | None = None, end: float | None = None) -> Window:
        """Return the stage's stretch of time, or a part of it."""
        if self._whole is None:
            self._whole = Window(
                self.stage.start,
                self.stage.end,
                self.interval,
                self._passive_from(),
                own_end=self.following is None,
            )
        if start is None and end is None:
            return self._whole
        return replace(
            self._whole,
            start=self.stage.start if start is None else start,
            end=self.stage.end if end is None else end,
        )

    def _passive_from(self) -> float:
        """Moment from which a person's note says that nothing heats the food; infinite if none.

        A stage that was itself inferred says no such thing: in an unread stretch of it the food
        may have been heated or chilled.
        """
        previous = self.previous
        if not self.infer or self.stage.decided is not Decided.NOTED:
            return float("inf")
        if self.stage.name in PASSIVE:
            if previous is not None and previous.name in HEATING:
                # The finish reading of the heating stage stands for the start of the rest.
                return previous.start
            return self.stage.start
        return self.stage.start if self.stage.name is StageName.COOL else float("inf")


def figure(limit: Limit, trace: Trace | None) -> str:
    """Write a limit's figure in the unit in which the trace was written.

    A figure that the code does not print stands beside the one that it prints.
    """
    celsius = trace is not None and len(trace) > 0 and bool(trace.celsius.all())
    if trace is None and limit.printed == "c":
        return f"{limit.c} °C"
    if celsius:
        return f"{limit.c} °C" if limit.printed != "f" else f"{limit.c} °C ({limit.f} °F)"
    return f"{limit.f} °F" if limit.printed != "c" else f"{limit.f} °F ({limit.c} °C)"


def reading_words(trace: Trace, index: int) -> str:
    """Write a corrected reading, and what the probe showed where that was something else.

    A range stands where a failed check leaves room.
    """
    unit = Unit.C if trace.celsius[index] else Unit.F
    low, high = float(trace.lower[index]), float(trace.upper[index])
    if trace.bounded is not None and trace.bounded[index]:
        return _bounds_words(low, high, unit)
    if not np.isfinite(low):
        text = "a doubtful reading"
    elif low == high:
        text = format_degrees(low, unit)
    else:
        text = f"{format_degrees(low, unit)} to {format_degrees(high, unit)}"
    shown = "" if trace.shown is None else format_degrees(float(trace.shown[index]), unit)
    return text if shown in ("", text) else f"{text} (the probe showed {shown})"


def _bounds_words(low: float, high: float, unit: Unit) -> str:
    """Write a reading of which its writer gave bounds only.

    A side that was left out ("below 41") is the next number that the machine knows beside the
    figure; where a correction was added, the side is no longer told from the figure itself.
    """
    if np.isfinite(low) and np.isfinite(high):
        return f"{format_degrees(low, unit).split()[0]} to {format_degrees(high, unit)}"
    if np.isfinite(high):
        return f"{'at most' if high == round(high, 6) else 'below'} {format_degrees(high, unit)}"
    if np.isfinite(low):
        return f"{'at least' if low == round(low, 6) else 'above'} {format_degrees(low, unit)}"
    return "a doubtful reading"


def distance(trace: Trace, index: int | None, limit: Limit | None) -> float | None:
    """Return how far a reading stands from a limit [unit of the reading], or ``None``.

    It is positive on the side that keeps the limit; of a range the less favourable end counts.
    """
    if index is None or index < 0 or limit is None:
        return None
    floor = limit.op in (">=", ">")
    value = float(trace.lower[index] if floor else trace.upper[index])
    printed = float(limit.c if trace.celsius[index] else limit.f)
    if not np.isfinite(value):
        return None
    return value - printed if floor else printed - value
