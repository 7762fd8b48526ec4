"""One table written in six ways gives the same readings; tables on their side and JSON by case.

The readings expected are those that stand in each file.
"""

from __future__ import annotations

import gzip
import io
import json
import tempfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.errors import InputError
from tests.readers.build import bare, record, shapes, utc

A, B = utc("2026-07-04T23:10"), utc("2026-07-04T23:20")
T = "2026-07-04 18:"

# Minutes after noon, piece, tenths of a degree.
READINGS = st.dictionaries(
    st.tuples(st.integers(0, 600), st.sampled_from("AB")),
    st.integers(-200, 2150).map(lambda n: f"{n / 10:.1f}"),
    min_size=1,
    max_size=12,
)
Readings = dict[tuple[int, str], str]
Shapes = dict[tuple[str, str, str], list[tuple[float, float, bool]]]


def stamp(minute: int) -> str:
    return f"2026-07-04 {12 + minute // 60:02d}:{minute % 60:02d}"


def grid(readings: Readings) -> list[list[str]]:
    """The wide table, its header in the first row."""
    pieces = sorted({piece for _, piece in readings})
    minutes = sorted({minute for minute, _ in readings})
    body = [[stamp(m), *(readings.get((m, p), "") for p in pieces)] for m in minutes]
    return [["time", *(f"{p}_f" for p in pieces)], *body]


def as_csv(rows: list[list[str]]) -> bytes:
    return "".join(",".join(row) + "\n" for row in rows).encode()


def as_book(rows: list[list[str]]) -> bytes:
    book = openpyxl.Workbook()
    for at, row in enumerate(rows):
        cells = [float(c) if c and at and i else c or None for i, c in enumerate(row)]
        book.worksheets[0].append(cells)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def files(readings: Readings) -> dict[str, bytes]:
    wide = grid(readings)
    long = [["time", "temp_f", "piece"], *([stamp(m), v, p] for (m, p), v in readings.items())]
    named = [dict(zip(long[0], row, strict=True)) for row in long[1:]]
    lines = "".join(
        f'{{"time": "{n["time"]}", "temp_f": {n["temp_f"]}, "piece": "{n["piece"]}"}}\n'
        for n in named
    )
    return {
        "long.csv": as_csv(long),
        "wide.csv": as_csv(wide),
        "turned.csv": as_csv([list(row) for row in zip(*wide, strict=True)]),
        "wide.xlsx": as_book(wide),
        "lines.jsonl": lines.encode(),
        "array.json.gz": gzip.compress(json.dumps(named).encode()),
    }


@settings(deadline=None, max_examples=40)
@given(READINGS)
def test_one_table_in_six_layouts_gives_the_same_readings(readings: Readings) -> None:
    found: dict[str, Shapes] = {}
    with tempfile.TemporaryDirectory() as folder:
        for name, raw in files(readings).items():
            found[name] = shapes(bare(Path(folder), raw, name))
    noon = utc("2026-07-04T17:00")  # 12:00 in Chicago in July
    wanted: Shapes = {}
    for (minute, piece), value in sorted(readings.items()):
        at = noon + 60 * minute
        wanted.setdefault((piece, "core", ""), []).append((at, float(value), False))
    wanted = {key: sorted(wanted[key]) for key in sorted(wanted)}
    assert found == dict.fromkeys(found, wanted)


def test_a_table_on_its_side(tmp_path: Path) -> None:
    text = (
        f"Recorder 7\nprobe,{T}10,{T}20\nA (°F),138,137\nB_surface_c,58.9,\nair_f,225,226\n"
        f"note,,boxed\n"
    )
    log = bare(tmp_path, text)
    assert shapes(log) == {
        ("", "air", ""): [(A, 225.0, False), (B, 226.0, False)],
        ("A", "core", ""): [(A, 138.0, False), (B, 137.0, False)],
        ("B", "surface", ""): [(A, 58.9, True)],
    }
    assert {c.piece or c.place.value: c.line.tolist() for c in log.channels} == {
        "A": [3, 3], "B": [4], "air": [5, 5],
    }  # fmt: skip
    assert [(n.line, n.at, n.text, n.piece) for n in log.notes] == [(6, B, "boxed", None)]
    assert [c.line for c in log.changes] == [1]
    assert any("lies on its side" in said for said in log.sources[0].understood)


def test_rows_of_a_table_on_its_side_can_be_mapped(tmp_path: Path) -> None:
    body = """
[[file]]
path = "p.csv"
columns.P1 = {piece = "A", unit = "F"}
columns.P2 = {place = "air", unit = "C"}
"""
    log = record(tmp_path, body, files={"p.csv": f"time,{T}10\nP1,138\nP2,110\n"})
    assert shapes(log) == {
        ("", "air", ""): [(A, 110.0, True)],
        ("A", "core", ""): [(A, 138.0, False)],
    }


def test_a_row_that_is_not_understood_in_a_table_on_its_side(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="the column 'humidity' is not understood"):
        bare(tmp_path, f"time,{T}10,{T}20\nA_f,138,137\nhumidity,40,41\n")


def test_json_keeps_its_numbers_and_lines(tmp_path: Path) -> None:
    text = (
        f'[{{"time": "{T}10", "temp_f": 138.50, "note": null}},\n\n'
        f' {{"note": "boxed", "temp_f": 137, "time": "{T}20"}}]\n'
    )
    log = bare(tmp_path, text, "p.json")
    assert shapes(log) == {("1", "core", ""): [(A, 138.5, False), (B, 137.0, False)]}
    assert log.channels[0].line.tolist() == [1, 3]
    assert [(n.line, n.text) for n in log.notes] == [(3, "boxed")]


ONE = f'{{"time": "{T}10", "temp_f": 138}}'


@pytest.mark.parametrize(
    ("text", "words", "line"),
    [
        (f'{ONE}\n{{"time": "{T}20", "temp_f": 1, "temp_f": 2}}', "stands twice in one object", 2),
        (f'{ONE}\n{{"time": "{T}20", "temp_f": {{"v": 1}}}}', "the value is an object", 2),
        (f'{ONE}\n{{"time": "{T}20", "temp_f": [1]}}', "the value is an array", 2),
        (f'{ONE}\n{{"time": "{T}20", "temp_f": true}}', "the value is true or false", 2),
        (f'{ONE}\n{{"time": "{T}20", "temp_f": "137"}}', "earlier values of this key", 2),
        (f"{ONE}\n[1]", "an array stands where an object should", 2),
        (f"[{ONE},\n138]", "a number stands where an object should", 2),
        (f'[{ONE},\n{{"time": "{T}20", "temp_f": 13', "no valid JSON from here on", 2),
        (f'{ONE}\n{{"time": "{T}20", "temp_f": 13', "no valid JSON from here on", 2),
        (f"[{ONE}", "the array is not closed", 1),
        (f"[{ONE}\n{ONE}]", "a comma is missing", 2),
        (f"[{ONE}]\n{ONE}", "something follows the end of the array", 2),
        (f'{ONE}\n{{"time": "{T}20", "temp_f": 1, "note": "\\ud800"}}', "half of a character", 2),
        ('{"readings": [1]}', "the value is an array", 1),
        ("[]", "the file holds no object", 1),
        ("", "the file holds no object", 1),
        ("[" * 100_000, "objects stand within objects|no valid JSON|an array stands", 1),
    ],
)
def test_json_that_is_no_table_is_refused(tmp_path: Path, text: str, words: str, line: int) -> None:
    with pytest.raises(InputError, match=words) as caught:
        bare(tmp_path, text, "p.jsonl")
    assert caught.value.location is not None
    assert caught.value.location.line == line
    assert caught.value.hint
