"""What does not agree between the typed rows and the rule files; each answer is a sentence."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.errors import RuleError
from tests.published.rows.shipped import figures_of, times_of_actions
from tests.published.rows.words import said, words_of, words_of_head

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from tempwitness.model.rule import Code, Requirement
    from tests.published.rows.figures import Figure
    from tests.published.rows.tables import Entry, Line, Region

__all__ = ["Codes", "Named", "accounted", "missing", "named_in", "unknown"]

_SHORTEST_REASON = 25
_NO_FIGURES = "Without its figures"


@dataclass(frozen=True, slots=True)
class Codes:
    """Codes by their id, from wherever they are loaded."""

    load: Callable[[str], Code]

    def find(self, name: str) -> Code | None:
        """Return the code of a name such as ``us/ny/14-1#cool``, or ``None``."""
        try:
            return self.load(name.partition("#")[0])
        except RuleError:
            return None

    def requirement(self, name: str) -> Requirement | None:
        """Return the requirement of a name, or ``None``."""
        code = self.find(name)
        return None if code is None else code.find(name.partition("#")[2])


@dataclass(frozen=True, slots=True)
class Named:
    """A row that names a requirement."""

    row: str
    lines: tuple[Line, ...]
    reason: str


def accounted(region: Region) -> Iterator[str]:
    """Say which rows are typed but not encoded, or the other way round, or without a reason."""
    counts = Counter(entry.row for entry in region.encoded)
    typed, encoded = set(region.typed), set(counts)
    yield from (f"{row} is typed but not encoded" for row in sorted(typed - encoded))
    yield from (f"{row} is encoded but not typed" for row in sorted(encoded - typed))
    yield from (f"{row} is encoded twice" for row, n in sorted(counts.items()) if n > 1)
    for entry in region.encoded:
        if not entry.names and len(entry.reason) < _SHORTEST_REASON:
            yield f"{entry.row} is left out without a reason"


def unknown(region: Region, codes: Codes) -> Iterator[str]:
    """Say which names stand for nothing."""
    for entry in region.encoded:
        for name in entry.names:
            found = codes.requirement(name) if "#" in name else codes.find(name)
            if found is None:
                yield f"{entry.row} names {name}, which there is not"


def missing(region: Region, codes: Codes) -> Iterator[str]:
    """Say which numbers of a row stand nowhere in what it names, neither as data nor in words."""
    for entry in region.encoded:
        if not entry.names:
            continue
        there, text = _data_and_words(entry, codes)
        for figure in (line.figure for line in region.typed.get(entry.row, ())):
            if figure is None or any(figure.meets(other) for other in there):
                continue
            if _said_only(figure, there, text) or excused(figure, entry.reason):
                continue
            near = ", ".join(sorted({str(other) for other in there if other.what == figure.what}))
            yield f"{entry.row}: {figure} stands in nothing that it names ({near[:200]})"


def _said_only(figure: Figure, there: Iterable[Figure], text: str) -> bool:
    """Whether it is said in words, and not given as data in another direction."""
    return not any(figure.same_number(other) for other in there) and said(figure, text)


def _data_and_words(entry: Entry, codes: Codes) -> tuple[list[Figure], str]:
    """Return the numbers and the words of all that a row names.

    A code named as a whole lends its requirements' numbers, and the words of its head.
    """
    figures: list[Figure] = []
    words: list[str] = []
    for requirement in requirements_of(entry, codes):
        figures += [*figures_of(requirement), *times_of_actions(requirement)]
        words.append(words_of(requirement))
    for code in (codes.find(name) for name in entry.names if "#" not in name):
        if code is not None:
            figures += [figure for r in code.requirements for figure in figures_of(r)]
            words.append(words_of_head(code.head))
    return figures, " \n".join(words)


def requirements_of(entry: Entry, codes: Codes) -> list[Requirement]:
    """Return the requirements that a row names one by one."""
    found = [codes.requirement(name) for name in entry.names if "#" in name]
    return [requirement for requirement in found if requirement is not None]


def excused(figure: Figure, reason: str) -> bool:
    """Whether the reason beside a row says that it goes without this figure."""
    if len(reason) < _SHORTEST_REASON:
        return False
    return reason.startswith(_NO_FIGURES) or said(figure, reason)


def named_in(tables: Iterable[Region]) -> dict[str, list[Named]]:
    """Return the rows that name each requirement, and each code, over all regions."""
    found: dict[str, list[Named]] = {}
    for region in tables:
        for entry in region.encoded:
            for name in entry.names:
                named = Named(entry.row, region.typed.get(entry.row, ()), entry.reason)
                found.setdefault(name, []).append(named)
    return found
