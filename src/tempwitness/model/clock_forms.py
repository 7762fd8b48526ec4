"""Forms of tests that run a clock: ways from one temperature to another, bands, whole stages."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import model_validator

from tempwitness.model.base import Written
from tempwitness.model.figures import Duration, Limit
from tempwitness.model.vocabulary import StageName

__all__ = ["BandClock", "Fall", "Longest", "Rise", "TimeOp"]

#: Whether a time must not be passed ("at most") or not be reached ("less than").
TimeOp = Literal["<=", "<"]


class _Passage(Written):
    """A way from one limit to another within a time.

    Parameters
    ----------
    start : Limit, optional
        Where the way begins. Only a clock that its crossing starts needs it.
    to : Limit
        Where it ends.
    """

    start: Limit | None = None
    to: Limit
    within: Duration
    op: TimeOp = "<="

    @model_validator(mode="after")
    def _a_start_to_cross(self) -> Self:
        if self.start is None and getattr(self, "clock", "crossing") == "crossing":
            raise ValueError("it takes 'start', or a 'clock' that something else starts")
        return self


class Fall(_Passage):
    """The temperature falls from one limit to another within a time.

    Parameters
    ----------
    clock : {"crossing", "stage", "cooked", "heat_ended"}
        What starts it: leaving the first limit; the start of the stage; the end of the last cook
        or reheat; the end of the last stage in which the food was kept hot.
    or_room : bool
        Whether the room's temperature counts in place of `to`, where it is colder.
    """

    form: Literal["fall"]
    clock: Literal["crossing", "stage", "cooked", "heat_ended"] = "crossing"
    or_room: bool = False


class Rise(_Passage):
    """The temperature rises from one limit to another within a time.

    Parameters
    ----------
    clock : {"crossing", "stage", "left_cold"}
        What starts it: leaving the first limit; the start of the stage; the end of the last stage
        in which the food was kept cold.
    """

    form: Literal["rise"]
    hold: Duration = 0.0
    clock: Literal["crossing", "stage", "left_cold"] = "crossing"


class BandClock(Written):
    """The total time inside a band, over all stages that count, stays within a cap.

    Parameters
    ----------
    over : tuple of StageName
        Stages that count; those of the requirement if empty.
    in_any : Duration, optional
        The cap holds within every stretch of this length; within the whole record if omitted.
    after_cook : {"first"}, optional
        What went before the end of the first cook does not count: it was not ready to eat yet.
    """

    form: Literal["band_clock"]
    low: Limit | None = None
    high: Limit | None = None
    at_most: Duration
    op: TimeOp = "<="
    over: tuple[StageName, ...] = ()
    unheated_only: bool = False
    in_any: Duration | None = None
    after_cook: Literal["first"] | None = None

    @model_validator(mode="after")
    def _a_cap_that_can_be_passed(self) -> Self:
        if self.in_any is not None and self.in_any <= self.at_most:
            raise ValueError("'in_any' must be longer than 'at_most'")
        return self


class Longest(Written):
    """A stage lasts no longer than a time; with `total`, all stages named together.

    Parameters
    ----------
    after_cook : {"last"}, optional
        The time counts from the end of the last cook: all of it, or with `total` that of the
        stages named.
    """

    form: Literal["longest"]
    at_most: Duration
    op: TimeOp = "<="
    total: bool = False
    after_cook: Literal["last"] | None = None
