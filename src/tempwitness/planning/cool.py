"""Whether food will cool in time, in how many pans, with how much ice."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.planning.transit import Still, Stirred, hours_between
from tempwitness.planning.values import (
    Band,
    Medium,
    Outlook,
    degrees_words,
    figures,
    mass_words,
    medium,
    outlook,
)
from tempwitness.science.conduction import Material, slab
from tempwitness.science.ice import ice_needed
from tempwitness.science.properties import material_of
from tempwitness.science.ranges import OutOfRangeError, within
from tempwitness.units import Unit

if TYPE_CHECKING:
    from tempwitness.planning.limits import Leg
    from tempwitness.science.conduction import Body
    from tempwitness.science.properties import Food

__all__ = ["CoolAsked", "CoolPlan", "LegPlan", "Pans", "plan_cool"]


@dataclass(frozen=True, slots=True)
class CoolAsked:
    """A cooling that is planned. Temperatures in °C.

    Parameters
    ----------
    food : Food
    mass : float
        All of it [kg].
    start : float
        Warmest part at the start.
    legs : tuple of Leg
        From the code in force.
    method : str
        One of the ways to cool of ``rules/physics/surroundings.toml``.
    shape : float or Body
        Depth of the food in a pan [m], or the shape of one piece.
    around : float, optional
        Of air or bath; what is usual for the method if not given.
    stirred : bool
        Food of a pan that is stirred all along.
    unit : Unit
        In which the plan speaks.
    """

    food: Food
    mass: float
    start: float
    legs: tuple[Leg, ...]
    method: str
    shape: float | Body
    around: float | None = None
    stirred: bool = False
    unit: Unit = Unit.F


@dataclass(frozen=True, slots=True)
class LegPlan:
    """What is to be expected of one leg.

    Parameters
    ----------
    leg : Leg
    takes : Band
        [h]
    outlook : Outlook
    """

    leg: Leg
    takes: Band
    outlook: Outlook


@dataclass(frozen=True, slots=True)
class Pans:
    """How many full-size pans.

    Parameters
    ----------
    depth : float
        Of the food in each [m].
    count : int
    """

    depth: float
    count: int


@dataclass(frozen=True, slots=True)
class CoolPlan:
    """What is to be expected of a cooling. An estimate, never proof.

    Parameters
    ----------
    outlook : Outlook
        The worst of its legs.
    legs : tuple of LegPlan
    pans : Pans, optional
        As asked, for food of a pan.
    deepest : Pans, optional
        Deepest pans with which all legs hold; ``None`` if none of those looked at does.
    ice : float, optional
        For a bath, with what melts into the room [kg].
    advice, assumptions : tuple of str
    """

    outlook: Outlook
    legs: tuple[LegPlan, ...]
    pans: Pans | None
    deepest: Pans | None
    ice: float | None
    advice: tuple[str, ...]
    assumptions: tuple[str, ...]


_DEPTHS = {True: "depths_in", False: "depths_cm"}
_WORST_FIRST = (Outlook.FAILS, Outlook.DOUBTFUL, Outlook.HOLDS)


def plan_cool(asked: CoolAsked) -> CoolPlan:
    """Estimate whether a cooling keeps its legs.

    The middle of the food follows the full series of conduction, or Newton's law if it is stirred.
    Evaporation is left out: open food cools somewhat faster.

    Parameters
    ----------
    asked : CoolAsked

    Returns
    -------
    CoolPlan

    Raises
    ------
    OutOfRangeError
        If there are no legs, or the food is not warmer than what cools it.
    """
    way = medium("cool", asked.method)
    usual = way.assumed if way.assumed is not None else 0.0
    cold = usual if asked.around is None else asked.around
    _check(asked, cold)
    middle = max(0.0, (asked.start + cold) / 2)
    material = material_of(asked.food.composition, min(middle, 99.0))
    legs = _legs(asked, way, cold, material, asked.shape)
    in_pan = isinstance(asked.shape, float)
    pans = _pans(asked, material, asked.shape) if isinstance(asked.shape, float) else None
    deepest = _deepest(asked, way, cold, material) if in_pan else None
    worst = next(o for o in _WORST_FIRST if any(leg.outlook is o for leg in legs))
    plan = CoolPlan(
        worst,
        legs,
        pans,
        deepest,
        _ice(asked, cold, material) if way.id == "ice_bath" else None,
        (),
        _assumptions(asked, way, cold),
    )
    advice = _advice(asked, plan, cold)
    return CoolPlan(worst, legs, pans, deepest, plan.ice, advice, plan.assumptions)


def _check(asked: CoolAsked, cold: float) -> None:
    within("the mass of the food", asked.mass, 0.05, 1e4, "kg")
    if isinstance(asked.shape, float):
        within("the depth of the food", asked.shape, 0.003, 0.6, "m")
    elif asked.stirred:
        raise OutOfRangeError(
            "a piece cannot be stirred", hint="give the depth of a pan, or leave stirring out"
        )
    if not asked.legs:
        raise OutOfRangeError("no leg of a cooling is given", hint="name a code that prints one")
    if asked.start <= cold:
        start, bath = (degrees_words(t, asked.unit) for t in (asked.start, cold))
        raise OutOfRangeError(
            f"food of {start} does not cool in surroundings of {bath}",
            hint="check both temperatures",
        )


def _legs(
    asked: CoolAsked, way: Medium, cold: float, material: Material, shape: float | Body
) -> tuple[LegPlan, ...]:
    found = []
    food = _food(asked, way, material, shape)
    for leg in asked.legs:
        begins = min(leg.start_c, asked.start)
        takes = hours_between(food, way, cold, asked.start, (begins, leg.to_c))
        found.append(LegPlan(leg, takes, outlook(takes, leg.within / 3600)))
    return tuple(found)


def _food(
    asked: CoolAsked, way: Medium, material: Material, shape: float | Body
) -> Still | Stirred:
    """Return how heat leaves it: a pan from both faces in air, from below alone in a bath."""
    if not isinstance(shape, float):
        return Still(shape, material)
    from_below = way.id == "ice_bath"
    if asked.stirred:
        return Stirred(shape if from_below else shape / 2, material)
    return Still(slab(shape if from_below else shape / 2), material)


def _pans(asked: CoolAsked, material: Material, depth: float) -> Pans:
    pan = figures()["pans"]
    area = float(pan["length"]) * float(pan["width"])
    return Pans(depth, max(1, math.ceil(asked.mass / material.density / area / depth - 1e-9)))


def _deepest(asked: CoolAsked, way: Medium, cold: float, material: Material) -> Pans | None:
    pan = figures()["pans"]
    inches = asked.unit is Unit.F
    depths = [float(d) * (0.0254 if inches else 0.01) for d in pan[_DEPTHS[inches]]]
    for depth in sorted(depths, reverse=True):
        legs = _legs(asked, way, cold, material, depth)
        if all(leg.outlook is Outlook.HOLDS for leg in legs):
            return _pans(asked, material, depth)
    return None


def _ice(asked: CoolAsked, cold: float, material: Material) -> float:
    pan = figures()["pans"]
    ends = min(leg.to_c for leg in asked.legs)
    heat = asked.mass * material.heat_capacity * (asked.start - ends)
    water = float(pan["bath_water"]) * asked.mass
    bath = max(0.0, cold)
    needed = ice_needed(heat, water=water, water_at=max(float(pan["tap"]), bath), ends_at=bath)
    return needed / (1 - float(pan["ice_lost"]))


def _advice(asked: CoolAsked, plan: CoolPlan, cold: float) -> tuple[str, ...]:
    beyond = [p for p in plan.legs if cold >= p.leg.to_c]
    if beyond:
        ends = degrees_words(min(p.leg.to_c for p in beyond), asked.unit)
        around = degrees_words(cold, asked.unit)
        return (f"Surroundings of {around} never bring it to {ends}: find colder ones.",)
    advice = []
    if plan.outlook is not Outlook.HOLDS:
        advice += _changes(asked, plan)
    advice.append("Read the middle of the thickest part half way through each time allowed.")
    return tuple(advice)


def _changes(asked: CoolAsked, plan: CoolPlan) -> list[str]:
    changes = []
    if plan.deepest is not None:
        depth = _length(plan.deepest.depth, asked.unit)
        changes.append(f"Use {plan.deepest.count} pans with food {depth} deep.")
    if asked.method != "ice_bath":
        changes.append("Start in an ice bath, bagged or in pans, then go on in the cold room.")
    if not isinstance(asked.shape, float):
        changes.append("Cut or pull the pieces and spread them in shallow pans.")
    elif not asked.stirred:
        changes.append("Stir it often, or with a frozen paddle.")
    return changes


def _assumptions(asked: CoolAsked, way: Medium, cold: float) -> tuple[str, ...]:
    usual = " (usual for it; not stated)" if asked.around is None else ""
    faces = "from below alone" if way.id == "ice_bath" else "from both faces"
    pan = isinstance(asked.shape, float)
    bath = f"{way.title} at {degrees_words(cold, asked.unit)}{usual}"
    return (
        f"{mass_words(asked.mass, asked.unit)} of {asked.food.title}; its composition is typical",
        f"{bath}, {way.least:g} to {way.most:g} W/(m² K)",
        f"pans cooled {faces}, apart from each other" if pan else "air or water all around it",
        "stirred all along" if asked.stirred else "not stirred",
        "nothing evaporates; hours are good to about ±30 %",
    )


def _length(metres: float, unit: Unit) -> str:
    return f"{metres / 0.0254:.2g} in" if unit is Unit.F else f"{metres * 100:.2g} cm"
