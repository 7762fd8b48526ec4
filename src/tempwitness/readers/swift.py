"""A large and clean table read by pandas; anything unusual is left to the careful reader."""

from __future__ import annotations

import io
import warnings
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from tempwitness.readers.sheets import Asked, Labels, Numbers

if TYPE_CHECKING:
    from tempwitness.model.logs import Bools, Floats, Ints
    from tempwitness.readers.sniff import Text

__all__ = ["SwiftSheet", "read_swiftly"]

# The parser's quick conversion is off by a few units in the last place; no probe writes more.
_DECIMALS = 6


class SwiftSheet:
    """Columns of a table, as pandas read them."""

    def __init__(self, frame: pd.DataFrame, lines: Ints) -> None:
        self._frame = frame
        self._labels: dict[int, Labels] = {}
        self.lines = lines

    def labels(self, column: int) -> Labels:
        """Column of words."""
        if column not in self._labels:
            self._labels[column] = _labels(self._frame, column)
        return self._labels[column]

    def stamps(self, column: int) -> None:
        """Tell that stamps are kept as words here."""

    def numbers(self, column: int) -> Numbers:
        """Column of temperatures."""
        value: Floats = np.round(self._frame[column].to_numpy(np.float64), _DECIMALS)
        return Numbers(value, np.isnan(value), None)


def read_swiftly(text: Text, asked: Asked) -> SwiftSheet | None:
    """Read a table at once.

    Returns
    -------
    SwiftSheet or None
        ``None`` when something in it needs a closer look.
    """
    frame = _parse(text, asked) if _even(text) else None
    if frame is None or not _finite(frame, asked):
        return None
    ends = text.data.count(b"\n") + (not text.data.endswith(b"\n"))
    if ends != len(frame) + 1:
        return None
    lines = np.arange(2, len(frame) + 2) + text.before
    empty = _empty(frame, asked)
    if bool(empty.any()):
        frame, lines = frame[~empty], lines[~empty]
    return SwiftSheet(frame, lines)


def _even(text: Text) -> bool:
    """Whether every line has as many cells as the header, or is empty.

    The parser fills short rows up without a word; a line that lost its end would pass for whole.
    """
    if b"\0" in text.data:
        return False
    signs = np.frombuffer(text.data, np.uint8)
    newline, quote = signs == ord("\n"), signs == ord('"')
    outside = (np.cumsum(quote, dtype=np.uint8) & 1) == 0
    marks = np.flatnonzero((newline | (signs == ord(text.separator))) & outside)
    ends = np.flatnonzero(newline[marks])
    inside = np.diff(np.concatenate((ends, [len(marks)])) if len(ends) else [0]) - 1
    if text.data.endswith(b"\n"):
        inside = inside[:-1]
    wide = len(text.header) - 1
    starts = marks[ends][: len(inside)] + 1
    bare = np.isin(signs[np.minimum(starts, len(signs) - 1)], (ord("\n"), ord("\r")))
    return bool(((inside == wide) | ((inside == 0) & bare)).all())


def _parse(text: Text, asked: Asked) -> pd.DataFrame | None:
    # All columns are read: with a choice of columns the parser drops surplus cells without a word.
    # It works in chunks, which is quicker than one run here.
    wide = len(text.header)
    numbers = [column for column, _ in asked.numbers]
    kinds: dict[Any, str] = dict.fromkeys(range(wide), "category")
    kinds |= dict.fromkeys(numbers, "float64")
    empty: dict[Any, list[str]] = {column: [""] for column in numbers}
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            frame: pd.DataFrame = pd.read_csv(
                io.BytesIO(text.data),
                sep=text.separator,
                engine="c",
                header=0,
                names=list(range(wide)),
                index_col=False,
                dtype=kinds,
                keep_default_na=False,
                na_values=empty,
                skip_blank_lines=False,
                encoding="utf-8",
            )
        except (ValueError, pd.errors.ParserWarning):
            return None
    return frame


def _finite(frame: pd.DataFrame, asked: Asked) -> bool:
    return not any(bool(np.isinf(frame[c].to_numpy(np.float64)).any()) for c, _ in asked.numbers)


def _labels(frame: pd.DataFrame, column: int) -> Labels:
    found: Any = frame[column].array
    names = [str(name).strip() for name in found.categories.to_numpy(object).tolist()]
    codes = np.asarray(found.codes)
    if len(set(names)) == len(names):
        return Labels(codes, names)
    known: dict[str, int] = {}
    moved = np.array([known.setdefault(name, len(known)) for name in names], np.int64)
    return Labels(moved[codes], list(known))


def _empty(frame: pd.DataFrame, asked: Asked) -> Bools:
    """Rows of which no cell is filled."""
    empty = np.ones(len(frame), np.bool_)
    for column, _ in asked.numbers:
        empty &= np.isnan(frame[column].to_numpy(np.float64))
    if bool(empty.any()):
        for column in asked.words:
            empty &= _labels(frame, column).blank()
    return empty
