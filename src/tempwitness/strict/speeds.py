"""How fast a trace can change in each gap, from what holds in each stage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.bounds.exponential import Law
from tempwitness.strict.rates import StageRate, per_minute, stage_rate, what_bounds

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Bools, Floats, Note, RawLog, Stage
    from tempwitness.model.lot import StatedPassive
    from tempwitness.strict.figures import RateFigures

__all__ = ["Ground", "Speeds", "no_speeds", "speeds"]

_NONE = float("inf")
_HOUR = 3600.0


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What the bounds of one piece rest on.

    Parameters
    ----------
    raw : RawLog
    stages : tuple of Stage
        Stages of the piece, in order.
    notes : tuple of Note
        What was noted of it.
    figures : RateFigures
    limits : tuple of (float, float)
        Figures with which the traces will be compared, in °F and °C.
    """

    raw: RawLog
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
    for stage in ground.stages:
        gaps = (middle >= stage.start) & (middle < stage.end)
        free &= ~gaps
        rate = _of_stage(stage, at, read, celsius=celsius, ground=ground)
        passive = _passive(stage, ground) if rate.words != _ICE else None
        if passive is not None:
            rate = _by_law(rate, passive, ground.figures)
            fields[:, gaps] = np.array([*passive.per_second, *passive.ambient])[:, None]
        made.up[gaps], made.down[gaps] = rate.up, rate.down
        words.setdefault(rate.words, []).append(stage.name.words)
    between = stage_rate(ground.raw.lot, None, ground.figures)
    made.up[free], made.down[free] = between.up, between.down
    unknown = ~np.isfinite(made.up + made.down) | ~_undisturbed(at, ground.notes)
    made.up[unknown] = made.down[unknown] = _NONE
    lines = [f"{', '.join(dict.fromkeys(names))}: {said}" for said, names in words.items()]
    told = (what_bounds(ground.raw.lot.food, ground.figures), *lines)
    return _on_scale(made, fields, told, celsius=celsius)


def _on_scale(made: Speeds, fields: Floats, words: tuple[str, ...], *, celsius: bool) -> Speeds:
    scale = 1.8 if celsius else 1.0
    law = None
    if bool(np.isfinite(fields).any()):
        around = (fields[2:] - 32.0) / 1.8 if celsius else fields[2:]
        law = Law(fields[0], fields[1], around[0], around[1])
    return Speeds(made.up / scale, made.down / scale, law, words)


_ICE = "it may have held ice, which conducts better"


def _of_stage(
    stage: Stage, at: Floats, read: tuple[Floats, Floats], *, celsius: bool, ground: Ground
) -> StageRate:
    """Limits of a stage; none where ice may be in the food."""
    low, high = read
    here = (at >= stage.start) & (at <= stage.end)
    # A reading written as "below 41" leaves room for ice.
    least = low[here & (np.isfinite(low) | np.isfinite(high))]
    ice = (ground.figures.ice_below - 32.0) / 1.8 if celsius else ground.figures.ice_below
    if len(least) and float(least.min()) < ice:
        return StageRate(_NONE, _NONE, _ICE)
    return stage_rate(ground.raw.lot, stage, ground.figures)


def _passive(stage: Stage, ground: Ground) -> StatedPassive | None:
    found = [p for p in ground.raw.lot.passive if p.stage is stage.name]
    return found[-1] if found else None


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
    return StageRate(up, down, f"up {per_minute(up)}, down {per_minute(down)}, as it {said}")


def _undisturbed(at: Floats, notes: Sequence[Note]) -> Bools:
    calm = np.ones(len(at) - 1, np.bool_)
    for note in notes:
        if note.event is None or not note.event.disturbs:
            continue
        index = int(at.searchsorted(note.at, "right")) - 1
        if 0 <= index < len(calm):
            calm[index] = False
    return calm
