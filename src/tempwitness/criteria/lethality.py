"""Heat that adds up: a reference temperature, the time at it, and how fast warmer acts.

The readings bound how long the food was certainly, and how long it was possibly, at or above each
of a ladder of temperatures. Every layer of that ladder adds the kill by which it exceeds the layer
below, for that long: the certain times give the least that was done, the possible times, each
layer taken at its upper edge, the most. So the answer rests on the same brackets as all others.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from tempwitness.bounds.clip import clip
from tempwitness.criteria.case import Case, figure
from tempwitness.criteria.outcome import Cite, Outcome, Settling
from tempwitness.criteria.reach import as_long_as_it_may_be, highest, highest_words, span
from tempwitness.model.figures import Limit, duration_words
from tempwitness.model.vocabulary import Verdict
from tempwitness.science.lethality import lethal_rate

if TYPE_CHECKING:
    from tempwitness.bounds.clip import Window
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.forms import Lethality

__all__ = ["lethality"]

_STEP = 0.5  # height of a layer [°C]: the least counts at most 10^(step / z) times too little
_SHORTEST = 1.0  # a layer in which this long is enough is the top one [s]
_NEAR = 1e-9  # sums of layers are exact to this share


@dataclass(frozen=True, slots=True)
class _Layer:
    """A temperature, in both units, and the kill of one second at it [s at the reference]."""

    f: float
    c: float
    rate: float


def lethality(test: Lethality, case: Case, trace: Trace) -> Outcome:
    """Judge whether the heat of the stage adds up to what the formula asks for."""
    window, closed = span(test.carry, case)
    least, most = _bounds(test, trace, window)
    longer = as_long_as_it_may_be(test.carry, case, window)
    if longer is not window:
        most = _bounds(test, trace, longer)[1]
    top = highest(trace, window)
    limit = (
        f"as much as {test.at.figures} for {duration_words(test.hold)} (z = {test.z_c} °C, from "
        f"{test.counts_from.figures} on)"
    )
    done = f"as much as {_time(least)} at {test.at.figures} is shown"
    outcome = Outcome(
        Verdict.NOT_SHOWN,
        f"{done}; {duration_words(test.hold)} are asked for",
        measured=f"{highest_words(case, trace, top)}; {done}",
        limit=limit,
        least=least,
        most=most if math.isfinite(most) else None,
        cites=() if top is None else (Cite(trace, top),),
    )
    if least >= test.hold * (1 - _NEAR):
        return outcome.but(verdict=Verdict.MET)
    if not closed and case.asked - window.end <= case.interval:
        return outcome.but(
            verdict=Verdict.OPEN, reason=f"{outcome.reason}; the stage is still running"
        )
    if closed and most < test.hold * (1 - _NEAR):
        reason = f"at most as much as {_time(most)} at {test.at.figures} was done; "
        reason += f"{duration_words(test.hold)} are asked for"
        return outcome.but(verdict=Verdict.NOT_MET, reason=reason)
    at = figure(Limit(f=test.at.f, c=test.at.c, printed=test.at.printed, op=">="), trace)
    wanted = f"two readings of {at} or more, {duration_words(test.hold)} apart"
    return outcome.but(settle=Settling(wanted))


def _time(seconds: float) -> str:
    return duration_words(seconds) if seconds >= 1 else f"{seconds:.2g} s"


def _bounds(test: Lethality, trace: Trace, window: Window) -> tuple[float, float]:
    """Least and most that was done, as seconds at the reference temperature."""
    layers = _layers(test)
    least = most = before = 0.0
    for layer, above in zip(layers, (*layers[1:], None), strict=True):
        body = clip(trace, trace.against(layer.f, layer.c, ">="), window)
        certain = float(body.lengths[body.between_yes].sum())
        possible = float(body.lengths[~body.between_no].sum())
        least += certain * (layer.rate - before)
        if above is not None:
            most += possible * (above.rate - before if before == 0.0 else above.rate - layer.rate)
        elif possible > 0:
            most = math.inf
        before = layer.rate
        if possible == 0:
            break
    return least, most


@lru_cache(maxsize=64)
def _layers(test: Lethality) -> tuple[_Layer, ...]:
    reference, z, start = float(test.at.c), float(test.z_c), float(test.counts_from.c)
    top = reference + z * math.log10(float(test.hold) / _SHORTEST)
    # Counted down from the reference, so that the reference itself is a layer.
    below = math.floor((reference - start) / _STEP)
    above = max(1, math.ceil((top - reference) / _STEP))
    temperatures = [reference + k * _STEP for k in range(-below, above + 1)]
    if temperatures[0] > start:
        temperatures.insert(0, start)
    return tuple(_Layer(c * 1.8 + 32.0, c, lethal_rate(c, reference, z)) for c in temperatures)
