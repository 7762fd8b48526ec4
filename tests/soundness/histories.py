"""Random true temperature histories of a lot, and readings of them as people take readings.

A history is a broken line on a fine grid. It is made freely first and sampled; then it is bent
until it obeys the assumption that every report prints, and nothing more:

- between two readings no further apart than the stage's monitoring interval, undisturbed, it lies
  between the two;
- food that was read cold while it cooled counts as held cold from then on, with that stage's
  longer interval, and hot food put into the refrigerator counts as cooling until then;
- in a wrapped rest it never lies below both readings around a longer gap, and in a cooling
  neither below nor above both; and what a cooling reads first was not cooler before in that
  cooling.

Everywhere else (gaps, edges, disturbed stretches) it may do anything.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from tempwitness.model.logs import Note
from tempwitness.model.lot import Food
from tempwitness.model.vocabulary import Cut, Form, Species
from tempwitness.stages import monitoring_intervals
from tests.soundness.referee import Span
from tests.support import lamb, note

Floats = NDArray[np.float64]

#: Stage, temperature it heads for [°F], slowest and fastest rate towards it [1/h], hours it lasts.
_PLAN: dict[str, tuple[tuple[float, float], tuple[float, float], tuple[float, float]]] = {
    "receive": ((34.0, 48.0), (0.2, 1.0), (0.2, 1.0)),
    "thaw": ((34.0, 55.0), (0.05, 0.5), (1.0, 12.0)),
    "prep": ((40.0, 65.0), (0.1, 1.0), (0.3, 4.0)),
    "cold_hold": ((33.0, 43.5), (0.3, 3.0), (1.0, 14.0)),
    "cook": ((120.0, 215.0), (0.15, 0.6), (4.0, 14.0)),
    "rest": ((70.0, 120.0), (0.03, 0.15), (1.0, 9.0)),
    "hot_hold": ((130.0, 160.0), (0.2, 1.0), (1.0, 9.0)),
    "cool": ((30.0, 40.0), (0.25, 0.9), (2.0, 9.0)),
    "reheat": ((160.0, 230.0), (0.4, 2.0), (1.0, 3.5)),
    "serve": ((125.0, 150.0), (0.2, 1.0), (0.5, 5.0)),
    "transport": ((55.0, 80.0), (0.1, 0.8), (0.5, 7.0)),
}

LOTS = (
    ("cold_hold", "cook", "rest", "hot_hold", "cool"),
    ("cook", "rest", "serve"),
    ("cook", "hot_hold", "cool"),
    ("cook", "cool", "reheat", "hot_hold", "serve"),
    ("rest", "cool"),
    ("cold_hold", "reheat", "serve"),
    ("cool", "reheat", "cool"),
    ("hot_hold",),
    ("cold_hold",),
    ("reheat",),
    ("cool",),
    ("receive", "thaw", "prep", "cook", "rest"),
    ("thaw", "prep", "cook"),
    ("thaw", "cook", "prep", "serve"),
    ("cook", "cool", "cook"),
    ("cook", "cold_hold", "reheat"),
)

FOODS: tuple[Food, ...] = (
    lamb(),
    lamb(),
    lamb(forms=[Form.INJECTED]),
    lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD),
    lamb(Species.PLANT, cut=Cut.PAN),
    lamb(cut=Cut.RIBS),
)


@dataclass(frozen=True, slots=True)
class History:
    """A true history, what was read of it and what was noted."""

    spans: tuple[Span, ...]
    grid: Floats
    true: Floats
    read_at: Floats
    read: Floats
    disturbed: tuple[float, ...]
    ends_noted: bool
    unheated: tuple[tuple[float, float], ...] = ()
    food: Food = FOODS[0]
    roast_line: bool = False

    @property
    def facts(self) -> dict[str, str]:
        """What the record answers beside."""
        return {"oven_line": "kept"} if self.roast_line else {}

    @property
    def readings(self) -> list[tuple[float, float]]:
        """Readings as (hours, °F)."""
        return list(zip(self.read_at.tolist(), self.read.tolist(), strict=True))

    @property
    def notes(self) -> list[Note]:
        """Step notes, disturbances, and the note that the lot is finished."""
        made = [
            note(s.start, s.name, method="refrigerator" if s.name == "thaw" else "")
            for s in self.spans
        ]
        made += [note(t, event="stirred") for t in self.disturbed]
        for lost, back in self.unheated:
            made.append(note(lost, event="heat_lost"))
            if all(abs(back - s.end) > 1e-9 for s in self.spans):
                made.append(note(back, event="heat_back"))
        if self.ends_noted:
            made.append(note(self.spans[-1].end, event="finished"))
        return made


def history(seed: int) -> History:
    """Return a random lot."""
    rng = np.random.default_rng(seed)
    spans = spans_of(rng, LOTS)
    lot = point(rng, Told(spans, disturbances(rng, spans), unheated(rng, spans)))
    food = FOODS[rng.integers(len(FOODS))]
    line = food is FOODS[0] and bool(rng.random() < 0.5)
    lot = replace(lot, ends_noted=bool(rng.random() < 0.6), food=food, roast_line=line)
    if lot.ends_noted:
        return lot
    # The record then ends with its last entry: the last stage is judged up to there.
    last = max(float(lot.read_at[-1]), spans[-1].start, *lot.disturbed, *sum(lot.unheated, ()))
    ended = Span(spans[-1].name, spans[-1].start, last)
    return replace(lot, spans=(*spans[:-1], ended))


def two_points(seed: int) -> tuple[History, History]:
    """Return a random lot with two probes in one piece, each read in its own way."""
    rng = np.random.default_rng(seed)
    # Whether food put away warm has cooled is a question to both points together.
    spans = spans_of(rng, [names for names in LOTS if "cold_hold" not in names[1:]])
    told = Told(spans, disturbances(rng, spans), unheated(rng, spans))
    return point(rng, told), point(rng, told)


@dataclass(frozen=True, slots=True)
class Told:
    """What was noted: stages, disturbances, and when the heat was lost and came back."""

    spans: tuple[Span, ...]
    disturbed: tuple[float, ...]
    unheated: tuple[tuple[float, float], ...]


def unheated(rng: np.random.Generator, spans: tuple[Span, ...]) -> tuple[tuple[float, float], ...]:
    """A fire that went out in the first cook of some lots, for some hours or for good."""
    cook = next((s for s in spans[:-1] if s.name == "cook"), None)
    if cook is None or rng.random() < 0.7:
        return ()
    lost = float(rng.uniform(cook.start, cook.end - 0.5))
    back = lost + float(rng.uniform(0.5, 9.0))
    return ((lost, min(back, cook.end)),)


def disturbances(rng: np.random.Generator, spans: tuple[Span, ...]) -> tuple[float, ...]:
    moments = rng.uniform(0, spans[-1].end, rng.integers(1, 3))
    return tuple(float(t) for t in moments if rng.random() < 0.5)


def point(rng: np.random.Generator, told: Told) -> History:
    """What is true and what is read of one point of a lot, by what is noted of it."""
    spans = told.spans
    disturbed = (*told.disturbed, *(lost for lost, _ in told.unheated))
    end = spans[-1].end
    read_at = sampled(rng, spans, end)
    edges = [*(s.start for s in spans), end]
    grid = np.unique(np.concatenate([np.arange(0, end, 1 / 60), read_at, edges, disturbed]))
    free = free_run(rng, spans, grid)
    read = np.round(np.interp(read_at, grid, free), 1)
    true = _bent(free, grid, spans, read_at, read, disturbed)
    return History(
        spans, grid, true, read_at, read, told.disturbed, ends_noted=True, unheated=told.unheated
    )


def spans_of(rng: np.random.Generator, lots: Sequence[tuple[str, ...]]) -> tuple[Span, ...]:
    names = lots[int(rng.integers(len(lots)))]
    spans, now = [], 0.0
    for name in names:
        hours = float(rng.uniform(*_PLAN[name][2]))
        hours = round(hours * 60) / 60
        spans.append(Span(name, now, now + hours))
        now += hours
    return tuple(spans)


def sampled(rng: np.random.Generator, spans: tuple[Span, ...], end: float) -> Floats:
    """Moments at which somebody, or something, read."""
    way = rng.integers(4)
    if way == 0:
        at = np.arange(rng.uniform(0, 0.2), end, rng.choice([1, 5, 15]) / 60)
    elif way == 1:
        at = np.cumsum(rng.uniform(0.4, 3.0, 60))
    elif way == 2:
        at = np.sort(rng.uniform(0, end, rng.integers(1, 12)))
    else:
        at = np.arange(0, end, 0.25)
        at = at[rng.random(len(at)) < 0.5]
    for _ in range(rng.integers(0, 4)):
        gap = rng.uniform(0, end)
        at = at[(at < gap) | (at > gap + rng.uniform(0.5, 10))]
    if rng.random() < 0.7:
        edges = [s.start for s in spans if rng.random() < 0.8]
        at = np.concatenate([at, edges, [end]])
    at = np.unique(np.round(at[at <= end] * 60) / 60)
    return at if len(at) else np.array([0.0])


def free_run(rng: np.random.Generator, spans: tuple[Span, ...], grid: Floats) -> Floats:
    """A free run towards each stage's temperature, with bumps anywhere."""
    cold = {"receive": 38.0, "thaw": 30.0, "cold_hold": 38.0, "cook": 40.0}
    cold["reheat"] = rng.uniform(36, 46)
    value = cold.get(spans[0].name, rng.uniform(128.0, 205.0))
    out = np.empty(len(grid))
    for span in spans:
        inside = (grid >= span.start) & (grid <= span.end + 1e-9)
        target = rng.uniform(*_PLAN[span.name][0])
        rate = rng.uniform(*_PLAN[span.name][1])
        lag = np.exp(-rate * (grid[inside] - span.start))
        out[inside] = target + (value - target) * lag
        value = float(out[inside][-1])
    for _ in range(rng.integers(0, 7)):
        centre, width = rng.uniform(0, grid[-1]), rng.uniform(0.05, 1.5)
        out += rng.normal(0, 25) * np.exp(-(((grid - centre) / width) ** 2))
    return out


def _bent(
    free: Floats,
    grid: Floats,
    spans: tuple[Span, ...],
    read_at: Floats,
    read: Floats,
    disturbed: tuple[float, ...],
) -> Floats:
    """Bend a free history until it passes through the readings and obeys the assumption."""
    true = free.copy()
    intervals = {n.value: s / 3600 for n, s in monitoring_intervals().items()}
    before = np.searchsorted(read_at, grid, "right") - 1
    spans = _as_judged(spans)
    colds = {s: _first_cold(s, read_at, read) for s in spans if s.name == "cool"}
    # What ends just where another stage begins binds there too: a history makes no leaps.
    bound = [
        (k, moment, span)
        for span in spans
        for k, moment in enumerate(grid.tolist())
        if span.start <= moment <= span.end + 1e-9
    ]
    for k, moment, span in bound:
        i = int(before[k])
        j = i + 1
        if i >= 0 and read_at[i] == moment:
            true[k] = read[i]
            continue
        if i >= 0 and j < len(read_at):
            low, high = sorted((float(read[i]), float(read[j])))
            quiet = not any(read_at[i] <= d < read_at[j] for d in disturbed)
            judged = "cold_hold" if moment > colds.get(span, np.inf) else span.name
            if quiet and read_at[j] - read_at[i] <= intervals[judged] + 1e-9:
                true[k] = min(max(true[k], low), high)
            elif quiet and span.name in ("rest", "cool"):
                true[k] = max(true[k], low)
                if span.name == "cool" and read_at[i] >= span.start:
                    true[k] = min(true[k], high)
        if span.name == "cool" and j < len(read_at):
            first = int(np.searchsorted(read_at, span.start, "left"))
            if j == first and read_at[first] <= span.end:
                true[k] = max(true[k], float(read[first]))
    return true


def _as_judged(spans: tuple[Span, ...]) -> tuple[Span, ...]:
    """Hot food that was put straight into the refrigerator is cooling there until it is cold."""
    judged = list(spans[:1])
    for before, span in pairwise(spans):
        warm = span.name == "cold_hold" and before.name in ("cook", "rest", "hot_hold", "serve")
        judged.append(Span("cool", span.start, span.end) if warm else span)
    return tuple(judged)


def _first_cold(span: Span, read_at: Floats, read: Floats) -> float:
    cold = read_at[(read_at >= span.start) & (read_at <= span.end) & (read <= 41)]
    return float(cold[0]) if len(cold) else float("inf")
