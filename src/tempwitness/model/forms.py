"""Forms of tests: each says what must be kept, with all its figures as data."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator

from tempwitness.model.base import Written
from tempwitness.model.clock_forms import BandClock, Fall, Longest, Rise, TimeOp
from tempwitness.model.figures import ColumnRow, Degrees, Duration, Limit, Row, Span
from tempwitness.model.vocabulary import StageName, Verdict

__all__ = [
    "COOKED",
    "BandClock",
    "Conditions",
    "Count",
    "DayEnd",
    "Duty",
    "Evidence",
    "Fall",
    "Instrument",
    "Lethality",
    "Longest",
    "Method",
    "Monitoring",
    "Once",
    "OutsideBand",
    "Paper",
    "Reach",
    "ReachBy",
    "Rise",
    "ShelfLife",
    "Test",
    "Throughout",
    "TimeControl",
    "TimeOp",
]


class Throughout(Written):
    """The temperature keeps a limit all through the stage.

    With `but_last` it need not in the last part of the stage; with `once_reached` not before the
    first reading that keeps it, as of food that is only being frozen.
    """

    form: Literal["throughout"]
    limit: Limit
    but_last: Duration | None = None
    once_reached: bool = False


class OutsideBand(Written):
    """The temperature is always cold enough or hot enough, never between."""

    form: Literal["outside_band"]
    cold: Limit
    hot: Limit


class Once(Written):
    """The limit is left in one stretch at most, for a limited time, over all stages named.

    Parameters
    ----------
    beyond : Limit, optional
        What must hold even then.
    over : tuple of StageName
        Stages that count; those of the requirement if empty.
    """

    form: Literal["once"]
    limit: Limit
    at_most: Duration
    op: TimeOp = "<="
    beyond: Limit | None = None
    over: tuple[StageName, ...] = ()


class Reach(Written):
    """Any one row of a ladder is reached and held; rows are never mixed or interpolated."""

    form: Literal["reach"]
    rows: tuple[Row, ...] = Field(min_length=1)
    carry: tuple[StageName, ...] = ()


class ReachBy(Written):
    """A ladder whose times depend on a number that the record states, such as the fat in percent.

    Between two columns the longer time of both counts; where the record does not say, or says
    more than the last column, the last column does.
    """

    form: Literal["reach_by"]
    by: str
    columns: tuple[Decimal, ...] = Field(min_length=2)
    rows: tuple[ColumnRow, ...] = Field(min_length=1)
    carry: tuple[StageName, ...] = ()

    @model_validator(mode="after")
    def _as_wide_as_its_head(self) -> ReachBy:
        if list(self.columns) != sorted(set(self.columns)):
            raise ValueError("the columns must rise from left to right")
        for row in self.rows:
            if len(row.holds) != len(self.columns):
                raise ValueError(
                    f"the row {row.figures} has {len(row.holds)} times for "
                    f"{len(self.columns)} columns"
                )
        return self


class Lethality(Written):
    """Heat adds up as a formula says: the sum of 10^((T - at) / z) over time reaches `hold`.

    Parameters
    ----------
    at : Degrees
        Reference temperature.
    hold : Duration
        Time at that temperature which is enough.
    z_c : Decimal
        Rise that acts ten times as fast [°C].
    counts_from : Degrees
        Colder time counts for nothing.
    carry : tuple of StageName
        Stages right after it whose heat counts too.
    """

    form: Literal["lethality"]
    at: Degrees
    hold: Duration
    z_c: Decimal
    counts_from: Degrees
    carry: tuple[StageName, ...] = ()


#: Forms that ask whether food was heated enough.
COOKED = Reach | Lethality


class TimeControl(Written):
    """Time instead of temperature, by a procedure written in advance.

    `ceiling_for` ends the ceiling so long after the start; without it the ceiling holds all along.
    """

    form: Literal["time_control"]
    part: Literal["written", "start", "end", "marked"]
    option: Literal["4h", "6h"]
    start: tuple[Limit, ...] = ()
    ceiling: Limit | None = None
    ceiling_for: Duration | None = None
    at_most: Duration


class ShelfLife(Written):
    """A number of days, the day of preparation being the first; frozen time is not counted.

    Parameters
    ----------
    mark_after : Duration, optional
        Food kept longer must carry its date; ``None`` where the code asks for no mark.
    after_preparation : bool
        Whether the code counts the days that follow the day of preparation. `days` is one more
        then than the code prints.
    """

    form: Literal["shelf_life"]
    days: int
    mark_after: Duration | None = None
    after_preparation: bool = False


class Count(Written):
    """Stages of some names come no more often than a number, such as one reheating."""

    form: Literal["count"]
    of: tuple[StageName, ...] = Field(min_length=1)
    at_most: int


class Monitoring(Written):
    """Temperatures of a stage are taken and written down so often."""

    form: Literal["monitoring"]
    every: Duration | None = None
    per_day: int | None = None
    at_least: int | None = None

    @model_validator(mode="after")
    def _one_rhythm(self) -> Monitoring:
        if sum(x is not None for x in (self.every, self.per_day, self.at_least)) != 1:
            raise ValueError("it takes exactly one of 'every', 'per_day' and 'at_least'")
        return self


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


class Evidence(Written):
    """Of an alternative: something on paper, such as a process proved safe, with its own limits.

    It is no way out unless an approval of the kind `settled_by` is on record. Even then its own
    limits are not known here, so that nothing is shown until they are laid over the code.

    Parameters
    ----------
    what : str
        What must be on record, as the middle of a sentence.
    """

    form: Literal["evidence"]
    question: str
    settled_by: str
    what: str = "a process proved safe"


class Paper(Written):
    """A paper, a label, a notice or a sample that the code asks for.

    Parameters
    ----------
    kind : str
    question : str
        What the record may answer with yes or no, under the fact `answered_by`.
    silent : {"aside", "not_shown"}
        What a silent record means: that the paper is asked for elsewhere, or that it is not shown.
    each : {"once", "event", "lot", "batch", "day", "container"}
    keep : Span, optional
        How long it is kept; `keep_from` says since when.
    ahead : Span, optional
        How long before the event it is handed in; `business_days` if those are counted.
    grams : int, optional
        Least mass of a sample.
    at : tuple of Limit
        Temperatures at which a sample may be kept; any one of them.
    fields : tuple of str
        What the paper must say.
    """

    form: Literal["paper"]
    kind: Literal[
        "record",
        "sample",
        "label",
        "notice",
        "registration",
        "notification",
        "application",
        "plan",
        "certificate",
        "training",
        "equipment",
    ]
    question: str
    answered_by: str
    silent: Literal["aside", "not_shown"] = "aside"
    each: Literal["once", "event", "lot", "batch", "day", "container"] = "lot"
    keep: Span | None = None
    keep_from: Literal["record", "use", "service"] = "record"
    ahead: Span | None = None
    business_days: bool = False
    grams: int | None = None
    at: tuple[Limit, ...] = ()
    fields: tuple[str, ...] = ()


class Instrument(Written):
    """A probe's check lies within the printed tolerance.

    A scale whose tolerance the code does not print takes the other one's, converted.
    """

    form: Literal["instrument"]
    reads: Literal["food", "air"]
    f: Decimal | None = None
    c: Decimal | None = None

    @model_validator(mode="after")
    def _some_figure(self) -> Instrument:
        if self.f is None and self.c is None:
            raise ValueError("it takes 'f', 'c' or both")
        return self


class DayEnd(Written):
    """What is left is discarded by the end of the local day."""

    form: Literal["day_end"]


class Conditions(Written):
    """Of an alternative: its conditions are all that it asks."""

    form: Literal["conditions"]


Test = Annotated[
    Throughout
    | OutsideBand
    | Once
    | Reach
    | ReachBy
    | Lethality
    | Fall
    | Rise
    | BandClock
    | Longest
    | TimeControl
    | ShelfLife
    | Count
    | Monitoring
    | Method
    | Duty
    | Evidence
    | Paper
    | Instrument
    | DayEnd
    | Conditions,
    Field(discriminator="form"),
]
