"""What a finding asks for: an action, what can be saved, the reading that would settle it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Action", "Rescue", "SettlingReading"]


@dataclass(frozen=True, slots=True)
class Action:
    """What to do, by when, and on whose word.

    Parameters
    ----------
    do : str
        One imperative sentence.
    by : str, optional
        Deadline (ISO 8601); ``None`` when there is none.
    basis : {"code", "practice", "authority"}
        Whether the code's own text asks for it, common practice does, or the authority must say.
    """

    do: str
    by: str | None = None
    basis: Literal["code", "practice", "authority"] = "code"


@dataclass(frozen=True, slots=True)
class Rescue:
    """What the rule lets a person do once the limit is broken, and until when.

    Parameters
    ----------
    do : str
        One imperative sentence.
    by : str, optional
        Until when (ISO 8601), counted from the earliest moment at which the limit may be broken;
        ``None`` where no time is given, or nothing says from when it counts.
    otherwise : str
        What is left to do afterwards.
    basis : {"code", "practice", "authority"}
    """

    do: str
    by: str | None
    otherwise: str
    basis: Literal["code", "practice", "authority"]


@dataclass(frozen=True, slots=True)
class SettlingReading:
    """The one reading that would have settled a requirement, and when (ISO 8601)."""

    at: str | None
    what: str
