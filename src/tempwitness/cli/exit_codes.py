"""What the program's exit status says."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["ExitCode", "worst_code"]


class ExitCode(IntEnum):
    """Exit statuses of all commands."""

    MET = 0
    NOT_MET = 1
    COULD_NOT_RUN = 2
    NOT_SHOWN = 3
    INTERNAL_ERROR = 70
    INTERRUPTED = 130


def worst_code(verdicts: Iterable[str]) -> ExitCode:
    """Return the status for the verdicts of one or many records.

    Examples
    --------
    >>> worst_code(["met", "open"]).name
    'NOT_SHOWN'
    """
    found = set(verdicts)
    if "not_met" in found:
        return ExitCode.NOT_MET
    return ExitCode.MET if found <= {"met"} else ExitCode.NOT_SHOWN
