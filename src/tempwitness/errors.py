"""Every error this package raises on purpose, with what, where, why and what to do."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "EvaluationError",
    "InputError",
    "Location",
    "ReportError",
    "RuleError",
    "SealError",
    "TempwitnessError",
]


@dataclass(frozen=True, slots=True)
class Location:
    """Where in what a person wrote something is wrong.

    Parameters
    ----------
    file : str
        Name of the file as the person gave it, or ``"command line"``.
    line : int, optional
        Line in the file, counted from 1.
    column : str, optional
        Name of the column or of the cell.
    key : str, optional
        Dotted key in a TOML file, such as ``food.form``.
    cell : str, optional
        Sheet and cell of a workbook.
    """

    file: str
    line: int | None = None
    column: str | None = None
    key: str | None = None
    cell: str | None = None

    def __str__(self) -> str:
        parts = [self.file]
        if self.line is not None:
            parts.append(f"line {self.line}")
        if self.column is not None:
            parts.append(f"column '{self.column}'")
        if self.key is not None:
            parts.append(f"key '{self.key}'")
        if self.cell is not None:
            parts.append(self.cell)
        return ", ".join(parts)


class TempwitnessError(Exception):
    """Base of all errors that a person can mend.

    Parameters
    ----------
    message : str
        What is wrong and why, first word in lower case.
    location : Location, optional
        Where it is wrong.
    hint : str
        How to mend it.
    """

    def __init__(self, message: str, *, location: Location | None = None, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.location = location
        self.hint = hint

    def __str__(self) -> str:
        where = f"{self.location}: " if self.location else ""
        hint = f"\n  to mend it: {self.hint}" if self.hint else ""
        return f"{where}{self.message}{hint}"


class InputError(TempwitnessError):
    """A record or a readings file cannot be understood."""


class RuleError(TempwitnessError):
    """A rule file, an override or a code name is wrong."""


class EvaluationError(TempwitnessError):
    """A record and a code do not fit together."""


class ReportError(TempwitnessError):
    """A report cannot be written."""


class SealError(TempwitnessError):
    """A sealed archive cannot be made or read."""
