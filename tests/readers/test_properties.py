"""What must not change what is understood: order, splitting, layout, and which reader is used."""

from __future__ import annotations

import tempfile
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.readers import files
from tests.readers.build import bare, record, shapes

if TYPE_CHECKING:
    from tempwitness.model.logs import RawLog

Rows = list[tuple[int, str, float]]

# Minutes after noon, piece, tenths of a degree.
ROWS = st.lists(
    st.tuples(
        st.integers(0, 600), st.sampled_from("ABC"), st.integers(-200, 2150).map(lambda n: n / 10)
    ),
    min_size=1,
    max_size=40,
    unique_by=lambda row: row[:2],
)


def stamp(minute: int) -> str:
    return f"2026-07-04 {12 + minute // 60:02d}:{minute % 60:02d}"


def long(rows: Rows) -> str:
    lines = [f"{stamp(m)},{value},{piece}" for m, piece, value in rows]
    return "\n".join(["time,temp_f,piece", *lines]) + "\n"


def read(text: str) -> RawLog:
    with tempfile.TemporaryDirectory() as folder:
        return bare(Path(folder), text)


@given(ROWS, st.randoms(use_true_random=False))
def test_the_order_of_rows_does_not_matter(rows: Rows, chance: Random) -> None:
    mixed = list(rows)
    chance.shuffle(mixed)
    assert shapes(read(long(mixed))) == shapes(read(long(rows)))


@given(ROWS, st.integers(0, 40))
@settings(deadline=None)
def test_splitting_a_file_does_not_matter(rows: Rows, at: int) -> None:
    body = '[[file]]\npath = "1.csv"\n[[file]]\npath = "2.csv"\n'
    parts = {"1.csv": long(rows[:at]), "2.csv": long(rows[at:])}
    with tempfile.TemporaryDirectory() as folder:
        split = record(Path(folder), body, files=parts)
    assert shapes(split) == shapes(read(long(rows)))


@given(ROWS)
def test_wide_and_long_say_the_same(rows: Rows) -> None:
    pieces = sorted({piece for _, piece, _ in rows})
    cells = {(m, piece): value for m, piece, value in rows}
    minutes = sorted({m for m, _, _ in rows})
    lines = [",".join([stamp(m), *(str(cells.get((m, p), "")) for p in pieces)]) for m in minutes]
    wide = "\n".join([",".join(["time", *(f"{p}_f" for p in pieces)]), *lines]) + "\n"
    assert shapes(read(wide)) == shapes(read(long(rows)))


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("header", ["time,temp_f,piece,place,probe,step", "time,temp_c,piece"])
def test_the_swift_reader_agrees_with_the_careful_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, end: str, header: str
) -> None:
    wide = header.count(",") + 1
    lines = [header]
    for i in range(400):
        cells = [
            stamp(i % 300), f"{40 + i / 7:.3f}", "ABC"[i % 3],
            ("core", "surface")[i % 2], ("blue", "red", "")[i % 3], "rest" if i > 200 else "",
        ]  # fmt: skip
        if i % 50 == 7:
            cells[1] = ""
        lines.append(",".join(cells[:wide]))
        if i % 90 == 3:
            lines.append("," * (wide - 1))
    text = end.join(lines) + end
    careful = bare(tmp_path, text)
    monkeypatch.setattr(files, "_SMALL_BYTES", 0)
    swift = bare(tmp_path, text)
    assert swift.notes == careful.notes
    assert swift.lot == careful.lot
    for one, two in zip(swift.channels, careful.channels, strict=True):
        assert (one.piece, one.place, one.probe, one.text) == (
            two.piece,
            two.place,
            two.probe,
            two.text,
        )
        assert one.line.tolist() == two.line.tolist()
        assert one.at.tolist() == two.at.tolist()
        assert [str(v) for v in one.value.tolist()] == [str(v) for v in two.value.tolist()]


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("2026-07-04 18:10,13x,A", "'13x' is not a number"),
        ("2026-07-04 18:10,inf,A", "'inf' is not a number"),
        ("2026-07-04 18:10,138,A,9", "4 cells where the header names 3"),
        ("2026-07-04 18:1,138,A", "'2026-07-04 18:1' is not a time"),
        (",138,A", "the row has no time"),
        ('2026-07-04 18:10,138,"A', "cannot be split"),
    ],
)
def test_a_fault_in_a_large_file_is_named_with_its_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, row: str, words: str
) -> None:
    from tempwitness.errors import InputError  # noqa: PLC0415 - one test needs it

    monkeypatch.setattr(files, "_SMALL_BYTES", 0)
    good = [f"2026-07-04 12:{i % 60:02d},{100 + i},A" for i in range(100)]
    text = "\n".join(["time,temp_f,piece", *good[:60], row, *good[60:]])
    with pytest.raises(InputError, match=words) as caught:
        bare(tmp_path, text)
    assert caught.value.location is not None
    assert caught.value.location.line is not None
    # The header is line 1, sixty rows follow; an open quotation mark is found at the end.
    assert caught.value.location.line == (102 if "split" in words else 62)
