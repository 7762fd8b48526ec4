"""The sheets of a record's workbook, one after the other."""

from __future__ import annotations

from datetime import UTC, date, datetime
from enum import StrEnum
from typing import TYPE_CHECKING, Any
from zoneinfo import available_timezones

from openpyxl.utils import get_column_letter

from tempwitness.drafting import book_style as style
from tempwitness.drafting.book_words import HINTS, READ_ME, SHEET_WORDS, WIDTHS
from tempwitness.model.vocabulary import Business, Cut, Event, Form, Place, Species, StageName
from tempwitness.readers.book_layout import (
    ASIDE,
    COUNT,
    FACTS,
    LOT,
    LOT_KEYS,
    MARK,
    UNIT_KEY,
    SheetPlan,
)
from tempwitness.rulebook.facts import load_facts
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.places import places

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from openpyxl import Workbook

__all__ = ["Sheets"]

Cells = dict[str, object]

_YES_NO = ["yes", "no"]
_UNITS = ["F", "C"]
_STAGES = [s.value for s in StageName]
_PLACES = [p.value for p in Place]
_FOLD = ["first", "second"]
_CHOICES: dict[str, list[str]] = {
    "business": [b.value for b in Business],
    "food.species": [s.value for s in Species],
    "food.cut": [c.value for c in Cut],
    "food.form": [f.value for f in Form],
    "food.shape": ["any", "flat", "long"],
    UNIT_KEY: _UNITS,
    "Probes.scale": ["F", "C", "both"],
    "Probes.reads": ["food", "air"],
    "Probes.class": ["AA", "A", "B", "C", "1", "2"],
    "Probes.correct": _YES_NO,
    "Probes.drift": ["unknown", "constant"],
    "Checks.kind": ["ice", "boiling", "reference"],
    "Checks.fold": _FOLD,
    "Readings.place": _PLACES,
    "Readings.typed_later": _YES_NO,
    "Readings.fold": _FOLD,
    "Notes.step": _STAGES,
    "Notes.event": [e.value for e in Event],
    "Notes.fold": _FOLD,
    "Files.place": _PLACES,
    "Files.unit": _UNITS,
    "Files.day_order": ["day-first", "month-first"],
    "Files.fold": _FOLD,
    "Columns.place": _PLACES,
    "Columns.unit": _UNITS,
    "Time control.option": ["4h", "6h"],
    "Time control.marked": ["yes", "no", "unknown"],
    "Time control.fold": _FOLD,
    "Rates.stage": _STAGES,
    "Passive.stage": _STAGES,
}
#: Words that may stand beside others in one cell, so that a list can only suggest them.
_SEVERAL = ("food.form",)
_NEEDED = frozenset({"lot", "code", "zone", "food.name"})
_ROWS = {"Readings": 200, "Notes": 60, "Pieces": 20, "Checks": 30, "Columns": 30}
_USUAL_ROWS = 12
_USUAL_WIDTH = 15
_DAYS = frozenset({"date", "granted", "expires", "written"})
_HEAD_ROW = 4
_READ, _LISTS = ASIDE


class Sheets:
    """A workbook that is being written.

    Parameters
    ----------
    book : Workbook
        An empty one.
    spare : bool
        Whether empty rows stand below the entries.
    """

    def __init__(self, book: Workbook, *, spare: bool = True) -> None:
        self.book = book
        self.spare = spare
        book.remove(book.active)
        # Nothing here reads the clock.
        book.properties.created = datetime(1980, 1, 1, tzinfo=UTC).replace(tzinfo=None)
        book.properties.creator = "tempwitness"
        book.properties.title = "Record of a lot"

    def read_me(self) -> None:
        """Write the sheet that explains the others."""
        sheet = self.book.create_sheet(_READ)
        style.title(sheet["A1"], "Record of a lot")
        for row, sentence in enumerate(READ_ME, 3):
            style.prose(sheet.cell(row, 1), sentence)
        style.dress(sheet, [96], frozen="A3")
        style.printed(sheet, "1:1", wide=False)

    def lot(self, values: Mapping[str, object]) -> None:
        """Write the sheet with a key and a value in each row."""
        sheet = self.book.create_sheet(LOT)
        style.title(sheet["A1"], MARK)
        style.hint(sheet["A2"], SHEET_WORDS[LOT], wrap=False)
        self._heads(sheet, ("key", "value", "what it is"))
        for row, key in enumerate(LOT_KEYS, _HEAD_ROW + 1):
            style.label(sheet.cell(row, 1), key, needed=key in _NEEDED)
            style.white(sheet.cell(row, 2), _format(key))
            _put(sheet.cell(row, 2), values.get(key))
            style.hint(sheet.cell(row, 3), HINTS[key])
            if key in _CHOICES:
                style.choose(sheet, f"B{row}", _CHOICES[key], strict=key not in _SEVERAL)
        for letter, (key, known) in zip("ABC", self._known().items(), strict=True):
            row = _HEAD_ROW + 1 + LOT_KEYS.index(key)
            source = f"{_LISTS}!${letter}$2:${letter}${1 + len(known)}"
            style.choose(sheet, f"B{row}", source, strict=False)
        style.dress(sheet, [18, 42, 62], frozen=f"B{_HEAD_ROW + 1}")
        style.printed(sheet, f"1:{_HEAD_ROW}", wide=False)

    def facts(self, values: Mapping[str, object]) -> None:
        """Write the sheet of questions."""
        sheet = self.book.create_sheet(FACTS)
        self._top(sheet, FACTS)
        self._heads(sheet, ("fact", "answer", "question"))
        known = load_facts()
        # What was answered comes first, so that it is seen.
        order = [*values, *(name for name in known if name not in values)]
        for row, name in enumerate(order, _HEAD_ROW + 1):
            style.label(sheet.cell(row, 1), name)
            style.white(sheet.cell(row, 2))
            _put(sheet.cell(row, 2), values.get(name))
            style.hint(sheet.cell(row, 3), known[name].asks if name in known else "")
            if name in known and not known[name].number:
                style.choose(sheet, f"B{row}", list(known[name].answers))
        style.dress(sheet, [30, 24, 78], frozen=f"B{_HEAD_ROW + 1}")
        style.printed(sheet, f"1:{_HEAD_ROW}", wide=False)

    def entries(self, plan: SheetPlan, rows: Sequence[Mapping[str, object]]) -> None:
        """Write a sheet with a row for each entry, and empty ones below."""
        sheet = self.book.create_sheet(plan.name)
        self._top(sheet, plan.name)
        style.head(sheet.cell(_HEAD_ROW, 1), COUNT)
        empty = max(_ROWS.get(plan.name, _USUAL_ROWS), len(rows) + _USUAL_ROWS)
        count = empty if self.spare else len(rows)
        last = _HEAD_ROW + count
        for column, key in enumerate(plan.keys, 2):
            hint = HINTS.get(f"{plan.name}.{key}") or HINTS[key]
            style.hint(sheet.cell(_HEAD_ROW - 1, column), hint)
            style.head(sheet.cell(_HEAD_ROW, column), key)
            if count:
                self._offer(sheet, plan, key, (column, last))
        for number in range(1, count + 1):
            row = _HEAD_ROW + number
            style.label(sheet.cell(row, 1), "")
            sheet.cell(row, 1).value = number
            values = rows[number - 1] if number <= len(rows) else {}
            for column, key in enumerate(plan.keys, 2):
                style.white(sheet.cell(row, column), _format(key))
                _put(sheet.cell(row, column), values.get(key))
        widths = [WIDTHS.get(key, _USUAL_WIDTH) for key in plan.keys]
        style.dress(sheet, [6.0, *map(float, widths)], frozen=f"B{_HEAD_ROW + 1}")
        style.printed(sheet, f"1:{_HEAD_ROW}", wide=True)

    def lists(self) -> None:
        """Write the words of long lists, from which cells choose."""
        sheet = self.book.create_sheet(_LISTS)
        for place, (name, known) in enumerate(self._known().items(), 1):
            style.head(sheet.cell(1, place), name)
            for row, word in enumerate(known, 2):
                sheet.cell(row, place).value = word
        style.dress(sheet, [34, 24, 34], frozen="A2")

    def _heads(self, sheet: Any, words: Sequence[str]) -> None:  # noqa: ANN401 - as above
        for column, word in enumerate(words, 1):
            style.head(sheet.cell(_HEAD_ROW, column), word)

    def _top(self, sheet: Any, name: str) -> None:  # noqa: ANN401 - the library has no types
        style.title(sheet["A1"], name)
        style.hint(sheet["A2"], SHEET_WORDS[name], wrap=False)

    def _offer(
        self,
        sheet: Any,  # noqa: ANN401 - as above
        plan: SheetPlan,
        key: str,
        place: tuple[int, int],
    ) -> None:
        column, last = place
        letter = get_column_letter(column)
        cells = f"{letter}{_HEAD_ROW + 1}:{letter}{last}"
        words = _CHOICES.get(f"{plan.name}.{key}")
        if words is not None:
            style.choose(sheet, cells, words)
        elif key in ("piece", "probe"):
            owner = "Pieces" if key == "piece" else "Probes"
            end = _HEAD_ROW + _ROWS.get(owner, _USUAL_ROWS)
            style.choose(sheet, cells, f"{owner}!$B${_HEAD_ROW + 1}:$B${end}", strict=False)

    def _known(self) -> dict[str, list[str]]:
        return {
            "code": code_ids(),
            "place": sorted(places()),
            "zone": sorted(available_timezones()),
        }


def _format(key: str) -> str:
    """Return the number format of a cell: text, a day, or a time."""
    if key == "at":
        return "yyyy-mm-dd hh:mm"
    return "yyyy-mm-dd" if key in _DAYS else "General" if key == "temp" else "@"


def _put(cell: Any, value: object) -> None:  # noqa: ANN401 - as above
    """Write a value; a text that begins like a formula stays a text."""
    if value is None or value == "":
        return
    shown = cell.number_format
    if isinstance(value, StrEnum):
        value = value.value
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
    elif isinstance(value, datetime) and value.second:
        cell.number_format = "yyyy-mm-dd hh:mm:ss"
    elif isinstance(value, date):
        cell.number_format = shown
