"""Random true temperature histories of a lot, and readings of them as people take readings.

A history is a broken line on a fine grid. It is made freely first and sampled; then it is bent
until it obeys the assumption that every report prints, and nothing more:

- between two readings no further apart than the stage's monitoring interval, undisturbed, it lies
  between the two;
- food that was read cold while it cooled counts as held cold from then on, with that stage's
  longer interval;
- in a wrapped rest it never lies below both readings around a longer gap, and in a cooling
  neither below nor above both; and what a cooling reads first was not cooler before in that
  cooling.

Everywhere else (gaps, edges, disturbed stretches) it may do anything.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from tempwitness.model.logs import Note
from tempwitness.stages import monitoring_intervals
from tests.support import note

Floats = NDArray[np.float64]

#: Stage, temperature it heads for [°F], slowest and fastest rate towards it [1/h], hours it lasts.
_PLAN: dict[str, tuple[tuple[float, float], tuple[float, float], tuple[float, float]]] = {
    "cold_hold": ((33.0, 43.5), (0.3, 3.0), (1.0, 14.0)),
    "cook": ((150.0, 215.0), (0.15, 0.6), (4.0, 14.0)),
    "rest": ((70.0, 120.0), (0.03, 0.15), (1.0, 9.0)),
    "hot_hold": ((130.0, 160.0), (0.2, 1.0), (1.0, 9.0)),
    "cool": ((30.0, 40.0), (0.25, 0.9), (2.0, 9.0)),
    "reheat": ((160.0, 230.0), (0.4, 2.0), (1.0, 3.5)),
    "serve": ((125.0, 150.0), (0.2, 1.0), (0.5, 5.0)),
}

_LOTS = (
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
)


@dataclass(frozen=True, slots=True)
class Span:
    """A stage as noted: name, start and end [h since 0:00]."""

    name: str
    start: float
    end: float


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

    @property
    def readings(self) -> list[tuple[float, float]]:
        """Readings as (hours, °F)."""
        return list(zip(self.read_at.tolist(), self.read.tolist(), strict=True))

    @property
    def notes(self) -> list[Note]:
        """Step notes, disturbances, and the note that the lot is finished."""
        made = [note(s.start, s.name) for s in self.spans]
        made += [note(t, event="stirred") for t in self.disturbed]
        if self.ends_noted:
            made.append(note(self.spans[-1].end, event="finished"))
        return made


def history(seed: int) -> History:
    """Return a random lot."""
    rng = np.random.default_rng(seed)
    spans = _spans(rng)
    lot = _point(rng, spans, _disturbances(rng, spans), ends_noted=bool(rng.random() < 0.6))
    if lot.ends_noted:
        return lot
    # The record then ends with its last entry: the last stage is judged up to there.
    last = max(float(lot.read_at[-1]), spans[-1].start, *lot.disturbed)
    ended = Span(spans[-1].name, spans[-1].start, last)
    return replace(lot, spans=(*spans[:-1], ended))


def two_points(seed: int) -> tuple[History, History]:
    """Return a random lot with two probes in one piece, each read in its own way."""
    rng = np.random.default_rng(seed)
    spans = _spans(rng)
    disturbed = _disturbances(rng, spans)
    first = _point(rng, spans, disturbed, ends_noted=True)
    return first, _point(rng, spans, disturbed, ends_noted=True)


def _disturbances(rng: np.random.Generator, spans: tuple[Span, ...]) -> tuple[float, ...]:
    moments = rng.uniform(0, spans[-1].end, rng.integers(1, 3))
    return tuple(float(t) for t in moments if rng.random() < 0.5)


def _point(
    rng: np.random.Generator,
    spans: tuple[Span, ...],
    disturbed: tuple[float, ...],
    *,
    ends_noted: bool,
) -> History:
    end = spans[-1].end
    read_at = _sampled(rng, spans, end)
    edges = [*(s.start for s in spans), end]
    grid = np.unique(np.concatenate([np.arange(0, end, 1 / 60), read_at, edges, disturbed]))
    free = _free(rng, spans, grid)
    read = np.round(np.interp(read_at, grid, free), 1)
    true = _bent(free, grid, spans, read_at, read, disturbed)
    return History(spans, grid, true, read_at, read, disturbed, ends_noted)


def _spans(rng: np.random.Generator) -> tuple[Span, ...]:
    names = _LOTS[rng.integers(len(_LOTS))]
    spans, now = [], 0.0
    for name in names:
        hours = float(rng.uniform(*_PLAN[name][2]))
        hours = round(hours * 60) / 60
        spans.append(Span(name, now, now + hours))
        now += hours
    return tuple(spans)


def _sampled(rng: np.random.Generator, spans: tuple[Span, ...], end: float) -> Floats:
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


def _free(rng: np.random.Generator, spans: tuple[Span, ...], grid: Floats) -> Floats:
    """A free run towards each stage's temperature, with bumps anywhere."""
    value = {"cold_hold": 38.0, "cook": 40.0, "reheat": rng.uniform(36, 46)}.get(
        spans[0].name, rng.uniform(128.0, 205.0)
    )
    out = np.empty(len(grid))
    for span in spans:
        inside = (grid >= span.start) & (grid <= span.end)
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
    stage = [next((s for s in reversed(spans) if s.start <= t), spans[0]) for t in grid]
    before = np.searchsorted(read_at, grid, "right") - 1
    colds = {s: _first_cold(s, read_at, read) for s in spans if s.name == "cool"}
    for k, moment in enumerate(grid.tolist()):
        span = stage[k]
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


def _first_cold(span: Span, read_at: Floats, read: Floats) -> float:
    cold = read_at[(read_at >= span.start) & (read_at <= span.end) & (read <= 41)]
    return float(cold[0]) if len(cold) else float("inf")
