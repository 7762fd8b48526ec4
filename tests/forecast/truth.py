"""True histories for the forecasts: conduction in finite volumes, not the fitted model.

Nothing here comes from the package. A ball, a round piece or a slab conducts in 24 shells; a block
is the product of three slabs. Its coefficient drifts, the room drifts, a box in between has a wall
that takes up heat, and the start is uneven: a core colder or warmer than the outside. Readings are
of a thermometer in whole steps with noise, at intervals of a person or of a logger.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
SHELLS = 24
STEPS = 500
BLOCK, BALL, ROUND, FLAT = "block", "ball", "round", "flat"
_POWER = {BALL: 3, ROUND: 2, FLAT: 1, BLOCK: 1}


@dataclass(frozen=True)
class Case:
    """One true history and what is known of it."""

    kind: str
    shape: str
    edges: tuple[float, ...]  # radius or half-thicknesses [m], as they truly are
    conductivity: float
    diffusivity: float
    density: float
    mass: float
    room: float  # true mean [°F]
    told_room: float
    doubt: float
    limit: float
    every: float  # between readings [s]
    step: float  # of the thermometer [°F]
    noise: float
    times: Floats
    core: Floats

    @property
    def crossing(self) -> float:
        """When the core truly comes to the limit [s]."""
        below = np.flatnonzero(self.core <= self.limit)
        if not len(below):
            return np.inf
        k = int(below[0])
        part = (self.core[k - 1] - self.limit) / (self.core[k - 1] - self.core[k])
        return float(self.times[k - 1] + part * (self.times[k] - self.times[k - 1]))

    def readings(self, until: float, rng: np.random.Generator) -> tuple[Floats, Floats]:
        """Return times and figures as they are written down until a moment [s]."""
        times = np.arange(0.0, until, self.every)
        true = np.interp(times, self.times, self.core)
        noisy = true + rng.normal(0, self.noise, len(times))
        return times, np.round(noisy / self.step) * self.step


@dataclass(frozen=True)
class Shells:
    """A body of one dimension in shells; the last node is the wall of the box, if there is one."""

    power: int
    radius: float
    conductivity: float
    capacity: float  # ρ cp [J/(m³ K)]
    wall: float  # heat capacity of the box per that of the body [-]; 0 for none

    def run(
        self, start: Floats, coefficient: Floats, room: Floats, step: float, wall_at: float
    ) -> Floats:
        """Return the middle's temperature after each step, by implicit steps."""
        edges = np.linspace(0, self.radius, SHELLS + 1)
        volumes = np.diff(edges**self.power) / self.power
        heat = volumes * self.capacity / step
        inner = edges[1:-1] ** (self.power - 1) * self.conductivity / (self.radius / SHELLS)
        area = self.radius ** (self.power - 1)
        half = self.conductivity / (self.radius / SHELLS / 2)
        boxed = self.wall > 0
        state = np.concatenate([start, [wall_at]]) if boxed else start.copy()
        if boxed:
            heat = np.append(heat, self.wall * heat.sum())
        # Outward of the body: straight to the room, or two equal resistances with the wall between.
        near = area / (1 / (2 * coefficient if boxed else coefficient) + 1 / half)
        far = area * 2 * coefficient if boxed else near
        matrices = np.tile(np.diag(heat), (len(coefficient), 1, 1))
        k = np.arange(SHELLS - 1)
        matrices[:, k, k] += inner
        matrices[:, k + 1, k + 1] += inner
        matrices[:, k, k + 1] -= inner
        matrices[:, k + 1, k] -= inner
        last = SHELLS - 1
        matrices[:, last, last] += near
        if boxed:
            matrices[:, last, SHELLS] -= near
            matrices[:, SHELLS, last] -= near
            matrices[:, SHELLS, SHELLS] += near + far
        advances = np.linalg.inv(matrices)
        middle = np.empty(len(coefficient))
        for n, advance in enumerate(advances):
            right = heat * state
            right[-1] += far[n] * room[n]
            state = advance @ right
            middle[n] = state[0]
        return middle


def _start(rng: np.random.Generator, core: float, outside: float) -> Floats:
    """Return an uneven start: a power of the distance from the middle."""
    x = (np.arange(SHELLS) + 0.5) / SHELLS
    return np.asarray(core + (outside - core) * x ** rng.uniform(1.5, 3.0))


@dataclass(frozen=True)
class _Scene:
    """What was drawn of a history before it runs."""

    rest: bool
    shape: str
    edges: tuple[float, ...]
    conductivity: float
    diffusivity: float
    h: float
    room: float
    core: float
    outside: float
    limit: float
    doubt: float


def case(rng: np.random.Generator) -> Case:
    """Draw one history."""
    rest = bool(rng.random() < 0.5)
    conductivity = rng.uniform(0.40, 0.56)
    diffusivity = rng.uniform(1.2e-7, 1.5e-7)
    density = rng.uniform(1020.0, 1080.0)
    shape = str(rng.choice([BALL, ROUND, BLOCK] if rest else [BALL, ROUND, BLOCK, FLAT]))
    edges = _edges(rng, shape)
    if rest:
        h, room = 10 ** rng.uniform(np.log10(0.8), np.log10(9.0)), rng.uniform(55, 95)
        core, limit = rng.uniform(170, 205), float(rng.choice([135.0, 140.0]))
        outside, doubt = core + rng.uniform(-12, 9), rng.uniform(1.5, 5.0)
    else:
        h, room = 10 ** rng.uniform(np.log10(5.0), np.log10(500.0)), rng.uniform(32, 38)
        core, limit = rng.uniform(130, 190), float(rng.choice([70.0, 70.0, 41.0]))
        outside, doubt = core + rng.uniform(-25, 15), rng.uniform(0.5, 2.0)
    material = (conductivity, diffusivity)
    scene = _Scene(rest, shape, edges, *material, h, room, core, outside, limit, doubt)
    times, middle, told = _history(rng, scene)
    # A thermometer of a person reads in whole degrees now and then, a logger in tenths all along.
    logger = rng.random() < 0.5
    return Case(
        "rest" if rest else "cool",
        shape,
        edges,
        *material,
        density,
        _mass(edges, shape, density),
        room,
        told,
        doubt,
        limit,
        float(rng.choice([60.0, 300.0])) if logger else float(rng.choice([600.0, 900.0, 1800.0])),
        0.1 if logger else 1.0,
        rng.uniform(0.05, 0.3) if logger else rng.uniform(0.2, 0.7),
        times,
        np.concatenate([[core], middle]),
    )


def _history(rng: np.random.Generator, scene: _Scene) -> tuple[Floats, Floats, float]:
    """Return times, the middle after the first of them, and the room as it is told."""
    material = (scene.conductivity, scene.diffusivity)
    levels = (scene.core, scene.room, scene.limit)
    total = _long_enough(scene.edges, scene.shape, scene.h, material, levels)
    times, drift = np.linspace(0, total, STEPS + 1), np.linspace(0, 1, STEPS)
    coefficient = scene.h * (1 + rng.uniform(-0.12, 0.12) * drift)
    capacity = scene.conductivity / scene.diffusivity
    room, core, step = scene.room, scene.core, total / STEPS
    told = room + rng.uniform(-0.6, 0.6) * scene.doubt
    if scene.shape == BLOCK:
        # The product holds for one temperature of the room and any course of the coefficient.
        shares = np.ones(STEPS)
        uneven = ((scene.outside - room) / (core - room)) ** (1 / len(scene.edges))
        for edge in scene.edges:
            body = Shells(1, edge, scene.conductivity, capacity, 0.0)
            shares *= body.run(_start(rng, 1.0, uneven), coefficient, np.zeros(STEPS), step, 0.0)
        return times, room + (core - room) * shares, told
    wall = rng.uniform(0.03, 0.3) if scene.rest and rng.random() < 0.6 else 0.0
    body = Shells(_POWER[scene.shape], scene.edges[0], scene.conductivity, capacity, wall)
    rooms = room + rng.uniform(-0.4, 0.4) * scene.doubt * (2 * drift - 1)
    start = _start(rng, core, scene.outside)
    return times, body.run(start, coefficient, rooms, step, rng.uniform(room, core)), told


def _edges(rng: np.random.Generator, shape: str) -> tuple[float, ...]:
    if shape == BALL:
        return (rng.uniform(0.06, 0.115),)
    if shape == ROUND:
        return (rng.uniform(0.03, 0.09),)
    if shape == FLAT:
        return (rng.uniform(0.012, 0.05),)
    height, width, length = rng.uniform(0.03, 0.07), rng.uniform(1.0, 1.6), rng.uniform(1.6, 2.6)
    return (height, height * width, height * length)


def _mass(edges: tuple[float, ...], shape: str, density: float) -> float:
    """Return a mass; a round piece is taken three times as long as it is wide."""
    if shape == BALL:
        return density * 4 / 3 * np.pi * edges[0] ** 3
    if shape == ROUND:
        return density * np.pi * edges[0] ** 2 * 6 * edges[0]
    if shape == FLAT:
        return density * 0.3 * 0.5 * 2 * edges[0]
    return float(density * 8 * np.prod(edges))


def _long_enough(
    edges: tuple[float, ...],
    shape: str,
    h: float,
    material: tuple[float, float],
    levels: tuple[float, float, float],
) -> float:
    """Return a time by which the core has surely crossed the limit, without any series."""
    (conductivity, diffusivity), (core, room, limit) = material, levels
    capacity = conductivity / diffusivity
    rate = 0.0
    for edge in edges:
        power = _POWER[shape]
        outside, within = capacity * edge / (power * h), edge**2 / (power * 2 * diffusivity)
        rate += 1 / (outside + within)
    return float((np.log((core + 10 - room) / (limit - room)) * 1.5 + 0.7) / rate)
