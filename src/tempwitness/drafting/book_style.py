"""How the sheets of a record's workbook look, on the screen and on paper."""

from __future__ import annotations

from typing import Any

from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

__all__ = ["choose", "dress", "head", "hint", "label", "printed", "prose", "title", "white"]

_FONT = "DejaVu Sans Condensed"
_INK = "FF1A1A1A"
_RULE = "FF9A9A9A"
_STONE = "FFE7E3DA"
_LINE = Side(style="thin", color=_RULE)
_BOX = Border(left=_LINE, right=_LINE, top=_LINE, bottom=_LINE)
_HEAVY = Border(bottom=Side(style="medium", color=_INK))
# Made once: a sheet has thousands of cells.
_TITLE_FONT = Font(name=_FONT, size=15, bold=True, color=_INK)
_HINT_FONT = Font(name=_FONT, size=9, italic=True, color="FF555555")
_PROSE_FONT = Font(name=_FONT, size=11, color=_INK)
_HEAD_FONT = Font(name=_FONT, size=10, bold=True, color=_INK)
_LABEL_FONT = Font(name=_FONT, size=10, color=_INK)
_FILL = PatternFill("solid", start_color=_STONE)
_LOW = Alignment(wrap_text=True, vertical="bottom")
_LOW_WHOLE = Alignment(vertical="bottom")
_HIGH = Alignment(wrap_text=True, vertical="top")
_MIDDLE = Alignment(wrap_text=True, vertical="center")
_OPEN = Protection(locked=False)
_LONGEST_LIST = 255
_BY_SUGGESTION = "warning"


def title(cell: Any, words: str) -> None:  # noqa: ANN401 - the library's cells carry no types
    """Write the title of a sheet."""
    cell.value = words
    cell.font = _TITLE_FONT


def hint(cell: Any, words: str, *, wrap: bool = True) -> None:  # noqa: ANN401 - as above
    """Write an explanation in small type."""
    cell.value = words
    cell.font = _HINT_FONT
    cell.alignment = _LOW if wrap else _LOW_WHOLE


def prose(cell: Any, words: str) -> None:  # noqa: ANN401 - as above
    """Write a sentence to be read."""
    cell.value = words
    cell.font = _PROSE_FONT
    cell.alignment = _HIGH


def head(cell: Any, words: str) -> None:  # noqa: ANN401 - as above
    """Write the head of a column."""
    cell.value = words
    cell.font = _HEAD_FONT
    cell.fill = _FILL
    cell.border = _HEAVY
    cell.alignment = _MIDDLE


def label(cell: Any, words: str, *, needed: bool = False) -> None:  # noqa: ANN401 - as above
    """Write what must not be changed: a key, a number, a question."""
    cell.value = words
    cell.font = _HEAD_FONT if needed else _LABEL_FONT
    cell.fill = _FILL
    cell.border = _BOX
    cell.alignment = _MIDDLE


def white(cell: Any, shown: str = "@") -> None:  # noqa: ANN401 - as above
    """Make a cell to be filled in; `shown` is its number format."""
    cell.font = _PROSE_FONT
    cell.border = _BOX
    cell.number_format = shown
    cell.alignment = _MIDDLE
    cell.protection = _OPEN


def dress(sheet: Any, widths: list[float], *, frozen: str) -> None:  # noqa: ANN401 - as above
    """Set the widths of columns [characters], and what stays in sight when the rest scrolls."""
    for number, width in enumerate(widths, 1):
        sheet.column_dimensions[get_column_letter(number)].width = width
    sheet.freeze_panes = frozen
    sheet.sheet_view.showGridLines = False


def printed(sheet: Any, rows: str, *, wide: bool) -> None:  # noqa: ANN401 - as above
    """Set up the pages: as wide as the sheet, its head on every one, numbered at the foot."""
    sheet.page_setup.orientation = "landscape" if wide else "portrait"
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = rows
    sheet.print_options.horizontalCentered = True
    sheet.oddFooter.left.text = "&A"
    sheet.oddFooter.right.text = "page &P of &N"
    margins = sheet.page_margins
    margins.left = margins.right = 0.5
    margins.top = margins.bottom = 0.6


def choose(sheet: Any, cells: str, source: str | list[str], *, strict: bool = True) -> None:  # noqa: ANN401 - as above
    """Offer words to choose from.

    Parameters
    ----------
    sheet : Worksheet
    cells : str
        Range, such as ``C6:C205``.
    source : str or list of str
        Words, or the range of another sheet that holds them.
    strict : bool
        Whether anything else is refused; else it is asked about.
    """
    words = source if isinstance(source, str) else f'"{",".join(source)}"'
    if len(words) > _LONGEST_LIST:
        raise ValueError(f"a list of {len(words)} characters is longer than a cell's rule may be")
    rule = DataValidation(
        type="list",
        formula1=words,
        allow_blank=True,
        showErrorMessage=True,
        errorStyle="stop" if strict else _BY_SUGGESTION,
        errorTitle="Not one of the words",
        error="Choose one from the list, or leave the cell empty.",
    )
    rule.add(cells)
    sheet.add_data_validation(rule)
