"""The page of an event file's keys, from the models that read it."""

from __future__ import annotations

import datetime as dt
import types
from typing import TYPE_CHECKING, Annotated, Any, Literal, Union, get_args, get_origin

from tempwitness.readers.event.asked import Day, Heat, Lasting, Moment, Noted, Weight
from tempwitness.readers.event.questions import asked_info, table_in
from tempwitness.readers.event.shape import EventTable
from tests.docs.record_keys import described
from tests.docs.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic.fields import FieldInfo

    from tempwitness.model.base import Written

_MEASURES: dict[Any, str] = {
    Day: "day: `2026-10-03`",
    Moment: "date and time: `2026-10-03 05:30:00`",
    Noted: "time of day: `05:30:00`",
    Heat: 'temperature: `"255 F"`',
    Lasting: 'time: `"30 min"`',
    Weight: 'weight: `"9 lb"`',
}
_PLAIN: dict[Any, str] = {
    int: "whole number",
    float: "number",
    dt.date: _MEASURES[Day],
    dt.datetime: _MEASURES[Moment],
    dt.time: _MEASURES[Noted],
}
_BY_NAME = dict.fromkeys(("air", "target", "keeps"), _MEASURES[Heat])
_BY_NAME |= {"weight": _MEASURES[Weight]}
_BY_NAME |= {"every": _MEASURES[Lasting], "corner": "two numbers: `[2, 3]`"}
_BY_NAME |= {"size": "two numbers: `[4, 3]`", "never": "list of steps"}


def event_page() -> str:
    """Return the page."""
    parts = [
        "# The event file\n",
        "An event file is a TOML file for one event, from which its papers are made. Keys that "
        "are not listed here are refused. Keys in bold are required. What is marked *asked* is "
        "a question of the packet when it is left out; of a step only what forms ask of it is.\n",
    ]
    for title, model in _tables(EventTable, ""):
        parts.append(f"## {title or 'Top of the file'}\n\n{_table(model)}")
    return "\n".join(parts)


def _tables(model: type[Written], before: str) -> Iterator[tuple[str, type[Written]]]:
    yield before and before, model
    for name, info in model.model_fields.items():
        inner = table_in(info.annotation)
        if inner is not None:
            path = f"{before.strip('`[]')}.{name}".removeprefix(".")
            several = not isinstance(info.annotation, type)
            yield from _tables(inner, f"`[[{path}]]`" if several else f"`[{path}]`")


def _table(model: type[Written]) -> str:
    rows = [
        (
            f"**`{info.alias or name}`**" if info.is_required() else f"`{info.alias or name}`",
            _BY_NAME.get(name) or _takes(info),
            f"{info.description}{' *(asked)*' if asked_info(info) else ''}",
        )
        for name, info in model.model_fields.items()
    ]
    return table(("key", "takes", "question or meaning"), rows)


def _takes(info: FieldInfo) -> str:
    inner = table_in(info.annotation)
    if inner is not None:
        return "a table" if isinstance(info.annotation, type) else "list of tables"
    return _words(info.annotation)


def _words(kind: Any) -> str:  # noqa: ANN401 - an annotation may be anything
    if kind in _PLAIN:
        return _PLAIN[kind]
    origin, parts = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return _words(parts[0])
    if origin in (Union, types.UnionType):
        return ", ".join(_words(part) for part in parts if part is not type(None))
    if origin is tuple and any(get_origin(part) is Literal for part in parts):
        return f"list of {_words(parts[0])}"
    return described(kind)
