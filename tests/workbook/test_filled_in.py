"""Workbooks as people fill them in: typed times, bare figures, and slips that are named by cell."""

# Wall clocks without zones are what cells hold, and cells carry no types.
# ruff: noqa: DTZ001, ANN401

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from openpyxl import Workbook, load_workbook

from tempwitness.drafting.book import book_of
from tempwitness.errors import InputError
from tempwitness.pipeline import check
from tempwitness.readers import read_any, read_record
from tests.cli.records import MET, write_record

Change = Callable[[Any], None]
EMPTY = book_of()
LOT = {"lot": "lamb", "code": "us/food-code/2022", "zone": "America/Chicago"}
FOOD = {"food.name": "lamb shoulder", "food.form": "intact", "food.weight": "9 lb"}


def put(sheet: Any, row: int, **values: object) -> None:
    """Type values under the heads of their columns; `row` counts from the first empty one."""
    heads = {cell.value: cell.column for cell in sheet[4]}
    for key, value in values.items():
        sheet.cell(4 + row, heads[key]).value = value


def fill_lot(book: Any, **values: object) -> None:
    sheet = book["Lot"]
    rows = {sheet.cell(row, 1).value: row for row in range(5, sheet.max_row + 1)}
    for key, value in ({**LOT, **FOOD} | values).items():
        sheet.cell(rows[key], 2).value = value


def written(tmp_path: Path, change: Change) -> Path:
    book = load_workbook(io.BytesIO(EMPTY))
    fill_lot(book)
    change(book)
    path = tmp_path / "lot.xlsx"
    book.save(path)
    return path


def refused(path: Path) -> str:
    with pytest.raises(InputError) as why:
        read_record(path)
    return str(why.value)


def a_day_of_lamb(book: Any) -> None:
    """The record of tests/cli/records.py that is met, typed in by hand."""
    put(book["Facts"], 0)
    for row in range(5, book["Facts"].max_row + 1):
        if book["Facts"].cell(row, 1).value == "cured":
            book["Facts"].cell(row, 2).value = "no"
    put(book["Probes"], 1, id="A")
    put(book["Checks"], 1, probe="A", at="2026-07-04 05:30", kind="ice", read="32.0 F")
    for row, (clock, step) in enumerate({"06": "cook", "14": "rest", "17": "serve"}.items(), 1):
        put(book["Notes"], row, at=datetime(2026, 7, 4, int(clock)), step=step)
    put(book["Notes"], 7, at=datetime(2026, 7, 4, 19), event="finished")
    for row, (clock, value) in enumerate(MET.items(), 1):
        at = datetime.combine(date(2026, 7, 4), time.fromisoformat(clock))
        put(book["Readings"], row, at=at, temp=f"{value} F", probe="A")


def test_a_day_typed_in_gets_the_answer_of_the_same_day_in_toml(tmp_path: Path) -> None:
    path = written(tmp_path, a_day_of_lamb)
    one = check(path).evaluation
    other = check(write_record(tmp_path, MET)).evaluation
    assert one.verdict.value == "met"
    assert one.findings == other.findings


def test_it_is_read_as_a_record_and_not_as_a_table(tmp_path: Path) -> None:
    assert read_any(written(tmp_path, a_day_of_lamb)).lot.id == "lamb"


def test_a_table_with_a_sheet_of_that_name_is_still_a_table(tmp_path: Path) -> None:
    book = Workbook()
    book.active.title = "Lot"
    for row in [("time", "temp_f"), ("2026-07-04 06:00-05:00", 40), ("2026-07-04 07:00-05:00", 90)]:
        book.active.append(row)
    path = tmp_path / "probe.xlsx"
    book.save(path)
    assert read_any(path, only_shown=True).channels[0].value.tolist() == [40.0, 90.0]


def test_bare_figures_take_the_unit_that_the_lot_names(tmp_path: Path) -> None:
    def change(book: Any) -> None:
        fill_lot(book, readings_unit="C")
        put(book["Readings"], 1, at="2026-07-04 06:00", temp=65.5)
        put(book["Readings"], 2, at="2026-07-04 07:00", temp="150 F")

    (channel,) = read_record(written(tmp_path, change)).channels
    assert channel.value.tolist() == [65.5, 150.0]
    assert channel.celsius.tolist() == [True, False]


def test_midnight_is_a_time_and_not_only_a_day(tmp_path: Path) -> None:
    """A workbook stores 2026-07-05 00:00 and 2026-07-05 as the same number."""

    def change(book: Any) -> None:
        put(book["Readings"], 1, at=datetime(2026, 7, 4, 23), temp="150 F")
        put(book["Readings"], 2, at=datetime(2026, 7, 5, 0), temp="140 F")

    (channel,) = read_record(written(tmp_path, change)).channels
    assert np.diff(channel.at).tolist() == [3600.0]


def test_a_day_without_a_time_is_no_midnight(tmp_path: Path) -> None:
    def change(book: Any) -> None:
        put(book["Readings"], 1, at=date(2026, 7, 5), temp="150 F")
        book["Readings"]["B5"].number_format = "yyyy-mm-dd"

    said = refused(written(tmp_path, change))
    assert "sheet 'Readings', cell B5" in said
    assert "write the time too" in said


def test_times_of_day_alone_run_on_from_the_day_of_the_lot(tmp_path: Path) -> None:
    def change(book: Any) -> None:
        fill_lot(book, date=date(2026, 7, 4))
        put(book["Readings"], 1, at=time(23, 0), temp="150 F")
        put(book["Readings"], 2, at="01:30", temp="140 F")

    (channel,) = read_record(written(tmp_path, change)).channels
    assert np.diff(channel.at).tolist() == [2.5 * 3600]


def test_numbers_and_truth_values_are_taken_for_what_is_meant(tmp_path: Path) -> None:
    def change(book: Any) -> None:
        put(book["Pieces"], 1, id=7)
        put(book["Probes"], 1, id=12, correct=False)
        put(book["Readings"], 1, at="2026-07-04 06:00", temp="150 F", piece=7, typed_later=True)
        book["Readings"]["F5"] = 12

    log = read_record(written(tmp_path, change))
    assert [p.id for p in log.lot.pieces] == ["7"]
    assert log.channels[0].probe == ("12",)
    assert log.typed_later == (1,)
    assert log.probes[0].correct is False


def test_several_words_in_a_cell(tmp_path: Path) -> None:
    def change(book: Any) -> None:
        fill_lot(book, **{"food.form": "injected; ground", "also": "trade/smoking"})

    lot = read_record(written(tmp_path, change)).lot
    assert sorted(f.value for f in lot.food.forms or ()) == ["ground", "injected"]
    assert lot.also == ("trade/smoking",)


def _slip(sheet: str, **values: object) -> Change:
    return lambda book: put(book[sheet], 1, **values)


def _plain_number(book: Any) -> None:
    put(book["Readings"], 1, at=46207.25, temp="150 F")
    book["Readings"]["B5"].number_format = "General"


def _unknown_fact(book: Any) -> None:
    book["Facts"].cell(5, 1, "colour")
    book["Facts"].cell(5, 2, "no")


@pytest.mark.parametrize(
    ("change", "where", "what"),
    [
        (
            _slip("Readings", at="2026-07-04 06:00", temp=150),
            "'Readings', cell C5",
            "with its unit",
        ),
        (_slip("Readings", at="2026-07-04 06:00"), "'Readings', cell C5", "'temp' is needed"),
        (_plain_number, "'Readings', cell B5", "46207.25 is no time"),
        (_slip("Readings", at="noon", temp="150 F"), "'Readings', cell B5", "noon"),
        (_slip("Notes", at="2026-07-04 06:00", step="smoke"), "'Notes', cell C5", "smoke"),
        (_slip("Notes", at="2026-07-04 06:00"), "'Notes', row 5", "the note says nothing"),
        (_slip("Checks", probe="B", at="x", kind="ice", read="32 F"), "'Checks', cell B5", "'B'"),
        (_slip("Columns", file=3, column="left"), "'Columns', cell B5", "number of a row in"),
        (_slip("Probes", id="A", correct="maybe"), "cell I5", "neither yes nor no"),
        (_slip("Passive", per_hour="0.3; x"), "'Passive', cell D5", "'x' is no number"),
        (_slip("Approvals", granted=datetime(2026, 7, 4, 6)), "cell E5", "without a time"),
        (_slip("Pieces", id=date(2026, 7, 4)), "'Pieces', cell B5", "if text is meant"),
        (_slip("Pieces", id="left", weight=9), "'Pieces', cell C5", "'9' is not a weight"),
        (
            lambda b: setattr(b["Readings"], "title", "Reading"),
            "Reading",
            "did you mean 'Readings'",
        ),
        (lambda b: b["Readings"].cell(4, 3, "tempp"), "'Readings', cell C4", "not a column"),
        (lambda b: b["Readings"].cell(4, 3, "at"), "'Readings', cell C4", "stands here twice"),
        (lambda b: b["Readings"].cell(9, 40, "x"), "'Readings', cell AN9", "beyond the columns"),
        (lambda b: b["Readings"].cell(4, 1, "number"), "'Readings', cell A1", "no row begins"),
        (lambda b: b["Lot"].cell(30, 1, "weather"), "'Lot', cell A30", "not a key of a lot"),
        (lambda b: b["Lot"].cell(30, 1, "lot"), "'Lot', cell A30", "first in sheet 'Lot', cell B5"),
        (lambda b: b["Lot"].cell(30, 2, "x"), "'Lot', cell B30", "taken away"),
        (lambda b: fill_lot(b, zone="America/Chicargo"), "'Lot', cell B8", "Chicargo"),
        (lambda b: fill_lot(b, readings_unit="K"), "'Lot', cell B22", "choose F or C"),
        (lambda b: b["Facts"].cell(5, 2, "perhaps"), "'Facts', cell B5", "perhaps"),
        (_unknown_fact, "'Facts', cell B5", "colour"),
        (_slip("Readings", at="2026-07-04 06:00", temp="=B1+1"), "cell C5", "without its value"),
        (_slip("Readings", at="2026-07-04 06:00", temp="#DIV/0!"), "cell C5", "#DIV/0!"),
    ],
)
def test_a_slip_is_named_by_its_sheet_and_cell(
    tmp_path: Path, change: Change, where: str, what: str
) -> None:
    said = refused(written(tmp_path, change))
    assert where in said
    assert what in said


def test_all_slips_are_told_at_once(tmp_path: Path) -> None:
    def change(book: Any) -> None:
        put(book["Readings"], 1, at="2026-07-04 06:00", temp=150)
        put(book["Readings"], 2, at="2026-07-04 07:00", temp="hot")
        put(book["Notes"], 1, at="2026-07-04 06:00", step="smoke")

    said = refused(written(tmp_path, change))
    assert "3 problems" in said
    assert "cell C5" in said
    assert "cell C6" in said


def test_a_damaged_workbook_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path, a_day_of_lamb)
    path.write_bytes(path.read_bytes()[:-3000])
    with pytest.raises(InputError):
        read_any(path)
