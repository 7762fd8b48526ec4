"""What has been answered of a record, table by table, under the keys that the record uses."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.drafting.toml_text import Value

__all__ = ["Draft", "Table"]

Table = dict[str, "Value"]


@dataclass(slots=True)
class Draft:
    """A record on its way; what was not answered is absent.

    Parameters
    ----------
    head : Table
        Keys of the whole record: ``lot``, ``code``, ``zone``, ``business``, ``date`` …
    food : Table
        Keys of ``[food]``.
    facts : Table
        Keys of ``[facts]``.
    pieces, probes, files, readings, notes : list of Table
        Entries of the lists of the same names.
    kind : str
        What the food's name was understood as; said in a comment only.
    """

    head: Table = field(default_factory=dict)
    food: Table = field(default_factory=dict)
    facts: Table = field(default_factory=dict)
    pieces: list[Table] = field(default_factory=list)
    probes: list[Table] = field(default_factory=list)
    files: list[Table] = field(default_factory=list)
    readings: list[Table] = field(default_factory=list)
    notes: list[Table] = field(default_factory=list)
    kind: str = ""
