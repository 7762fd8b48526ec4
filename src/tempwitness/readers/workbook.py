"""A sheet of a workbook as rows of text, as its CSV export would hold them."""

from __future__ import annotations

import io
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from tempwitness.readers.cell_errors import failed_cells
from tempwitness.readers.intact import refuse_damaged
from tempwitness.readers.layout import HeadRow
from tempwitness.readers.sniff import from_rows

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tempwitness.readers.problems import Problems
    from tempwitness.readers.sniff import Text

__all__ = ["as_text", "to_second"]


def as_text(raw: bytes, sheet: str | None, problems: Problems, named: Collection[str] = ()) -> Text:
    """Read a sheet by the cells' stored values; formulas are not computed.

    Parameters
    ----------
    raw : bytes
        The workbook.
    sheet : str, optional
        Name of the sheet; may be left out if the workbook has only one.
    problems : Problems
    named : collection of str
        Columns that the record maps.

    Raises
    ------
    InputError
        If the reader for workbooks is not installed, the file is none, or the sheet is not plain.
    """
    try:
        from python_calamine import CalamineError, CalamineWorkbook  # noqa: PLC0415 - an extra
    except ImportError:
        problems.stop(
            "workbooks need a reader that is not installed",
            'run: pip install "tempwitness[excel]" – or save the sheet as CSV',
        )
    try:
        refuse_damaged(raw)
    except ValueError as why:
        problems.stop(f"the workbook cannot be read ({why})", "save it again, or as CSV")
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(raw))
        name = _sheet(book.sheet_names, sheet, problems)
        rows = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
    except CalamineError as why:
        problems.stop(f"the workbook cannot be read ({why})", "save it again as .xlsx, or as CSV")
    if not any(str(cell).strip() for row in rows for cell in row):
        problems.stop(
            f"the sheet '{name}' is empty",
            "begin it with the names of the columns, such as time, temp_f, piece",
            line=1,
        )
    failed = failed_cells(raw, name)
    cells = [
        HeadRow(at + 1, at + 1, tuple(_text(failed, at, i, cell) for i, cell in enumerate(row)))
        for at, row in enumerate(rows)
    ]
    return from_rows(cells, f"sheet '{name}' of a workbook", problems, named)


def _text(failed: Mapping[tuple[int, int], str], row: int, column: int, cell: object) -> str:
    written = failed.get((row, column)) if cell == "" else None
    return _cell(cell).strip() if written is None else written


def _sheet(names: Sequence[str], wanted: str | None, problems: Problems) -> str:
    if wanted is None and len(names) == 1:
        return names[0]
    if wanted in names and wanted is not None:
        return wanted
    what = "it is not said which sheet is meant" if wanted is None else f"no sheet '{wanted}'"
    problems.stop(
        f"{what}; the workbook has {', '.join(names)}",
        'name it in a record (sheet = "…" under [[file]]), or keep only one sheet',
    )


def _cell(value: object) -> str:
    if isinstance(value, datetime):
        return to_second(value).isoformat(" ")
    if isinstance(value, time):
        return to_second(datetime.combine(date(2000, 1, 1), value)).time().isoformat()
    if isinstance(value, timedelta):
        return f"{value} (a length of time)"
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).replace("\n", " ").replace("\r", " ")


def to_second(value: datetime) -> datetime:
    """Undo the rounding of a day's fraction, which leaves a few microseconds."""
    whole = (value + timedelta(milliseconds=1)).replace(microsecond=0)
    return whole if abs(whole - value) <= timedelta(milliseconds=1) else value
