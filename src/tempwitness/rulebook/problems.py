"""What is wrong with a rule file, gathered and put into words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING

from tempwitness.errors import Location, RuleError
from tempwitness.rulebook.files import line_of_table, shown

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from pydantic import BaseModel, ValidationError
    from pydantic_core import ErrorDetails

__all__ = ["Problem", "place", "problems_of", "raise_if_any"]


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong: where, in which requirement, at which key, and what."""

    location: Location
    subject: str
    what: str

    def __str__(self) -> str:
        return f"{self.subject}: {self.what}" if self.subject else self.what


def place(path: Path, table: str, ordinal: int, key: str = "") -> Location:
    """Return the location of a key in the n-th ``[[table]]`` of a file."""
    return Location(shown(path), line=line_of_table(path, table, ordinal), key=key or None)


def problems_of(
    error: ValidationError, model: type[BaseModel], subject: str, where: Location
) -> list[Problem]:
    """Put what pydantic found into words for a person who writes rule files.

    Parameters
    ----------
    model : type
        Model that was being filled; its keys serve as suggestions.
    subject : str
        How the thing is named in the message, such as ``requirement 'hot-hold'``.
    where : Location
        The table's place; the key is added.
    """
    found = []
    for entry in error.errors(include_url=False):
        key = ".".join(_without_tags(entry["loc"]))
        location = Location(where.file, line=where.line, key=key or where.key)
        found.append(Problem(location, subject, _words(entry, model)))
    return found


def raise_if_any(problems: Sequence[Problem]) -> None:
    """Raise one error that names all problems, placed at the first.

    Raises
    ------
    RuleError
        If there is any problem.
    """
    if not problems:
        return
    first, *rest = problems
    message = str(first)
    if rest:
        lines = "".join(f"\n  also: {p.location}: {p}" for p in rest)
        message = f"{first}{lines}"
    raise RuleError(
        message,
        location=first.location,
        hint="see rules/README.md for the keys of a rule file and what each may hold",
    )


def _without_tags(loc: Iterable[int | str]) -> list[str]:
    """Drop the name of the form that pydantic inserts after 'test'."""
    parts: list[str] = []
    after_test = False
    for part in loc:
        if after_test:
            after_test = False
            continue
        parts.append(str(part))
        after_test = part == "test"
    return parts


def _words(entry: ErrorDetails, model: type[BaseModel]) -> str:
    kind, given = entry["type"], entry["input"]
    name = str(entry["loc"][-1]) if entry["loc"] else ""
    if kind == "extra_forbidden":
        return f"key '{name}' is not known here{_near(name, model)}"
    if kind == "missing":
        return f"key '{name}' is missing"
    if kind in ("literal_error", "enum"):
        expected = str(entry["ctx"]["expected"])
        near = get_close_matches(str(given), re.findall(r"'([^']+)'", expected), n=1)
        meant = f"; did you mean '{near[0]}'?" if near else ""
        return f"{given!r} is not allowed; it must be {expected}{meant}"
    if kind == "union_tag_invalid":
        return f"form {entry['ctx']['tag']!r} is not one of {entry['ctx']['expected_tags']}"
    text = str(entry["msg"]).removeprefix("Value error, ")
    return f"{text[:1].lower()}{text[1:]}"


def _near(name: str, model: type[BaseModel]) -> str:
    known = [field.alias or key for key, field in model.model_fields.items()]
    near = get_close_matches(name, known, n=1)
    return f"; did you mean '{near[0]}'?" if near else ""
