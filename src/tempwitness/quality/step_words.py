"""What a step looks like: a unit that was switched, a probe in the air, or a probe that moved."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.quality.units import same_on_other_scale
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from tempwitness.model.logs import Ints
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["step_words"]

_SEEN = 3


def step_words(
    trace: Trace, before: int, tail: Ints, why_end: str, figures: Figures
) -> tuple[str, str]:
    """Return the test's name and the reason for a step.

    Parameters
    ----------
    before : int
        Row of the last reading before the step.
    tail : Ints
        Rows that are doubted.
    why_end : str
        Why the doubt ends there.
    """
    change = f"from {trace.words(before)} to {trace.words(int(tail[0]))}"
    if same_on_other_scale(trace, before, int(tail[0]), figures.unit.near):
        return "unit", (
            f"{change} is the same temperature on the other scale: the unit may have been "
            f"switched; doubted {why_end}"
        )
    settled = _settles(trace, before, tail, figures)
    if settled is not None:
        return "in_air", (
            f"{change} and so on to {format_degrees(round(settled), Unit.F)}, as a bare probe does "
            f"in air: it slipped out of the food; doubted {why_end}; if it was moved on purpose, "
            f"note the event probe_moved at that time"
        )
    return "rate_of_change", (
        f"{change} is faster than heat moves inside food: the probe slipped "
        f"or was moved; doubted {why_end}; if it was moved on purpose, note the event "
        f"probe_moved at that time"
    )


def _settles(trace: Trace, before: int, tail: Ints, figures: Figures) -> float | None:
    """Return where readings settle [°F] if they get there as a bare probe does, by an exponential.

    Two thirds of the way are made within the time constant; after four of them they stay.
    """
    at = trace.channel.at[tail] - trace.channel.at[before]
    degrees, start = trace.degrees[tail], trace.degrees[before]
    late = np.flatnonzero(at >= 2 * figures.in_air.quick)
    if len(tail) < _SEEN or not len(late):
        return None
    last = min(int(late[0]), len(tail) - 1)
    level = float(degrees[last])
    way = level - start
    if abs(way) <= 2 * figures.in_air.settled:
        return None
    gone = (degrees[: last + 1] - start) / way
    quick = at[int(np.argmax(gone >= 0.632))] <= figures.in_air.quick
    stays = np.abs(degrees[last : last + len(late)] - level) <= figures.in_air.settled
    # On the way there it was seen; at once there it may as well be in other food.
    quick &= gone[0] <= 1 - figures.in_air.settled / abs(way)
    # It never swings past the air's own temperature by more than that temperature varies.
    smooth = bool((gone <= 1 + figures.in_air.settled / abs(way)).all())
    return level if quick and smooth and bool(stays[: _few(len(stays))].all()) else None


def _few(count: int) -> int:
    """How many readings after settling are looked at: the air itself changes later."""
    return min(count, 5)
