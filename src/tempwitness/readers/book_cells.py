"""What stands in a cell of a record's workbook, as the value that a TOML file would hold."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from tempwitness.readers.workbook import to_second

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["column_letters", "listed", "value_of"]

_YES_NO = {"yes": True, "true": True, "no": False, "false": False}
_BOOLS = frozenset({"correct", "typed_later"})
_DATES = frozenset({"date", "granted", "expires", "written"})
_CLOCKS = frozenset({"at"})
_LISTS = frozenset({"also", "overrides", "food.form", "ignore", "pieces", "ambient"})
_FIGURES = frozenset({"per_hour"})
#: A person's own words, whose blanks are kept.
_FREE = frozenset({"text", "reason"})
_PARTED = ";"


def column_letters(column: int) -> str:
    """Name a column, counted from 0, as workbooks do.

    Examples
    --------
    >>> column_letters(0), column_letters(27)
    ('A', 'AB')
    """
    letters, number = "", column + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def listed(text: str) -> list[str]:
    """Part a cell that holds several things, by semicolons or lines.

    Examples
    --------
    >>> listed("injected; ground")
    ['injected', 'ground']
    """
    parts = text.replace("\n", _PARTED).split(_PARTED)
    return [part.strip() for part in parts if part.strip()]


def value_of(key: str, cell: object, *, unit: str = "", clocked: bool = False) -> object:
    """Return a cell's value, for the models that read records; ``None`` for an empty cell.

    Parameters
    ----------
    key : str
        Key whose value it is.
    cell : object
        Text, number, truth value, date, time or length of time, as the workbook holds it.
    unit : str
        Unit of bare temperatures among the readings, if the workbook says one.
    clocked : bool
        Whether a cell with a date shows a time of day as well, so that its midnight is meant.

    Raises
    ------
    ValueError
        If the cell is of another kind than the key asks for.
    """
    if cell is None or (isinstance(cell, str) and not cell.strip()):
        return None
    if key in _CLOCKS:
        return _clock(cell, clocked=clocked)
    kind = next((read for keys, read in _KINDS if key in keys), None)
    if kind is not None:
        return kind(cell)
    text = _text(cell)
    if key == "temp" and unit and isinstance(cell, int | float):
        return f"{text} {unit}"
    return text if key in _FREE else text.strip()


def _text(cell: object) -> str:
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    if isinstance(cell, date | time | timedelta):
        raise ValueError(  # noqa: TRY004 - what a person wrote is wrong, not what was passed
            f"a date or a time ({cell}) stands here; if text is meant, format the cell as text and "
            "type it again"
        )
    return str(cell)


def _clock(cell: object, *, clocked: bool) -> object:
    if isinstance(cell, datetime):
        return to_second(cell)
    if isinstance(cell, time):
        return to_second(datetime.combine(date(2000, 1, 1), cell)).time()
    if isinstance(cell, date):
        if clocked:
            return datetime.combine(cell, time())
        raise ValueError(f'only a date stands here; write the time too: "{cell} 18:10"')
    if isinstance(cell, str):
        return cell.strip()
    raise ValueError(f'{_text(cell)} is no time; write it as "2026-07-04 18:10"')


def _date(cell: object) -> object:
    if isinstance(cell, datetime):
        raise ValueError("a day is wanted here, without a time")  # noqa: TRY004 - as above
    if isinstance(cell, date):
        return cell
    if isinstance(cell, str):
        return cell.strip()
    raise ValueError(f'{cell} is no day; write it as "2026-07-04"')


def _bool(cell: object) -> bool:
    if isinstance(cell, bool):
        return cell
    found = _YES_NO.get(str(cell).strip().lower())
    if found is None:
        raise ValueError(f"'{cell}' is neither yes nor no")
    return found


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise ValueError(f"'{text}' is no number; write two, such as 0.3; 0.9") from None


def _listing(cell: object) -> list[str]:
    return listed(_text(cell))


def _figures(cell: object) -> list[float]:
    return [_number(part) for part in _listing(cell)]


_KINDS: tuple[tuple[frozenset[str], Callable[[object], object]], ...] = (
    (_DATES, _date),
    (_BOOLS, _bool),
    (_LISTS, _listing),
    (_FIGURES, _figures),
)
