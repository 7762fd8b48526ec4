"""The empty workbook: every key has its place, words can be chosen, sheets print well."""

# The library's sheets and cells carry no types.
# ruff: noqa: ANN401

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

import pytest
from openpyxl import load_workbook

from tempwitness.drafting.book import book_of
from tempwitness.model.base import Written
from tempwitness.model.vocabulary import Business, Event, Place, Species, StageName
from tempwitness.readers import shape
from tempwitness.rulebook.facts import load_facts
from tempwitness.rulebook.files import code_ids
from tests.cli.running import in_process
from tests.seal.archives import members_of, sample

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.cli.running import Ran

    Run = Callable[..., Ran]

MODELS: dict[str, type[Written]] = {
    "Pieces": shape.PieceTable,
    "Probes": shape.ProbeTable,
    "Checks": shape.CheckTable,
    "Readings": shape.ReadingTable,
    "Notes": shape.NoteTable,
    "Files": shape.FileTable,
    "Columns": shape.ColumnTable,
    "Time control": shape.TimeControlTable,
    "Approvals": shape.ApprovalTable,
    "Rates": shape.RateTable,
    "Passive": shape.PassiveTable,
}


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    return in_process(capsys)


@pytest.fixture(scope="module")
def book() -> Any:
    return load_workbook(io.BytesIO(book_of()))


def choices(sheet: Any, cell: str) -> set[str]:
    """Return the words that a cell offers."""
    (rule,) = [r for r in sheet.data_validations.dataValidation if cell in r.sqref]
    return set(rule.formula1.strip('"').split(","))


def test_every_key_of_a_record_has_its_column(book: Any) -> None:
    for name, model in MODELS.items():
        keys = {info.alias or key for key, info in model.model_fields.items()}
        heads = {cell.value for cell in book[name][4]}
        assert keys - heads <= {"check", "columns"}, name
        assert heads - keys <= {"no.", "probe", "file", "column"}, name


def test_every_key_of_the_lot_has_its_row(book: Any) -> None:
    rows = {book["Lot"].cell(row, 1).value for row in range(5, book["Lot"].max_row + 1)}
    top = {info.alias or key for key, info in shape.RecordTable.model_fields.items()}
    tables = {"schema", "food", "facts", "piece", "probe", "file", "reading", "note"}
    tables |= {"approval", "time_control", "rate", "passive"}
    food = {f"food.{key}" for key in shape.FoodTable.model_fields if key != "facts"}
    assert rows == (top - tables) | food | {"readings_unit"}


def test_every_question_of_the_codes_can_be_answered(book: Any) -> None:
    sheet = book["Facts"]
    asked = {sheet.cell(row, 1).value: row for row in range(5, sheet.max_row + 1)}
    facts = load_facts()
    assert asked.keys() == facts.keys()
    for name, fact in facts.items():
        if not fact.number:
            assert choices(sheet, f"B{asked[name]}") == set(fact.answers)


def test_words_of_closed_lists_are_offered(book: Any) -> None:
    assert choices(book["Notes"], "C5") == {s.value for s in StageName}
    assert choices(book["Notes"], "D5") == {e.value for e in Event}
    assert choices(book["Readings"], "E5") == {p.value for p in Place}
    lot = {book["Lot"].cell(row, 1).value: f"B{row}" for row in range(5, 24)}
    assert choices(book["Lot"], lot["business"]) == {b.value for b in Business}
    assert choices(book["Lot"], lot["food.species"]) == {s.value for s in Species}
    (source,) = choices(book["Lot"], lot["code"])
    assert source == f"Lists!$A$2:$A${len(code_ids()) + 1}"
    assert [c.value for c in book["Lists"]["A"][1:]][: len(code_ids())] == code_ids()


def test_heads_stay_in_sight_and_come_on_every_page(book: Any) -> None:
    for name in (*MODELS, "Lot", "Facts"):
        assert book[name].freeze_panes == "B5"
        assert book[name].print_title_rows == "$1:$4"
        assert book[name].page_setup.fitToWidth == 1
        assert book[name].sheet_properties.pageSetUpPr.fitToPage


def test_nothing_in_it_says_when_or_by_whom_it_was_written() -> None:
    members = members_of(book_of())
    core = members["docProps/core.xml"]
    assert core.count(b"1980-01-01T00:00:00Z") == 2
    assert b"openpyxl" not in core


def test_the_command_writes_one_that_asks_for_what_is_missing(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "lamb.xlsx"
    assert run("new", "workbook", "-o", path).status == 0
    done = run("check", path)
    assert done.status == 2
    assert "sheet 'Lot', cell B5: 'lot' is needed but missing" in done.err


def test_an_existing_workbook_is_left_as_it_is(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "lamb.xlsx"
    path.write_bytes(b"mine")
    assert run("new", "workbook", "-o", path).status == 2
    assert path.read_bytes() == b"mine"
    assert run("new", "workbook", "-o", path, "--force").status == 0


def test_a_name_of_another_kind_is_refused(run: Run, tmp_path: Path) -> None:
    done = run("new", "workbook", "-o", tmp_path / "lamb.toml")
    assert done.status == 2
    assert "lamb.xlsx" in done.err


def test_a_record_becomes_a_workbook_with_the_same_answer(run: Run, tmp_path: Path) -> None:
    for source in sample("04").parent.iterdir():
        (tmp_path / source.name).write_bytes(source.read_bytes())
    record, path = tmp_path / "record.toml", tmp_path / "turkey.xlsx"
    assert run("new", "workbook", "--from", record, "-o", path).status == 0
    one, other = run("check", record), run("check", path)
    assert one.status == other.status == 1
    assert (
        one.out.replace("record.toml", "turkey.xlsx").splitlines()[:20]
        == (other.out.splitlines()[:20])
    )


def test_a_workbook_can_be_sealed_and_verified(run: Run, tmp_path: Path) -> None:
    for source in sample("04").parent.iterdir():
        (tmp_path / source.name).write_bytes(source.read_bytes())
    path, archive = tmp_path / "turkey.xlsx", tmp_path / "turkey.zip"
    assert run("new", "workbook", "--from", tmp_path / "record.toml", "-o", path).status == 0
    assert run("seal", path, "-o", archive).status == 0
    assert "records/1/turkey.xlsx" in members_of(archive.read_bytes())
    assert run("verify", archive).status == 0
