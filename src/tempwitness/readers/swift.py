"""A large and clean table read by pandas; anything unusual is left to the careful reader."""

from __future__ import annotations

import io
import warnings
from typing import Any

import numpy as np
import pandas as pd

from tempwitness.model.logs import Bools, Floats, Ints
from tempwitness.readers.sheets import Asked, Labels, Numbers
from tempwitness.readers.sniff import Text

__all__ = ["SwiftSheet", "read_swiftly"]

# The parser's quick conversion is off by a few units in the last place; no probe writes more.
_DECIMALS = 6


class SwiftSheet:
    """Columns of a table, as pandas read them."""

    def __init__(self, frame: pd.DataFrame, lines: Ints) -> None:
        self._frame = frame
        self.lines = lines

    def labels(self, column: int) -> Labels:
        """Column of words."""
        found = self._frame[column].array
        names = [str(name).strip() for name in found.categories]
        codes = np.asarray(found.codes)
        if len(set(names)) < len(names):
            known: dict[str, int] = {}
            moved = np.array([known.setdefault(n, len(known)) for n in names], np.int64)
            return Labels(moved[codes], list(known))
        return Labels(codes, names)

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
    frame = _parse(text, asked)
    if frame is None or not _finite(frame, asked):
        return None
    ends = text.data.count(b"\n") + (not text.data.endswith(b"\n"))
    if ends != len(frame) + 1:
        return None
    lines = np.arange(2, len(frame) + 2)
    kept = _kept(frame, asked)
    if not bool(kept.all()):
        frame, lines = frame[kept], lines[kept]
    return SwiftSheet(frame, lines)


def _parse(text: Text, asked: Asked) -> pd.DataFrame | None:
    # All columns are read: with a choice of columns the parser drops surplus cells without a word.
    wide = len(text.header)
    kinds: dict[int, Any] = dict.fromkeys(range(wide), "category")
    kinds |= {column: np.float64 for column, _ in asked.numbers}
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            return pd.read_csv(
                io.BytesIO(text.data),
                sep=text.separator,
                engine="c",
                header=0,
                names=list(range(wide)),
                index_col=False,
                dtype=kinds,
                keep_default_na=False,
                na_values={column: [""] for column, _ in asked.numbers},
                skip_blank_lines=False,
                encoding="utf-8",
            )
        except (ValueError, pd.errors.ParserWarning):
            return None


def _finite(frame: pd.DataFrame, asked: Asked) -> bool:
    return not any(bool(np.isinf(frame[c].to_numpy(np.float64)).any()) for c, _ in asked.numbers)


def _kept(frame: pd.DataFrame, asked: Asked) -> Bools:
    """Rows that are not wholly empty."""
    empty = np.ones(len(frame), np.bool_)
    for column in asked.words:
        found = frame[column].array
        blank = np.array([str(name).strip() == "" for name in found.categories], np.bool_)
        empty &= blank[np.asarray(found.codes)] if len(blank) else True
    for column, _ in asked.numbers:
        empty &= np.isnan(frame[column].to_numpy(np.float64))
    return ~empty
