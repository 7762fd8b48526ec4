"""How a record is laid out in a workbook: which sheet holds which table, which column which key.

The columns are the keys of the record's tables, taken from the models that read them, so that a
workbook can say whatever a TOML file can, under the same names.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.readers import shape

if TYPE_CHECKING:
    from tempwitness.model.base import Written

__all__ = [
    "ASIDE",
    "COUNT",
    "FACTS",
    "LOT",
    "LOT_KEYS",
    "MARK",
    "SHEETS",
    "UNIT_KEY",
    "SheetPlan",
    "names_of_sheets",
]

#: What the first cell of the first sheet says, so that no table of readings is taken for a record.
MARK = "tempwitness record, schema 1"
LOT = "Lot"
FACTS = "Facts"
#: Sheets for people, which are not read.
ASIDE = ("Read me", "Lists")
#: Head of the first column: the number of a row, by which other sheets refer to it.
COUNT = "no."
#: The unit of readings that were typed as bare figures; a key of workbooks alone.
UNIT_KEY = "readings_unit"


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """One sheet with a row for each entry of a list.

    Parameters
    ----------
    name : str
    table : str
        Key of the list in the record.
    keys : tuple of str
        Its columns, behind the one with the numbers.
    within : str
        Of a list within the entries of another one: the table of those; ``""`` if it stands alone.
    """

    name: str
    table: str
    keys: tuple[str, ...]
    within: str = ""


def _keys(model: type[Written], *without: str) -> tuple[str, ...]:
    names = (info.alias or name for name, info in model.model_fields.items())
    return tuple(name for name in names if name not in without)


SHEETS = (
    SheetPlan("Pieces", "piece", _keys(shape.PieceTable)),
    SheetPlan("Probes", "probe", _keys(shape.ProbeTable, "check")),
    SheetPlan("Checks", "check", ("probe", *_keys(shape.CheckTable)), within="probe"),
    SheetPlan("Readings", "reading", _keys(shape.ReadingTable)),
    SheetPlan("Notes", "note", _keys(shape.NoteTable)),
    SheetPlan("Files", "file", _keys(shape.FileTable, "columns")),
    SheetPlan("Columns", "columns", ("file", "column", *_keys(shape.ColumnTable)), within="file"),
    SheetPlan("Time control", "time_control", _keys(shape.TimeControlTable)),
    SheetPlan("Approvals", "approval", _keys(shape.ApprovalTable)),
    SheetPlan("Rates", "rate", _keys(shape.RateTable)),
    SheetPlan("Passive", "passive", _keys(shape.PassiveTable)),
)
_LISTS = ("food", "facts", *(s.table for s in SHEETS if not s.within))
LOT_KEYS = (
    *_keys(shape.RecordTable, "schema", *_LISTS),
    *(f"food.{key}" for key in _keys(shape.FoodTable, "facts")),
    UNIT_KEY,
)


def names_of_sheets() -> tuple[str, ...]:
    """Return the names of all sheets that are known, those for people last."""
    return (LOT, FACTS, *(plan.name for plan in SHEETS), *ASIDE)
