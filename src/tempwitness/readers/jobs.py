"""A table that is being understood: its columns, whose they are, and what is wrong so far."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tempwitness.readers.sheets import Labels, Sheet, no_labels

if TYPE_CHECKING:
    from tempwitness.model.logs import Change, Ints
    from tempwitness.model.vocabulary import Place
    from tempwitness.readers.columns import Plan, Said
    from tempwitness.readers.names import Names
    from tempwitness.readers.problems import Problems

__all__ = ["Job", "Whose"]


@dataclass(frozen=True, slots=True, eq=False)
class Whose:
    """Rows of one point of one piece."""

    piece: str
    place: Place
    point: str
    rows: Ints


@dataclass(frozen=True, slots=True)
class Job:
    """A table that is being understood.

    Parameters
    ----------
    sheet : Sheet
    header : tuple of str
        Names of its columns.
    plan : Plan
        What each column holds.
    said : Said
        What holds for the whole file.
    names : Names
        Pieces and probes known so far.
    problems : Problems
        Takes what cannot be understood.
    pattern : str, optional
        Pattern of the time column when it is not ISO 8601.
    changes : list of Change
        Takes what is not used as it stands.
    understood : list of str
        Takes what the cells as a whole decided, one sentence each.
    """

    sheet: Sheet
    header: tuple[str, ...]
    plan: Plan
    said: Said
    names: Names
    problems: Problems
    pattern: str | None = None
    changes: list[Change] = field(default_factory=list)
    understood: list[str] = field(default_factory=list)

    def words(self, role: str) -> Labels:
        """Column of words by what it holds; blanks if the file has none."""
        at = self.plan.words.get(role)
        return no_labels(len(self.sheet.lines)) if at is None else self.sheet.labels(at)

    def column(self, role: str) -> str | None:
        """Name of the column that holds something; ``None`` if there is none."""
        at = self.plan.words.get(role)
        return None if at is None else self.header[at]

    @property
    def long(self) -> bool:
        """Whether rows, not columns, say whose the readings are."""
        return any(not cells.wide for cells in self.plan.cells)
