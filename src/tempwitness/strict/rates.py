"""How fast the food can change in each stage, in words and figures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Decided

if TYPE_CHECKING:
    from tempwitness.model.logs import Stage
    from tempwitness.model.lot import Food, Lot
    from tempwitness.model.vocabulary import StageName
    from tempwitness.strict.figures import RateFigures

__all__ = ["StageRate", "per_minute", "stage_rate", "what_bounds"]

_M_PER_IN = 0.0254
_SHAPES = {"any": "any shape", "flat": "flat", "long": "long and round"}


@dataclass(frozen=True, slots=True)
class StageRate:
    """Limits on how fast food can warm and cool [°F/s], and what they rest on.

    A rate is infinite where nothing bounds it.
    """

    up: float
    down: float
    words: str

    @property
    def known(self) -> bool:
        """Whether both are bounded."""
        return self.up < float("inf") and self.down < float("inf")


def stage_rate(
    lot: Lot, stage: Stage | None, figures: RateFigures, *, noted: StageName | None = None
) -> StageRate:
    """Return how fast food in the core can change in a stage, or between stages.

    Parameters
    ----------
    lot : Lot
    stage : Stage, optional
        As it is judged; ``None`` for the time between stages.
    figures : RateFigures
    noted : StageName, optional
        Step that a person noted for this time. What the record states of a stage is meant of this
        one: a stage that was read from the trace may be judged under another name.
    """
    physical, words = _by_conduction(lot.food, stage, figures)
    up = down = physical
    for stated in lot.rates:
        if stated.stage is not None and stated.stage is not noted:
            continue
        up, down, said = _tightened(up, down, (stated.up, stated.down))
        words = "; ".join(w for w in (words, f"{said} ({stated.reason})") if w)
    return StageRate(up, down, words)


def _tightened(
    up: float, down: float, stated: tuple[float | None, float | None]
) -> tuple[float, float, str]:
    """Take what the record states where it is smaller, and say so where it is not."""
    said = []
    new = [up, down]
    for i, (name, rate) in enumerate(zip(("up", "down"), stated, strict=True)):
        if rate is None:
            continue
        if rate <= new[i]:
            new[i] = rate
            said.append(f"{name} {per_minute(rate)} as the record states")
        else:
            said.append(f"{name} {per_minute(rate)} of the record is looser and was not taken")
    return new[0], new[1], ", ".join(said)


def per_minute(rate: float) -> str:
    """Write a rate in °F a minute."""
    return f"{rate * 60:.3g} °F/min"


def _by_conduction(food: Food, stage: Stage | None, figures: RateFigures) -> tuple[float, str]:
    unknown = float("inf")
    thickness, _ = _thickness(food, figures)
    if thickness is None:
        return unknown, "no thickness is stated"
    span = figures.otherwise
    if stage is not None and stage.method in figures.from_within:
        return unknown, f"{stage.method.replace('_', ' ')} heats from within"
    if stage is not None and stage.decided is Decided.NOTED:
        if stage.name not in figures.surface:
            return unknown, f"food is moved, cut, thawed or frozen in {stage.name.words}"
        span = figures.surface[stage.name]
    radius = thickness / 2.0
    rate = (span[1] - span[0]) * figures.factor[food.shape] * figures.diffusivity / radius**2
    return rate, f"{per_minute(rate)}, with a surface between {span[0]:g} and {span[1]:g} °F"


def what_bounds(food: Food, figures: RateFigures) -> str:
    """Say on what the rates of conduction rest."""
    thickness, whose = _thickness(food, figures)
    if thickness is None:
        return "the record states no thickness of the food, so conduction bounds nothing"
    return (
        f"heat moves inside the food by conduction alone: {_SHAPES[food.shape]}, "
        f"{thickness * 50:.1f} cm from the probe to the surface ({whose})"
    )


def _thickness(food: Food, figures: RateFigures) -> tuple[float | None, str]:
    if food.thickness is not None:
        return food.thickness, "half of the stated thickness"
    if food.cut in figures.thickness and food.cut is not None:
        inches = figures.thickness[food.cut]
        return inches * _M_PER_IN, f"assumed: half of {inches:g} in"
    return None, ""
