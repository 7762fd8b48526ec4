"""Random true histories that obey limits on how fast the food can change, and readings with error.

A history runs freely towards each stage's temperature, with bumps anywhere, but never faster than
the stage's limits; where a note says that the food was disturbed it may leap. Its readings are off
by at most the probe's accuracy, often by all of it, and are rounded to the steps that it shows.
Then another history is drawn that agrees with these readings just as well: the coldest or the
warmest of all, one that runs up and down between the two as fast as it can, or the first one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from itertools import pairwise
from typing import Literal

import numpy as np

from tempwitness.calibration import correct
from tempwitness.model.logs import StagedLog
from tempwitness.model.lot import Probe, StatedRate
from tempwitness.model.vocabulary import StageName
from tempwitness.quality import qualify
from tempwitness.stages import stage
from tempwitness.units import Unit
from tests.soundness import histories
from tests.soundness.histories import History
from tests.soundness.referee import Span
from tests.soundness.time_lots import TimeLot
from tests.soundness.truth import Floats
from tests.support import ZERO, channel, staged

#: Slowest and fastest that food may warm or cool in a stage [°F/min]; less than conduction allows.
_RATES = {
    "cold_hold": (0.2, 1.0),
    "cook": (0.2, 2.0),
    "rest": (0.05, 0.8),
    "hot_hold": (0.1, 1.5),
    "cool": (0.1, 1.0),
    "reheat": (0.5, 4.0),
}
_OTHERWISE = (0.1, 1.5)
#: Temperatures that unread food does not leave [°F]; the answers print the same range.
_REACH = (0.0, 400.0)

Rates = dict[str, tuple[float, float]]


@dataclass(frozen=True, slots=True)
class StrictLot:
    """A lot read at one or several points, with what its record states of rates and of the probe.

    Parameters
    ----------
    points : tuple of History
        What was read of each [°F].
    rates : dict of str to (float, float)
        By stage: fastest rise and fall [°F/min].
    accuracy, step : float
        Of the probe [°F].
    under : TimeLot, optional
        The written time control under which it is served.
    """

    points: tuple[History, ...]
    rates: Rates
    accuracy: float
    step: float
    under: TimeLot | None = None

    def log(self, *, celsius: bool = False, doubt: float = 1.0) -> StagedLog:
        """The staged log; `doubt` is the share of error and rates that the record admits."""
        one = self.points[0]
        probe = Probe(
            "A",
            accuracy=self.accuracy * doubt,
            accuracy_unit=Unit.F,
            resolution=self.step * doubt,
            resolution_unit=Unit.F,
        )
        channels = [
            channel(
                [(t, (v - 32) / 1.8 if celsius else v) for t, v in point.readings],
                celsius=celsius,
                probe="A",
                point="" if len(self.points) == 1 else name,
            )
            for name, point in zip("abc", self.points, strict=False)
        ]
        plans = [] if self.under is None else [self.under.plan]
        raw = staged(
            channels, one.notes, food=one.food, facts=one.facts, probes=[probe], time_control=plans
        ).raw
        stated = tuple(
            StatedRate(up * doubt / 60, down * doubt / 60, StageName(name), "drawn at random")
            for name, (up, down) in self.rates.items()
        )
        return stage(correct(qualify(replace(raw, lot=replace(raw.lot, rates=stated)))))


def strict_time_lot(seed: int) -> StrictLot:
    """Return a random lot that is served under a written time control."""
    rng = np.random.default_rng(seed)
    lots = (("cold_hold", "serve"), ("hot_hold", "serve"), ("cook", "hot_hold", "serve"))
    lot = _lot(rng, lots, 1)
    one = lot.points[0]
    option: Literal["4h", "6h"] = "6h" if rng.random() < 0.5 else "4h"
    serve = one.spans[-1]
    day = datetime.fromtimestamp(ZERO, UTC).date()
    under = TimeLot(one, option, serve.start, day, True, serve.end, (True, True))
    return replace(lot, under=under)


def strict_lot(
    seed: int, points: int = 1, lots: Sequence[tuple[str, ...]] = histories.LOTS
) -> StrictLot:
    """Return a random lot, read at one or several points of one piece."""
    return _lot(np.random.default_rng(seed), lots, points)


def _lot(rng: np.random.Generator, lots: Sequence[tuple[str, ...]], points: int) -> StrictLot:
    if points > 1:
        # Whether food put away warm has cooled is a question to all points together.
        lots = [names for names in lots if "cold_hold" not in names[1:]]
    spans = histories.spans_of(rng, lots)
    rates = _rates(rng, spans)
    disturbed = tuple(round(t * 60) / 60 for t in histories.disturbances(rng, spans))
    disturbed = disturbed if rng.random() < 0.3 else ()
    told = histories.Told(spans, disturbed, histories.unheated(rng, spans))
    accuracy, step = float(rng.choice([0.0, 0.5, 2.0])), float(rng.choice([0.1, 1.0]))
    made = [_point(rng, told, rates, (accuracy, step)) for _ in range(points)]
    food = histories.FOODS[int(rng.integers(len(histories.FOODS)))]
    line = food is histories.FOODS[0] and bool(rng.random() < 0.5)
    made = [replace(one, food=food, roast_line=line) for one in made]
    return StrictLot(tuple(made), rates, accuracy, step)


def _rates(rng: np.random.Generator, spans: tuple[Span, ...]) -> Rates:
    share = float(rng.choice([0.1, 0.3, 1.0]))
    rates: Rates = {}
    for name in dict.fromkeys(s.name for s in spans):
        low, high = _RATES.get(name, _OTHERWISE)
        up = 0.0 if rng.random() < 0.15 else float(rng.uniform(low, high)) * share
        rates[name] = (up, float(rng.uniform(low, high)) * share)
    # What the record states of steps that nobody noted bounds nothing, whatever a trace looks like.
    return {**dict.fromkeys((name.value for name in StageName), (0.0, 0.01)), **rates}


def _point(
    rng: np.random.Generator, told: histories.Told, rates: Rates, probe: tuple[float, float]
) -> History:
    spans = told.spans
    leaps = (*told.disturbed, *(lost for lost, _ in told.unheated))
    end = spans[-1].end
    edges = [*(s.start for s in spans), end]
    read_at = _on_edges(histories.sampled(rng, spans, end), np.array(edges))
    grid = np.round(np.concatenate([np.arange(0, end, 1 / 60), read_at, edges, leaps]), 9)
    grid = np.unique(grid)
    up, down = _limits(grid, spans, rates)
    free = np.clip(histories.free_run(rng, spans, grid), *_REACH)
    true = _within(free, grid, up, down, leaps)
    read = _read(rng, np.interp(read_at, grid, true), probe)
    error = probe[0] + probe[1] / 2
    true = _another(rng, true, grid, (read_at, read, error), (up, down), leaps)
    return History(
        spans, grid, true, read_at, read, told.disturbed, ends_noted=True, unheated=told.unheated
    )


def _on_edges(moments: Floats, edges: Floats) -> Floats:
    """Put moments that are an edge but for rounding exactly on it."""
    nearest = edges[np.abs(moments[:, None] - edges).argmin(axis=1)]
    return np.where(np.abs(moments - nearest) < 1e-6, nearest, moments)


def _limits(grid: Floats, spans: tuple[Span, ...], rates: Rates) -> tuple[Floats, Floats]:
    """Furthest rise and fall in each step of the grid [°F]."""
    middle = (grid[1:] + grid[:-1]) / 2
    up, down = np.zeros(len(middle)), np.zeros(len(middle))
    for span in spans:
        inside = (middle >= span.start) & (middle < span.end)
        up[inside], down[inside] = rates[span.name]
    minutes = np.diff(grid) * 60
    return up * minutes, down * minutes


def _leaps(grid: Floats, leaps: tuple[float, ...]) -> list[int]:
    """Steps of the grid in which the food may leap."""
    return [int(np.searchsorted(grid, t + 1e-6)) - 1 for t in leaps]


def _within(
    free: Floats, grid: Floats, up: Floats, down: Floats, leaps: tuple[float, ...]
) -> Floats:
    """Follow a free run as fast as the limits allow."""
    free_steps = set(_leaps(grid, leaps))
    out, now = [float(free[0])], float(free[0])
    steps = zip(free[1:].tolist(), up.tolist(), down.tolist(), strict=True)
    for k, (wanted, rise, fall) in enumerate(steps):
        now = wanted if k in free_steps else min(max(wanted, now - fall), now + rise)
        out.append(now)
    return np.array(out)


def _read(rng: np.random.Generator, true: Floats, probe: tuple[float, float]) -> Floats:
    """What a probe shows: off by up to its accuracy, then rounded to its steps."""
    accuracy, step = probe
    way = int(rng.integers(3))
    share = rng.uniform(-1, 1, len(true))
    if way == 1:
        share = np.sign(share)
    elif way == 2:
        share = np.full(len(true), float(rng.choice([-1.0, 1.0])))
    return np.asarray(np.round(np.round((true + share * accuracy) / step) * step, 6))


def _another(
    rng: np.random.Generator,
    true: Floats,
    grid: Floats,
    readings: tuple[Floats, Floats, float],
    limits: tuple[Floats, Floats],
    leaps: tuple[float, ...],
) -> Floats:
    """Another history that gives the same readings, stretch by stretch between leaps."""
    at, read, error = readings
    up, down = limits
    kind = int(rng.integers(4))
    zigzag = _zigzag(rng, true, up, down)
    cuts = sorted({0, *(k + 1 for k in _leaps(grid, leaps)), len(grid)})
    out = true.copy()
    for first, last in pairwise(cuts):
        part, gaps = slice(first, last), slice(first, last - 1)
        inside = (at >= grid[first] - 1e-9) & (at <= grid[last - 1] + 1e-9)
        low, high = np.full(last - first, -np.inf), np.full(last - first, np.inf)
        where = np.searchsorted(grid[part], at[inside] - 1e-7)
        low[where], high[where] = read[inside] - error, read[inside] + error
        low, high = _envelope(low, high, up[gaps], down[gaps])
        wanted = (true[part], high, low, zigzag[part])[kind]
        wanted = np.where(np.isfinite(wanted), wanted, true[part])
        out[part] = np.clip(np.minimum(high, np.maximum(low, wanted)), *_REACH)
    return out


def _zigzag(rng: np.random.Generator, true: Floats, up: Floats, down: Floats) -> Floats:
    """Up and down as fast as the limits allow, turning at random."""
    turns = np.cumsum(rng.random(len(up)) < 0.02) % 2 == 0
    return np.asarray(true[0] + np.concatenate(([0.0], np.cumsum(np.where(turns, up, -down)))))


def _envelope(low: Floats, high: Floats, up: Floats, down: Floats) -> tuple[Floats, Floats]:
    """Coldest and warmest history that the bounds of the readings allow."""
    rise, fall = (np.concatenate(([0.0], np.cumsum(steps))) for steps in (up, down))
    ahead = np.minimum.accumulate(high - rise) + rise
    back = np.minimum.accumulate((high + fall)[::-1])[::-1] - fall
    warmest = np.minimum(ahead, back)
    ahead = np.maximum.accumulate(low + fall) - fall
    back = np.maximum.accumulate((low - rise)[::-1])[::-1] + rise
    return np.maximum(ahead, back), warmest
