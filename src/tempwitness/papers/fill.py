"""An authority's own fillable form, filled from an event file by a map."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING, Any

from tempwitness.errors import InputError, Location, ReportError
from tempwitness.model.vocabulary import StageName
from tempwitness.papers.process import process_of
from tempwitness.papers.steps import step_line
from tempwitness.readers.event.form_map import Box, filled, keys_in
from tempwitness.readers.event.questions import answers
from tempwitness.readers.event.said import clock_words, day_words
from tempwitness.readers.opening import bytes_of
from tempwitness.readers.problems import nearest

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.papers.plan import Plan
    from tempwitness.readers.event.form_map import FormMap

__all__ = ["Filled", "fill_form", "sayings"]

_SHOWN = 40
_OFF = "/Off"


@dataclass(frozen=True, slots=True)
class Filled:
    """A filled form.

    Parameters
    ----------
    content : bytes
    left_blank : tuple of str
        Fields whose answer is missing in the event file.
    unmapped : tuple of str
        Fields that the map does not name.
    too_long : tuple of str
        Fields whose answer is longer than the form allows; they are left blank.
    """

    content: bytes
    left_blank: tuple[str, ...]
    unmapped: tuple[str, ...]
    too_long: tuple[str, ...]


def sayings(plan: Plan) -> dict[str, str]:
    """Return everything that a map may name: all answers, and what is put together from them.

    Beside the keys of the event file these are ``event.dates``, ``event.hours``, ``foods``,
    ``food[1].process``, and of each step ``food[1].does.cook``, ``food[1].does.cool`` and so on,
    which say in one line where, when and how.
    """
    event = plan.file.table
    said = {key: answer.text for key, answer in answers(event).items()}
    said["event.dates"] = "; ".join(day_words(day.date) for day in event.day)
    said["event.hours"] = "; ".join(
        f"{clock_words(d.serve_from)} to {clock_words(d.serve_until)}"
        for d in event.day
        if d.serve_from and d.serve_until
    )
    said["foods"] = ", ".join(food.name for food in event.food)
    for i, food in enumerate(plan.foods, 1):
        process = process_of(step.part.do for step in food.steps)
        said[f"food[{i}].process"] = f"{process.number}: {process.name}"
        for stage in StageName:
            steps = (step_line(step.part, event) for step in food.of(stage))
            none = "not done" if stage in food.part.never else ""
            said[f"food[{i}].does.{stage.value}"] = " / ".join(filter(None, steps)) or none
    return said


def fill_form(form: Path, mapping: FormMap, plan: Plan, map_name: str) -> Filled:
    """Fill a form; a field without an answer stays blank, and nothing is ever signed.

    Parameters
    ----------
    form : Path
        A PDF with fields to fill.
    mapping : FormMap
    plan : Plan
    map_name : str
        Name of the map, for messages.

    Raises
    ------
    InputError
        If the form has no fields, or the map names a field or a key that does not exist.
    ReportError
        If the library that reads forms is not installed.
    """
    reader = _opened(form)
    fields = reader.get_fields() or {}
    if not fields:
        raise InputError(
            "the form has no fields that can be filled",
            location=Location(str(form)),
            hint="print the packet and copy the answers by hand",
        )
    said = sayings(plan)
    _check(mapping, fields, said, map_name)
    values, blank, long = _values(mapping, fields, said)
    writer = _pypdf().PdfWriter(clone_from=reader)
    for page in writer.pages:
        own = {n: v for n, v in values.items() if n in _names_on(page)}
        if own:
            writer.update_page_form_field_values(page, own, auto_regenerate=False)
    target = BytesIO()
    writer.write(target)
    rest = tuple(n for n, f in fields.items() if n not in mapping.field and _fillable(f))
    return Filled(target.getvalue(), tuple(blank), rest, tuple(long))


def field_names(form: Path) -> list[str]:
    """Return the names of a form's fields that can be filled."""
    return [name for name, field in (_opened(form).get_fields() or {}).items() if _fillable(field)]


def _pypdf() -> Any:  # noqa: ANN401 - a module
    try:
        import pypdf  # noqa: PLC0415 - few fill a form
    except ImportError:
        raise ReportError(
            "filling a form needs a library that is not installed",
            hint="pip install 'tempwitness[forms]'",
        ) from None
    return pypdf


def _opened(form: Path) -> Any:  # noqa: ANN401 - a reader of pypdf
    pypdf = _pypdf()
    try:
        reader = pypdf.PdfReader(BytesIO(bytes_of(form, name=str(form))))
        locked = reader.is_encrypted and not reader.decrypt("")
    except (pypdf.errors.PyPdfError, ValueError, KeyError, TypeError) as why:
        raise InputError(
            f"it cannot be read as a PDF: {why}", location=Location(str(form))
        ) from None
    if locked:
        raise InputError(
            "the form is locked with a password",
            location=Location(str(form)),
            hint="ask the authority for one that can be filled",
        )
    return reader


def _fillable(field: Any) -> bool:  # noqa: ANN401 - a field of pypdf
    return field.get("/FT") in ("/Tx", "/Btn", "/Ch")


def _check(mapping: FormMap, fields: dict[str, Any], said: dict[str, str], map_name: str) -> None:
    where = Location(map_name, key="field")
    for name, value in mapping.field.items():
        if name not in fields:
            shown = ", ".join(list(fields)[:_SHOWN])
            raise InputError(
                f"the form has no field '{name}'{nearest(name, fields)}",
                location=where,
                hint=f"its fields are {shown}",
            )
        if fields[name].get("/FT") == "/Sig":
            raise InputError(f"'{name}' is a signature: it is signed by hand", location=where)
        for key in [value.when] if isinstance(value, Box) else keys_in(value):
            if key not in said:
                raise InputError(
                    f"the field '{name}' asks for '{key}', which is no key of this event "
                    f"file{nearest(key, said)}",
                    location=where,
                    hint="keys are those of the event file, entries counted from 1: food[1].name",
                )


def _values(
    mapping: FormMap, fields: dict[str, Any], said: dict[str, str]
) -> tuple[dict[str, str], list[str], list[str]]:
    values: dict[str, str] = {}
    blank, long = [], []
    for name, value in mapping.field.items():
        if isinstance(value, Box):
            if not said[value.when]:
                blank.append(name)
            elif said[value.when] == value.is_:
                values[name] = _state(name, value, fields[name])
            continue
        if any(not said[key] for key in keys_in(value)):
            blank.append(name)
            continue
        text = filled(value, said)
        most = _longest(fields[name])
        if most is not None and len(text) > most:
            long.append(name)
        else:
            values[name] = text
    return values, blank, long


def _longest(field: Any) -> int | None:  # noqa: ANN401 - a field of pypdf
    """Return how many signs a field takes, from itself or from what it belongs to."""
    part = field.indirect_reference.get_object() if field.indirect_reference else field
    while part is not None:
        if "/MaxLen" in part:
            return int(part["/MaxLen"])
        parent = part.get("/Parent")
        part = parent.get_object() if parent is not None else None
    return None


def _state(name: str, box: Box, field: Any) -> str:  # noqa: ANN401 - a field of pypdf
    wanted = f"/{box.set_.removeprefix('/')}"
    states = [str(state) for state in field.get("/_States_", []) if state != _OFF]
    if states and wanted not in states:
        raise InputError(
            f"the box '{name}' cannot be set to '{box.set_}'",
            hint=f"it knows {', '.join(s.removeprefix('/') for s in states)}",
        )
    return wanted


def _names_on(page: Any) -> set[str]:  # noqa: ANN401 - a page of pypdf
    """Return the full names of the fields that are drawn on a page."""
    found = set()
    for reference in page.get("/Annots", []):
        part, names = reference.get_object(), []
        while part is not None:
            if "/T" in part:
                names.append(str(part["/T"]))
            parent = part.get("/Parent")
            part = parent.get_object() if parent is not None else None
        if names:
            found.add(".".join(reversed(names)))
    return found
