"""Whether food can be reheated to its target in time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.planning.transit import Still, Stirred, hours_between
from tempwitness.planning.values import Band, Outlook, degrees_words, mass_words, medium, outlook
from tempwitness.science.conduction import slab
from tempwitness.science.properties import material_of
from tempwitness.science.ranges import OutOfRangeError, within
from tempwitness.units import Unit

if TYPE_CHECKING:
    from tempwitness.planning.limits import Target
    from tempwitness.science.conduction import Body
    from tempwitness.science.properties import Food

__all__ = ["ReheatAsked", "ReheatPlan", "plan_reheat"]


@dataclass(frozen=True, slots=True)
class ReheatAsked:
    """A reheating that is planned. Temperatures in °C.

    Parameters
    ----------
    food : Food
    mass : float
        All of it [kg].
    start : float
        Coldest part at the start.
    target : Target
        From the code in force.
    method : str
        One of the ways to heat of ``rules/physics/surroundings.toml``.
    around : float
        Of oven or bath.
    shape : float or Body
        Depth of the food in a pan [m], or the shape of one piece.
    stirred : bool
    unit : Unit
        In which the plan speaks.
    """

    food: Food
    mass: float
    start: float
    target: Target
    method: str
    around: float
    shape: float | Body
    stirred: bool = False
    unit: Unit = Unit.F


@dataclass(frozen=True, slots=True)
class ReheatPlan:
    """What is to be expected of a reheating. An estimate, never proof.

    Parameters
    ----------
    outlook : Outlook
    takes : Band
        Until the coldest part is at the target [h].
    allowed : float
        [h]
    advice, assumptions : tuple of str
    """

    outlook: Outlook
    takes: Band
    allowed: float
    advice: tuple[str, ...]
    assumptions: tuple[str, ...]


def plan_reheat(asked: ReheatAsked) -> ReheatPlan:
    """Estimate whether the coldest part reaches its target in time.

    Parameters
    ----------
    asked : ReheatAsked

    Returns
    -------
    ReheatPlan

    Raises
    ------
    OutOfRangeError
        For a medium that is not hotter than the target: it never gets there.
    """
    way = medium("heat", asked.method)
    _check(asked)
    target = asked.target.to_c
    material = material_of(asked.food.composition, max(0.0, (asked.start + target) / 2))
    food: Still | Stirred
    if isinstance(asked.shape, float):
        half = asked.shape / 2
        food = Stirred(half, material) if asked.stirred else Still(slab(half), material)
    else:
        food = Still(asked.shape, material)
    takes = hours_between(food, way, asked.around, asked.start, (asked.start, target))
    allowed = asked.target.within / 3600
    mass = mass_words(asked.mass, asked.unit)
    found = outlook(takes, allowed)
    return ReheatPlan(
        found,
        takes,
        allowed,
        _advice(asked, found),
        (
            f"{mass} of {asked.food.title}; its composition is typical",
            f"{way.title} at {degrees_words(asked.around, asked.unit)}, heated through before",
            f"{way.least:g} to {way.most:g} W/(m² K) on all faces",
            "stirred all along" if asked.stirred else "not stirred, covered; not frozen",
            "hours are good to about ±30 %",
        ),
    )


def _check(asked: ReheatAsked) -> None:
    within("the mass of the food", asked.mass, 0.05, 1e4, "kg")
    within("the temperature of the food", asked.start, 0.0, 99.0, "°C")
    if isinstance(asked.shape, float):
        within("the depth of the food", asked.shape, 0.003, 0.6, "m")
    elif asked.stirred:
        raise OutOfRangeError(
            "a piece cannot be stirred", hint="give the depth of a pan, or leave stirring out"
        )
    if asked.around <= asked.target.to_c:
        around, target = (degrees_words(t, asked.unit) for t in (asked.around, asked.target.to_c))
        raise OutOfRangeError(
            f"{around} is not hotter than the target of {target}: the food never gets there",
            hint="reheat in something hotter; hot-holding equipment is not for reheating",
        )
    if asked.start >= asked.target.to_c:
        raise OutOfRangeError(
            "the food starts at its target already", hint="check the temperature of the food"
        )


def _advice(asked: ReheatAsked, found: Outlook) -> tuple[str, ...]:
    advice = []
    if found is not Outlook.HOLDS:
        advice.append("Take less at a time: shallow pans, or pieces cut smaller.")
        if isinstance(asked.shape, float) and not asked.stirred:
            advice.append("Stir it, and keep it covered.")
        if asked.method != "hot_water":
            advice.append("Bagged food in simmering water heats faster than in air.")
    advice.append("Read the coldest part, in the middle, half way through the time allowed.")
    return tuple(advice)
