"""A record means the same in a workbook and in TOML, whatever it says."""

from __future__ import annotations

import tempfile
import tomllib
from dataclasses import fields
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings

from tempwitness.drafting.book import book_of
from tempwitness.errors import InputError
from tempwitness.readers import read_record
from tests.workbook.records import Table, records, toml_of

if TYPE_CHECKING:
    from tempwitness.model.logs import Channel, RawLog

SAMPLES = sorted((Path(__file__).resolve().parents[2] / "sample_records").glob("*/record.toml"))
MANY = settings(max_examples=50, deadline=None, derandomize=True)


def same(one: object, other: object) -> bool:
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        return one.dtype == other.dtype and bool(np.array_equal(one, other, equal_nan=True))
    return one == other


def channels_differ(one: Channel, other: Channel) -> list[str]:
    names = [field.name for field in fields(one)]
    return [name for name in names if not same(getattr(one, name), getattr(other, name))]


def differing(one: RawLog, other: RawLog) -> list[str]:
    """Name what two logs do not have in common, the record's own name and hash apart."""
    found = [
        name
        for name in ("lot", "notes", "probes", "assumptions", "changes", "typed_later")
        if getattr(one, name) != getattr(other, name)
    ]
    if len(one.channels) != len(other.channels):
        return [*found, "number of channels"]
    for first, second in zip(one.channels, other.channels, strict=True):
        found += channels_differ(first, second)
    own, its = one.sources[0], other.sources[0]
    if (own.rows, own.understood) != (its.rows, its.understood):
        found.append("rows")
    return found if one.sources[1:] == other.sources[1:] else [*found, "sources"]


def both(folder: Path, record: Table) -> tuple[Path, Path]:
    toml, book = folder / "lot.toml", folder / "lot.xlsx"
    toml.write_text(toml_of(record), encoding="utf-8")
    # What TOML holds is what the workbook is written from, as the command does it.
    table = tomllib.loads(toml.read_text(encoding="utf-8"))
    book.write_bytes(book_of(table, spare=False))
    return toml, book


@MANY
@given(records())
def test_a_random_record_reads_back_the_same(record: Table) -> None:
    with tempfile.TemporaryDirectory() as name:
        toml, book = both(Path(name), record)
        try:
            first = read_record(toml)
        except InputError:
            with pytest.raises(InputError):
                read_record(book)
            return
        assert differing(first, read_record(book)) == []


def test_most_random_records_can_be_read() -> None:
    """Else the property would say little."""
    read, refused = [], []

    @MANY
    @given(records())
    def count(record: Table) -> None:
        with tempfile.TemporaryDirectory() as name:
            toml = Path(name) / "lot.toml"
            toml.write_text(toml_of(record), encoding="utf-8")
            try:
                read.append(read_record(toml))
            except InputError as why:
                refused.append(str(why))

    count()
    assert len(read) > len(refused) / 2, refused[:5]
    assert sum(len(log.notes) for log in read) > 12
    assert sum(len(channel) for log in read for channel in log.channels) > 12


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.parent.name)
def test_every_sample_record_reads_back_the_same(path: Path) -> None:
    table = tomllib.loads(path.read_text(encoding="utf-8"))
    # Beside the sample, so that the files it points at are found.
    book = path.with_name("as-workbook.xlsx")
    try:
        book.write_bytes(book_of(table))
        assert differing(read_record(path), read_record(book)) == []
    finally:
        book.unlink(missing_ok=True)


def test_the_same_record_gives_the_same_bytes() -> None:
    table = tomllib.loads(SAMPLES[0].read_text(encoding="utf-8"))
    assert book_of(table) == book_of(table)
    assert book_of() == book_of()


@pytest.mark.parametrize(
    ("table", "what"),
    [
        ({"lot": "a\x07b"}, "control character"),
        ({"lot": " lamb"}, "blanks at an end"),
        ({"also": ["a;b"]}, "semicolon"),
        ({"note": [{"text": "x" * 40000}]}, "32767"),
        ({"time_control": [{"pieces": []}]}, "empty list"),
    ],
)
def test_what_a_cell_cannot_hold_is_refused_and_not_lost(table: Table, what: str) -> None:
    with pytest.raises(InputError, match=what):
        book_of(table)
