"""A TOML file as a table, and what is wrong with its keys in a person's words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, get_args

import tomli
from pydantic import BaseModel, ValidationError

from tempwitness.errors import InputError, Location
from tempwitness.readers.opening import bytes_of
from tempwitness.readers.problems import Problems, nearest

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

__all__ = ["placed", "read_table", "refuse"]

_PLACE = re.compile(r" \(at line (\d+), column \d+\)$")
_REWORDED = {
    "missing": "is needed but missing",
    "string_type": "must be text in quotes",
    "tuple_type": "must be a list in square brackets",
    "bool_type": "must be true or false",
    "bool_parsing": "must be true or false",
    "date_type": "must be a date such as 2026-07-04",
    "date_parsing": "must be a date such as 2026-07-04",
    "date_from_datetime_parsing": "must be a date such as 2026-07-04",
    "model_type": "must be a table",
    "dict_type": "must be a table",
    "string_too_short": "must not be empty",
}


def read_table(path: Path) -> tuple[dict[str, Any], bytes]:
    """Read a TOML file.

    Returns
    -------
    dict, bytes
        Its table and its raw bytes.

    Raises
    ------
    InputError
        If it cannot be opened, is not UTF-8 or is not TOML.
    """
    raw = bytes_of(path, name=str(path))
    try:
        return tomli.loads(raw.decode("utf-8-sig").replace("\r\n", "\n")), raw
    except UnicodeDecodeError as why:
        raise InputError(
            f"the file is not UTF-8 text (byte {why.start + 1})",
            location=Location(str(path)),
            hint="save it as UTF-8 in the editor",
        ) from None
    except tomli.TOMLDecodeError as why:
        text = str(why)
        found = _PLACE.search(text)
        what = _PLACE.sub("", text)
        raise InputError(
            f"the file is not valid TOML: {what[:1].lower()}{what[1:]}",
            location=Location(str(path), int(found[1]) if found else None),
            hint="text stands in quotes, a key stands once in its table",
        ) from None
    except (ValueError, RecursionError):
        raise InputError(
            "the file holds a number of thousands of digits, or lists within lists without end",
            location=Location(str(path)),
            hint="write what a record asks for",
        ) from None


def refuse(
    error: ValidationError, model: type[BaseModel], raw: bytes, problems: Problems
) -> InputError:
    """Turn what pydantic found into an error that names key, or cell, fault and remedy."""
    lines = [] if problems.places else raw.decode("utf-8-sig").splitlines()
    for fault in error.errors(include_url=False):
        loc = tuple(fault["loc"])
        what = _what(fault["type"], fault["msg"], loc, model, fault.get("ctx", {}))
        if problems.places and fault["type"] == "missing":
            what = f"'{loc[-1]}' {what}"  # an empty cell does not say which key it is
        problems.add(
            what,
            line=_line_of(loc, lines, missing=fault["type"] == "missing"),
            key=_dotted(loc),
        )
    return problems.error()


def placed(loc: tuple[int | str, ...], raw: bytes) -> tuple[int | None, str]:
    """Return the line of a key, ``None`` if it is not plain to see, and its dotted name."""
    lines = raw.decode("utf-8-sig").splitlines()
    return _line_of(loc, lines, missing=False), _dotted(loc)


def _what(
    kind: str,
    message: str,
    loc: tuple[int | str, ...],
    model: type[BaseModel],
    ctx: Mapping[str, Any],
) -> str:
    if kind == "extra_forbidden":
        known = _keys_beside(model, loc)
        close = nearest(str(loc[-1]), known)
        return f"this key is not known here{close}; known are {', '.join(known)}"
    if kind == "value_error":
        return message.removeprefix("Value error, ")
    if kind == "literal_error":
        return f"must be one of {ctx['expected']}"
    return _REWORDED.get(kind, message[:1].lower() + message[1:])


def _keys_beside(model: type[BaseModel], loc: Iterable[int | str]) -> list[str]:
    """Keys that the table knows in which `loc` ends."""
    here = model
    for part in list(loc)[:-1]:
        field = next((f for n, f in here.model_fields.items() if part in (f.alias or n, n)), None)
        inner = None if field is None else _model_in(field.annotation)
        here = inner or here
    return [f.alias or name for name, f in here.model_fields.items()]


def _model_in(annotation: object) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    found = (_model_in(part) for part in get_args(annotation))
    return next((m for m in found if m is not None), None)


def _dotted(loc: tuple[int | str, ...]) -> str:
    """Name a key; entries of a list are counted from 1."""
    text = ""
    for part in loc:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}"
    return text.removeprefix(".")


def _line_of(loc: tuple[int | str, ...], lines: list[str], *, missing: bool) -> int | None:
    """Line of a key, found by its table's header and its name; ``None`` if not plain to see."""
    at = 0
    end = len(lines)
    header = ""
    rest = list(loc)
    while len(rest) > 1 and isinstance(rest[0], str):
        header = f"{header}.{rest[0]}".removeprefix(".")
        nth = rest[1] + 1 if isinstance(rest[1], int) else 1
        start = _nth(lines, header, nth, at)
        if start is None:
            return None
        at = start
        rest = rest[2 if isinstance(rest[1], int) else 1 :]
    end = next((i for i in range(at + 1, end) if lines[i].lstrip().startswith("[")), end)
    key = rest[0] if rest else ""
    pattern = re.compile(rf"\s*[\"']?{re.escape(str(key))}[\"']?\s*=")
    found = next((i for i in range(at, end) if pattern.match(lines[i])), None)
    if found is not None:
        return found + 1
    return at + 1 if header and (missing or not rest) else None


def _nth(lines: list[str], header: str, nth: int, at: int) -> int | None:
    pattern = re.compile(rf"\s*\[?\[\s*{re.escape(header)}\s*\]\]?\s*(#.*)?")
    hits = [i for i in range(at, len(lines)) if pattern.fullmatch(lines[i])]
    return hits[nth - 1] if len(hits) >= nth else None
