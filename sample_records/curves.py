"""Invented temperature curves of food in a pit, a box, a cabinet, a pan and a refrigerator.

Each stretch of a curve is one surrounding temperature and one time constant: the food goes
towards its surroundings at a rate in proportion to the difference. Large cuts stall in the pit
where water leaves the surface as fast as heat comes in. The figures are made up to look like
meat; nothing in a test takes its expected value from them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

__all__ = ["Stretch", "curve", "ripple", "write_log"]

_STALL_FROM, _STALL_TO, _STALL_SHARE = 152.0, 168.0, 0.35


@dataclass(frozen=True, slots=True)
class Stretch:
    """A time in one surrounding.

    Parameters
    ----------
    minutes : int
        How long [min].
    around : float
        Temperature of the surroundings [°F].
    tau : float
        Time constant of the food in them [min].
    stall : bool
        Whether the meat stalls on its way up.
    begin : float, optional
        Temperature at the start [°F], where the probe was moved or the food was cut up; it goes
        on from where it was if omitted.
    """

    minutes: int
    around: float
    tau: float
    stall: bool = False
    begin: float | None = None


def curve(start: float, stretches: Sequence[Stretch]) -> list[float]:
    """Return the temperature at every minute, the first at the start [°F].

    Euler's method with steps of one minute: additions and multiplications only, so that the
    figures are the same on every machine.
    """
    values = [start]
    for stretch in stretches:
        if stretch.begin is not None:
            values[-1] = stretch.begin
        for _ in range(stretch.minutes):
            now = values[-1]
            rate = (stretch.around - now) / stretch.tau
            if stretch.stall and _STALL_FROM <= now <= _STALL_TO:
                rate *= _STALL_SHARE
            values.append(now + rate)
    return values


def ripple(values: Sequence[float], seed: int, width: float) -> list[float]:
    """Add the restlessness of a real sensor: evenly spread within plus or minus `width` [°F].

    A linear congruential generator (constants of Numerical Recipes, ch. 7.1, as remembered)
    rather than a library's, so that the figures never change with a version.
    """
    state = seed
    noisy = []
    for value in values:
        state = (1664525 * state + 1013904223) % 2**32
        noisy.append(value + width * (state / 2**31 - 1.0))
    return noisy


def write_log(
    path: Path,
    start: datetime,
    columns: dict[str, Sequence[float]],
    *,
    every: int,
    decimals: int = 1,
) -> None:
    """Write a logger's CSV: local time, then one column a probe, a row every `every` minutes.

    Parameters
    ----------
    path : Path
    start : datetime
        Clock time of the first row; it carries no zone because a logger's seldom does.
    columns : dict of str to sequence of float
        Temperatures at every minute.
    """
    rows = min(len(values) for values in columns.values())
    lines = [",".join(["time", *columns])]
    for minute in range(0, rows, every):
        at = start + timedelta(minutes=minute)
        cells = [f"{values[minute]:.{decimals}f}" for values in columns.values()]
        lines.append(",".join([at.strftime("%Y-%m-%d %H:%M"), *cells]))
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
