"""The page of a record's keys, from the models that read it."""

from __future__ import annotations

import datetime as dt
import types
from collections.abc import Iterator
from enum import StrEnum
from typing import TYPE_CHECKING, Annotated, Any, Literal, Union, get_args, get_origin

from tempwitness.model.base import Written
from tempwitness.model.lot import Weighed
from tempwitness.model.vocabulary import Form
from tempwitness.readers import shape
from tempwitness.readers.cells import Cell
from tempwitness.readers.columns import WORDS as COLUMNS
from tempwitness.rulebook.facts import load_facts
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.raw import raw_code
from tempwitness.units import Unit
from tests.docs.key_words import WORDS
from tests.docs.tables import table

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

TABLES: dict[type[Written], str] = {
    shape.RecordTable: "Top of the file",
    shape.FoodTable: "`[food]`",
    shape.PieceTable: "`[[piece]]`",
    shape.ProbeTable: "`[[probe]]`",
    shape.CheckTable: "`[[probe.check]]`",
    shape.FileTable: "`[[file]]`",
    shape.ColumnTable: "`columns` of a `[[file]]`",
    shape.ReadingTable: "`[[reading]]`",
    shape.NoteTable: "`[[note]]`",
    shape.ApprovalTable: "`[[approval]]`",
    shape.TimeControlTable: "`[[time_control]]`",
    shape.RateTable: "`[[rate]]`",
    shape.PassiveTable: "`[[passive]]`",
}
_PLAIN: dict[Any, str] = {
    str: "text",
    bool: "true or false",
    float: 'height: `"5280 ft"`, `"1609 m"`',
    dt.date: "date: `2026-07-04`",
    Weighed: 'weight: `"9 lb"`, `"9 lb 4 oz"`, `"4.1 kg"`',
    tuple[float, Unit]: 'temperature: `"138 F"`, `"58.9 C"`',
    Cell: 'temperature: `"138 F"`, or `"~165 F"`, `"<41 F"`, `"140-145 F"`',
    tuple[Form, ...]: f"one or a list of {', '.join(f'`{f.value}`' for f in Form)}",
    tuple[str, ...]: "list of texts",
    dict[str, str]: "answers, see below",
}


def keys(model: type[Written]) -> Iterator[tuple[str, FieldInfo]]:
    """Yield each key as it is written, with what the model knows of it."""
    for name, info in model.model_fields.items():
        yield info.alias or name, info


#: Keys whose type alone does not say what they take.
_BY_NAME = {
    "ambient": 'two temperatures: `["36 F", "41 F"]`',
    "per_hour": "two numbers: `[0.3, 0.9]`",
    "thickness": 'length: `"4 in"`, `"10 cm"`',
    "up": 'rate: `"0.5 F/min"`, `"12 C/h"`',
    "down": 'rate: `"0.5 F/min"`, `"12 C/h"`',
    "station_pressure": 'air pressure: `"834 hPa"`, `"24.64 inHg"`',
}


def described(kind: Any) -> str:  # noqa: ANN401 - an annotation may be anything
    """Say in words what a key takes."""
    if kind in _PLAIN:
        return _PLAIN[kind]
    origin, parts = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return described(parts[0])
    if origin in (Union, types.UnionType):
        if dt.datetime in parts:
            return 'time: `"2026-07-04 18:10"`, or `"18:10"` after a dated one'
        return " or ".join(described(part) for part in parts if part is not type(None))
    if origin is Literal:
        return ", ".join(f"`{part}`" for part in parts)
    if origin is dict:
        return "tables by column name"
    if origin is tuple:
        return "list of tables"
    return _of_class(kind)


def _of_class(kind: type) -> str:
    if issubclass(kind, StrEnum):
        return ", ".join(f"`{member.value}`" for member in kind)
    if issubclass(kind, Written):
        return "a table"
    raise TypeError(f"no words for {kind}")


def record_page() -> str:
    """Return the page."""
    parts = [
        "# The record file\n",
        "A record is a TOML file for one lot. Keys that are not listed here are refused. Keys in "
        "bold are required.\n",
    ]
    parts += [f"## {title}\n\n{_table(model)}" for model, title in TABLES.items()]
    parts += ["## Approvals that count\n", _APPROVALS_SAY, _approvals()]
    parts += ["## Facts\n", _FACTS_SAY, _facts(), "## Columns of a readings file\n", _COLUMNS_SAY]
    return "\n".join(parts)


_APPROVALS_SAY = (
    "An approval in force settles the requirement that asks for its `kind`. Each kind answers one "
    "question; an approval of any other kind settles none.\n"
)
_FACTS_SAY = (
    "A fact that is left out is open; it is never taken for a no. The last column names the "
    "requirements that ask for it.\n"
)
_COLUMNS_SAY = (
    f"In a long table: `temp_f` or `temp_c`, and {', '.join(f'`{name}`' for name in COLUMNS)}. In "
    "a wide table each probe has a column of its own: `NAME_f` or `NAME_c`, such as `left_f`, "
    "`air_f` or `left_surface_f`, where NAME is the piece. Only `time` and a temperature are "
    "needed. A step stands on the row where it begins.\n"
)


def _table(model: type[Written]) -> str:
    words = WORDS[model.__name__]
    rows = [
        (
            f"**`{key}`**" if info.is_required() else f"`{key}`",
            _BY_NAME.get(key) or described(info.annotation),
            words[key],
        )
        for key, info in keys(model)
    ]
    return table(("key", "takes", "meaning"), rows)


def _approvals() -> str:
    asked: dict[tuple[str, str], list[str]] = {}
    for code_id in code_ids():
        for requirement in raw_code(code_id)["requirements"]:
            for way in (requirement, *requirement.get("alternatives", ())):
                if kind := way["test"].get("settled_by"):
                    question = (f"`{kind}`", way["test"]["question"])
                    asked.setdefault(question, []).append(requirement["id"])
    rows = [(kind, question, ", ".join(ids)) for (kind, question), ids in asked.items()]
    return table(("kind", "question", "asked by"), rows)


def _facts() -> str:
    asked = _asked_by()
    rows = [
        (
            f"`{fact}`",
            ", ".join((*["a number"] * answers.number, *(f"`{a}`" for a in answers.answers))),
            ", ".join(asked.get(fact, [])),
        )
        for fact, answers in load_facts().items()
    ]
    return table(("fact", "answers", "asked by"), rows)


def _asked_by() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for code_id in code_ids():
        for requirement in raw_code(code_id)["requirements"]:
            for fact in dict.fromkeys(_facts_of(requirement)):
                found.setdefault(fact, []).append(f"{requirement['id']}")
    return found


def _facts_of(value: Any) -> Iterator[str]:  # noqa: ANN401 - whatever TOML holds
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in ("facts", "facts_not") and isinstance(inner, dict):
                yield from inner
            elif key in ("fact", "settled_by") and isinstance(inner, str):
                yield inner
            else:
                yield from _facts_of(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _facts_of(inner)
