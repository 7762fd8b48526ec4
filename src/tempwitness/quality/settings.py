"""The figures of the quality tests, read from the rule files."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any

import tomli

from tempwitness.errors import RuleError
from tempwitness.model.vocabulary import Place, StageName
from tempwitness.rulebook.files import rules_folder
from tempwitness.rulebook.folder import kept_by_rules

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = [
    "Figures",
    "Filled",
    "FlatLine",
    "Mark",
    "Range",
    "Sentinels",
    "Span",
    "Step",
    "Surroundings",
    "Swap",
    "UnitMix",
    "figures",
]

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Mark:
    """A figure that an instrument writes when it has no reading.

    Parameters
    ----------
    value : float
    scale : {"f", "c", "any"}
        On which scale it is such a mark.
    why : str
    """

    value: float
    scale: str
    why: str


@dataclass(frozen=True, slots=True)
class Sentinels:
    """Marks of instruments, and how far from others such a figure must stand [°F]."""

    never: tuple[Mark, ...]
    sometimes: tuple[Mark, ...]
    overload: float
    jump: float
    same: float
    inner: Span


@dataclass(frozen=True, slots=True)
class Range:
    """Plausible figures [°F]: of any temperature, of each place, and of a place in a stage."""

    fail: Span
    suspect: Mapping[Place, Span]
    stage: Mapping[StageName, Mapping[Place, Span]]


@dataclass(frozen=True, slots=True)
class Step:
    """How fast any food can change [°F/min], over which spans [s], and when it is back [°F]."""

    rate: float
    window: float
    least: float
    heated: float
    unheated: float
    margin: float
    long_window: float
    back: float
    back_rate: float
    note_within: float


@dataclass(frozen=True, slots=True)
class Conduction:
    """How fast food of a known thickness can change: diffusivity [m²/s] and factor by shape.

    Parameters
    ----------
    ice_below : float
        Food that is read below this may hold ice, which conducts several times better [°F].
    """

    diffusivity: float
    factor: Mapping[str, float]
    ice_below: float


@dataclass(frozen=True, slots=True)
class InAir:
    """How soon a bare probe has gone two thirds of its way [s], and how near it settles [°F]."""

    quick: float
    settled: float


@dataclass(frozen=True, slots=True)
class Spike:
    """Least distance from both neighbours [°F], and how far these may differ [share of it]."""

    least: float
    agree: float


@dataclass(frozen=True, slots=True)
class FlatLine:
    """When a figure that does not move is doubted."""

    times: float
    slowest: float
    least: int
    air_moves: float
    other_moves: float
    alone: float
    steps: tuple[float, ...]
    finest: float
    resting: frozenset[StageName]


@dataclass(frozen=True, slots=True)
class UnitMix:
    """How near a figure must lie to another one on the other scale [°F or °C]."""

    near: float
    apart: float
    asked: float
    odd_cold: Span


@dataclass(frozen=True, slots=True)
class Swap:
    """Levels that two probes exchange [°F]."""

    apart: float
    near: float


@dataclass(frozen=True, slots=True)
class Surroundings:
    """How far a core may lie above or below all that is around it [°F]."""

    margin: float
    colder: float


@dataclass(frozen=True, slots=True)
class Order:
    """Food that is raw again after it was hot [°F]."""

    raw: float
    apart: float


@dataclass(frozen=True, slots=True)
class Moments:
    """Moments that cannot be [s]: before `earliest`, more than `ahead` after the asking."""

    earliest: float
    ahead: float
    back: int


@dataclass(frozen=True, slots=True)
class Gap:
    """When readings say nothing of each other's rate, and when a log has stopped [s]."""

    longest: float
    steady: float
    times: float


@dataclass(frozen=True, slots=True)
class Filled:
    """What makes a list look as if it had been filled in afterwards."""

    entries: int
    round: float
    run: int
    different: int
    apart: float


@dataclass(frozen=True, slots=True)
class Figures:
    """Figures of the quality tests."""

    gap: Gap
    time: Moments
    written_apart: float
    speaks: frozenset[str]
    sentinel: Sentinels
    range: Range
    step: Step
    conduction: Conduction
    in_air: InAir
    spike: Spike
    flat_line: FlatLine
    unit: UnitMix
    swap: Swap
    surroundings: Surroundings
    differ: float
    order: Order
    filled: Filled


def _table(room: str, name: str) -> dict[str, Any]:
    """Return a file of figures as it is written.

    Raises
    ------
    RuleError
        If it is missing or not TOML.
    """
    path = rules_folder() / room / name
    try:
        return tomli.loads(path.read_text("utf-8"))
    except (OSError, tomli.TOMLDecodeError) as why:
        raise RuleError(
            f"the figures of the quality tests cannot be read ({why})",
            hint="install the package again; the wheel carries its rule files",
        ) from None


@kept_by_rules
def figures() -> Figures:
    """Return the figures of the quality tests."""
    read = _table("quality", "defaults.toml")
    return Figures(
        gap=Gap(**_named(Gap, read["gap"])),
        time=Moments(**_named(Moments, read["time"])),
        written_apart=read["written"]["apart"],
        speaks=frozenset(read["syntax"]["speaks"]),
        sentinel=_sentinels(read["sentinel"]),
        range=_range(read["range"]),
        step=Step(**_named(Step, read["step"])),
        conduction=_conduction(_table("bounds", "rates.toml")),
        in_air=InAir(**_named(InAir, read["in_air"])),
        spike=Spike(**_named(Spike, read["spike"])),
        flat_line=_flat_line(read["flat_line"]),
        unit=_unit(read["unit"]),
        swap=Swap(**_named(Swap, read["swap"])),
        surroundings=Surroundings(**_named(Surroundings, read["surroundings"])),
        differ=read["duplicate"]["differ"],
        order=Order(**_named(Order, read["order"])),
        filled=Filled(**_named(Filled, read["filled"])),
    )


def _named(kind: type[Any], entry: Mapping[str, Any]) -> dict[str, Any]:
    """Take the keys of an entry that a class of figures has; all of them must be there."""
    return {field.name: entry[field.name] for field in fields(kind)}


def _conduction(table: dict[str, Any]) -> Conduction:
    """Take the figures of heat conduction from those of the strict bounds."""
    entry = table["conduction"]
    return Conduction(entry["diffusivity"], entry["factor"], table["exceptions"]["ice_below"])


def _flat_line(entry: dict[str, Any]) -> FlatLine:
    read = _named(FlatLine, entry)
    read["steps"] = tuple(read["steps"])
    read["resting"] = frozenset(StageName(name) for name in read["resting"])
    return FlatLine(**read)


def _unit(entry: dict[str, Any]) -> UnitMix:
    read = _named(UnitMix, entry)
    read["odd_cold"] = _span(read["odd_cold"])
    return UnitMix(**read)


def _range(entry: dict[str, Any]) -> Range:
    stages = {name: spans for name, spans in entry["stage"].items() if name != "basis"}
    return Range(
        _span(entry["anywhere"]["fail"]),
        {place: _span(entry[place.value]["suspect"]) for place in Place},
        {
            StageName(name): {Place(place): _span(span) for place, span in spans.items()}
            for name, spans in stages.items()
        },
    )


def _span(pair: list[float]) -> Span:
    low, high = pair
    return low, high


def _sentinels(entry: dict[str, Any]) -> Sentinels:
    never = _marks(entry["never"])
    same = entry["same"]
    # No mark of this kind lies between these two, so that a clean log is looked at once.
    inner = (
        max(mark.value for mark in never if mark.value < 0) + same,
        min(mark.value for mark in never if mark.value > 0) - same,
    )
    return Sentinels(
        never, _marks(entry["sometimes"]), entry["overload"], entry["jump"], same, inner
    )


def _marks(entries: list[dict[str, Any]]) -> tuple[Mark, ...]:
    return tuple(
        Mark(float(entry[scale]), scale, entry["why"])
        for entry in entries
        for scale in ("f", "c", "any")
        if scale in entry
    )
