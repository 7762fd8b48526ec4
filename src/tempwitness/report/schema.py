"""The shape of the JSON document, and the way back from it."""

from __future__ import annotations

import json
from typing import Any

from pydantic import TypeAdapter, ValidationError

from tempwitness.errors import ReportError
from tempwitness.model.finding import SCHEMA, Evaluation
from tempwitness.model.status import STATUS_SCHEMA, Status

__all__ = ["from_json", "json_schema", "status_schema"]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schema() -> dict[str, Any]:
    """Return the JSON Schema of an evaluation; keys that it does not name are refused."""
    return _schema_of(Evaluation, SCHEMA)


def status_schema() -> dict[str, Any]:
    """Return the JSON Schema of a status; keys that it does not name are refused."""
    return _schema_of(Status, STATUS_SCHEMA)


def _schema_of(kind: type, name: str) -> dict[str, Any]:
    schema = TypeAdapter(kind).json_schema(mode="serialization")
    for part in (schema, *schema["$defs"].values()):
        if part.get("type") == "object":
            part["additionalProperties"] = False
            # Every key is always written, also where it has a default value.
            part["required"] = list(part["properties"])
    schema["properties"]["schema"]["const"] = name
    return {"$schema": _DIALECT, "$id": name, **schema}


def from_json(text: str) -> Evaluation:
    """Read an evaluation back.

    Parameters
    ----------
    text : str
        What ``to_json`` wrote.

    Raises
    ------
    ReportError
        If the text is not JSON, or not an evaluation in the version that is understood.
    """
    try:
        tree = json.loads(text)
    except ValueError as error:
        raise ReportError(
            f"the text is not JSON: {error}", hint="give one line of 'check --json'"
        ) from error
    found = tree.get("schema") if isinstance(tree, dict) else None
    if found != SCHEMA:
        raise ReportError(
            f"the document names the schema {found!r}, and only {SCHEMA!r} is understood",
            hint="write it again from its record with this version",
        )
    return _checked(text)


def _checked(text: str) -> Evaluation:
    try:
        return TypeAdapter(Evaluation).validate_json(text)
    except ValidationError as error:
        wrong = "; ".join(f"{'.'.join(map(str, e['loc']))}: {e['msg']}" for e in error.errors()[:5])
        raise ReportError(
            f"the document is not an evaluation: {wrong}",
            hint="write it again from its record",
        ) from error
