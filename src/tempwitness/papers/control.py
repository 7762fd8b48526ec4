"""Control points of a food: the steps that the law gives a limit, and what is done about each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.papers.hazards import HAZARDS, POINT_WORDS
from tempwitness.papers.limits import short_limit

if TYPE_CHECKING:
    from tempwitness.model.rule import Requirement
    from tempwitness.papers.plan import PlannedFood, PlannedStep

__all__ = ["Control", "control_numbers", "controls", "limit_words", "missed_words"]

_UNNAMED = "Set it apart, write it down and ask the health authority; if in doubt, discard it."
_BASIS = {
    "code": "",
    "practice": " (common practice)",
    "authority": " (the authority decides)",
}
#: Forms whose limit is no temperature of a point of the food.
_NO_POINT = frozenset({"time_control", "shelf_life", "count", "method", "day_end", "longest"})


@dataclass(frozen=True, slots=True)
class Control:
    """One control point, as its row of the table says it.

    Parameters
    ----------
    number : int
        Counted from 1 within the food.
    step : PlannedStep
    hazard, record : str
    limits : tuple of (str, tuple of str)
        Each limit with what is done when it is missed.
    monitoring : str
    """

    number: int
    step: PlannedStep
    hazard: str
    limits: tuple[tuple[str, tuple[str, ...]], ...]
    monitoring: str
    record: str


def control_numbers(food: PlannedFood) -> dict[int, int]:
    """Return the number of each control point by the number of its step."""
    steps = [step.number for step in food.steps if step.limits]
    return {number: i for i, number in enumerate(steps, 1)}


def controls(food: PlannedFood) -> tuple[Control, ...]:
    """Return the control points of a food in order."""
    numbers = control_numbers(food)
    return tuple(_control(step, numbers[step.number]) for step in food.steps if step.limits)


def _control(step: PlannedStep, number: int) -> Control:
    watched = HAZARDS[step.part.do]
    often = f"every {step.part.every}" if step.part.every else watched.often
    monitoring = f"{watched.watch}; {often}"
    if often == "not said":
        monitoring = f"{watched.watch}; how often: ____________"
    who = f"; by {step.part.by}" if step.part.by else ""
    return Control(
        number,
        step,
        watched.hazard,
        tuple((limit_words(r), tuple(missed_words(r, step)) or (_UNNAMED,)) for r in step.limits),
        monitoring + who,
        watched.record,
    )


def limit_words(requirement: Requirement) -> str:
    """Write a limit with the part of the food it speaks of, its section and what it replaced."""
    limit = short_limit(requirement)
    point = "" if requirement.test.form in _NO_POINT else f", {POINT_WORDS[requirement.point]}"
    changed = f" (in place of: {requirement.replaced})" if requirement.replaced else ""
    return f"{limit}{point} [{requirement.section}]{changed}"


def missed_words(requirement: Requirement, step: PlannedStep) -> list[str]:
    """Say what is done when a limit is missed, and on whose word."""
    found = []
    for action in requirement.actions:
        if Verdict.NOT_MET not in action.on:
            continue
        if action.stages and step.part.do not in action.stages:
            continue
        otherwise = f" Otherwise: {_lower(action.otherwise)}" if action.otherwise else ""
        found.append(f"{action.do}{otherwise}{_BASIS[action.basis]}")
    return found


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
