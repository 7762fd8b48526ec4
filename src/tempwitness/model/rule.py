"""Requirements as data: what a rule file may say.

Temperatures stand in both printed units; durations are written with their unit ("2 h",
"112 min", "15 s") and become seconds. Nothing here knows a number of any code.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, model_validator

from tempwitness.model.base import Written
from tempwitness.model.vocabulary import (
    Confirmed,
    Cut,
    Event,
    Form,
    Point,
    Species,
    StageName,
    Verdict,
    Weight,
)

__all__ = [
    "ActionRule",
    "Alternative",
    "BandClock",
    "Code",
    "CodeHead",
    "Conditions",
    "DayEnd",
    "Duration",
    "Duty",
    "Fall",
    "Instrument",
    "Limit",
    "Longest",
    "Method",
    "OutsideBand",
    "Predicate",
    "Reach",
    "Requirement",
    "Rise",
    "Row",
    "ShelfLife",
    "Test",
    "Throughout",
    "TimeControl",
    "duration_words",
    "parse_duration",
]

_SECONDS = {"s": 1, "min": 60, "h": 3600, "d": 86400}
_DURATION = re.compile(r"(\d+(?:\.\d+)?) ?(s|min|h|d)")


def parse_duration(value: object) -> float:
    """Read "2 h", "112 min", "15 s" or "7 d" as seconds.

    Raises
    ------
    ValueError
        If the text is not a number and one of the four units.

    Examples
    --------
    >>> parse_duration("112 min")
    6720.0
    """
    match = _DURATION.fullmatch(value) if isinstance(value, str) else None
    if match is None:
        raise ValueError(f"{value!r} is not a duration; write a number and s, min, h or d: '2 h'")
    return float(match[1]) * _SECONDS[match[2]]


def duration_words(seconds: float) -> str:
    """Write a duration the way rule files and reports do.

    Examples
    --------
    >>> duration_words(7500)
    '2 h 5 min'
    >>> duration_words(15)
    '15 s'
    """
    whole = round(seconds)
    hours, rest = divmod(whole, 3600)
    minutes, secs = divmod(rest, 60)
    parts = [f"{n} {u}" for n, u in ((hours, "h"), (minutes, "min"), (secs, "s")) if n]
    return " ".join(parts) or "0 s"


Duration = Annotated[float, BeforeValidator(parse_duration)]


class Limit(Written):
    """A temperature limit as a code prints it, in both units, with its direction."""

    f: Decimal
    c: Decimal
    op: Literal[">=", ">", "<=", "<"]
    c_printed: bool = True

    @property
    def words(self) -> str:
        """The limit as printed, both figures."""
        return f"{_OP_WORDS[self.op]} {self.f} °F ({self.c} °C)"


_OP_WORDS = {">=": "at least", ">": "above", "<=": "at most", "<": "below"}


class Row(Written):
    """One row of a ladder: a temperature and how long it must last."""

    f: Decimal
    c: Decimal
    hold: Duration


class Throughout(Written):
    """The temperature keeps a limit all through the stage."""

    form: Literal["throughout"]
    limit: Limit


class OutsideBand(Written):
    """The temperature is always cold enough or hot enough, never between."""

    form: Literal["outside_band"]
    cold: Limit
    hot: Limit


class Reach(Written):
    """Any one row of a ladder is reached and held; rows are never mixed or interpolated."""

    form: Literal["reach"]
    rows: tuple[Row, ...] = Field(min_length=1)
    carry: tuple[StageName, ...] = ()


class Fall(Written):
    """The temperature falls from one limit to another within a time."""

    form: Literal["fall"]
    start: Limit
    to: Limit
    within: Duration
    clock: Literal["crossing", "stage"] = "crossing"


class Rise(Written):
    """The temperature rises from one limit to another within a time."""

    form: Literal["rise"]
    start: Limit
    to: Limit
    hold: Duration = 0.0
    within: Duration


class BandClock(Written):
    """The total time inside a band, over all stages named, stays within a cap."""

    form: Literal["band_clock"]
    low: Limit | None = None
    high: Limit | None = None
    at_most: Duration
    unheated_only: bool = False


class Longest(Written):
    """A stage lasts no longer than a time."""

    form: Literal["longest"]
    at_most: Duration


class TimeControl(Written):
    """Time instead of temperature, by a procedure written in advance."""

    form: Literal["time_control"]
    part: Literal["written", "start", "end", "marked"]
    option: Literal["4h", "6h"]
    start: tuple[Limit, ...] = ()
    ceiling: Limit | None = None
    at_most: Duration


class ShelfLife(Written):
    """A number of days, the day of preparation being the first; frozen time is not counted."""

    form: Literal["shelf_life"]
    days: int
    mark_after: Duration


class Method(Written):
    """One of the methods that the code allows was used."""

    form: Literal["method"]
    allowed: tuple[str, ...]


class Duty(Written):
    """A duty that only a paper or the authority can settle."""

    form: Literal["duty"]
    question: str
    settled_by: str | None = None
    otherwise: Literal[Verdict.NOT_SHOWN, Verdict.NEEDS_LIMIT] = Verdict.NOT_SHOWN


class Instrument(Written):
    """A probe's check lies within the printed tolerance."""

    form: Literal["instrument"]
    reads: Literal["food", "air"]
    f: Decimal
    c: Decimal


class DayEnd(Written):
    """What is left is discarded by the end of the local day."""

    form: Literal["day_end"]


class Conditions(Written):
    """Of an alternative: its conditions are all that it asks."""

    form: Literal["conditions"]


Test = Annotated[
    Throughout
    | OutsideBand
    | Reach
    | Fall
    | Rise
    | BandClock
    | Longest
    | TimeControl
    | ShelfLife
    | Method
    | Duty
    | Instrument
    | DayEnd
    | Conditions,
    Field(discriminator="form"),
]


class WeightBound(Written):
    """A weight as a code prints it, in both units."""

    lb: Decimal
    kg: Decimal


class Predicate(Written):
    """To what a requirement applies; every line that is given must hold.

    ``facts`` maps a question of the record to the answers that count; ``events`` and
    ``events_not`` speak of what was done to the food before the stage ended; ``after``,
    ``not_after`` and ``before`` of stages that went before or follow. A ``_not`` line holds when
    the record does not say; every other line is unknown then.
    """

    species: tuple[Species, ...] = ()
    species_not: tuple[Species, ...] = ()
    form: tuple[Form, ...] = ()
    form_not: tuple[Form, ...] = ()
    cut: tuple[Cut, ...] = ()
    cut_not: tuple[Cut, ...] = ()
    weight_at_least: WeightBound | None = None
    weight_below: WeightBound | None = None
    facts: Mapping[str, tuple[str, ...]] = Field(default_factory=dict)
    facts_not: Mapping[str, tuple[str, ...]] = Field(default_factory=dict)
    method: tuple[str, ...] = ()
    method_not: tuple[str, ...] = ()
    events: tuple[Event, ...] = ()
    events_not: tuple[Event, ...] = ()
    after: tuple[StageName, ...] = ()
    not_after: tuple[StageName, ...] = ()
    before: tuple[StageName, ...] = ()
    business: tuple[str, ...] = ()


class ActionRule(Written):
    """What to do on a verdict, by when, and on whose word.

    ``within`` counts from ``since``: the earliest moment at which the limit may have been broken
    (``break``), the start of the clock (``start``) or the last reading (``last``).
    """

    on: tuple[Literal[Verdict.NOT_MET, Verdict.NOT_SHOWN, Verdict.OPEN, Verdict.MET], ...]
    do: str
    otherwise: str = ""
    within: Duration | None = None
    since: Literal["break", "start", "last"] = "break"
    basis: Literal["code", "practice", "authority"] = "code"
    stages: tuple[StageName, ...] = ()


class Alternative(Written):
    """Another way by which the same requirement is kept, and its conditions.

    ``requires`` names requirements of the same code that must all be met for the same piece up
    to this stage, ``requires_any`` such of which one is enough.
    """

    id: str
    title: str
    section: str
    when: Predicate = Predicate()
    requires: tuple[str, ...] = ()
    requires_any: tuple[str, ...] = ()
    point: Point | None = None
    question: str = ""
    test: Test


class Requirement(Written):
    """One dated, cited rule of a code.

    With ``ask_instead`` a broken test gives *not shown* with the question, and one that is not
    recorded gives *not applicable* with the question printed: the authority decides what to make
    of it. With ``breaks_only`` a test that is kept proves nothing, because the code gives no such
    allowance: it gives *not applicable* with the question printed.
    """

    id: str = Field(pattern=r"^[a-z0-9][a-z0-9-]*$")
    title: str
    section: str
    weight: Weight
    stages: tuple[StageName, ...] = ()
    point: Point = Point.COLDEST
    when: Predicate = Predicate()
    test: Test
    alternatives: tuple[Alternative, ...] = ()
    actions: tuple[ActionRule, ...] = ()
    confirmed: Confirmed
    source: tuple[str, ...] = Field(min_length=1)
    class_: Literal["P", "Pf", "C", ""] = Field(default="", alias="class")
    why: str = ""
    note: str = ""
    question: str = ""
    ask_instead: bool = False
    breaks_only: bool = False
    replaced: str = ""

    @model_validator(mode="after")
    def _stages_where_needed(self) -> Requirement:
        if not self.stages and self.test.form not in ("instrument", "duty", "day_end"):
            raise ValueError(f"a test of form '{self.test.form}' needs 'stages'")
        if self.test.form == "conditions":
            raise ValueError("the form 'conditions' is for alternatives only")
        return self


class CodeHead(Written):
    """Identity of a code and the terms on which it is applied."""

    id: str
    title: str
    edition: str
    issuer: str
    authority: str
    effective_from: date | None = None
    effective_to: date | None = None
    companions: tuple[str, ...] = ()
    note: str = ""


class Code(Written):
    """A code: its head and its requirements in the order in which they are judged."""

    head: CodeHead
    requirements: tuple[Requirement, ...]
    sha256: str

    def find(self, requirement: str) -> Requirement | None:
        """Return the requirement with that id, or ``None``."""
        return next((r for r in self.requirements if r.id == requirement), None)
