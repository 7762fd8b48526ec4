"""In which steps a thermometer seems to show its figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.rulebook.thermometers import probe_figures
from tempwitness.units import Unit, convert_difference

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Channel, Floats

__all__ = ["coarsest_step", "steps_of_probes"]

#: What binary fractions add to a multiple of a step.
_SLACK = 1e-6
#: Figures looked at of each channel: fewer can only make a step look coarser, which is safe.
_LOOKED_AT = 1000


def coarsest_step(values: Floats) -> float | None:
    """Return the coarsest step that all figures fit [their own unit]; ``None`` without a figure.

    Examples
    --------
    >>> coarsest_step(np.array([138.5, 140.0]))
    0.5
    """
    known = values[np.isfinite(values)]
    if not len(known):
        return None
    steps = probe_figures().steps
    fits = (s for s in steps if bool((np.abs(known / s - np.round(known / s)) < _SLACK / s).all()))
    return next(fits, steps[-1])


def steps_of_probes(channels: Sequence[Channel]) -> dict[str, tuple[float, Unit]]:
    """Return the step of each probe that took readings, from what was written with it."""
    figures: dict[tuple[str, Unit], list[Floats]] = {}
    for channel in channels:
        rows = np.arange(0, len(channel), max(1, len(channel) // _LOOKED_AT))
        taken = np.array([channel.probe_of(row) for row in rows.tolist()], dtype=object)
        celsius = channel.celsius[rows]
        for probe in set(taken.tolist()):
            for unit, here in ((Unit.F, ~celsius), (Unit.C, celsius)):
                mine = channel.value[rows[(taken == probe) & here]]
                figures.setdefault((probe, unit), []).append(mine)
    found: dict[str, tuple[float, Unit]] = {}
    for (probe, unit), parts in figures.items():
        step = coarsest_step(np.concatenate(parts))
        if step is not None and _coarser((step, unit), found.get(probe)):
            found[probe] = step, unit
    return found


def _coarser(step: tuple[float, Unit], other: tuple[float, Unit] | None) -> bool:
    return other is None or convert_difference(*step, Unit.F) > convert_difference(*other, Unit.F)
