"""A second way to say what readings allow: every pattern written out, on a grid of whole hours.

Nothing here is shared with the program. Time is cut into cells, one for each whole hour and one
for each open stretch between two hours. In each cell the temperature may take certain levels,
counted in degrees from the limit. A pattern says for each cell whether the condition holds; what
is certain and what is possible is read off the list of all patterns.
"""

from __future__ import annotations

import itertools
import operator
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from tempwitness.bounds.clip import Window
from tempwitness.bounds.trace import Trace
from tempwitness.model.figures import Limit
from tempwitness.model.vocabulary import Place

#: Levels in degrees from the limit; the outermost are warmer and colder than any reading.
LEVELS = range(-3, 4)

OPS = {">=": operator.ge, ">": operator.gt, "<=": operator.le, "<": operator.lt}

#: Figures of the limit on the two scales; neither is the other one converted.
FIGURE_F, FIGURE_C = 100, 40


@dataclass(frozen=True, slots=True)
class Read:
    """A reading: whole hour, level (``None`` if doubtful), scale."""

    at: int
    level: int | None
    celsius: bool = False


@dataclass(frozen=True, slots=True)
class Setting:
    """Readings with all that says how they may be joined."""

    reads: tuple[Read, ...]
    disturbed: frozenset[int]
    start: int
    end: int
    interval: int
    op: str
    passive_from: float = float("inf")

    @property
    def infer(self) -> bool:
        return self.passive_from < float("inf")

    def window(self) -> Window:
        return Window(self.start, self.end, self.interval, self.passive_from)

    def limit(self) -> Limit:
        return Limit.model_validate({"f": FIGURE_F, "c": FIGURE_C, "op": self.op})

    def trace(self) -> Trace:
        values = [
            np.inf if r.level is None else (FIGURE_C if r.celsius else FIGURE_F) + r.level
            for r in self.reads
        ]
        lower = [-v if np.isinf(v) else v for v in values]
        count = len(self.reads)
        return Trace(
            "1",
            Place.CORE,
            "",
            np.array([r.at for r in self.reads], dtype=float),
            np.array(lower, dtype=float),
            np.array(values, dtype=float),
            np.array([r.celsius for r in self.reads], dtype=bool),
            np.array([i not in self.disturbed for i in range(max(count - 1, 0))], dtype=bool),
            np.zeros(count, dtype=np.int64),
            np.arange(count, dtype=np.int64),
        )


def cells(start: int, end: int) -> list[float]:
    """Hours and the middles of the stretches between them."""
    return [k / 2 for k in range(2 * start, 2 * end + 1)]


def levels(setting: Setting, moment: float) -> list[int]:
    """Levels that the temperature may have at a moment."""
    for read in setting.reads:
        if read.at == moment:
            return list(LEVELS) if read.level is None else [read.level]
    pairs = enumerate(itertools.pairwise(setting.reads))
    for index, (left, right) in pairs:
        if left.at < moment < right.at:
            return _between(setting, index, left, right)
    return list(LEVELS)


def _between(setting: Setting, index: int, left: Read, right: Read) -> list[int]:
    if index in setting.disturbed or left.level is None or right.level is None:
        return list(LEVELS)
    low, high = sorted((left.level, right.level))
    if right.at - left.at <= setting.interval:
        return [v for v in LEVELS if low <= v <= high]
    if setting.infer and left.at >= setting.passive_from and right.at <= setting.end:
        return [v for v in LEVELS if v >= low]
    return list(LEVELS)


def allowed(setting: Setting, moment: float) -> frozenset[bool]:
    """What the condition may be at a moment."""
    keeps = OPS[setting.op]
    return frozenset(bool(keeps(v, 0)) for v in levels(setting, moment))


def patterns(setting: Setting) -> Iterator[tuple[bool, ...]]:
    """All that the condition may have done in the window, cell by cell."""
    choices = [sorted(allowed(setting, t)) for t in cells(setting.start, setting.end)]
    return itertools.product(*choices)


def longest(pattern: tuple[bool, ...]) -> int:
    """Hours of the longest unbroken stretch that holds; -1 if not even for a moment.

    Cells with an odd number are stretches of an hour; a single moment lasts no time.
    """
    best, now = -1, -1
    for number, holds in enumerate(pattern):
        now = (max(now, 0) + number % 2) if holds else -1
        best = max(best, now)
    return best


def total(pattern: tuple[bool, ...]) -> int:
    """Hours for which the condition holds in all."""
    return sum(pattern[1::2])
