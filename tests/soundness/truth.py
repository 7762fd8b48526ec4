"""What truly happened: each requirement judged on the whole true history, by other means.

Nothing here is shared with the program. A history is a broken line, so crossings and times are
exact. Where the words of a rule leave two ways to count (a temperature that wavers about a limit),
`strictest` counts against the food and `lenient` for it: *met* must hold under the first, *not
met* must fail under the second.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

EPS = 1e-6


@dataclass(frozen=True, slots=True)
class Line:
    """A stretch of a broken line: moments [h] and temperatures [°F]."""

    at: Floats
    value: Floats

    def cut(self, start: float, end: float) -> Line:
        """The stretch between two moments, its ends interpolated."""
        inside = (self.at > start) & (self.at < end)
        at = np.concatenate([[start], self.at[inside], [end]])
        return Line(at, np.interp(at, self.at, self.value))

    def spans(self, level: float, *, above: bool) -> list[tuple[float, float]]:
        """Maximal stretches at or above (or at or below) a level, single moments included."""
        value = self.value if above else -self.value
        level = level if above else -level
        keeps = value >= level - EPS
        if not keeps.any():
            return []
        edges = np.flatnonzero(keeps[1:] != keeps[:-1])
        crossed = self._crossings(edges, value, level)
        starts, ends = crossed[~keeps[edges]], crossed[keeps[edges]]
        if keeps[0]:
            starts = np.concatenate(([self.at[0]], starts))
        if keeps[-1]:
            ends = np.concatenate((ends, [self.at[-1]]))
        return list(zip(starts.tolist(), ends.tolist(), strict=True))

    def _crossings(self, k: NDArray[np.intp], value: Floats, level: float) -> Floats:
        """Moments of crossing in the steps from each of some points to the next."""
        share = np.clip((level - value[k]) / (value[k + 1] - value[k]), 0.0, 1.0)
        return self.at[k] + share * (self.at[k + 1] - self.at[k])

    def time(self, level: float, *, above: bool) -> float:
        """Total time at or above (or at or below) a level [h]."""
        return sum(end - start for start, end in self.spans(level, above=above))


def always(line: Line, level: float, *, above: bool) -> bool:
    """Whether the level was kept all through."""
    extreme = line.value.min() if above else line.value.max()
    return bool(extreme >= level - EPS) if above else bool(extreme <= level + EPS)


def outside(line: Line, cold: float, hot: float) -> bool:
    """Whether the temperature was never strictly between two levels."""
    inside = (line.value > cold + EPS) & (line.value < hot - EPS)
    leaps = (line.value[:-1] <= cold + EPS) & (line.value[1:] >= hot - EPS)
    drops = (line.value[:-1] >= hot - EPS) & (line.value[1:] <= cold + EPS)
    return not (inside.any() or leaps.any() or drops.any())


def reached(line: Line, rows: tuple[tuple[float, float], ...], *, slack: float = 0.0) -> bool:
    """Whether any row (temperature, hours) was held without a break."""
    return any(
        end - start >= hold - slack
        for level, hold in rows
        for start, end in line.spans(level, above=True)
    )


def passage(
    whole: Line,
    stage: tuple[float, float],
    first: float,
    second: float,
    *,
    falling: bool,
    since: float,
) -> tuple[float, float]:
    """Strictest and most lenient duration of a passage [h]; infinite if it was not completed.

    The strictest clock starts when the food first leaves the first level for good or not within
    the stage (or left it before, but not before `since`); the lenient one starts anew whenever the
    food is back beyond it, and its longest run counts, because time that ran out is not given
    back. The end is the first moment at the second level.
    """
    inside = whole.cut(*stage)
    ends = inside.spans(second, above=not falling)
    if not ends:
        return np.inf, _longest_left(whole, stage, first, falling=falling)
    end = ends[0][0]
    known = whole.cut(min(since, stage[0]), whole.at[-1])
    return end - _first_left(known, stage, end, first, falling=falling), _longest_left(
        whole, (stage[0], end), first, falling=falling
    )


def _first_left(
    whole: Line, stage: tuple[float, float], end: float, level: float, *, falling: bool
) -> float:
    held = whole.cut(whole.at[0], max(end, whole.at[0] + 1e-9)).spans(level, above=falling)
    at_start = [s for s in held if s[0] <= stage[0] + EPS and s[1] >= stage[0] - EPS]
    if at_start:
        return at_start[0][1]
    earlier = [s for s in held if s[1] < stage[0]]
    return earlier[-1][1] if earlier else stage[0]


def _longest_left(whole: Line, stage: tuple[float, float], level: float, *, falling: bool) -> float:
    """Longest time for which the food had left a level, within a stretch [h]."""
    # Food that stands just at the level is on its way: only beyond it has the clock not started.
    beyond = level + 1e-3 if falling else level - 1e-3
    held = whole.cut(stage[0], max(stage[1], stage[0] + 1e-9)).spans(beyond, above=falling)
    lefts = [stage[0], *(end for _, end in held)]
    backs = [*(start for start, _ in held), stage[1]]
    return max(back - left for left, back in zip(lefts, backs, strict=True))
