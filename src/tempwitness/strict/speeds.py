"""How fast a trace can change in each gap, from what holds in each stage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.exponential import Law
from tempwitness.bounds.gather import undisturbed
from tempwitness.strict.rates import StageRate, per_minute, stage_rate, what_bounds

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Floats, Note, RawLog, Stage
    from tempwitness.model.lot import StatedPassive
    from tempwitness.model.vocabulary import StageName
    from tempwitness.strict.figures import RateFigures

__all__ = ["Ground", "Speeds", "no_speeds", "noted_steps", "speeds"]

_NONE = float("inf")
_HOUR = 3600.0


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What the bounds of one piece rest on.

    Parameters
    ----------
    raw : RawLog
    piece : str
    stages : tuple of Stage
        Stages of the piece, in order.
    notes : tuple of Note
        What was noted of it.
    figures : RateFigures
    limits : tuple of (float, float)
        Figures with which the traces will be compared, in °F and °C.
    """

    raw: RawLog
    piece: str
    stages: tuple[Stage, ...]
    notes: tuple[Note, ...]
    figures: RateFigures
    limits: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Speeds:
    """How fast a trace can change in each of n - 1 gaps.

    Parameters
    ----------
    up, down : Floats
        [degrees/s]; infinite where nothing bounds it.
    law : Law, optional
        Where the food only follows its surroundings.
    words : tuple of str
        What they rest on.
    """

    up: Floats
    down: Floats
    law: Law | None = None
    words: tuple[str, ...] = ()


def no_speeds(count: int) -> Speeds:
    """Return that nothing bounds how fast a trace changes, in so many gaps."""
    return Speeds(np.full(count, _NONE), np.full(count, _NONE))


def speeds(at: Floats, read: tuple[Floats, Floats], ground: Ground, *, celsius: bool) -> Speeds:
    """Bound how fast food in the core can change.

    Parameters
    ----------
    at : Floats
        Moments of the trace [s].
    read : tuple of Floats
        Least and greatest value that was read at each moment, infinite without one [°F or °C].
    ground : Ground
    celsius : bool
        Whether the trace is in °C.
    """
    made = no_speeds(len(at) - 1)
    middle = (at[:-1] + at[1:]) / 2.0
    free = np.ones(len(middle), np.bool_)
    fields = np.full((4, len(middle)), np.nan)
    words: dict[str, list[str]] = {}
    steps = noted_steps(ground.notes)
    noted = np.searchsorted([t for t, _ in steps], middle, "right") - 1
    for stage in ground.stages:
        inside = (middle >= stage.start) & (middle < stage.end)
        free &= ~inside
        for index in sorted(set(noted[inside].tolist())):
            step = None if index < 0 else steps[index][1]
            gaps = inside & (noted == index)
            rate, passive = _of_step(stage, step, at, read, celsius=celsius, ground=ground)
            if passive is not None:
                fields[:, gaps] = np.array([*passive.per_second, *passive.ambient])[:, None]
            made.up[gaps], made.down[gaps] = rate.up, rate.down
            words.setdefault(rate.words, []).append(stage.name.words)
    between = stage_rate(ground.raw.lot, None, ground.figures)
    made.up[free], made.down[free] = between.up, between.down
    unknown = ~np.isfinite(made.up + made.down) | ~undisturbed(at, ground.notes, ground.piece)
    made.up[unknown] = made.down[unknown] = _NONE
    lines = [f"{', '.join(dict.fromkeys(names))}: {said}" for said, names in words.items()]
    told = (what_bounds(ground.raw.lot.food, ground.figures), *lines, *_unused(steps, ground))
    return _on_scale(made, fields, told, celsius=celsius)


def _on_scale(made: Speeds, fields: Floats, words: tuple[str, ...], *, celsius: bool) -> Speeds:
    scale = 1.8 if celsius else 1.0
    law = None
    if bool(np.isfinite(fields).any()):
        around = (fields[2:] - 32.0) / 1.8 if celsius else fields[2:]
        law = Law(fields[0], fields[1], around[0], around[1])
    return Speeds(made.up / scale, made.down / scale, law, words)


_ICE = "it may have held ice, which conducts better"


def noted_steps(notes: Sequence[Note]) -> list[tuple[float, StageName | None]]:
    """Return when each step was noted, in order; ``None`` from where the food was noted as gone."""
    found: list[tuple[float, StageName | None]] = []
    for note in sorted(notes, key=lambda n: (n.at, n.step is not None)):
        if note.step is not None:
            found.append((note.at, note.step))
        elif note.event is not None and note.event.ends:
            found.append((note.at, None))
    return found


def _unused(steps: Sequence[tuple[float, StageName | None]], ground: Ground) -> list[str]:
    """Say what the record states of stages that nobody noted."""
    lot, noted = ground.raw.lot, {step for _, step in steps}
    stated = dict.fromkeys([*(r.stage for r in lot.rates), *(p.stage for p in lot.passive)])
    return [
        f"what the record states of {name.words} is not taken: nobody noted that step"
        for name in stated
        if name is not None and name not in noted
    ]


def _of_step(
    stage: Stage,
    noted: StageName | None,
    at: Floats,
    read: tuple[Floats, Floats],
    *,
    celsius: bool,
    ground: Ground,
) -> tuple[StageRate, StatedPassive | None]:
    """Limits of a stage while a step was noted; none where ice may be in the food."""
    low, high = read
    here = (at >= stage.start) & (at <= stage.end)
    # A reading written as "below 41" leaves room for ice.
    least = low[here & (np.isfinite(low) | np.isfinite(high))]
    ice = (ground.figures.ice_below - 32.0) / 1.8 if celsius else ground.figures.ice_below
    if len(least) and float(least.min()) < ice:
        return StageRate(_NONE, _NONE, _ICE), None
    rate = stage_rate(ground.raw.lot, stage, ground.figures, noted=noted)
    passive = [p for p in ground.raw.lot.passive if p.stage is noted]
    if not passive:
        return rate, None
    return _by_law(rate, passive[-1], ground.figures), passive[-1]


def _by_law(rate: StageRate, passive: StatedPassive, figures: RateFigures) -> StageRate:
    """Say the law beside the rate, and take the rate that follows from it where none is known."""
    (cold, warm), (slow, quick) = passive.ambient, passive.per_second
    said = (
        f"only follows surroundings of {cold:g} to {warm:g} °F, {slow * _HOUR:.3g} to "
        f"{quick * _HOUR:.3g} of the difference an hour, as the record states ({passive.reason})"
    )
    if rate.known:
        return StageRate(rate.up, rate.down, f"{rate.words}; {said}")
    up = quick * (warm - figures.otherwise[0])
    down = quick * (figures.otherwise[1] - cold)
    low, high = figures.otherwise
    told = f"up {per_minute(up)}, down {per_minute(down)} while between {low:g} and {high:g} °F"
    return StageRate(up, down, f"{told}, as it {said}")
