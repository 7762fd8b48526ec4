"""Requirements as data: what a rule file may say.

Nothing here knows a number of any code; figures stand in `figures`, forms of tests in `forms`.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Literal

from pydantic import Field, model_validator

from tempwitness.model.base import Written
from tempwitness.model.figures import Duration, Limit, WeightBound
from tempwitness.model.forms import Test
from tempwitness.model.vocabulary import (
    Business,
    Confirmed,
    Cut,
    Event,
    Form,
    Point,
    Species,
    StageName,
    Topic,
    Verdict,
    Weight,
)

__all__ = [
    "ActionRule",
    "Alternative",
    "Base",
    "Code",
    "CodeHead",
    "Effect",
    "Predicate",
    "Requirement",
]

#: What the wording of the code makes of a requirement, or of another way to keep it.
Effect = Literal["duty", "offence", "defence", "condition", "target", ""]


_WITHOUT_STAGES = ("instrument", "duty", "day_end", "paper")


class ThicknessBound(Written):
    """A thickness as a code prints it, in inches, in centimetres or in both."""

    inch: Decimal | None = None
    cm: Decimal | None = None

    @model_validator(mode="after")
    def _some_figure(self) -> ThicknessBound:
        if self.inch is None and self.cm is None:
            raise ValueError("it takes 'inch', 'cm' or both")
        return self


class Predicate(Written):
    """To what a requirement applies; every line that is given must hold.

    ``facts`` maps a question of the record to the answers that count; ``events`` and
    ``events_not`` speak of what was done to the food before the stage ended; ``after``,
    ``not_after`` and ``before`` of stages that went before or follow; ``numbers_at_least`` and
    ``numbers_below`` of facts that are numbers, such as the guests. A ``_not`` line holds when the
    record does not say; every other line is unknown then.
    """

    species: tuple[Species, ...] = ()
    species_not: tuple[Species, ...] = ()
    form: tuple[Form, ...] = ()
    form_not: tuple[Form, ...] = ()
    cut: tuple[Cut, ...] = ()
    cut_not: tuple[Cut, ...] = ()
    weight_at_least: WeightBound | None = None
    weight_more_than: WeightBound | None = None
    weight_at_most: WeightBound | None = None
    weight_below: WeightBound | None = None
    thickness_at_most: ThicknessBound | None = None
    numbers_at_least: Mapping[str, Decimal] = Field(default_factory=dict)
    numbers_below: Mapping[str, Decimal] = Field(default_factory=dict)
    facts: Mapping[str, tuple[str, ...]] = Field(default_factory=dict)
    facts_not: Mapping[str, tuple[str, ...]] = Field(default_factory=dict)
    method: tuple[str, ...] = ()
    method_not: tuple[str, ...] = ()
    events: tuple[Event, ...] = ()
    events_not: tuple[Event, ...] = ()
    after: tuple[StageName, ...] = ()
    not_after: tuple[StageName, ...] = ()
    before: tuple[StageName, ...] = ()
    business: tuple[Business, ...] = ()


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
    effect: Effect = ""
    test: Test


class Requirement(Written):
    """One dated, cited rule of a code.

    With ``ask_instead`` a broken test gives *not shown* with the question, and one that is not
    recorded gives *not applicable* with the question printed: the authority decides what to make
    of it. With ``breaks_only`` a test that is kept proves nothing, because the code gives no such
    allowance: it gives *not applicable* with the question printed. With ``only_if_read`` it asks
    for no reading of its point, but is judged where there is one.

    Parameters
    ----------
    topic : Topic, optional
        Where it stands in a comparison; it follows from the form and the stages if left out.
    effect : Effect
        Legal effect of its wording; of a defence or a target the finding says so.
    term : str
        The code's own term of art, in its language.
    instrument : str
        The text it was taken from, where that is not the code itself; set when a code builds on
        another one.
    begins, ends : date, optional
        First and last day on which it is in force, where they are not the code's.
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
    only_if_read: bool = False
    replaced: str = ""
    topic: Topic | None = None
    effect: Effect = ""
    term: str = ""
    instrument: str = ""
    begins: date | None = None
    ends: date | None = None

    @model_validator(mode="after")
    def _stages_where_needed(self) -> Requirement:
        if not self.stages and self.test.form not in _WITHOUT_STAGES:
            raise ValueError(f"a test of form '{self.test.form}' needs 'stages'")
        if self.test.form in ("conditions", "evidence"):
            raise ValueError(f"the form '{self.test.form}' is for alternatives only")
        return self


class Base(Written):
    """The code on which another one builds, and what it leaves out of it.

    Parameters
    ----------
    id : str
        Code whose requirements are taken over where nothing else is said.
    without : tuple of str
        Requirements and alternatives that are not taken over.
    read : tuple of str
        Requirements whose text was read in this code too; ``*`` for all.
    confirmed : Confirmed
        How far it is confirmed that this code says the same elsewhere.
    says_it_itself : bool
        Whether what is taken over stands in this code's own text too, as in another edition:
        codes that build on this one then cite this one.
    """

    id: str
    without: tuple[str, ...] = ()
    read: tuple[str, ...] = ()
    confirmed: Confirmed = Confirmed.SECOND_HAND
    says_it_itself: bool = False


class CodeHead(Written):
    """Identity of a code and the terms on which it is applied.

    Parameters
    ----------
    place : str
        Where it holds, as a path such as ``us/ny``; empty for one that holds nowhere by itself.
    unit : {"F", "C"}
        Scale in which the country reckons; reports lead with it.
    effective_from, effective_to : date, optional
        First and last day on which it is in force.
    superseded_by : str
        What stands in its place now.
    scope : str
        For whom and for what it was made.
    cold : Limit, optional
        At which temperature cooked food has cooled under it: from then on it is held cold.
    companions : tuple of str
        Codes that are always judged beside it.
    """

    id: str
    title: str
    edition: str
    issuer: str
    authority: str
    place: str = ""
    unit: Literal["F", "C"] = "F"
    effective_from: date | None = None
    effective_to: date | None = None
    superseded_by: str = ""
    scope: str = ""
    cold: Limit | None = None
    companions: tuple[str, ...] = ()
    note: str = ""
    base: Base | None = None


class Code(Written):
    """A code: its head and its requirements in the order in which they are judged."""

    head: CodeHead
    requirements: tuple[Requirement, ...]
    sha256: str

    def find(self, requirement: str) -> Requirement | None:
        """Return the requirement with that id, or ``None``."""
        return next((r for r in self.requirements if r.id == requirement), None)
