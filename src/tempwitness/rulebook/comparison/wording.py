"""Words around a comparison: titles, what a code is, empty cells, and what the marks mean."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.model.vocabulary import Topic, Weight
from tempwitness.rulebook.comparison.kinds import ASKED

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tempwitness.rulebook.comparison.tables import Cell, Row, TopicTable

__all__ = [
    "TITLES",
    "aside",
    "cell_lines",
    "code_line",
    "explanations",
    "strictest_words",
]

TITLES = {
    Topic.COOK: "Cooking",
    Topic.HOT: "Hot food: resting, holding, serving, carrying",
    Topic.COLD: "Cold and frozen food",
    Topic.COOLING: "Cooling",
    Topic.REHEAT: "Reheating",
    Topic.TIME_CONTROL: "Time out of temperature",
    Topic.DATE: "Days and dates",
    Topic.PROBE: "Thermometers",
    Topic.RECORDS: "Papers, records and duties",
    Topic.OTHER: "Receiving, thawing and the rest",
}
"""Title of each topic's table."""

_MOST_WAYS = 2
_EMPTY = {
    "": "nothing found",
    "ordinary": "nothing of its own found; see the ordinary case",
    "form": "nothing found in this form; see other rows",
    "special": "nothing found but under conditions; see other rows",
}

_ALWAYS = (
    "An empty cell says that nothing was found in the rule files, be it that the code says "
    "nothing or that nobody has looked it up; it does not say that the code has no rule.",
)
_MARKS = (
    ("*", "* second-hand, not confirmed from the text."),
    ("**", "** from memory, not confirmed from the text."),
)
_STRICTEST = (
    "Strictest is said of main figures of the same form and direction: what keeps that one keeps "
    "the others found in the row. It is as sure as these figures are, and other ways to keep a "
    "limit are left aside."
)
_IF_SAID = (
    ("ask", "ask: what follows where it is not kept is for the authority to say."),
    (
        "no leave",
        "no leave: the code gives no such time; what takes longer is held against it, what takes "
        "less is not thereby allowed.",
    ),
    ("offence", "offence: the wording makes an offence of it."),
    ("target", "target: the wording names an aim, not a duty."),
)
_WEIGHTS = "Without a word on its weight an entry is law; {} is not."
_LAST = (
    "What only takes food out of a requirement is left out here: see `tempwitness rules explain`.",
    "The local health authority decides which text applies and what it means; where it says "
    "otherwise, it is right.",
)


def code_line(code: dict[str, Any]) -> str:
    """Return what a code is: title, edition, place, weight and dates."""
    head = code["head"]
    weights = [w.value for w in Weight if any(r["weight"] == w for r in code["requirements"])]
    place = f"place {head['place']}" if head.get("place") else "no place of its own"
    parts = [f"{head['title']}, {head['edition']}", place, " and ".join(weights)]
    for key, word in (("effective_from", "from"), ("effective_to", "until")):
        if key in head:
            parts.append(f"{word} {head[key]}")
    if not {"effective_from", "effective_to"} & set(head):
        parts.append("dates not known")
    if head.get("superseded_by"):
        parts.append(f"superseded by {head['superseded_by']}")
    if head.get("companions"):
        parts.append(f"judged beside it: {', '.join(head['companions'])}")
    return "; ".join(parts)


def cell_lines(cell: Cell) -> list[str]:
    """Return what a code says in a row, one text a limit or other way."""
    if not cell.entries:
        return [_EMPTY[cell.elsewhere]]
    lines = []
    for entry in cell.entries:
        lines.append(entry.text)
        lines += [f"or {way}" for way in entry.ways[:_MOST_WAYS]]
        more = len(entry.ways) - _MOST_WAYS
        if more > 0:
            lines.append(f"or {more} other way{'s' if more > 1 else ''}")
    return lines


def strictest_words(row: Row) -> str:
    """Say whose main figure is the strictest, or nothing."""
    if row.strictest is None:
        return ""
    found = row.found_in
    if set(row.strictest) == set(found):
        return "the figures found are alike" if len(found) < len(row.cells) else "all alike"
    *most, last = row.strictest
    names = f"{', '.join(most)} and {last}, alike" if most else last
    return f"strictest{'' if len(found) == len(row.cells) else ' of those found'}: {names}"


def aside(table: TopicTable) -> tuple[list[Row], list[Row]]:
    """Part the rows that compare codes from what was found in one code only.

    A figure for the ordinary case stays, because that nothing is found beside it matters.
    """
    rows: list[Row] = []
    left: list[Row] = []
    for row in table.rows:
        alone = len(row.found_in) == 1 and (row.case or row.kind in ASKED)
        (left if alone else rows).append(row)
    return rows, left


def explanations(found: Iterable[TopicTable]) -> Iterator[str]:
    """Yield what the marks mean that stand in the tables, then who decides."""
    rows = [row for table in found for row in table.rows]
    entries = [e for row in rows for cell in row.cells.values() for e in cell.entries]
    said = {word for entry in entries for word in entry.said}
    yield from _ALWAYS
    marks = {entry.mark for entry in entries}
    yield from (sentence for mark, sentence in _MARKS if mark in marks)
    if any(row.strictest is not None for row in rows):
        yield _STRICTEST
    yield from (sentence for word, sentence in _IF_SAID if word in said)
    weights = [w.value for w in Weight if w is not Weight.LAW and w.value in said]
    if weights:
        yield _WEIGHTS.format(" or ".join(weights))
    yield from _LAST
