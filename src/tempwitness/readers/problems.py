"""Several problems, reported together, each with its place and its remedy."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from typing import TYPE_CHECKING, NoReturn

from tempwitness.errors import InputError, Location

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Problem", "Problems", "nearest"]

_SHOWN = 10


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that cannot be understood."""

    where: Location
    what: str
    hint: str = ""


@dataclass(slots=True)
class Problems:
    """A list of problems of one file.

    Parameters
    ----------
    file : str
        Name of the file, as it was given.
    places : dict of str to str
        Of a record in a workbook: sheet and cell of each dotted key, named in its stead.
    """

    file: str
    found: list[Problem] = field(default_factory=list)
    places: dict[str, str] = field(default_factory=dict)

    def add(
        self,
        what: str,
        hint: str = "",
        *,
        line: int | None = None,
        column: str | None = None,
        key: str | None = None,
        cell: str | None = None,
    ) -> None:
        """Note a problem and go on."""
        cell = cell or self._cell(key)
        where = Location(self.file, line, column, None if cell else key, cell)
        self.found.append(Problem(where, what, hint))

    def _cell(self, key: str | None) -> str | None:
        """Cell of a key, or of the entry around it."""
        while key:
            if key in self.places:
                return self.places[key]
            key = key.rpartition(".")[0]
        return None

    def stop(
        self,
        what: str,
        hint: str = "",
        *,
        line: int | None = None,
        column: str | None = None,
        key: str | None = None,
    ) -> NoReturn:
        """Note a problem after which nothing more can be understood, and raise."""
        self.add(what, hint, line=line, column=column, key=key)
        raise self.error()

    def check(self) -> None:
        """Raise if anything was noted."""
        if self.found:
            raise self.error()

    def error(self) -> InputError:
        """All problems as one error; the first one gives it its place."""
        first = self.found[0]
        if len(self.found) == 1:
            return InputError(first.what, location=first.where, hint=first.hint)
        shown = "".join(_entry(p) for p in self.found[:_SHOWN])
        rest = len(self.found) - _SHOWN
        more = f"\n  … and {rest} more of the kind" if rest > 0 else ""
        return InputError(
            f"{len(self.found)} problems:{shown}{more}",
            location=replace(first.where, column=None) if first.where.column else first.where,
        )


def _entry(problem: Problem) -> str:
    where = problem.where
    place = str(replace(where, file="")).removeprefix(", ")
    hint = f"\n    to mend it: {problem.hint}" if problem.hint else ""
    return f"\n  {place + ': ' if place else ''}{problem.what}{hint}"


def nearest(word: str, known: Iterable[str]) -> str:
    """Question that offers the closest known word; ``""`` when none is close.

    Examples
    --------
    >>> nearest("hot_hod", ["cook", "hot_hold"])
    " (did you mean 'hot_hold'?)"
    """
    lower = {k.lower(): k for k in known}
    close = get_close_matches(word.lower(), lower, n=1, cutoff=0.6)
    return f" (did you mean '{lower[close[0]]}'?)" if close else ""
