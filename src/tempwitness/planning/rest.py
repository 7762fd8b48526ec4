"""How long a wrapped rest in a closed box will stay above a limit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.planning.values import Band, Outlook, degrees_words, figures, mass_words
from tempwitness.science.box import Wall, box_conductance, in_series
from tempwitness.science.conduction import Body, Material, slowest
from tempwitness.science.ranges import OutOfRangeError, within
from tempwitness.units import Unit, convert_difference

if TYPE_CHECKING:
    from tempwitness.science.properties import Food

__all__ = ["Box", "MeasuredDecay", "RestAsked", "RestPlan", "box_of", "plan_rest"]

_LEAST_MARGIN_C = 5.0 / 1.8  # of the alarm before the outside is at the limit [°C difference]
_TO_ACT = 1800.0  # what the alarm leaves [s]


@dataclass(frozen=True, slots=True)
class Box:
    """A closed box.

    Parameters
    ----------
    wall : Wall
    towels : float
        Layer of towels or blankets around the food [m].
    preheated : bool
        Whether hot water stood in it before.
    filled : bool
        Whether what is left of its space is filled up.
    """

    wall: Wall
    towels: float = 0.0
    preheated: bool = False
    filled: bool = False

    def __post_init__(self) -> None:
        within("the layer of towels", self.towels, 0.0, 0.3, "m")


@dataclass(frozen=True, slots=True)
class MeasuredDecay:
    """An earlier rest in the same box with as much food: from one temperature to another.

    Parameters
    ----------
    start, end, room : float
        [°C]
    lasted : float
        [s]
    """

    start: float
    end: float
    room: float
    lasted: float

    @property
    def time_constant(self) -> float:
        """By Newton's law [s].

        Raises
        ------
        OutOfRangeError
            If it did not cool towards the room.
        """
        if not self.room < self.end < self.start or self.lasted <= 0:
            raise OutOfRangeError(
                "the measured rest does not cool from its start towards its room",
                hint="give a start above the end and an end above the room",
            )
        return self.lasted / math.log((self.start - self.room) / (self.end - self.room))


@dataclass(frozen=True, slots=True)
class RestAsked:
    """A rest that is planned. Temperatures in °C.

    Parameters
    ----------
    food : Food
    mass : float
        Of one piece [kg].
    pieces : int
    start : float
        Core when it goes into the box.
    limit : float
        That the food must keep, from the code in force.
    room : float
        Around the box.
    hours : float
        That it must last [h].
    box : Box or MeasuredDecay
    body : Body, optional
        Shape of one piece; a block of proportions typical for the food if not given.
    unit : Unit
        In which the plan speaks.
    """

    food: Food
    mass: float
    pieces: int
    start: float
    limit: float
    room: float
    hours: float
    box: Box | MeasuredDecay
    body: Body | None = None
    unit: Unit = Unit.F


@dataclass(frozen=True, slots=True)
class RestPlan:
    """What is to be expected of a rest. An estimate, never proof.

    Parameters
    ----------
    outlook : Outlook
    outside, core : Band
        Until the outside and the core of a piece fall below the limit [h].
    time_constant : float
        [h]
    first_check : float
        When the first reading is due [h after the start].
    alarm : float
        Core temperature at which to act: half an hour, and 5 °F, before the outside is at the
        limit [°C].
    advice, assumptions : tuple of str
    """

    outlook: Outlook
    outside: Band
    core: Band
    time_constant: float
    first_check: float
    alarm: float
    advice: tuple[str, ...]
    assumptions: tuple[str, ...]

    def core_at(self, hours: float, asked: RestAsked) -> Band:
        """Core temperature after a time [°C], colder, likely and warmer end."""
        share = float(figures()["doubt"]["share"])
        scales = (1 / (1 + share), 1.0, 1 / (1 - share))
        # A band of times is one of temperatures: where it would be at a later or earlier hour.
        warm, likely, cold = (self._core_after(hours * scale, asked) for scale in scales)
        return Band(cold, likely, warm)

    def _core_after(self, hours: float, asked: RestAsked) -> float:
        left = math.exp(-(hours - self.core.likely) / self.time_constant)
        return min(asked.start, asked.room + (asked.limit - asked.room) * left)


def box_of(kind: str, outer: tuple[float, float, float]) -> Wall:
    """Return the wall of a kind of box and a size outside [m].

    Raises
    ------
    OutOfRangeError
        If no kind has that name.
    """
    kinds = figures()["boxes"]["kinds"]
    if kind not in kinds:
        raise OutOfRangeError(f"no kind of box is '{kind}'", hint=f"known: {', '.join(kinds)}")
    entry = kinds[kind]
    return Wall(outer, float(entry["thickness"]), float(entry["conductivity"]))


def plan_rest(asked: RestAsked) -> RestPlan:
    """Estimate how long a rest stays above a limit.

    Heat passes the food, its wrapping, the wall and the still air of the room one after the other;
    the wall's inside first takes up heat of its own. The last term of the conduction series gives
    the core and the outside. Measured rests lie within about ±30 % of such figures.

    Parameters
    ----------
    asked : RestAsked

    Returns
    -------
    RestPlan

    Raises
    ------
    OutOfRangeError
        If the food does not start above the limit, or the limit does not lie above the room.
    """
    _check(asked)
    from tempwitness.science.properties import material_of  # noqa: PLC0415 - reads files

    material = material_of(asked.food.composition, min(asked.start, 99.0))
    body = asked.body or asked.food.piece(asked.mass, material.density)
    if isinstance(asked.box, MeasuredDecay):
        start, tau = asked.start, asked.box.time_constant
        face = _face_for(body, material, 1 / tau)
        first = 1.0
    else:
        start = asked.start - _taken_by_liner(asked.box, asked, material)
        coefficient = _conductance(asked.box, body, asked.pieces) / (body.area * asked.pieces)
        rate, first, face = slowest(body, material, coefficient)
        tau = 1 / rate
    excess = (asked.limit - asked.room) / max(start - asked.room, 1e-9)
    core = max(0.0, tau * math.log(first / excess)) / 3600
    outside = max(0.0, tau * math.log(first * face / excess)) / 3600
    share = float(figures()["doubt"]["share"])
    bands = [Band(hours * (1 - share), hours, hours * (1 + share)) for hours in (outside, core)]
    # Core when the outside is at the limit, and how far it falls from there in half an hour [°C].
    at_limit = asked.room + (asked.limit - asked.room) / face
    fall = (at_limit - asked.room) * _TO_ACT / tau
    return RestPlan(
        _outlook(bands[0], asked.hours),
        bands[0],
        bands[1],
        tau / 3600,
        min(asked.hours, bands[0].least) / 2,
        at_limit + max(_LEAST_MARGIN_C, fall),
        _advice(asked, bands[0]),
        _assumptions(asked, start),
    )


def _check(asked: RestAsked) -> None:
    within("the number of pieces", asked.pieces, 1, 1000)
    within("the mass of a piece", asked.mass, 0.05, 200.0, "kg")
    within("the time that it must last", asked.hours, 0.0, 100.0, "h")
    if not asked.room < asked.limit < asked.start:
        temperatures = (asked.room, asked.limit, asked.start)
        room, limit, start = (degrees_words(celsius, asked.unit) for celsius in temperatures)
        raise OutOfRangeError(
            f"a rest needs food above its limit and a room below it: the food starts at {start}, "
            f"the limit is {limit}, the room {room}",
            hint="check the three temperatures",
        )


def _conductance(box: Box, body: Body, pieces: int) -> float:
    """Return the conductance from the surface of all pieces to the room [W/K]."""
    settings = figures()["boxes"]
    area = body.area * pieces
    layers = [
        box_conductance(box.wall) * (1 + float(settings["leak"])),
        float(settings["film"]) * area,
    ]
    thickness = box.towels + (float(settings["filled"]) if box.filled else 0.0)
    if thickness > 0:
        # Area between the inner and the outer face of the layer, as around a ball.
        radius = math.sqrt(area / (4 * math.pi))
        outer = 4 * math.pi * (radius + thickness) ** 2
        between = math.sqrt(area * outer)
        layers.append(float(settings["towel_conductivity"]) * between / thickness)
    return in_series(*layers)


def _taken_by_liner(box: Box, asked: RestAsked, material: Material) -> float:
    """Return how far the food falls to warm the inside of the box [°C]."""
    settings = figures()["boxes"]
    heat = float(settings["liner"]) * box.wall.areas[0] * float(settings["liner_heat_capacity"])
    rise = (asked.start - asked.room) / 2  # the liner ends halfway between food and room
    left = float(settings["preheated_leaves"]) if box.preheated else 1.0
    food = asked.mass * asked.pieces * material.heat_capacity
    return heat * rise * left / (food + heat)


def _face_for(body: Body, material: Material, rate: float) -> float:
    """Return the share of the outside for a body that cools at a rate [1/s]."""
    low, high = 0.05, 1e3
    for _ in range(40):
        middle = math.sqrt(low * high)
        if slowest(body, material, middle)[0] < rate:
            low = middle
        else:
            high = middle
    return slowest(body, material, low)[2]


def _outlook(lasts: Band, needed: float) -> Outlook:
    if lasts.least >= needed:
        return Outlook.HOLDS
    return Outlook.FAILS if lasts.most < needed else Outlook.DOUBTFUL


def _advice(asked: RestAsked, lasts: Band) -> tuple[str, ...]:
    advice = ["Leave a probe in the core of the smallest piece and set its alarm."]
    if lasts.least < asked.hours:
        advice.append("Have a hot cabinet or an oven ready before the alarm sounds.")
        if isinstance(asked.box, Box):
            if not asked.box.preheated:
                advice.append("Warm the box with hot water first.")
            if not asked.box.filled:
                advice.append("Use a smaller box, or fill it up with towels.")
    return tuple(advice)


def _assumptions(asked: RestAsked, start: float) -> tuple[str, ...]:
    unit = asked.unit
    each = f"{asked.pieces} × {mass_words(asked.mass, unit)}"
    core, room = (degrees_words(celsius, unit) for celsius in (asked.start, asked.room))
    notes = [
        f"{each} of {asked.food.title}; its composition is typical",
        "the shape as stated" if asked.body else "a block of proportions typical for it",
        f"core at {core}, room at {room} all along",
        "the box stays closed",
        "hours are good to about ±30 %; the outside falls below the limit before the core",
    ]
    if isinstance(asked.box, Box):
        fall = convert_difference(asked.start - start, Unit.C, unit)
        notes.append(f"warming the box takes {fall:.0f} {unit.symbol} from the food")
        notes.append("wall, lid and towels by general figures, not measured on this box")
    else:
        notes.append("the box, its filling and the mass as in the measured rest")
    return tuple(notes)
