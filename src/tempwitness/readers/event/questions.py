"""The answers of an event file under the names by which forms are filled, and what is missing.

Every key of an event file carries its label and its question (`readers.event`); nothing is asked
here that a key does not hold.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, get_args

from tempwitness.errors import InputError
from tempwitness.model.base import Written
from tempwitness.model.vocabulary import Species, StageName
from tempwitness.readers.event.asked import ASKED
from tempwitness.readers.event.said import printed
from tempwitness.readers.event.shape import EventTable
from tempwitness.rulebook.foods import classify

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic.fields import FieldInfo

    from tempwitness.readers.event.food import FoodPart, StepPart

__all__ = [
    "ASKED_OF",
    "STEPS_ASKED",
    "STEP_DONE",
    "Answer",
    "Question",
    "all_keys",
    "answers",
    "asked_info",
    "asked_of_step",
    "questions",
    "table_in",
]

#: What a form may want to know of each step; a key that is not here is not asked of it.
ASKED_OF = {
    StageName.RECEIVE: ("where", "start", "how"),
    StageName.COLD_HOLD: ("where", "equipment", "every"),
    StageName.THAW: ("where", "start", "how", "every"),
    StageName.PREP: ("where", "start", "how"),
    StageName.COOK: ("where", "start", "end", "how", "equipment", "air", "target", "every"),
    StageName.REST: ("where", "container", "every"),
    StageName.HOT_HOLD: ("where", "equipment", "every"),
    StageName.SERVE: ("where", "start", "end", "how"),
    StageName.TRANSPORT: ("start", "end", "how", "container", "vehicle", "to"),
    StageName.COOL: ("where", "start", "how", "container", "depth", "equipment", "every"),
    StageName.REHEAT: ("where", "start", "how", "equipment", "target", "every"),
    StageName.FREEZE: ("where", "equipment"),
}
#: Steps that forms ask for by name: each is there, or is said never to be done.
STEPS_ASKED = (
    StageName.COLD_HOLD,
    StageName.THAW,
    StageName.COOK,
    StageName.COOL,
    StageName.TRANSPORT,
    StageName.REHEAT,
    StageName.HOT_HOLD,
    StageName.SERVE,
)
STEP_DONE = {
    StageName.COLD_HOLD: "kept cold",
    StageName.THAW: "thawed",
    StageName.COOK: "cooked",
    StageName.COOL: "cooled",
    StageName.TRANSPORT: "carried from one place to another",
    StageName.REHEAT: "reheated",
    StageName.HOT_HOLD: "held hot",
    StageName.SERVE: "served",
}
_OF_MEAT = re.compile(r"food\[(\d+)\]\.(?:form|weight)")
_NO_MEAT = frozenset({Species.PLANT, Species.EGG})
#: Tables that stand once for each entry, with the key that names the entry.
_ENTRY = {"day": "date", "worker": "name", "kitchen": "name", "equipment": "name", "food": "name"}
_ENTRY |= {"thermometer": "id", "step": "do", "deadline": "what", "holiday": "date"}


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer.

    Parameters
    ----------
    key : str
        Such as ``vendor.phone`` or ``food[2].step[3].how``, entries counted from 1.
    label : str
    text : str
        As it is printed; empty where nothing was said.
    """

    key: str
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Question:
    """An answer that is missing.

    Parameters
    ----------
    key : str
        Where it would stand in the event file.
    about : str
        Which part, food or step it is about.
    asks : str
    """

    key: str
    about: str
    asks: str


def answers(event: EventTable) -> dict[str, Answer]:
    """Return every answer by its key, those that are missing with an empty text."""
    return {a.key: a for a in _answers(event, "")}


def _answers(part: Written, before: str) -> Iterator[Answer]:
    for name, info in type(part).model_fields.items():
        key, value = f"{before}{info.alias or name}", getattr(part, name)
        if isinstance(value, Written):
            yield from _answers(value, f"{key}.")
        elif _is_list_of_tables(info):
            for i, entry in enumerate(value or (), 1):
                yield from _answers(entry, f"{key}[{i}].")
        else:
            yield Answer(key, info.title or name, printed(value))


def _is_list_of_tables(info: FieldInfo) -> bool:
    return table_in(info.annotation) is not None


def table_in(kind: Any) -> type[Written] | None:  # noqa: ANN401 - an annotation may be anything
    """Return the table that a key takes, also in a list; ``None`` if it takes none."""
    if isinstance(kind, type):
        return kind if issubclass(kind, Written) else None
    return next((t for part in get_args(kind) if (t := table_in(part))), None)


def all_keys(model: type[Written] = EventTable, before: str = "") -> dict[str, FieldInfo]:
    """Return every key that an event file may hold, entries of lists under ``[]``."""
    found: dict[str, FieldInfo] = {}
    for name, info in model.model_fields.items():
        key, inner = f"{before}{info.alias or name}", table_in(info.annotation)
        if inner is None:
            found[key] = info
        else:
            several = "" if info.annotation is inner else "[]"
            found |= all_keys(inner, f"{key}{several}.")
    return found


def questions(event: EventTable) -> tuple[Question, ...]:
    """Return what is missing, in the order of the file."""
    found = list(_of_part(event, "", ""))
    found = [q for q in found if not _needless(q, event)]
    for i, food in enumerate(event.food, 1):
        found += _of_steps(food, i)
    if not event.thermometer:
        found.append(Question("thermometer", "Thermometers", "Which thermometers are used?"))
    if not event.equipment:
        found.append(Question("equipment", "Equipment", "What cooks, chills and keeps food hot?"))
    if not event.deadline:
        asks = "Until when must the application be handed in, and on whose word?"
        found.append(Question("deadline", "Deadlines", asks))
    elif event.holiday is None:
        asks = "On which public holidays before the event is the authority closed? [] if on none."
        found.append(Question("holiday", "Deadlines", asks))
    return tuple(found)


def _needless(question: Question, event: EventTable) -> bool:
    """Whether it asks what was done to the meat of a food that is none."""
    match = _OF_MEAT.fullmatch(question.key)
    if match is None:
        return False
    food = event.food[int(match[1]) - 1]
    try:
        return (food.species or classify(food.name)[0]) in _NO_MEAT
    except InputError:
        return False


def _of_part(part: Written, before: str, about: str) -> Iterator[Question]:
    for name, info in type(part).model_fields.items():
        key, value = f"{before}{info.alias or name}", getattr(part, name)
        if isinstance(value, Written):
            yield from _of_part(value, f"{key}.", info.title or name)
        elif _is_list_of_tables(info):
            if name == "step":
                continue
            for i, entry in enumerate(value or (), 1):
                yield from _of_part(entry, f"{key}[{i}].", _called(entry, name, info))
        elif asked_info(info) and not printed(value):
            yield Question(key, about, info.description or "")


def _called(entry: Written, name: str, info: FieldInfo) -> str:
    said = printed(getattr(entry, _ENTRY[name]))
    kind = (info.title or name).removesuffix("s")
    return f"{kind}: {said or printed(getattr(entry, 'id', ''))}"


def asked_info(info: FieldInfo) -> bool:
    """Whether a form may want the answer of a key."""
    extra = info.json_schema_extra
    return isinstance(extra, dict) and bool(extra.get(ASKED))


def asked_of_step(step: StepPart) -> tuple[str, ...]:
    """Return the keys that a form may want to know of a step."""
    wanted = ASKED_OF[step.do]
    # Under time control nothing is read to keep a temperature.
    return tuple(k for k in wanted if not (step.time_control and k in ("every", "equipment")))


def _of_steps(food: FoodPart, number: int) -> Iterator[Question]:
    done = {step.do for step in food.step}
    for stage in STEPS_ASKED:
        if stage not in done and stage not in food.never:
            asks = (
                f"Is it ever {STEP_DONE[stage]}? If so, how and where? If not, add "
                f'"{stage.value}" under never.'
            )
            yield Question(f"food[{number}].step", f"Food: {food.name}", asks)
    place = ""
    for i, step in enumerate(food.step, 1):
        key, about = f"food[{number}].step[{i}]", f"{food.name}, {step.do.words}"
        for name in asked_of_step(step):
            if not printed(getattr(step, name)):
                info = type(step).model_fields[name]
                yield Question(f"{key}.{name}", about, info.description or "")
        if step.time_control and not food.ingredients:
            asks = "What goes into it? The written time control names the ingredients."
            yield Question(f"food[{number}].ingredients", about, asks)
        if step.do is StageName.TRANSPORT:
            place = ""
        elif step.where:
            if place and step.where != place:
                asks = f"How does it get from '{place}' to '{step.where}'? No transport is listed."
                yield Question(key, about, asks)
            place = step.where
