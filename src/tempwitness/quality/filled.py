"""Lists that may have been filled in afterwards: asked about, never doubted, nobody accused.

Honest cooks read every half hour on the half hour, and food in a steady cabinet reads the same all
day. So none of this changes a flag or an answer. It is asked because an inspector would ask.
"""

from __future__ import annotations

from math import isnan
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Ints, RawLog
    from tempwitness.quality.settings import Figures
    from tempwitness.quality.trace import Trace

__all__ = ["filled_in"]


def filled_in(raw: RawLog, traces: Sequence[Trace], figures: Figures) -> list[str]:
    """Return what to ask of whoever kept the lists."""
    by_hand = [t for t in traces if len(t.channel) and t.usual >= figures.filled.apart]
    return [
        *_typed_later(raw),
        *_same_minutes(by_hand, figures),
        *_repeated(by_hand, figures),
    ]


def _typed_later(raw: RawLog) -> list[str]:
    if not raw.typed_later:
        return []
    numbers = ", ".join(str(n) for n in raw.typed_later)
    many = len(raw.typed_later) > 1
    return [
        f"{'Readings' if many else 'Reading'} {numbers} of the record {'were' if many else 'was'} "
        "typed in later. From what were time and temperature taken: a slip of paper, a display's "
        "memory, or memory alone?"
    ]


def _same_minutes(traces: Sequence[Trace], figures: Figures) -> list[str]:
    """Ask about readings typed into a record that all stand on round minutes."""
    at = [t.channel.at for t in traces if t.typed]
    moments = sorted({moment for times in at for moment in times.tolist()})
    if len(moments) < figures.filled.entries or any(m % figures.filled.round for m in moments):
        return []
    return [
        f"All {len(moments)} times of the readings in the record are full or half hours. Were they "
        "read at these minutes, or rounded, or filled in afterwards?"
    ]


def _repeated(traces: Sequence[Trace], figures: Figures) -> list[str]:
    """Ask about runs of figures that stand there a second time."""
    seen: dict[tuple[float, ...], tuple[Trace, int]] = {}
    asked: list[str] = []
    size = figures.filled.run
    for trace in traces:
        free = 0
        for first in range(len(trace.channel) - size + 1):
            run = tuple(trace.channel.value[first : first + size].tolist())
            if len(set(run)) < figures.filled.different or any(isnan(v) for v in run):
                continue
            known = seen.setdefault(run, (trace, first))
            if known != (trace, first) and first >= free and _apart(known, (trace, first), size):
                asked.append(_question(known, (trace, first), size))
                free = len(trace.channel)
    return asked


def _apart(known: tuple[Trace, int], here: tuple[Trace, int], size: int) -> bool:
    return known[0] is not here[0] or here[1] - known[1] >= size


def _question(known: tuple[Trace, int], here: tuple[Trace, int], size: int) -> str:
    (old, first), (new, again) = known, here
    return (
        f"{new.name}: {size} readings from {_line(new.channel.line, again)} on are, figure by "
        f"figure, those of {old.name} from {_line(old.channel.line, first)} on. "
        "Was the food read both times?"
    )


def _line(lines: Ints, row: int) -> str:
    return f"line {int(lines[row])}"
