"""The limits of a code that a plan must keep, taken from its loaded requirements."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.errors import EvaluationError
from tempwitness.model.forms import Fall, OutsideBand, Rise, Throughout
from tempwitness.model.vocabulary import StageName, Weight
from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from tempwitness.model.figures import Degrees
    from tempwitness.model.rule import Code, Predicate, Requirement
    from tempwitness.model.vocabulary import Species

__all__ = ["HotLimit", "Leg", "Target", "cooling_legs", "hot_limit", "reheat_target"]


@dataclass(frozen=True, slots=True)
class HotLimit:
    """Temperature that hot food keeps; °F and °C as the code prints them."""

    requirement: str
    title: str
    fahrenheit: float
    celsius: float


@dataclass(frozen=True, slots=True)
class Leg:
    """A fall that must be done within a time.

    Parameters
    ----------
    requirement, title : str
    start_c, to_c : float
        [°C]; the first is infinite where the code starts its clock otherwise, as by the end of the
        cook: then the way begins with the food as it is.
    within : float
        [s]
    """

    requirement: str
    title: str
    start_c: float
    to_c: float
    within: float


@dataclass(frozen=True, slots=True)
class Target:
    """A temperature that reheated food must reach [°C], from a start [°C], within a time [s]."""

    requirement: str
    title: str
    start_c: float
    to_c: float
    within: float


def hot_limit(code: Code, species: Species | None = None) -> HotLimit:
    """Return the highest temperature that the code asks hot food to keep.

    Requirements that hold only under a fact, an approval or a method are left out.

    Raises
    ------
    EvaluationError
        If the code prints none.
    """
    found = []
    for requirement in _plain(code, StageName.HOT_HOLD, species):
        test = requirement.test
        limit = None
        if isinstance(test, Throughout) and test.limit.op in (">=", ">"):
            limit = test.limit
        elif isinstance(test, OutsideBand):
            limit = test.hot
        if limit is not None:
            found.append(
                HotLimit(requirement.id, requirement.title, float(limit.f), float(limit.c))
            )
    if not found:
        raise _none(code, "temperature for hot food")
    return max(found, key=lambda limit: limit.fahrenheit)


def cooling_legs(
    code: Code, species: Species | None = None, unit: Unit = Unit.C
) -> tuple[Leg, ...]:
    """Return the falls that the code asks of cooked food; as `hot_limit`.

    The figures are those that the code prints in `unit`, expressed in °C: 70 °F and 21 °C are one
    limit in print, and 0.1 °C apart.
    """
    found: dict[tuple[float, float, float], Leg] = {}
    for requirement in _plain(code, StageName.COOL, species):
        test = requirement.test
        if not isinstance(test, Fall) or (test.start and test.start.c <= test.to.c):
            continue
        start = _printed(test.start, unit) if test.start else math.inf
        to = _printed(test.to, unit)
        leg = Leg(requirement.id, requirement.title, start, to, test.within)
        found.setdefault((start, to, test.within), leg)
    if not found:
        raise _none(code, "time for cooling")
    return tuple(found.values())


def reheat_target(code: Code, species: Species | None = None, unit: Unit = Unit.C) -> Target:
    """Return the hottest target of reheating with a time; as `cooling_legs`."""
    found = []
    for requirement in _plain(code, StageName.REHEAT, species):
        test = requirement.test
        if isinstance(test, Rise):
            start = _printed(test.start, unit) if test.start else -math.inf
            to = _printed(test.to, unit)
            found.append(Target(requirement.id, requirement.title, start, to, test.within))
    if not found:
        raise _none(code, "time for reheating")
    return max(found, key=lambda target: target.to_c)


def _printed(figure: Degrees, unit: Unit) -> float:
    """Return the figure printed in a scale, in °C."""
    return convert(float(figure.f), Unit.F, Unit.C) if unit is Unit.F else float(figure.c)


def _plain(code: Code, stage: StageName, species: Species | None) -> list[Requirement]:
    """Return the requirements of a stage that hold without more being known; law before others."""
    held = [
        requirement
        for requirement in code.requirements
        if stage in requirement.stages and _holds(requirement.when, species)
    ]
    law = [requirement for requirement in held if requirement.weight is Weight.LAW]
    return law or held


def _holds(when: Predicate, species: Species | None) -> bool:
    asked = (
        when.facts,
        when.method,
        when.events,
        when.after,
        when.before,
        when.business,
        when.numbers_at_least,
        when.numbers_below,
        when.form,
        when.cut,
    )
    if any(asked) or when.weight_at_least or when.weight_below or when.thickness_at_most:
        return False
    if species is None:
        return not when.species
    return (not when.species or species in when.species) and species not in when.species_not


def _none(code: Code, what: str) -> EvaluationError:
    return EvaluationError(
        f"{code.head.id} prints no {what} that holds without more being known",
        hint="give the limit yourself, as the local authority states it (plan: --leg or --limit)",
    )
