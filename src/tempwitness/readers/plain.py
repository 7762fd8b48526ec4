"""A large table of the plainest kind, read from its bytes at once, without pandas.

Plain are ASCII cells without quotation marks, every row with as many cells as the header, short
words and ordinary decimal numbers. Whatever is not plain is left to the other readers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from tempwitness.readers.sheets import Labels, Numbers

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.model.logs import Bools, Floats, Ints
    from tempwitness.readers.sheets import Asked
    from tempwitness.readers.sniff import Text

__all__ = ["PlainSheet", "read_plainly"]

_Bytes = NDArray[np.uint8]
_Words = NDArray[np.uint64]
_NEWLINE, _POINT, _MINUS, _ZERO = (ord(sign) for sign in "\n.-0")
_LONGEST_WORD = 16
_LONGEST_NUMBER = 15
_MOST_WORDS = 64
_SHORTEST_STAMP = 16
_BLOCK = 1 << 18
_TENS = np.array([float(f"1e{n}") for n in range(_LONGEST_NUMBER + 1)])
_PAD = b"\n" + b"\0" * 32
# The lowest bytes of a 64-bit word, by their number.
_MASK = np.array([(1 << (8 * n)) - 1 for n in range(9)], np.uint64)


class _UnplainError(Exception):
    """Something needs a closer look."""


class PlainSheet:
    """A plain table, put together from its blocks.

    Parameters
    ----------
    blocks : sequence of _Block
        At least one, in the order of the file.
    """

    def __init__(self, blocks: Sequence[_Block], asked: Asked) -> None:
        self.lines: Ints = np.arange(2, sum(b.rows for b in blocks) + 2)
        self._stamps = None if asked.time is None else _stamps([b.stamps for b in blocks])
        self._labels = {
            at: _labels([b.labels[at] for b in blocks]) for at in asked.words if at != asked.time
        }
        self._numbers = {at: _numbers([b.numbers[at] for b in blocks]) for at, _ in asked.numbers}

    def stamps(self, column: int) -> tuple[Ints, _Bytes] | None:
        """Column of stamps of one width: for each row its place in a table of bytes."""
        del column
        return self._stamps

    def labels(self, column: int) -> Labels:
        """Column of words."""
        if column not in self._labels and self._stamps is not None:
            codes, table = self._stamps
            names = [row.tobytes().decode("ascii") for row in table]
            self._labels[column] = Labels(codes, names)
        return self._labels[column]

    def numbers(self, column: int) -> Numbers:
        """Column of temperatures."""
        return self._numbers[column]


def _stamps(parts: Sequence[tuple[Ints, _Bytes]]) -> tuple[Ints, _Bytes]:
    if len({table.shape[1] for _, table in parts}) > 1:
        raise _UnplainError
    before = np.cumsum([0, *(len(table) for _, table in parts[:-1])]).tolist()
    codes = [codes + first for (codes, _), first in zip(parts, before, strict=True)]
    return np.concatenate(codes), np.concatenate([table for _, table in parts])


def _labels(parts: Sequence[Labels]) -> Labels:
    known: dict[str, int] = {}
    codes = []
    for part in parts:
        here = [known.setdefault(name, len(known)) for name in part.names]
        if len(known) > _MOST_WORDS:
            raise _UnplainError
        codes.append(np.array(here, np.int8)[part.codes])
    return Labels(np.concatenate(codes), list(known))


def _numbers(parts: Sequence[Numbers]) -> Numbers:
    value = np.concatenate([part.value for part in parts])
    return Numbers(value, np.concatenate([part.blank for part in parts]), None)


class _Block:
    """Some rows of a plain table, by where their cells begin and end.

    Parameters
    ----------
    data : bytes
        Whole rows, padded at the end.
    ends : Ints
        Position of the sign that ends each cell, a row of the table in each row.
    """

    def __init__(self, data: bytes, ends: Ints, asked: Asked) -> None:
        self._bytes: _Bytes = np.frombuffer(data, np.uint8)
        # Eight bytes from any position on, as one little-endian number.
        self._words: _Words = np.ndarray(
            (len(data) - 7,), np.dtype("<u8"), buffer=data, strides=(1,)
        )
        self._ends = ends
        self.rows = len(ends)
        nothing = np.zeros(0, np.int64), np.zeros((0, 0), np.uint8)
        self.stamps = nothing if asked.time is None else self._read_stamps(asked.time)
        self.labels = {at: self._read_labels(at) for at in asked.words if at != asked.time}
        self.numbers = {at: self._read_numbers(at) for at, _ in asked.numbers}

    def _cell(self, column: int) -> tuple[Ints, Ints]:
        """Where the cells of a column begin, and their lengths."""
        if column:
            begin = self._ends[:, column - 1] + 1
        else:
            begin = np.concatenate(([0], self._ends[:-1, -1] + 1))
        return begin, self._ends[:, column] - begin

    def _read_labels(self, column: int) -> Labels:
        begin, length = self._cell(column)
        if int(length.max()) > _LONGEST_WORD:
            raise _UnplainError
        low = self._words[begin] & _MASK[np.minimum(length, 8)]
        high = np.zeros(1, np.uint64)
        if int(length.max()) > 8:
            high = self._words[begin + 8] & _MASK[np.maximum(length - 8, 0)]
        codes = np.full(len(begin), -1, np.int8)
        names: list[str] = []
        first = 0
        while codes[first] < 0:
            same = low == low[first]
            if len(high) > 1:
                same &= high == high[first]
            codes[same] = len(names)
            stop = int(begin[first] + length[first])
            names.append(self._bytes[int(begin[first]) : stop].tobytes().decode("ascii"))
            if len(names) > _MOST_WORDS or names[-1] != names[-1].strip():
                raise _UnplainError
            first = int(np.argmin(codes))
        return Labels(codes, names)

    def _read_stamps(self, column: int) -> tuple[Ints, _Bytes]:
        """Stamps that repeat from row to row, as those of several probes do, stand there once."""
        begin, length = self._cell(column)
        width = int(length[0])
        if width < _SHORTEST_STAMP or not bool((length == width).all()):
            raise _UnplainError
        new = np.zeros(len(begin), np.bool_)
        new[0] = True
        for at in (*range(0, width - 7, 8), width - 8):
            words = self._words[begin + at]
            new[1:] |= words[1:] != words[:-1]
        kept = begin[new]
        return np.cumsum(new) - 1, self._bytes[kept[:, None] + np.arange(width)]

    def _read_numbers(self, column: int) -> Numbers:
        begin, length = self._cell(column)
        if int(length.max()) > _LONGEST_NUMBER:
            raise _UnplainError
        negative = self._bytes[begin] == _MINUS
        figures = _Figures(len(begin))
        for j in range(int(length.max())):
            figures.take(self._bytes[begin + j], length > j, negative if j == 0 else None)
        blank = length == 0
        return Numbers(figures.value(negative=negative, blank=blank), blank, None)


class _Figures:
    """Decimal numbers that are read sign by sign, all rows at once."""

    def __init__(self, rows: int) -> None:
        self._whole = np.zeros(rows, np.int64)
        self._digits = np.zeros(rows, np.int8)
        self._decimals = np.zeros(rows, np.int8)
        self._point = np.zeros(rows, np.bool_)

    def take(self, here: _Bytes, inside: Bools, sign: Bools | None) -> None:
        """Read the next sign of each row that has one; `sign` marks a minus to be skipped."""
        figure = here - np.uint8(_ZERO)
        digit = inside & (figure <= 9)
        dot = inside & (here == _POINT)
        known = digit | dot | ~inside
        if sign is not None:
            known |= sign
        if not bool(known.all()):
            raise _UnplainError
        if bool(dot.any()):
            if bool((dot & (self._point | (self._digits == 0))).any()):
                raise _UnplainError
            self._point |= dot
        self._whole = np.where(digit, self._whole * 10 + figure, self._whole)
        self._decimals += digit & self._point
        self._digits += digit

    def value(self, *, negative: Bools, blank: Bools) -> Floats:
        """Quotient of two whole numbers that are exact: rounded as the decimal itself would be."""
        bare = (self._digits == 0) & ~blank
        if bool(bare.any()) or bool((self._point & (self._decimals == 0)).any()):
            raise _UnplainError
        value: Floats = self._whole / _TENS[self._decimals]
        value[negative] *= -1.0
        value[blank] = np.nan
        return value


def read_plainly(text: Text, asked: Asked) -> PlainSheet | None:
    """Read a table at once if it is plain.

    Returns
    -------
    PlainSheet or None
        ``None`` when something in it needs a closer look.
    """
    if not text.data.isascii() or b'"' in text.data or b"\0" in text.data:
        return None
    data = text.data
    if b"\r" in data:
        data = data.replace(b"\r\n", b"\n")
        if b"\r" in data:
            return None
    try:
        blocks = list(_blocks(data, text.separator, len(text.header), asked))
        if not blocks:
            return None
        sheet = PlainSheet(blocks, asked)
    except _UnplainError:
        return None
    if text.before:
        sheet.lines += text.before
    return sheet


def _blocks(data: bytes, separator: str, wide: int, asked: Asked) -> Iterator[_Block]:
    """Read the rows below the header in blocks that fit into a processor's own memory."""
    whole, end = memoryview(data), _end(data)
    at = data.find(b"\n") + 1
    while 0 < at < end:
        stop = data.find(b"\n", min(at + _BLOCK, end))
        stop = end if stop < 0 else min(stop, end)
        body = b"".join((whole[at:stop], _PAD))
        ends = _ends(body, separator, wide)
        if ends is None:
            raise _UnplainError
        yield _Block(body, ends, asked)
        at = stop + 1


def _end(data: bytes) -> int:
    """Where the last line ends, without its sign."""
    return len(data) - data.endswith(b"\n")


def _ends(body: bytes, separator: str, wide: int) -> Ints | None:
    """Where each cell ends; ``None`` unless every row has as many cells as the header."""
    signs = np.frombuffer(body, np.uint8)
    found = np.flatnonzero((signs == _NEWLINE) | (signs == ord(separator)))
    if len(found) % wide:
        return None
    ends = found.reshape(-1, wide)
    newline = signs[ends] == _NEWLINE
    if not bool(newline[:, -1].all()) or bool(newline[:, :-1].any()):
        return None
    return ends
