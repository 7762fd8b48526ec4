"""The log on its way: read, qualified, corrected, staged.

Each step keeps what it was given and puts its own findings beside it, row by row. Nothing is
dropped: a reading that must not decide is flagged, and the flag is printed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from tempwitness.model.lot import Lot, Probe, TimeControlPlan
    from tempwitness.model.vocabulary import Decided, Event, Flag, Place, StageName

__all__ = [
    "Bools",
    "Change",
    "Channel",
    "CorrectedLog",
    "Correction",
    "Doubt",
    "Floats",
    "Ints",
    "Note",
    "QualifiedLog",
    "RawLog",
    "Remark",
    "Source",
    "Stage",
    "StagedLog",
]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Source:
    """A file that was read.

    Parameters
    ----------
    name : str
        Path relative to the record, as it was given.
    sha256 : str
        Hash of its bytes.
    rows : int
        Rows of data in it.
    understood : tuple of str
        How it was understood: columns, units, zone, one sentence each.
    """

    name: str
    sha256: str
    rows: int
    understood: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """One thing in a file that was not taken as it stands, and why.

    Parameters
    ----------
    source : str
        Name of the file, or ``"record"``.
    line : int
        Line in the file, or ordinal in the record, from 1; 0 for the file as a whole.
    column : str
        Name of the column; ``""`` for a whole row.
    written : str
        What stands there.
    used : str
        What was taken in its place; ``""`` if nothing, because the row holds no reading.
    reason : str
        One sentence for a person.
    rows : int
        How many rows this entry stands for, from `line` on, where the same was done to a run.
    """

    source: str
    line: int
    column: str
    written: str
    used: str
    reason: str
    rows: int = 1


@dataclass(frozen=True, slots=True, eq=False)
class Channel:
    """Readings of one point of one piece, columns of equal length n, sorted by time.

    Parameters
    ----------
    source : str
        Name of the file, ``"record"`` for readings typed into the record.
    piece : str
        Which piece; ``""`` for air and medium, which belong to all pieces.
    place : Place
        Where the sensor sat.
    point : str
        Name of the point within the piece, ``""`` if the piece has only one.
    probe : tuple of str, length 1 or n
        Probe that took each reading; one entry stands for all.
    line : Ints
        Line in the file, or ordinal in the record, from 1.
    at : Floats
        Moment [s since 1970-01-01 UTC].
    value : Floats
        Temperature as written [its own unit]; NaN where the cell holds no number.
    celsius : Bools
        True where the reading was written in °C, False for °F.
    text : tuple of str, optional
        Cells as written; ``None`` when every cell is the plain text of its number.
    low, high : Floats, optional
        Bounds that the writer gave in place of one figure ("<41", "140-145") [its own unit],
        infinite on an open side and equal to `value` where one figure stands; ``None`` when every
        cell holds one figure. Where they differ, `value` is the bound that a person would read
        aloud, for charts and tables alone; verdicts rest on the bounds.
    rough : Bools, optional
        True where the writer marked the figure as approximate ("~165"); it must not decide.
    """

    source: str
    piece: str
    place: Place
    point: str
    probe: tuple[str, ...]
    line: Ints
    at: Floats
    value: Floats
    celsius: Bools
    text: tuple[str, ...] | None = None
    low: Floats | None = None
    high: Floats | None = None
    rough: Bools | None = None

    def __len__(self) -> int:
        return len(self.at)

    def probe_of(self, row: int) -> str:
        """Probe that took the reading in a row."""
        return self.probe[0] if len(self.probe) == 1 else self.probe[row]

    def written(self, row: int) -> str:
        """Reading of a row: the figure with its unit, or the cell itself where it is no figure.

        ``""`` for an empty cell.
        """
        value = float(self.value[row])
        text = "" if self.text is None else self.text[row]
        bounded = any(b is not None and float(b[row]) != value for b in (self.low, self.high))
        marked = self.rough is not None and bool(self.rough[row])
        if np.isnan(value) or (text and (bounded or marked)):
            return text
        return format_degrees(value, Unit.C if self.celsius[row] else Unit.F)


@dataclass(frozen=True, slots=True)
class Note:
    """What a person did and when.

    Parameters
    ----------
    at : float
        Moment [s since 1970-01-01 UTC].
    step : StageName, optional
        Stage that begins here.
    event : Event, optional
        Anything else that was done.
    text : str
        The person's own words.
    piece : str, optional
        Piece it concerns; ``None`` for all.
    method : str
        How: ``refrigerator``, ``running_water``, ``ice_bath``, ``microwave`` …
    source, line
        Where it was written.
    """

    at: float
    step: StageName | None
    event: Event | None
    text: str
    piece: str | None
    method: str
    source: str
    line: int


@dataclass(frozen=True, slots=True)
class RawLog:
    """Everything as read, before any judgement.

    Parameters
    ----------
    changes : tuple of Change
        What was not taken as it stands.
    typed_later : tuple of int
        Ordinals of the record's readings that their writer says were typed in afterwards.
    """

    lot: Lot
    channels: tuple[Channel, ...]
    notes: tuple[Note, ...]
    probes: tuple[Probe, ...]
    sources: tuple[Source, ...]
    assumptions: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    typed_later: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Doubt:
    """A reading, or a run of them, that must not decide by itself, and why.

    Parameters
    ----------
    channel : int
        Index into ``RawLog.channels``.
    first, last : int
        Rows of the channel, both included.
    flag : Flag
        ``SUSPECT``, ``FAIL`` or ``MISSING``.
    code : str
        Short name of the test: ``sentinel``, ``range``, ``rate_of_change``, ``spike`` …
    reason : str
        One sentence for a person, with the figures.
    """

    channel: int
    first: int
    last: int
    flag: Flag
    code: str
    reason: str


@dataclass(frozen=True, slots=True)
class Remark:
    """What the readings of a channel show without any of them being doubted.

    Parameters
    ----------
    channel : int
        Index into ``RawLog.channels``.
    first, last : int
        Rows of the channel between which it lies, both included.
    code : str
        Short name of the test: ``gap``.
    reason : str
        One sentence for a person, with the figures.
    """

    channel: int
    first: int
    last: int
    code: str
    reason: str


@dataclass(frozen=True, slots=True, eq=False)
class QualifiedLog:
    """A raw log with a quality flag beside every reading.

    Parameters
    ----------
    flags : tuple of array of int8
        One array for each channel; ``NOT_EVALUATED`` where bounds stand in place of one figure, so
        that the tests which compare readings passed it over.
    doubts : tuple of Doubt
        Why readings are not plain.
    remarks : tuple of Remark
        What lies between readings.
    questions : tuple of str
        What must be asked of whoever kept the log. They change no answer by themselves.
    """

    raw: RawLog
    flags: tuple[NDArray[np.int8], ...]
    doubts: tuple[Doubt, ...]
    remarks: tuple[Remark, ...] = ()
    questions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Correction:
    """What was added to readings of a probe, and by which check it is justified.

    Parameters
    ----------
    least, most : float
        Added to a reading [°F difference]; they differ between the last good check and a failed
        one, because nobody knows when the probe went wrong.
    start, end : float
        Readings from `start` up to, not including, `end` [s]; infinite at the outer ends.
    """

    probe: str
    start: float
    end: float
    least: float
    most: float
    reason: str


@dataclass(frozen=True, slots=True, eq=False)
class CorrectedLog:
    """A qualified log with the corrected reading's lower and upper value beside each reading.

    The two are equal except where a failed probe check leaves room. A reading that must not
    decide has the bounds minus and plus infinity; one that says nothing (a sentinel) has NaN.
    """

    qualified: QualifiedLog
    lower: tuple[Floats, ...]
    upper: tuple[Floats, ...]
    corrections: tuple[Correction, ...]

    @property
    def raw(self) -> RawLog:
        """The log as read."""
        return self.qualified.raw


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of one piece.

    Parameters
    ----------
    name : StageName
    number : int
        Counted from 1 within the piece, over all stages.
    piece : str
    start, end : float
        [s since 1970-01-01 UTC]; the stage holds from `start` up to, not including, `end`.
    closed : bool
        Whether its end was noted or the next stage begins there; otherwise it ends only because
        the record does.
    decided : Decided
    reason : str
        Which note, or what in the trace.
    method : str
        How, from the note.
    unheated : tuple of (float, float)
        Stretches for which the heat was noted as lost [s].
    time_control : TimeControlPlan, optional
        The written time control under which it stands.
    question : str
        What must be asked when the trace has more than one reading; ``""`` otherwise.
    """

    name: StageName
    number: int
    piece: str
    start: float
    end: float
    closed: bool
    decided: Decided
    reason: str
    method: str = ""
    unheated: tuple[tuple[float, float], ...] = ()
    time_control: TimeControlPlan | None = None
    question: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class StagedLog:
    """A corrected log cut into stages, per piece and in order of time."""

    corrected: CorrectedLog
    stages: tuple[Stage, ...]
    assumptions: tuple[str, ...] = ()

    @property
    def raw(self) -> RawLog:
        """The log as read."""
        return self.corrected.raw
