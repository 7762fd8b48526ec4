"""The text of a record, with a comment in the place of everything that was not answered.

A comment says what the answer would decide, and stands where the line belongs: whoever knows the
answer takes the hash away. No comment holds a word that a person typed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.drafting.toml_text import entry

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.drafting.draft import Draft, Table

__all__ = ["compose", "left_open"]

_TITLE = (
    "# Lines that begin with a hash are questions left open; nothing is assumed in their place."
)
_HEAD = {
    "business": ('business = "caterer"', "a county's changes may ask what kind of kitchen it is"),
    "event": ('event = "Summer fair"', "printed at the head of the report"),
    "cook": ('cook = "initials"', "printed at the head of the report"),
}
_FOOD = {
    "form": (
        'form = "intact"',
        "intact, injected, tenderised, ground or stuffed: decides which cooking limit applies",
    ),
    "weight": (
        'weight = "9 lb"',
        "of the largest piece: some limits depend on it",
    ),
}
_CUT = ('cut = "roast"', "the shape: whole roasts have cooking limits of their own")
_FACTS = (
    "# What codes ask beyond the food itself; what is not answered stays open, it is never a no.",
    "# tempwitness check --full names what this lot leaves open.",
    "# [facts]",
    '# cured = "no"',
)
_PROBE = (
    "# No probe is named, so no reading can be traced to a check of its probe.",
    "# [[probe]]",
    '# id = "pen"',
    '# check = [{ at = "2026-07-04 05:30", kind = "ice", read = "32 F" }]',
)
_CHECK = '# check = [{ at = "2026-07-04 05:30", kind = "ice", read = "32 F" }]  # shows it true'
_READING = (
    "# No reading is in this record; without readings nothing can be shown.",
    "# [[reading]]",
    '# at = "2026-07-04 14:00"',
    '# temp = "165 F"',
)
_NOTE = (
    "# No step is noted here; where no file notes them either, stages are inferred from the",
    "# readings, which proves less.",
    "# [[note]]",
    '# at = "2026-07-04 06:00"',
    '# step = "cook"',
)


def compose(draft: Draft) -> str:
    """Return the text of the record.

    Examples
    --------
    >>> from tempwitness.drafting.draft import Draft
    >>> compose(Draft(head={"lot": "beans"})).splitlines()[1:3]
    ['schema = 1', 'lot = "beans"']
    """
    blocks = [
        [_TITLE, "schema = 1", *_entries(draft.head), *_open(_HEAD, draft.head)],
        _food(draft),
        ["[facts]", *_entries(draft.facts)] if draft.facts else list(_FACTS),
        *_tables("piece", draft.pieces),
        *[_probe(table) for table in draft.probes],
        *([] if draft.probes else [list(_PROBE)]),
        *_tables("file", draft.files),
        *_tables("reading", draft.readings),
        *([] if draft.files or draft.readings else [list(_READING)]),
        *_tables("note", draft.notes),
        *([] if draft.notes else [list(_NOTE)]),
    ]
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def left_open(draft: Draft) -> list[str]:
    """Return the names of what a comment stands for, in the order of the file."""
    named = [name for name in _HEAD if name not in draft.head]
    named += [f"food.{name}" for name in _FOOD if name not in draft.food]
    named += [] if draft.facts else ["facts"]
    named += [] if draft.probes else ["probe"]
    named += [f"probe.check of {p['id']}" for p in draft.probes if not p.get("check")]
    named += [] if draft.files or draft.readings else ["reading"]
    return named + ([] if draft.notes else ["note"])


def _entries(table: Table) -> list[str]:
    return [entry(name, held) for name, held in table.items()]


def _open(lines: dict[str, tuple[str, str]], table: Table) -> list[str]:
    return [f"# {line}  # {why}" for name, (line, why) in lines.items() if name not in table]


def _food(draft: Draft) -> list[str]:
    said = [f"# Understood by its name: {draft.kind}."] if draft.kind else []
    cut = {} if "cut" in draft.food or "," in draft.kind else {"cut": _CUT}
    return ["[food]", *said, *_entries(draft.food), *_open({**cut, **_FOOD}, draft.food)]


def _probe(table: Table) -> list[str]:
    lines = _tables("probe", [table])[0]
    return lines if table.get("check") else [*lines, _CHECK]


def _tables(name: str, tables: Sequence[Table]) -> list[list[str]]:
    return [[f"[[{name}]]", *_lines(table)] for table in tables]


def _lines(table: Table) -> list[str]:
    """Write a table's entries; columns of a file stand one a line."""
    found = []
    for name, held in table.items():
        if name == "columns" and isinstance(held, dict):
            found += [f"columns.{entry(column, said)}" for column, said in held.items()]
        else:
            found.append(entry(name, held))
    return found
