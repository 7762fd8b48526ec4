"""Stages read from the trace of a piece for which nobody noted a step.

The trace is followed from hot stretch to hot stretch. A hot stretch lies between the reading that
first stands at or above the hot limit and the next that stands below it. What leads up to the
first is the cook, its highest reading is the end of the cook; afterwards the food rests, or is
held where it stays steady. What lies between two hot stretches was a cooling if it became cool
enough to be nothing else; otherwise it may have been a hold that failed as well as a cooling that
was broken off, and the stage carries the question.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.model.logs import Bools, Floats, Stage
from tempwitness.model.vocabulary import Decided, StageName

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.bounds.trace import Trace
    from tempwitness.model.logs import Note
    from tempwitness.stages.defaults import InferenceLimits

__all__ = ["infer_stages"]

_HOLD_OR_COOL = (
    "Was this a hot hold that fell too low, or a cooling that was broken off? Note the step and "
    'when it began: step = "hot_hold" or step = "cool".'
)
_COLD_OR_COOK = (
    "Was this food kept cold, thawed or put to cook? Note the step and when it began, for "
    'example step = "cook".'
)


@dataclass(slots=True)
class _Path:
    """A trace on one scale, and the stages found so far."""

    piece: str
    at: Floats
    value: Floats
    cold: Bools
    hot: Bools
    limits: InferenceLimits
    cooled_f: float
    reheated_f: float
    stages: list[Stage] = field(default_factory=list)

    def add(self, name: StageName, first: int, last: int, why: str, question: str = "") -> None:
        """Add a stage from one reading to another."""
        if last <= first and self.stages:
            return
        self.stages.append(
            Stage(
                name=name,
                number=len(self.stages) + 1,
                piece=self.piece,
                start=float(self.at[first]),
                end=float(self.at[last]),
                closed=True,
                decided=Decided.INFERRED,
                reason=why,
                question=question,
            )
        )


def infer_stages(
    piece: str,
    cores: tuple[Trace, ...],
    limits: InferenceLimits,
    notes: Iterable[Note],
    end: float,
) -> list[Stage]:
    """Return the stages that the trace of a piece shows; none without a core reading.

    Of several points the one with the most readings is followed.
    """
    if not cores:
        return []
    path = _path(piece, max(cores, key=len), limits)
    if len(path.at) == 0:
        return []
    _follow(path)
    return _ended(path.stages, piece, notes, end)


def _path(piece: str, trace: Trace, limits: InferenceLimits) -> _Path:
    sure = np.isfinite(trace.lower) | np.isfinite(trace.upper)
    # Of a bound on one side its own figure is followed.
    low = np.where(np.isfinite(trace.lower), trace.lower, trace.upper)[sure]
    high = np.where(np.isfinite(trace.upper), trace.upper, trace.lower)[sure]
    middle = (low + high) / 2
    celsius = trace.celsius[sure]
    cold, hot = trace.state(limits.cold).yes[sure], trace.state(limits.hot).yes[sure]
    return _Path(
        piece,
        trace.at[sure],
        np.where(celsius, middle * 1.8 + 32.0, middle),
        cold,
        hot,
        limits,
        cooled_f=float(limits.cooled.f),
        reheated_f=float(limits.reheated.f),
    )


def _follow(path: _Path) -> None:
    last = len(path.at) - 1
    hot = np.flatnonzero(path.hot)
    if len(hot) == 0:
        _never_hot(path, 0, last)
        return
    first_hot = int(hot[0])
    heated = _lead_up(path, first_hot)
    position = first_hot
    while position <= last:
        below = np.flatnonzero(~path.hot[position:])
        leaves = position + int(below[0]) if len(below) else last + 1
        _hot_stretch(path, position, leaves - 1, heated=heated)
        if leaves > last:
            return
        again = np.flatnonzero(path.hot[leaves:])
        returns = leaves + int(again[0]) if len(again) else last + 1
        heated = _between(path, leaves - 1, leaves, returns)
        position = returns


def _never_hot(path: _Path, first: int, last: int) -> None:
    """A trace that never gets hot: kept cold, or a question."""
    if path.cold[first : last + 1].all():
        path.add(StageName.COLD_HOLD, first, last, f"always {path.limits.cold.words}")
        return
    path.add(StageName.COLD_HOLD, first, last, "never hot and not always cold", _COLD_OR_COOK)


def _lead_up(path: _Path, first_hot: int) -> StageName | None:
    """What leads up to the first hot reading: cold holding, then the start of the cook."""
    cold = np.flatnonzero(path.cold[:first_hot])
    if first_hot == 0:
        return None
    start = int(cold[-1]) if len(cold) else 0
    if start > 0:
        _never_hot(path, 0, start)
    path.add(StageName.COOK, start, first_hot, f"rises to {path.limits.hot.words}")
    return StageName.COOK


def _hot_stretch(path: _Path, first: int, last: int, *, heated: StageName | None) -> None:
    """Close the heating at its peak, then tell rest from hot hold by steadiness."""
    peak = first
    if heated is not None:
        peak = _heating_ends(path, first, last, heated)
        _extend_last(path, peak)
    steady = _steady_from(path, peak, last)
    before = "falls without steadying: nothing heats it"
    if steady > peak:
        path.add(StageName.REST, peak, min(steady, last), before)
    if steady < last or (steady == last and not path.stages):
        window = path.limits.steady_window / 3600
        path.add(
            StageName.HOT_HOLD,
            min(steady, last),
            last,
            f"stays within {path.limits.steady_range:g} °F for {window:g} h",
        )


def _heating_ends(path: _Path, first: int, last: int, heated: StageName) -> int:
    values = path.value[first : last + 1]
    if heated is StageName.REHEAT:
        done = np.flatnonzero(values >= path.reheated_f)
        for k in done.tolist():
            if k + 1 >= len(values) or values[k + 1] <= values[k] + 1.0:
                return first + int(k)
    return first + int(values.argmax())


def _extend_last(path: _Path, peak: int) -> None:
    path.stages[-1] = replace(path.stages[-1], end=float(path.at[peak]))


def _steady_from(path: _Path, first: int, last: int) -> int:
    """First reading from which the food stays steady for the window; `last` + 1 if never."""
    at, value = path.at, path.value
    window, width = path.limits.steady_window, path.limits.steady_range
    step = max(1, (last - first) // 2000)
    for k in range(first, last + 1, step):
        stop = int(at.searchsorted(at[k] + window, "left"))
        if stop > last:
            break
        part = value[k : stop + 1]
        if part.max() - part.min() <= width:
            return k
    return last + 1


def _between(path: _Path, leaves: int, first: int, returns: int) -> StageName | None:
    """Judge what lies between two hot stretches, or after the last; return what heated it again."""
    last = min(returns, len(path.at) - 1)
    values = path.value[first : last + 1]
    low = first + int(values.argmin())
    comes_back = returns < len(path.at)
    if float(path.value[low]) > path.cooled_f:
        name = StageName.HOT_HOLD if comes_back else StageName.COOL
        path.add(
            name, leaves, low if comes_back else last, "falls below the hot limit", _HOLD_OR_COOL
        )
        if comes_back:
            path.add(StageName.REHEAT, low, returns, "rises again to the hot limit")
        return StageName.REHEAT
    cold = np.flatnonzero(path.cold[first : last + 1])
    if len(cold) == 0:
        path.add(StageName.COOL, leaves, low, "falls from hot to cool")
        if low < last and not comes_back:
            path.add(StageName.COOL, low, last, "stays cool", _HOLD_OR_COOL)
    else:
        cooled, warmed = first + int(cold[0]), first + int(cold[-1])
        path.add(StageName.COOL, leaves, cooled, "falls from hot to cold")
        rest = warmed if comes_back else last
        if rest > cooled:
            _never_hot(path, cooled, rest)
        low = warmed
    if comes_back:
        path.add(StageName.REHEAT, low, returns, "rises from cold to the hot limit")
    return StageName.REHEAT


def _ended(stages: list[Stage], piece: str, notes: Iterable[Note], end: float) -> list[Stage]:
    """Leave the last stage open unless a note ends it."""
    if not stages:
        return stages
    last = stages[-1]
    closing = [
        n.at
        for n in notes
        if n.event is not None and n.event.ends and n.piece in (None, piece) and n.at >= last.start
    ]
    finish = min(closing, default=max(end, last.end))
    stages[-1] = replace(last, end=finish, closed=bool(closing))
    return stages
