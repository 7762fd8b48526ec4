"""Which process a food goes through, by its trips between cold and hot.

Three processes by the number of trips through the danger zone: FDA, Managing Food Safety: A Manual
for the Voluntary Use of HACCP Principles for Operators of Food Service and Retail Establishments
(2006), chapter 2.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import StageName

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["PROCESSES", "Process", "process_of", "trips"]

_HEATING = frozenset({StageName.COOK, StageName.REHEAT})
_CHILLING = frozenset({StageName.COOL, StageName.FREEZE})


@dataclass(frozen=True, slots=True)
class Process:
    """A way of preparing food.

    Parameters
    ----------
    number : int
    name, means : str
    """

    number: int
    name: str
    means: str


PROCESSES = (
    Process(1, "No cook step", "no complete trip: served cold, or never cooked here"),
    Process(2, "Same-day service", "one trip: cooked, then held hot or served"),
    Process(3, "Complex", "two or more trips: cooked, cooled, and served cold or reheated"),
)


def trips(steps: Iterable[StageName]) -> int:
    """Count complete trips through the danger zone: cold to hot, and hot to cold.

    Examples
    --------
    >>> trips([StageName.COOK, StageName.COOL, StageName.REHEAT])
    3
    """
    hot, found = False, 0
    for step in steps:
        if (step in _HEATING and not hot) or (step in _CHILLING and hot):
            hot = not hot
            found += 1
    return found


def process_of(steps: Iterable[StageName]) -> Process:
    """Return the process by the trips."""
    return PROCESSES[min(trips(steps), len(PROCESSES) - 1)]
