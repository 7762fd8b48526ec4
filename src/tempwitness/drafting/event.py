"""The text of an event file, with a comment in the place of every answer that is missing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.drafting.toml_text import entry
from tempwitness.model.vocabulary import StageName
from tempwitness.readers.event.food import StepPart
from tempwitness.readers.event.questions import ASKED_OF, asked_info, table_in
from tempwitness.readers.event.shape import EventTable

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tempwitness.model.base import Written

__all__ = ["Tables", "compose_event", "from_last"]

#: An event file as plain tables.
Tables = dict[str, Any]

_TITLE = (
    "# Lines that begin with a hash are questions left open; nothing is assumed in their place.\n"
    "# Write the answer behind the sign, take the hash away, and print the packet again."
)
#: What belongs to one event alone and is not taken over to the next.
_OF_ONE_EVENT = {
    "event": ("name", "about", "rain_date", "spot", "permit_meeting", "last_event"),
    "vendor": ("booth_number",),
}
_EMPTY = {
    "food.step": 'do = "cook", where = "event"',
    "kitchen": 'id = "hall"',
    "equipment": 'id = "smoker", kind = "cook"',
    "thermometer": 'id = "P1"',
    "deadline": 'what = "Application", days = 15',
    "holiday": "date = 2026-09-07",
}


def compose_event(tables: Tables) -> str:
    """Return the text of an event file.

    Parameters
    ----------
    tables : dict
        Answers under the keys of the file; what was not answered is absent.
    """
    blocks = [[_TITLE, *_lines(EventTable, tables)]]
    blocks += _inner(EventTable, tables, "")
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def _lines(model: type[Written], table: Mapping[str, Any]) -> list[str]:
    """Write the entries of one table, and a comment for each answer that forms want."""
    stage = StageName(table["do"]) if model is StepPart else None
    found = []
    for name, info in model.model_fields.items():
        key = info.alias or name
        if table_in(info.annotation) is not None:
            continue
        if key in table:
            found.append(entry(key, table[key]))
        elif name in ASKED_OF[stage] if stage else asked_info(info):
            found.append(f"# {key} =   # {info.description}")
    return found


def _inner(model: type[Written], table: Mapping[str, Any], before: str) -> Iterator[list[str]]:
    for name, info in model.model_fields.items():
        inner = table_in(info.annotation)
        if inner is None:
            continue
        path = f"{before}{name}"
        if isinstance(info.annotation, type):
            part = table.get(name, {})
            yield [f"[{path}]", *_lines(inner, part)]
            yield from _inner(inner, part, f"{path}.")
        else:
            said = f"# {info.title}: {info.description}."
            yield from _list(inner, said, table.get(name), path)


def _list(
    inner: type[Written], said: str, rows: list[Mapping[str, Any]] | None, path: str
) -> Iterator[list[str]]:
    if not rows and path in _EMPTY:
        example = _EMPTY[path].split(", ")
        yield [said, f"# [[{path}]]", *(f"# {line}" for line in example)]
    for row in rows or ():
        yield [f"[[{path}]]", *_lines(inner, row)]
        yield from _inner(inner, row, f"{path}.")


def from_last(last: Tables) -> Tables:
    """Return what an event file says that holds for the next event as well.

    Names, days, hours, pitch, dates of steps, dates of checks and holidays stay behind.
    """
    kept = {key: value for key, value in last.items() if key not in ("day", "holiday")}
    for part, keys in _OF_ONE_EVENT.items():
        kept[part] = {k: v for k, v in kept.get(part, {}).items() if k not in keys}
    kept["event"]["last_event"] = last["event"]["name"]
    kept["thermometer"] = [_without(t, "checked") for t in kept.get("thermometer", ())]
    kept["food"] = [
        {
            **_without(food, "oldest"),
            "step": [_without(step, "start", "end") for step in food.get("step", ())],
        }
        for food in kept.get("food", ())
    ]
    return kept


def _without(table: Mapping[str, Any], *keys: str) -> Tables:
    return {key: value for key, value in table.items() if key not in keys}
