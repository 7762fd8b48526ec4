"""A map: which answer of an event file goes into which field of an authority's form."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field, ValidationError

from tempwitness.model.base import Written
from tempwitness.readers.problems import Problems
from tempwitness.readers.toml import read_table, refuse

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["Box", "FormMap", "filled", "keys_in", "read_map"]

_KEY = re.compile(r"\{([^{}]*)\}")


class Box(Written):
    """A box that is ticked when an answer is a certain one."""

    when: Annotated[str, Field(min_length=1)]
    is_: str = Field(alias="is")
    set_: str = Field(alias="set", default="Yes")


class FormMap(Written):
    """A whole map; a field takes a text with keys in braces, or a box to tick."""

    schema_: Literal[1] = Field(alias="schema")
    form: str = ""
    field: dict[str, Box | str]


def read_map(path: Path) -> FormMap:
    """Read a map.

    Raises
    ------
    InputError
        If it cannot be understood.
    """
    table, raw = read_table(path)
    try:
        return FormMap.model_validate(table)
    except ValidationError as why:
        raise refuse(why, FormMap, raw, Problems(str(path))) from None


def keys_in(template: str) -> list[str]:
    """Return the keys that a text names.

    Examples
    --------
    >>> keys_in("{vendor.owner}, {vendor.phone}")
    ['vendor.owner', 'vendor.phone']
    """
    return [key.strip() for key in _KEY.findall(template)]


def filled(template: str, said: dict[str, str]) -> str:
    """Put answers in the place of the keys that a text names."""
    return _KEY.sub(lambda match: said[match[1].strip()], template)
