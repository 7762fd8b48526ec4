"""An event's foods held against the code in force: which requirement bears on which step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.criteria.applies import Applies, both, to_lot, to_stage
from tempwitness.criteria.case import Case, Local
from tempwitness.model.logs import Stage
from tempwitness.model.lot import Lot
from tempwitness.model.vocabulary import Decided, StageName
from tempwitness.rulebook.facts import load_facts
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.override import apply_overrides, load_override
from tempwitness.rulebook.terms import terms_for

if TYPE_CHECKING:
    from datetime import date

    from tempwitness.model.finding import OverrideUsed
    from tempwitness.model.lot import Food
    from tempwitness.model.rule import Code, Requirement
    from tempwitness.readers.event.food import FoodPart, StepPart
    from tempwitness.readers.event.read import EventFile

__all__ = ["Plan", "PlannedFood", "PlannedStep", "planned"]

#: Forms of tests whose limit a probe or a clock can show; the others are papers and duties.
_LIMITS = frozenset(
    {
        *("throughout", "outside_band", "once", "reach", "reach_by", "lethality", "fall", "rise"),
        *("band_clock", "longest", "time_control", "shelf_life", "count", "method", "day_end"),
    }
)
_NO_CHANGE: tuple[OverrideUsed, ...] = ()
#: Forms that a written time control stands in place of.
_SUSPENDED = frozenset({"throughout", "outside_band"})


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """One step of a food with the law that bears on it.

    Parameters
    ----------
    number : int
        Counted from 1 within the food.
    part : StepPart
    limits : tuple of Requirement
        Law with a limit, as local changes leave it.
    unclear : tuple of (Requirement, str)
        Law of which the event file does not say whether it bears on the step, and what is missing.
    duties : tuple of Requirement
        Law without a limit of its own: duties and papers.
    """

    number: int
    part: StepPart
    limits: tuple[Requirement, ...]
    unclear: tuple[tuple[Requirement, str], ...]
    duties: tuple[Requirement, ...]


@dataclass(frozen=True, slots=True)
class PlannedFood:
    """A food with its steps, as far as the plan and the code say."""

    part: FoodPart
    lot: Lot
    steps: tuple[PlannedStep, ...]

    def of(self, *stages: StageName) -> tuple[PlannedStep, ...]:
        """Return the steps of some names."""
        return tuple(step for step in self.steps if step.part.do in stages)


@dataclass(frozen=True, slots=True)
class Plan:
    """An event under a code.

    Parameters
    ----------
    file : EventFile
    code : Code
        In force, local changes applied.
    overrides : tuple of OverrideUsed
    grounds : tuple of str
        Why this code, and what speaks against it.
    foods : tuple of PlannedFood
    """

    file: EventFile
    code: Code
    overrides: tuple[OverrideUsed, ...]
    grounds: tuple[str, ...]
    foods: tuple[PlannedFood, ...]

    @property
    def used(self) -> tuple[Requirement, ...]:
        """Every requirement with a limit that bears on some step, once, in the code's order."""
        wanted = {r.id for food in self.foods for step in food.steps for r in step.limits}
        return tuple(r for r in self.code.requirements if r.id in wanted)

    def limits_of(self, form: str) -> tuple[Requirement, ...]:
        """Return the law of a form, whether it bears on a step or not."""
        return tuple(r for r in self.code.requirements if r.test.form == form and r.weight.binds)


def planned(file: EventFile) -> Plan:
    """Hold an event against the code that it names, or that is in force where it is held.

    Raises
    ------
    RuleError
        If the code, the place or a local change is not known or not clear.
    """
    days = _days(file)
    lots = [_lot(file, part, food) for part, food in zip(file.table.food, file.foods, strict=True)]
    terms = terms_for(lots[0], *days)
    code, used = load_code(terms.code), _NO_CHANGE
    if file.table.overrides:
        changes = [load_override(file.folder / name) for name in file.table.overrides]
        code, used = apply_overrides(code, changes, *days)
    foods = tuple(
        PlannedFood(part, lot, _steps(part, lot, code, days[0]))
        for part, lot in zip(file.table.food, lots, strict=True)
    )
    return Plan(file, code, used, (*terms.lines, *terms.doubts), foods)


def _days(file: EventFile) -> tuple[date, date]:
    """First and last day on which food is handled."""
    steps = [s for food in file.table.food for s in food.step]
    days = [m.date() for s in steps for m in (s.start, s.end) if m is not None]
    days += [file.first_day, file.last_day]
    return min(days), max(days)


def _lot(file: EventFile, part: FoodPart, food: Food) -> Lot:
    facts = dict(part.facts)
    received = load_facts().get("received")
    if part.arrives and received is not None and received.takes(part.arrives):
        facts.setdefault("received", part.arrives)
    table = file.table
    return Lot(
        id=part.name,
        food=food,
        code=table.code,
        place=table.place,
        zone=table.zone,
        business=table.business,
        pieces=(),
        facts=facts,
        event=table.event.name,
    )


def _steps(part: FoodPart, lot: Lot, code: Code, day: date) -> tuple[PlannedStep, ...]:
    stages = tuple(
        Stage(
            name=step.do,
            number=i,
            piece="",
            start=float(i),
            end=float(i + 1),
            closed=True,
            decided=Decided.NOTED,
            reason="planned",
            method=step.method,
        )
        for i, step in enumerate(part.step, 1)
    )
    local = Local(lot.zone, many_days=True)
    return tuple(
        _step(step, Case(lot, stage, stages, (), (), (), (), stage.end, {}, local), code, day)
        for step, stage in zip(part.step, stages, strict=True)
    )


def _step(part: StepPart, case: Case, code: Code, day: date) -> PlannedStep:
    limits, unclear, duties = [], [], []
    controlled = _controlled(part, code)
    for requirement in code.requirements:
        if not _concerns(requirement, part, day):
            continue
        if controlled and requirement.test.form in _SUSPENDED:
            continue
        found = _applies(requirement, case)
        if found.answer is None:
            unclear.append((requirement, found.why))
        elif found.answer and requirement.test.form in _LIMITS and not requirement.ask_instead:
            limits.append(requirement)
        elif found.answer:
            duties.append(requirement)
    return PlannedStep(case.stage.number, part, tuple(limits), tuple(unclear), tuple(duties))


def _concerns(requirement: Requirement, part: StepPart, day: date) -> bool:
    """Whether a requirement is law that speaks of the step, before the food is looked at."""
    test = requirement.test
    if not requirement.weight.binds or part.do not in requirement.stages:
        return False
    if test.form == "time_control" and test.option != part.time_control:
        return False
    begun = requirement.begins is None or requirement.begins <= day
    return begun and (requirement.ends is None or day <= requirement.ends)


def _controlled(part: StepPart, code: Code) -> bool:
    """Whether the code has the written time control that the step names, for this stage."""
    return part.time_control is not None and any(
        r.test.form == "time_control" and r.test.option == part.time_control
        for r in code.requirements
        if part.do in r.stages
    )


def _applies(requirement: Requirement, case: Case) -> Applies:
    return both(to_lot(requirement.when, case.lot), to_stage(requirement.when, case))
