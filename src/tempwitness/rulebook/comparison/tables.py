"""Codes beside each other: one table a topic, one row for each thing that can be compared."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from tempwitness.model.topics import topic_of
from tempwitness.model.vocabulary import Topic
from tempwitness.rulebook.comparison.entries import Entry, entry_of
from tempwitness.rulebook.comparison.kinds import (
    CLOCK,
    ORDER,
    akin,
    case_of,
    excludes,
    fall_parts,
    kind_of,
)
from tempwitness.rulebook.comparison.spaces import Box, box_of, box_words, joined, overlap, parts
from tempwitness.rulebook.comparison.strictest import strictest

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Sequence

__all__ = ["Cell", "Row", "TopicTable", "tables"]

Table = dict[str, Any]

_USUAL = {
    Topic.COOK: "cook",
    Topic.COLD: "cold hold",
    Topic.COOLING: "cool",
    Topic.REHEAT: "reheat",
}

#: Code, requirement as written.
_Of = tuple[str, Table]
#: Code, one limit of it.
_Said = tuple[tuple[str, Entry], ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """What one code says in one row.

    Parameters
    ----------
    entries : tuple of Entry
        Empty where nothing was found.
    requirements : tuple of str
        Ids of the requirements behind them.
    elsewhere : {"", "ordinary", "form", "special"}
        Of an empty cell: whether the code speaks of it in the row of the ordinary case, in a row
        of another form, or under conditions in other rows.
    """

    entries: tuple[Entry, ...] = ()
    requirements: tuple[str, ...] = ()
    elsewhere: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that codes are compared in.

    Parameters
    ----------
    kind, detail : str
        What is asked, and what tells it from others of its kind.
    stages, foods : str
        Of which it speaks, in words; empty for all.
    case : tuple of str
        Conditions under which it speaks; none is the ordinary case.
    cells : dict of str to Cell
        One a code, in the order asked for.
    strictest : tuple of str or None
        Codes whose main figure is the strictest, all if they are alike; ``None`` where the figures
        cannot be set beside each other.
    """

    kind: str
    detail: str
    stages: str
    foods: str
    case: tuple[str, ...]
    cells: dict[str, Cell]
    strictest: tuple[str, ...] | None

    @property
    def found_in(self) -> tuple[str, ...]:
        """Codes in which something was found."""
        return tuple(code for code, cell in self.cells.items() if cell.entries)

    def label(self, usual: str = "") -> str:
        """Return what is compared in one line, without the stages if they are the usual ones."""
        what = " ".join(part for part in (self.kind, self.detail) if part)
        untold = ("", usual) if self.kind != CLOCK else (self.stages,)
        of = "" if self.stages in untold else f"{self.stages}: "
        return "; ".join(part for part in (f"{of}{what}", self.foods, *self.case) if part)


@dataclass(frozen=True, slots=True)
class TopicTable:
    """The rows of one topic."""

    topic: Topic
    rows: tuple[Row, ...]

    @property
    def usual(self) -> str:
        """The stage of which its title says that it is about."""
        return _USUAL.get(self.topic, "")


@dataclass(slots=True)
class _Group:
    """Requirements of one kind in one case, with the order in which they were met."""

    kind: tuple[str, str]
    case: tuple[str, ...]
    own: list[_Of] = field(default_factory=list)


def tables(codes: Sequence[Table], topics: Container[Topic] = tuple(Topic)) -> list[TopicTable]:
    """Set codes, as written, beside each other.

    Parameters
    ----------
    codes : sequence of dict
        As `raw_code` returns them.
    topics : container of Topic
        Which tables to make; all if omitted.

    Returns
    -------
    list of TopicTable
        In the order of the topics; one without a row is left out.
    """
    units = {code["head"]["id"]: code["head"].get("unit", "F") for code in codes}
    by_topic: dict[Topic, dict[tuple[Any, ...], _Group]] = {}
    for code in codes:
        falls = fall_parts(code["requirements"])
        for requirement in code["requirements"]:
            topic = _topic(requirement)
            kind, case = kind_of(requirement, falls), case_of(requirement)
            groups = by_topic.setdefault(topic, {})
            group = groups.setdefault((kind, case), _Group(kind, case))
            group.own.append((code["head"]["id"], requirement))
    found = [(topic, by_topic.get(topic, {})) for topic in Topic if topic in topics]
    return [TopicTable(t, tuple(_rows(list(g.values()), units))) for t, g in found if g]


def _topic(requirement: Table) -> Topic:
    test = requirement["test"]
    op = test.get("limit", {}).get("op", "")
    return topic_of(test["form"], requirement.get("stages", ()), requirement.get("topic"), op)


def _rows(groups: Sequence[_Group], units: dict[str, str]) -> Iterable[Row]:
    """Return the rows of a topic: by kind, the ordinary case first."""
    for group in sorted(groups, key=lambda g: (ORDER.index(g.kind[0]), g.kind[1], len(g.case))):
        yield from _rows_of(group, groups, units)


def _rows_of(group: _Group, groups: Sequence[_Group], units: dict[str, str]) -> Iterable[Row]:
    """Return the rows of a group; parts in which all codes say the same are one row."""
    alike: dict[_Said, tuple[list[Box], int]] = {}
    for mask, boxes in parts([box_of(r) for _, r in group.own]).items():
        own = _of_mask(group, mask)
        said = tuple(dict.fromkeys((code, entry_of(r, units[code], boxes)) for code, r in own))
        so_far, masks = alike.get(said, ([], 0))
        alike[said] = ([*so_far, *boxes], masks | mask)
    for said, (boxes, mask) in sorted(alike.items(), key=lambda item: item[1][1] & -item[1][1]):
        yield _row(replace(group, own=_of_mask(group, mask)), joined(boxes), said, groups, units)


def _of_mask(group: _Group, mask: int) -> list[_Of]:
    return [of for n, of in enumerate(group.own) if mask >> n & 1]


def _row(
    group: _Group,
    boxes: list[Box],
    said: _Said,
    groups: Sequence[_Group],
    units: dict[str, str],
) -> Row:
    cells = {}
    for code in units:
        entries = tuple(entry for of, entry in said if of == code)
        names = tuple(r["id"] for of, r in group.own if of == code)
        elsewhere = "" if entries else _elsewhere(code, group, boxes, groups)
        cells[code] = Cell(entries, names, elsewhere)
    comparable = not any(cell.elsewhere for cell in cells.values())
    best = _strictest(group.own) if comparable else None
    stages, foods = box_words(boxes)
    return Row(*group.kind, stages, foods, group.case, cells, best)


def _elsewhere(code: str, group: _Group, boxes: list[Box], groups: Sequence[_Group]) -> str:
    """Say where else a code that says nothing in a row speaks of its stages and foods."""
    found: set[str] = set()
    like = group.own[0][1]
    for other in groups:
        same = other.kind == group.kind
        if not same and not (other.kind[1] == group.kind[1] and akin(other.kind[0], group.kind[0])):
            continue
        for of, requirement in other.own:
            if of != code or not overlap(boxes, [box_of(requirement)]):
                continue
            if same and not other.case and not excludes(requirement, like):
                found.add("ordinary")
            elif same and not group.case:
                found.add("special")
            elif not same and other.case in ((), group.case) and not excludes(requirement, like):
                found.add("form")
    return next((word for word in ("ordinary", "form", "special") if word in found), "")


def _strictest(own: Sequence[_Of]) -> tuple[str, ...] | None:
    """Return whose main figure is the strictest; of several in one code none is the main one."""
    if any(r.get("ask_instead") or r.get("breaks_only") for _, r in own):
        return None
    tests: dict[str, Table] = {}
    for code, requirement in own:
        if tests.setdefault(code, requirement["test"]) != requirement["test"]:
            return None
    return strictest(tests)
