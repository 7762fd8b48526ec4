"""Pages that set the codes in force beside each other, topic by topic."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.rulebook.comparison.tables import tables
from tempwitness.rulebook.comparison.wording import (
    TITLES,
    aside,
    cell_lines,
    code_line,
    explanations,
    strictest_words,
)
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.raw import raw_code
from tests.docs.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.rulebook.comparison.tables import Cell, Row, TopicTable

Table = dict[str, Any]

_EUROPE = (
    " ad al at ba be bg ch cy cz de dk ee es eu fi fr gb gr hr hu ie is it li lt lu lv mc md me mk "
    "mt nl no pl pt ro rs se si sk sm ua "
)

GROUPS = {
    "united-states": "the United States: the model code, states, cities and counties",
    "united-states-plants-and-advice": "the United States: inspected plants, trade and advice",
    "europe": "Europe",
    "elsewhere": "other countries, Codex and WHO",
}
"""File name and title of each page."""

_MANY = 3


def comparison_pages() -> dict[str, str]:
    """Return one page a group of codes in force, by its path."""
    groups: dict[str, list[Table]] = {name: [] for name in GROUPS}
    for code_id in code_ids():
        code = raw_code(code_id)
        if not {"effective_to", "superseded_by"} & set(code["head"]):
            groups[_group(code)].append(code)
    return {f"comparison/{name}.md": _page(GROUPS[name], codes) for name, codes in groups.items()}


def comparison_links() -> str:
    """Return the list of the pages, as the page of codes gives it."""
    links = [f"[{title}](comparison/{name}.md)" for name, title in GROUPS.items()]
    return (
        "What those in force ask stands side by side on four pages: "
        f"{'; '.join(links)}. `tempwitness rules compare` does the same for any of them."
    )


def _group(code: Table) -> str:
    head = code["head"]
    country = head["id"].partition("/")[0]
    if country in ("us", "trade"):
        adopted = head.get("place") or head["id"].startswith("us/food-code/")
        return "united-states" if adopted else "united-states-plants-and-advice"
    return "europe" if f" {country} " in _EUROPE else "elsewhere"


def _page(title: str, codes: Sequence[Table]) -> str:
    found = tables(codes)
    parts = [
        f"# Codes beside each other: {title}\n",
        "\n".join(f"- {_link(c['head']['id'])}: {_escaped(code_line(c))}" for c in codes) + "\n",
        "\n".join(f"- {_escaped(text)}" for text in explanations(found)) + "\n",
        *(part for topic in found for part in _topic(topic)),
    ]
    return "\n".join(parts)


def _topic(topic: TopicTable) -> Iterator[str]:
    rows, left = aside(topic)
    yield f"## {TITLES[topic.topic]}\n"
    if rows:
        lines = [line for row in rows for line in _lines(row, topic.usual)]
        yield table(("what", "limit", "code and section"), lines)
    if left:
        yield "Found in one code only, under conditions or beside the figures:\n"
        yield "\n".join(_alone(row, topic.usual) for row in left) + "\n"


def _lines(row: Row, usual: str) -> Iterator[tuple[str, str, str]]:
    """Yield one line a limit with all codes that set it, then whose is the strictest."""
    by_limit: dict[str, list[str]] = {}
    silent: list[str] = []
    for code, cell in row.cells.items():
        if not cell.entries and not cell.elsewhere:
            silent.append(code)
        elif not cell.entries:
            by_limit.setdefault(_cell(cell), []).append(f"`{code}`")
        for limit, where in _limits(cell):
            by_limit.setdefault(limit, []).append(f"`{code}` {where}")
    if len(silent) > _MANY:
        by_limit["nothing found"] = [f"the {len(silent)} others"]
    elif silent:
        by_limit["nothing found"] = [f"`{code}`" for code in silent]
    label = row.label(usual)
    lines = [(limit, ", ".join(where)) for limit, where in by_limit.items()]
    for limit, codes in (*lines, *_strictest(row)):
        yield _escaped(label[:1].upper() + label[1:]), limit, codes
        label = ""


def _strictest(row: Row) -> Iterator[tuple[str, str]]:
    """Name the strictest by its figures, because many codes may share them."""
    if row.strictest is None:
        return
    if set(row.strictest) == set(row.found_in):
        yield f"→ {strictest_words(row)}", ""
        return
    limits = dict.fromkeys(e.limit for code in row.strictest for e in row.cells[code].entries)
    of = "" if len(row.found_in) == len(row.cells) else " of those found"
    yield f"→ strictest{of}: {_escaped(', the same as '.join(limits))}", ""


def _limits(cell: Cell) -> Iterator[tuple[str, str]]:
    for entry in cell.entries:
        where = entry.text.removeprefix(entry.limit).strip()
        ways = [f"or {way}" for way in entry.ways]
        yield _escaped("; ".join((entry.limit, *ways))), _escaped(where)


def _cell(cell: Cell) -> str:
    return _escaped("; ".join(cell_lines(cell)))


def _alone(row: Row, usual: str) -> str:
    (code,) = row.found_in
    label = row.label(usual)
    return f"- `{code}`: {_escaped(label)}: {_cell(row.cells[code])}"


def _link(code_id: str) -> str:
    return f"[`{code_id}`](../codes/{code_id.replace('/', '-')}.md)"


def _escaped(text: str) -> str:
    return text.replace("*", "\\*").replace("[", "(").replace("]", ")")
