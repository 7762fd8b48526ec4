"""The lot: which food, in which pieces, by whom and under which code."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from tempwitness.units import Unit

if TYPE_CHECKING:
    from datetime import date

    from tempwitness.model.vocabulary import Answer, Business, Cut, Form, Species, StageName

__all__ = ["Approval", "Food", "Lot", "Piece", "Probe", "ProbeCheck", "TimeControlPlan", "Weighed"]


@dataclass(frozen=True, slots=True)
class Weighed:
    """A weight in the unit in which it was entered, never converted before it is compared."""

    value: float
    unit: Literal["lb", "kg"]

    def __str__(self) -> str:
        return f"{self.value:g} {self.unit}"


@dataclass(frozen=True, slots=True)
class Food:
    """What the lot is made of.

    Parameters
    ----------
    name : str
        The food as the cook calls it.
    species : Species
        Kind of animal, or plant.
    forms : frozenset of Form, optional
        State before cooking; ``None`` when the record does not say.
    cut : Cut, optional
        Shape; ``None`` when the record does not say.
    weight : Weighed, optional
        Weight of the largest single piece.
    thickness : float, optional
        Smallest thickness where the probe sits [m].
    shape : {"any", "flat", "long"}
        Shape of the food around the probe; ``any`` where the record says nothing.
    """

    name: str
    species: Species
    forms: frozenset[Form] | None = None
    cut: Cut | None = None
    weight: Weighed | None = None
    thickness: float | None = None
    shape: Literal["any", "flat", "long"] = "any"


@dataclass(frozen=True, slots=True)
class Piece:
    """One item of a lot with its own readings."""

    id: str
    weight: Weighed | None = None


@dataclass(frozen=True, slots=True)
class ProbeCheck:
    """Comparison of a probe with a known temperature.

    Parameters
    ----------
    at : float
        Moment [s since 1970-01-01 UTC].
    kind : {"ice", "boiling", "reference"}
        What it was compared with.
    read, expected : float
        What the probe showed and what it should have shown [`unit`].
    unit : Unit
        Scale of both.
    text : str
        The check as it was written.
    least, most : float, optional
        Bounds of what it should have shown, where nobody knows it exactly [`unit`]; ``None`` where
        it is `expected`.
    """

    at: float
    kind: Literal["ice", "boiling", "reference"]
    read: float
    expected: float
    unit: Unit
    text: str
    least: float | None = None
    most: float | None = None


@dataclass(frozen=True, slots=True)
class Probe:
    """A thermometer and what is known of its truth.

    Parameters
    ----------
    id : str
        Name by which readings refer to it; ``""`` is the unnamed probe of a bare file.
    kind : str
        What sort of thermometer, in the person's words.
    scale : {"F", "C", "both"}
        Scales it shows: the printed tolerance depends on it.
    reads : {"food", "air"}
        What it is for.
    accuracy, accuracy_unit
        The maker's stated accuracy, as plus or minus.
    resolution, resolution_unit
        The step in which it shows its figures, if that is stated.
    tolerance_class : str
        Class of its sensor, ``A`` or ``2``; ``""`` if none is stated.
    step, step_unit
        The coarsest step that all figures written with it fit; ``None`` if nobody looked.
    correct : bool
        Whether readings after a check are corrected by what that check found.
    drift : {"unknown", "constant"}
        ``constant`` when the person states that a failed check's difference was there from the
        last good check on; otherwise nobody knows when it came.
    checks : tuple of ProbeCheck
        In order of time.
    """

    id: str
    kind: str = ""
    scale: Literal["F", "C", "both"] = "F"
    reads: Literal["food", "air"] = "food"
    accuracy: float | None = None
    accuracy_unit: Unit = Unit.F
    correct: bool = True
    drift: Literal["unknown", "constant"] = "unknown"
    checks: tuple[ProbeCheck, ...] = ()
    resolution: float | None = None
    resolution_unit: Unit = Unit.F
    tolerance_class: str = ""
    step: float | None = None
    step_unit: Unit = Unit.F


@dataclass(frozen=True, slots=True)
class Approval:
    """Something an authority granted, as the record states it."""

    kind: str
    authority: str
    number: str
    granted: date
    expires: date | None = None

    def holds_on(self, day: date) -> bool:
        """Whether it was in force on a day."""
        return self.granted <= day and (self.expires is None or day <= self.expires)


@dataclass(frozen=True, slots=True)
class TimeControlPlan:
    """A written procedure to use time instead of temperature.

    Parameters
    ----------
    start : float
        When the food left temperature control [s since 1970-01-01 UTC].
    option : {"4h", "6h"}
        Which of the two written procedures.
    written : date, optional
        Day on which the procedure was written; ``None`` when there is none.
    marked : Answer
        Whether the food carries the time by which it must be used.
    pieces : frozenset of str, optional
        Pieces it covers; ``None`` for all.
    """

    start: float
    option: Literal["4h", "6h"]
    written: date | None
    marked: Answer
    pieces: frozenset[str] | None = None


@dataclass(frozen=True, slots=True)
class StatedRate:
    """How fast the food can change at most, as the record states it, with its reason.

    Parameters
    ----------
    up, down : float, optional
        [°F/s]; ``None`` where nothing was stated.
    stage : StageName, optional
        Stage for which it holds; ``None`` for all.
    reason : str
    """

    up: float | None
    down: float | None
    stage: StageName | None
    reason: str


@dataclass(frozen=True, slots=True)
class StatedPassive:
    """That food in a stage only follows its surroundings, as the record states it.

    Parameters
    ----------
    stage : StageName
    ambient : (float, float)
        Least and greatest temperature of the surroundings [°F].
    per_second : (float, float)
        Least and greatest k of dT/dt = -k (T - ambient) [1/s].
    reason : str
    """

    stage: StageName
    ambient: tuple[float, float]
    per_second: tuple[float, float]
    reason: str


@dataclass(frozen=True, slots=True)
class Lot:
    """One batch of one food, followed from receiving to the last leftover.

    Parameters
    ----------
    code : str
        Id of the code that the record names; empty where it names the place instead.
    place : str
        Path of the place, such as ``us/wa``; empty where the record does not say.
    facts : dict of str to str
        Answers to what codes ask beyond the food itself (``cured``, ``vacuum_packed``,
        ``oven`` …); a missing key is an unanswered question, never a "no".
    """

    id: str
    food: Food
    code: str
    zone: str
    pieces: tuple[Piece, ...]
    also: tuple[str, ...] = ()
    overrides: tuple[str, ...] = ()
    business: Business | None = None
    place: str = ""
    event: str = ""
    cook: str = ""
    facts: dict[str, str] = field(default_factory=dict)
    approvals: tuple[Approval, ...] = ()
    time_control: tuple[TimeControlPlan, ...] = ()
    rates: tuple[StatedRate, ...] = ()
    passive: tuple[StatedPassive, ...] = ()
