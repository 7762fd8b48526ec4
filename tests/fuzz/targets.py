"""What is fuzzed: each target takes bytes, makes a file of them and reads it in the public way.

Nothing here needs a fuzzing engine, so that the ordinary tests can run each target on its seeds.
"""

from __future__ import annotations

import csv
import gzip
import io
import zipfile
from typing import TYPE_CHECKING

from tempwitness.errors import TempwitnessError
from tempwitness.rulebook.override import load_override
from tests.fuzz.held import check_refusal, read_or_refuse
from tests.fuzz.seeds import CELLS, LONG, RECORD, ROOT, SEEDS, TIMES, workbook_bytes

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

__all__ = ["TARGETS", "seeds_of"]

#: So many rows are made of one input where each row costs something.
_ROWS = 24
_SHEET, _CONTENT = "xl/worksheets/sheet1.xml", "content.xml"


def _file(name: str) -> Callable[[bytes, Path], None]:
    def target(data: bytes, folder: Path) -> None:
        path = folder / name
        path.write_bytes(data)
        if path.suffix == ".toml":
            (folder / "long.csv").write_text(LONG, encoding="utf-8")
        read_or_refuse(path)

    return target


def _words(data: bytes) -> list[str]:
    return data.decode("utf-8", "replace").split("\n")[:_ROWS]


def _table(rows: list[list[str]]) -> bytes:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue().encode()


def _cells(data: bytes, folder: Path) -> None:
    """Each line of the input is the temperature of one reading, in a table and in a record."""
    words = _words(data)
    rows = [[f"2026-07-04 {10 + i // 60:02d}:{i % 60:02d}", word] for i, word in enumerate(words)]
    _file("cells.csv")(_table([["time", "temp_f"], *rows]), folder)
    _record("temp", words[0], folder)


def _times(data: bytes, folder: Path) -> None:
    """Each line of the input is the time of one reading, in a table and in a record."""
    words = _words(data)
    rows = [[word, str(140 - i)] for i, word in enumerate(words)]
    _file("times.csv")(_table([["time", "temp_f"], *rows]), folder)
    _record("at", words[0], folder)


def _record(key: str, word: str, folder: Path) -> None:
    given = {"at": "2026-07-04 10:00", "temp": "140 F"} | {key: word}
    quoted = "\n".join(f"{name} = {_quoted(text)}" for name, text in given.items())
    head = RECORD.partition("[[piece]]")[0]
    _file("one.toml")(f"{head}[[reading]]\n{quoted}\n".encode(), folder)


def _quoted(text: str) -> str:
    """A basic string of TOML 1.0."""
    held = (c if c.isprintable() and c not in '"\\' else f"\\U{ord(c):08x}" for c in text)
    return f'"{"".join(held)}"'


def _keys(data: bytes, folder: Path) -> None:
    """The input's first line picks a value of the whole record, the second takes its place."""
    which, _, word = data.decode("utf-8", "replace").partition("\n")
    lines = RECORD.splitlines()
    at = [i for i, line in enumerate(lines) if " = " in line]
    chosen = at[sum(which.encode()) % len(at)]
    name = lines[chosen].partition(" = ")[0]
    lines[chosen] = f"{name} = {word}" if which.endswith("!") else f"{name} = {_quoted(word)}"
    _file("keys.toml")("\n".join(lines).encode(), folder)


def _book(suffix: str) -> Callable[[bytes, Path], None]:
    def target(data: bytes, folder: Path) -> None:
        rows = [line.split(",")[:8] for line in _words(data)]
        kept = [["".join(c for c in cell if c.isprintable()) for cell in row] for row in rows]
        _file(f"cells{suffix}")(workbook_bytes(kept, suffix), folder)

    return target


def _inside(seed: str, part: str) -> Callable[[bytes, Path], None]:
    """The input takes the place of one part of a workbook, which is a zip archive."""

    def target(data: bytes, folder: Path) -> None:
        out = io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(SEEDS[seed])) as old, zipfile.ZipFile(out, "w") as new:
            for name in old.namelist():
                new.writestr(name, data if name == part else old.read(name))
        _file(f"inside-{seed}")(out.getvalue(), folder)

    return target


def _part(seed: str, part: str) -> bytes:
    with zipfile.ZipFile(io.BytesIO(SEEDS[seed])) as book:
        return book.read(part)


def _packed(data: bytes, folder: Path) -> None:
    """Once as the bytes of the packed file, once as its content."""
    _file("packed.csv.gz")(data, folder)
    _file("again.csv.gz")(gzip.compress(data, 1, mtime=0), folder)


def _override(data: bytes, folder: Path) -> None:
    path = folder / "override.toml"
    path.write_bytes(data)
    try:
        load_override(path)
    except TempwitnessError as refusal:
        check_refusal(refusal, path)


TARGETS: dict[str, Callable[[bytes, Path], None]] = {
    "text": _file("text.csv"),
    "tabs": _file("text.tsv"),
    "json": _file("rows.json"),
    "jsonl": _file("rows.jsonl"),
    "cells": _cells,
    "times": _times,
    "record": _file("record.toml"),
    "keys": _keys,
    "override": _override,
    "packed": _packed,
    "xlsx": _file("book.xlsx"),
    "ods": _file("book.ods"),
    "xlsx_inside": _inside("book.xlsx", _SHEET),
    "ods_inside": _inside("book.ods", _CONTENT),
    "xlsx_cells": _book(".xlsx"),
    "ods_cells": _book(".ods"),
}
_ENDS = {
    "text": (".csv",), "tabs": (".tsv",), "json": (".json",), "jsonl": (".jsonl",),
    "packed": (".gz",), "xlsx": (".xlsx",), "ods": (".ods",), "xlsx_cells": (".csv",),
    "ods_cells": (".csv",),
}  # fmt: skip


def seeds_of(target: str) -> Iterator[bytes]:
    """Inputs from which a target sets out: small valid files, and broken ones."""
    ends = _ENDS.get(target, ())
    yield from (data for name, data in SEEDS.items() if name.endswith(ends))
    if target in {"record", "override"}:
        yield SEEDS[f"{target}.toml"]
    if target == "xlsx_inside":
        yield _part("book.xlsx", _SHEET)
    if target == "ods_inside":
        yield _part("book.ods", _CONTENT)
    if target == "keys":
        yield from (f"{chr(48 + i)}\n{word}".encode() for i, word in enumerate((*TIMES, *CELLS)))
        yield b"0!\n[1, true]"
    if target in {"cells", "times"}:
        words = {"cells": CELLS, "times": TIMES}[target]
        yield from (word.encode() for word in words)
        yield "\n".join(words).encode()
    if target in {"text", "tabs", "record"}:
        suffix = ".toml" if target == "record" else ".csv"
        yield from (
            path.read_bytes()
            for path in sorted((ROOT / "tests/golden").glob(f"*{suffix}"))
            if path.name != "expected.toml"
        )
        yield from (p.read_bytes() for p in sorted(ROOT.glob(f"sample_records/*/*{suffix}")))
