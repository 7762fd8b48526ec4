"""Whether a note says why readings changed: food or probe were handled."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import StageName

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Ints, Note
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["explained", "next_handling"]

_HEATING = (StageName.COOK, StageName.REHEAT)
_MICROWAVE = "microwave"


def explained(
    trace: Trace, rows: Ints, start: int, notes: Sequence[Note], figures: Figures
) -> bool:
    """Whether a note says why the reading changed.

    Food or probe were handled, or a microwave is that fast. A drop where a cook or a reheat begins
    is a probe put into cold food. Any other beginning of a stage explains nothing: a probe left
    hanging in the cold would show a perfect cooling.
    """
    at = trace.channel.at
    before, after = float(at[rows[start - 1]]), float(at[rows[start]])
    begun = [n for n in notes if n.step is not None and n.at <= after]
    if begun and begun[-1].method == _MICROWAVE:
        return True
    within = figures.step.note_within
    near = [n for n in notes if before - within <= n.at <= after + within]
    if any(n.event is not None and n.event.disturbs for n in near):
        return True
    fell = trace.degrees[rows[start]] < trace.degrees[rows[start - 1]]
    return bool(fell) and any(n.step in _HEATING for n in near)


def next_handling(notes: Sequence[Note], after: float) -> float | None:
    """Return when food or probe were next noted as handled [s], ``None`` if they were not."""
    moved = [n.at for n in notes if n.event is not None and n.event.disturbs and n.at > after]
    return min(moved, default=None)
