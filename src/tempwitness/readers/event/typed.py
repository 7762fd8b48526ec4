"""One typed answer understood as the key of an event file wants it."""

from __future__ import annotations

import datetime as dt
import types
from typing import TYPE_CHECKING, Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import TypeAdapter, ValidationError

if TYPE_CHECKING:
    from tempwitness.model.base import Written

__all__ = ["typed"]

_AS_READ = (dt.date, dt.datetime, dt.time)
_YES_NO = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


def typed(model: type[Written], key: str, text: str) -> Any:  # noqa: ANN401 - a TOML value
    """Return a typed answer as the event file holds it.

    Raises
    ------
    ValueError
        Saying what cannot be understood.
    """
    info = model.model_fields[key]
    kind = info.annotation
    plain = _plain(kind, text)
    wanted: Any = Annotated[(kind, *info.metadata)] if info.metadata else kind
    try:
        found = TypeAdapter(wanted).validate_python(plain)
    except ValidationError as why:
        fault = why.errors(include_url=False)[0]
        if fault["type"] == "literal_error":
            raise ValueError(f"'{text}' is none of {fault['ctx']['expected']}") from None
        raise ValueError(fault["msg"].removeprefix("Value error, ")) from None
    # Days and times stand in the file as such; a word, a measure or a list as it was typed.
    return found if type(found) in _AS_READ else plain


def _plain(kind: Any, text: str) -> Any:  # noqa: ANN401 - an annotation, a TOML value
    kinds = set(_kinds(kind))
    if bool in kinds:
        if text.lower() not in _YES_NO:
            raise ValueError(f"'{text}' is neither yes nor no")
        return _YES_NO[text.lower()]
    if tuple in kinds:
        return [part.strip() for part in text.split(",") if part.strip()]
    if int in kinds or float in kinds:
        try:
            return float(text) if "." in text else int(text)
        except ValueError:
            raise ValueError(f"'{text}' is not a number") from None
    return text


def _kinds(kind: Any) -> list[Any]:  # noqa: ANN401 - an annotation
    origin = get_origin(kind)
    if origin is Annotated:
        return _kinds(get_args(kind)[0])
    if origin in (Union, types.UnionType):
        return [k for part in get_args(kind) for k in _kinds(part)]
    if origin is Literal:
        return [str]
    return [origin or kind]
