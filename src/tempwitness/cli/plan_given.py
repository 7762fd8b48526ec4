"""What the options of ``tempwitness plan`` said, as the planners want it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeVar

from tempwitness.errors import InputError, Location
from tempwitness.model.figures import parse_duration
from tempwitness.planning import (
    Box,
    CoolAsked,
    Leg,
    MeasuredDecay,
    ReheatAsked,
    RestAsked,
    Target,
    box_of,
    cooling_legs,
    hot_limit,
    reheat_target,
)
from tempwitness.readers.measures import length_m
from tempwitness.readers.words import temperature, weighed
from tempwitness.rulebook.foods import classify
from tempwitness.rulebook.load import load_code
from tempwitness.science.conduction import brick
from tempwitness.science.properties import Food, food_like, foods
from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from collections.abc import Callable

    from tempwitness.model.rule import Code
    from tempwitness.model.vocabulary import Species
    from tempwitness.science.conduction import Body

__all__ = ["Given", "cool_asked", "reheat_asked", "rest_asked"]

_KG_PER_LB = 0.45359237
_SIZE = re.compile(r"([\d.]+)\s*[x×]\s*([\d.]+)\s*[x×]\s*([\d.]+)\s*(in|cm|mm)", re.IGNORECASE)
_MEASURED = re.compile(r"(.+?)\s+to\s+(.+?)\s+in\s+(.+)", re.IGNORECASE)

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Given:
    """Options as typed, by their names; an empty text was not given."""

    options: dict[str, Any]

    def read(self, name: str, how: Callable[[str], Value]) -> Value:
        """Return what an option says.

        Raises
        ------
        InputError
            Names the option and what it accepts.
        """
        try:
            return how(self.options[name])
        except ValueError as why:
            raise InputError(str(why), location=_place(name)) from None

    def celsius(self, name: str) -> float:
        """Return a temperature [°C]."""
        value, unit = self.read(name, temperature)
        return convert(value, unit, Unit.C)

    @property
    def unit(self) -> Unit:
        """The scale of the first temperature: the plan speaks in it."""
        return self.read("start", temperature)[1]

    @property
    def kilograms(self) -> float:
        """Weight [kg]."""
        weight = self.read("weight", weighed)
        return weight.value * (_KG_PER_LB if weight.unit == "lb" else 1.0)

    @property
    def food(self) -> Food:
        """The food of the list that is nearest to what was named."""
        found = food_like(self.options["food"])
        if found is None:
            raise InputError(
                f"nothing is known of how '{self.options['food']}' conducts heat",
                location=_place("food"),
                hint=f"name one that is like it: {', '.join(food.title for food in foods())}",
            )
        return found

    @property
    def species(self) -> Species | None:
        """Kind of food, where its name tells it; a limit may depend on it."""
        try:
            return classify(self.options["food"])[0]
        except InputError:
            return None

    @property
    def code(self) -> Code:
        """The code that was named."""
        if not self.options["code"]:
            raise InputError(
                "no code is named, so that no limit is known",
                location=_place("code"),
                hint="add --code us/food-code/2022, or the one in force where you are "
                "(tempwitness rules list)",
            )
        return load_code(self.options["code"])

    def body(self) -> Body | None:
        """Return the block of a size, if one was given."""
        if not self.options["piece"]:
            return None
        return brick(*self.read("piece", _size))

    def shape(self) -> float | Body:
        """Return the depth of a pan, or the shape of a piece; exactly one is given."""
        if bool(self.options["depth"]) == bool(self.options["piece"]):
            raise InputError(
                "the shape of the food is not clear",
                location=_place("depth"),
                hint="give either --depth '2 in' for food in a pan, or --piece '12x6x5 in'",
            )
        return self.body() or self.read("depth", length_m)


def _place(name: str) -> Location:
    return Location("command line", key=f"--{name.replace('_', '-')}")


def _size(text: str) -> tuple[float, float, float]:
    match = _SIZE.fullmatch(text.strip())
    if match is None:
        raise ValueError(f"'{text}' is not a size; write it as '12x6x5 in' or '30x15x12 cm'")
    length, width, height = (length_m(f"{match[k]} {match[4]}") for k in (1, 2, 3))
    return length, width, height


def _measured(text: str) -> tuple[float, float, float]:
    """Read a way from one temperature to another [°C], and its time [s]."""
    match = _MEASURED.fullmatch(text.strip())
    if match is None:
        raise ValueError(
            f"'{text}' is no way from one temperature to another; write it as "
            f"'200 F to 140 F in 6 h'"
        )
    start, end = (convert(*temperature(match[k]), Unit.C) for k in (1, 2))
    return start, end, parse_duration(match[3])


def rest_asked(given: Given) -> RestAsked:
    """Return what `plan_rest` takes."""
    room = given.celsius("room")
    if given.options["measured"]:
        start, end, lasted = given.read("measured", _measured)
        box: Box | MeasuredDecay = MeasuredDecay(start, end, room, lasted)
    else:
        towels = given.read("towels", length_m) if given.options["towels"] else 0.0
        wall = box_of(given.options["box"], given.read("size", _size))
        box = Box(
            wall, towels, preheated=given.options["preheated"], filled=given.options["filled"]
        )
    if given.options["limit"]:
        limit = given.celsius("limit")
    else:
        printed = hot_limit(given.code, given.species)
        # The figure that the code prints in the scale in which the cook reads.
        in_f = given.unit is Unit.F
        limit = convert(printed.fahrenheit, Unit.F, Unit.C) if in_f else printed.celsius
    return RestAsked(
        given.food,
        given.kilograms,
        given.options["pieces"],
        given.celsius("start"),
        limit,
        room,
        given.options["hours"],
        box,
        given.body(),
        given.unit,
    )


def _legs(given: Given) -> tuple[Leg, ...]:
    if not given.options["leg"]:
        return cooling_legs(given.code, given.species, given.unit)
    found = []
    for line in given.options["leg"]:
        try:
            start, to, within = _measured(line)
        except ValueError as why:
            raise InputError(str(why), location=_place("leg")) from None
        found.append(Leg("own limit", line, start, to, within))
    return tuple(found)


def _target(given: Given) -> Target:
    if not given.options["leg"]:
        return reheat_target(given.code, given.species, given.unit)
    start, to, within = given.read("leg", _measured)
    return Target("own limit", given.options["leg"], start, to, within)


def cool_asked(given: Given) -> CoolAsked:
    """Return what `plan_cool` takes."""
    return CoolAsked(
        given.food,
        given.kilograms,
        given.celsius("start"),
        _legs(given),
        given.options["method"],
        given.shape(),
        given.celsius("around") if given.options["around"] else None,
        stirred=given.options["stirred"],
        unit=given.unit,
    )


def reheat_asked(given: Given) -> ReheatAsked:
    """Return what `plan_reheat` takes."""
    return ReheatAsked(
        given.food,
        given.kilograms,
        given.celsius("start"),
        _target(given),
        given.options["method"],
        given.celsius("around"),
        given.shape(),
        stirred=given.options["stirred"],
        unit=given.unit,
    )
