"""Ways in which a file is broken: a byte, a line, a cell; by accident or by a tired hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.fuzz.seeds import CELLS, MARKS, TIMES

if TYPE_CHECKING:
    from random import Random

__all__ = ["mutated", "mutated_cells"]

_PIECES = (
    b"\0", b"\xff", b"\xef\xbb\xbf", b"\r", b"\n", b'"', b",", b";", b"\t", b"9" * 400, b"-",
    b"{", b"[", b"]", b"inf", b"nan", b"1e999", "\u00b0".encode(), b"\xb0", b"9999-12-31",
    b"0001-01-01", b"'''", b"= ", b"null", b"true", "\u2028".encode(), b"24:00",
)  # fmt: skip


def mutated(data: bytes, chance: Random, times: int) -> bytes:
    """Change bytes or lines so many times."""
    for _ in range(times):
        data = _by_line(data, chance) if chance.random() < 0.4 else _by_byte(data, chance)
    return data


def _by_byte(data: bytes, chance: Random) -> bytes:
    at = chance.randrange(len(data) + 1)
    piece = chance.choice((*_PIECES, *(m.encode() for m in (*MARKS, *TIMES, *CELLS))))
    how = chance.randrange(5)
    if how == 0:
        return data[:at]
    if how == 1:
        return data[:at] + piece + data[at:]
    if how == 2:
        return data[:at] + piece + data[at + len(piece) :]
    if how == 3:
        return data[:at] + bytes([chance.randrange(256)]) + data[at + 1 :]
    return data[:at] + data[at + chance.randrange(1, 20) :]


def _by_line(data: bytes, chance: Random) -> bytes:
    lines = data.splitlines(keepends=True) or [b""]
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    how = chance.randrange(4)
    if how == 0:
        del lines[one]
    elif how == 1:
        lines.insert(other, lines[one])
    elif how == 2:
        lines[one], lines[other] = lines[other], lines[one]
    else:
        lines.insert(one, b"\n")
    return b"".join(lines)


def mutated_cells(text: str, chance: Random, times: int) -> str:
    """Change cells of a comma-separated table so many times."""
    rows = [line.split(",") for line in text.splitlines()]
    for _ in range(times):
        row = chance.choice(rows)
        at = chance.randrange(len(row))
        how = chance.randrange(5)
        if how == 0:
            row[at] = chance.choice((*CELLS, *TIMES))
        elif how == 1:
            row[at] += chance.choice(MARKS)
        elif how == 2:
            row.insert(at, chance.choice(MARKS))
        elif how == 3 and len(row) > 1:
            del row[at]
        else:
            row[at] = chance.choice(chance.choice(rows))
    return "\n".join(map(",".join, rows)) + "\n"
