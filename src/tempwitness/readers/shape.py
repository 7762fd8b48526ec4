"""What a record may say: its tables and keys, as the person writes them."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from tempwitness.model.base import Written
from tempwitness.model.lot import Weighed
from tempwitness.model.vocabulary import Business, Cut, Event, Form, Place, Species, StageName
from tempwitness.readers.cells import Cell, reading
from tempwitness.readers.measures import ambient_f, length_m, per_second, rate_f_per_s
from tempwitness.readers.problems import nearest
from tempwitness.readers.words import height_m, pressure_pa, temperature, weighed, word
from tempwitness.rulebook.facts import load_facts
from tempwitness.units import Unit

__all__ = [
    "ApprovalTable",
    "CheckTable",
    "ColumnTable",
    "FileTable",
    "FoodTable",
    "NoteTable",
    "PassiveTable",
    "PieceTable",
    "ProbeTable",
    "RateTable",
    "ReadingTable",
    "RecordTable",
    "TimeControlTable",
    "facts_of",
    "forms_of",
]


def _clock(value: object) -> object:
    if isinstance(value, dt.datetime | dt.time) or (isinstance(value, str) and value.strip()):
        return value
    raise ValueError('a time is wanted here, such as "2026-07-04 18:10"')


def _as_text(value: object) -> object:
    """Take class = 2 for class = "2"."""
    return str(value) if isinstance(value, int) else value


def forms_of(value: object) -> tuple[Form, ...]:
    """Read the state before cooking, one word or a list.

    Raises
    ------
    ValueError
        If a word is not known, or food is called intact and something else at once.
    """
    words = value if isinstance(value, list | tuple) else [value]
    if not words:
        raise ValueError('an empty list says nothing; write "intact" or what was done to it')
    forms = tuple(word(w, Form, "form of food") for w in words)
    if Form.INTACT in forms and len(set(forms)) > 1:
        raise ValueError("food cannot be intact and something else at once")
    return forms


def facts_of(value: object) -> dict[str, str]:
    """Read answers to the questions of codes.

    Raises
    ------
    ValueError
        If no code asks the question, or the answer is none of those it knows.
    """
    if not isinstance(value, dict):
        # Not a TypeError: pydantic gathers faults of what a person wrote as ValueError.
        raise ValueError("a table of facts is wanted, such as cured = 'no'")  # noqa: TRY004
    return {str(key): _fact(str(key), answer) for key, answer in value.items()}


def _fact(key: str, answer: object) -> str:
    facts = load_facts()
    if key not in facts:
        raise ValueError(
            f"'{key}' is not a fact that any code asks for{nearest(key, facts)}; known are "
            f"{', '.join(facts)}"
        )
    text = ("yes" if answer else "no") if isinstance(answer, bool) else str(answer)
    known = facts[key]
    if not known.takes(text):
        wanted = "a number" if known.number else ", ".join(known.answers)
        raise ValueError(f"{key} = '{text}' is not an answer; known are {wanted}")
    return text


_Clock = Annotated[dt.datetime | dt.time | str, BeforeValidator(_clock)]
_Heat = Annotated[tuple[float, Unit], BeforeValidator(temperature)]
_Read = Annotated[Cell, BeforeValidator(reading)]
_Weight = Annotated[Weighed, BeforeValidator(weighed)]
_Place = Annotated[Place, BeforeValidator(lambda v: word(v, Place, "place of a probe"))]
_Step = Annotated[StageName, BeforeValidator(lambda v: word(v, StageName, "stage"))]
_Event = Annotated[Event, BeforeValidator(lambda v: word(v, Event, "event"))]
_Business = Annotated[Business, BeforeValidator(lambda v: word(v, Business, "kind of business"))]
_Species = Annotated[Species, BeforeValidator(lambda v: word(v, Species, "species"))]
_Cut = Annotated[Cut, BeforeValidator(lambda v: word(v, Cut, "cut"))]
_Fold = Literal["first", "second"]


class FoodTable(Written):
    """``[food]``."""

    name: str = Field(min_length=1)
    species: _Species | None = None
    cut: _Cut | None = None
    form: Annotated[tuple[Form, ...] | None, BeforeValidator(forms_of)] = None
    weight: _Weight | None = None
    thickness: Annotated[float, BeforeValidator(length_m)] | None = None
    shape: Literal["any", "flat", "long"] = "any"
    facts: Annotated[dict[str, str], BeforeValidator(facts_of)] = Field(default_factory=dict)


class PieceTable(Written):
    """``[[piece]]``."""

    id: str = Field(min_length=1)
    weight: _Weight | None = None


class CheckTable(Written):
    """``[[probe.check]]``."""

    at: _Clock
    kind: Literal["ice", "boiling", "reference"]
    read: _Heat
    expected: _Heat | None = None
    elevation: Annotated[float, BeforeValidator(height_m)] | None = None
    station_pressure: Annotated[float, BeforeValidator(pressure_pa)] | None = None
    fold: _Fold | None = None


class ProbeTable(Written):
    """``[[probe]]``."""

    id: str = Field(min_length=1)
    kind: str = ""
    scale: Literal["F", "C", "both"] | None = None
    reads: Literal["food", "air"] = "food"
    accuracy: _Heat | None = None
    resolution: _Heat | None = None
    class_: Annotated[Literal["AA", "A", "B", "C", "1", "2"] | None, BeforeValidator(_as_text)] = (
        Field(default=None, alias="class")
    )
    correct: bool = True
    drift: Literal["unknown", "constant"] = "unknown"
    check: tuple[CheckTable, ...] = ()


class ColumnTable(Written):
    """One entry of ``columns`` in a ``[[file]]``: what a column of the file holds."""

    holds: str | None = Field(default=None, alias="as")
    piece: str | None = None
    place: _Place | None = None
    probe: str | None = None
    point: str | None = None
    unit: Unit | None = None


class FileTable(Written):
    """``[[file]]``."""

    path: str = Field(min_length=1)
    zone: str | None = None
    place: _Place | None = None
    piece: str | None = None
    probe: str | None = None
    point: str | None = None
    unit: Unit | None = None
    columns: dict[str, ColumnTable] = Field(default_factory=dict)
    ignore: tuple[str, ...] = ()
    time_format: str | None = None
    day_order: Literal["day-first", "month-first"] | None = None
    date: dt.date | None = None
    fold: _Fold | None = None
    sheet: str | None = None


class ReadingTable(Written):
    """``[[reading]]``."""

    at: _Clock
    temp: _Read
    piece: str | None = None
    place: _Place | None = None
    probe: str | None = None
    point: str = ""
    by: str = ""
    typed_later: bool = False
    fold: _Fold | None = None


class NoteTable(Written):
    """``[[note]]``."""

    at: _Clock
    step: _Step | None = None
    event: _Event | None = None
    text: str = ""
    piece: str | None = None
    method: str = ""
    fold: _Fold | None = None


class ApprovalTable(Written):
    """``[[approval]]``."""

    kind: str
    authority: str
    number: str
    granted: dt.date
    expires: dt.date | None = None


class RateTable(Written):
    """``[[rate]]``."""

    stage: _Step | None = None
    up: Annotated[float, BeforeValidator(rate_f_per_s)] | None = None
    down: Annotated[float, BeforeValidator(rate_f_per_s)] | None = None
    reason: str = Field(min_length=1)


class PassiveTable(Written):
    """``[[passive]]``."""

    stage: _Step
    ambient: Annotated[tuple[float, float], BeforeValidator(ambient_f)]
    per_hour: Annotated[tuple[float, float], BeforeValidator(per_second)]
    reason: str = Field(min_length=1)


class TimeControlTable(Written):
    """``[[time_control]]``."""

    at: _Clock
    option: Literal["4h", "6h"]
    written: dt.date | None = None
    marked: Literal["yes", "no", "unknown"] = "unknown"
    pieces: tuple[str, ...] | None = None
    fold: _Fold | None = None


class RecordTable(Written):
    """A whole record."""

    schema_: Literal[1] = Field(alias="schema")
    lot: str = Field(min_length=1)
    code: str = ""
    place: str = ""
    zone: str = Field(min_length=1)
    also: tuple[str, ...] = ()
    overrides: tuple[str, ...] = ()
    business: _Business | None = None
    event: str = ""
    cook: str = ""
    date: dt.date | None = None
    food: FoodTable
    facts: Annotated[dict[str, str], BeforeValidator(facts_of)] = Field(default_factory=dict)
    piece: tuple[PieceTable, ...] = ()
    probe: tuple[ProbeTable, ...] = ()
    file: tuple[FileTable, ...] = ()
    reading: tuple[ReadingTable, ...] = ()
    note: tuple[NoteTable, ...] = ()
    approval: tuple[ApprovalTable, ...] = ()
    time_control: tuple[TimeControlTable, ...] = ()
    rate: tuple[RateTable, ...] = ()
    passive: tuple[PassiveTable, ...] = ()
