"""Parts of a report: tables and lists of sentences under a name."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Part", "Sentences", "Table"]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a head.

    Parameters
    ----------
    name : str
        What it is called above it.
    head : tuple of str
        Names of the columns.
    rows : tuple of tuple of str
        Cells; a moment may stand in one with its words (`localtime.Moment`).
    """

    name: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Sentences:
    """Sentences of equal rank under a name."""

    name: str
    lines: tuple[str, ...]


Part = Table | Sentences
