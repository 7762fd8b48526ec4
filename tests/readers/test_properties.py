"""What must not change what is understood: order, splitting, layout, and which reader is used."""

from __future__ import annotations

import tempfile
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.readers import files, plain
from tempwitness.readers.plain import read_plainly
from tempwitness.readers.sheets import Asked
from tempwitness.readers.sniff import Text
from tempwitness.units import Unit
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


@settings(deadline=None)
@given(ROWS, st.randoms(use_true_random=False))
def test_the_order_of_rows_does_not_matter(rows: Rows, chance: Random) -> None:
    mixed = list(rows)
    chance.shuffle(mixed)
    assert shapes(read(long(mixed))) == shapes(read(long(rows)))


@settings(deadline=None)
@given(ROWS, st.integers(0, 40))
def test_splitting_a_file_does_not_matter(rows: Rows, at: int) -> None:
    body = '[[file]]\npath = "1.csv"\n[[file]]\npath = "2.csv"\n'
    parts = {"1.csv": long(rows[:at]), "2.csv": long(rows[at:])}
    with tempfile.TemporaryDirectory() as folder:
        split = record(Path(folder), body, files=parts)
    assert shapes(split) == shapes(read(long(rows)))


@settings(deadline=None)
@given(ROWS)
def test_wide_and_long_say_the_same(rows: Rows) -> None:
    pieces = sorted({piece for _, piece, _ in rows})
    cells = {(m, piece): value for m, piece, value in rows}
    minutes = sorted({m for m, _, _ in rows})
    lines = [",".join([stamp(m), *(str(cells.get((m, p), "")) for p in pieces)]) for m in minutes]
    wide = "\n".join([",".join(["time", *(f"{p}_f" for p in pieces)]), *lines]) + "\n"
    assert shapes(read(wide)) == shapes(read(long(rows)))


def table(header: str, end: str, *, blank_rows: bool) -> str:
    wide = header.count(",") + 1
    lines = [header]
    for i in range(400):
        cells = [
            stamp(i % 300), f"{i / 7 - 20:.{i % 4}f}", "ABC"[i % 3],
            ("core", "surface")[i % 2], ("blue", "a longer name", "")[i % 3],
            "rest" if i > 200 else "",
        ]  # fmt: skip
        if i % 50 == 7:
            cells[1] = ""
        lines.append(",".join(cells[:wide]))
        if blank_rows and i % 90 == 3:
            lines.append("," * (wide - 1))
    return end.join(lines) + end


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("header", ["time,temp_f,piece,place,probe,step", "time,temp_c,piece"])
@pytest.mark.parametrize("reader", ["plain", "plain in small blocks", "swift"])
def test_the_quick_readers_agree_with_the_careful_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, end: str, header: str, reader: str
) -> None:
    text = table(header, end, blank_rows=reader == "swift")
    monkeypatch.setattr(files, "_SMALL_BYTES", 10**9)
    careful = bare(tmp_path, text)
    monkeypatch.setattr(files, "_SMALL_BYTES", 0)
    if reader.endswith("blocks"):
        monkeypatch.setattr(plain, "_BLOCK", 300)
    used = spy(monkeypatch)
    quick = bare(tmp_path, text)
    assert used[-1] == {"plain": "PlainSheet", "swift": "SwiftSheet"}[reader.split(maxsplit=1)[0]]
    assert quick.notes == careful.notes
    assert quick.lot == careful.lot
    for one, two in zip(quick.channels, careful.channels, strict=True):
        assert (one.piece, one.place, one.probe) == (two.piece, two.place, two.probe)
        assert one.text == two.text
        assert one.line.tolist() == two.line.tolist()
        assert one.at.tolist() == two.at.tolist()
        assert [str(v) for v in one.value.tolist()] == [str(v) for v in two.value.tolist()]


def spy(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the readers that answered, in order."""
    used: list[str] = []
    real = files._open

    def watched(*args: Any) -> Any:  # noqa: ANN401 - passes anything on
        sheet = real(*args)
        used.append(type(sheet).__name__)
        return sheet

    monkeypatch.setattr(files, "_open", watched)
    return used


@settings(deadline=None)
@given(
    st.lists(
        st.decimals(-999, 999, places=3).flatmap(
            lambda d: st.integers(0, 3).map(lambda n: f"{d:.{n}f}")
        ),
        min_size=1,
        max_size=50,
    )
)
def test_plain_numbers_are_those_of_the_standard_library(cells: list[str]) -> None:
    body = "\n".join(f"2026-07-04 18:10,{cell}" for cell in cells)
    text = Text(f"time,temp_f\n{body}\n".encode(), ",", ("time", "temp_f"))
    sheet = read_plainly(text, Asked((0,), ((1, Unit.F),), 0))
    assert sheet is not None
    assert sheet.numbers(1).value.tolist() == [float(cell) for cell in cells]


@pytest.mark.parametrize(
    "cell",
    ["1e3", "inf", "nan", "--", "-", ".", "5.", ".5", "1.2.3", "+5", " 5", "5 ", "1_0", "0x1"],
)
def test_what_is_no_plain_number_is_left_to_the_others(cell: str) -> None:
    text = Text(f"time,temp_f\n2026-07-04 18:10,{cell}\n".encode(), ",", ("time", "temp_f"))
    assert read_plainly(text, Asked((0,), ((1, Unit.F),), 0)) is None


@pytest.mark.parametrize(
    "body",
    [
        "2026-07-04 18:10,5,A,9\n",
        "2026-07-04 18:10,5\n",
        "2026-07-04 18:10,5,A\n\n",
        "2026-07-04 18:10,5,A\n2026-07-04 18:1,5,A\n",
        '2026-07-04 18:10,5,"A"\n',
        "2026-07-04 18:10,5,é\n",
        "2026-07-04 18:10,5, A\n",
        "2026-07-04 18:10,5,a name of more than sixteen\n",
        "2026-07-04 18:10,5,A\r2026-07-04 18:11,5,A\r",
        "",
    ],
)
def test_what_is_no_plain_table_is_left_to_the_others(body: str) -> None:
    text = Text(f"time,temp_f,piece\n{body}".encode(), ",", ("time", "temp_f", "piece"))
    assert read_plainly(text, Asked((0, 2), ((1, Unit.F),), 0)) is None


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
