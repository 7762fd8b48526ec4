"""The table of findings, read back as a spreadsheet would read it."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from tempwitness.report import to_csv
from tempwitness.report.table import COLUMNS

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation


def _read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_one_row_for_each_finding_under_one_header(evaluation: Evaluation) -> None:
    other = replace(evaluation, lot=replace(evaluation.lot, id="BEANS-2"))
    rows = _read(to_csv([evaluation, other]))
    assert len(rows) == 2 * len(evaluation.findings)
    assert tuple(rows[0]) == COLUMNS
    assert {row["lot"] for row in rows} == {"LAMB-0614", "BEANS-2"}


def test_a_row_holds_what_the_finding_says(evaluation: Evaluation) -> None:
    row = next(r for r in _read(to_csv([evaluation])) if r["verdict"] == "not_shown")
    assert row["piece"] == "B"
    assert row["citation"] == "FDA Food Code 2022 3-501.14(A)(1)"
    # 35 min = 2100 s and 3 h 20 min = 12000 s.
    assert (float(row["least_s"]), float(row["most_s"])) == (2100.0, 12000.0)
    assert row["settle"] == "a reading of 70 °F or less in the core of piece B"
    assert row["action_basis"] == "practice"
    assert "124.2 °F" in row["readings"]
    assert row["deadline"] == ""


def test_no_evaluation_gives_the_header_alone() -> None:
    assert to_csv([]) == ",".join(COLUMNS) + "\n"


def test_line_breaks_quotes_and_commas_come_back(evaluation: Evaluation) -> None:
    reason = 'he said "done",\nand went'
    finding = replace(evaluation.findings[0], reason=reason)
    assert _read(to_csv([replace(evaluation, findings=(finding,))]))[0]["reason"] == reason


@pytest.mark.parametrize(
    ("written", "cell"),
    [
        ("=HYPERLINK(1)", "'=HYPERLINK(1)"),
        ("+1+1", "'+1+1"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("-cmd", "'-cmd"),
        ("-3.5 °F", "-3.5 °F"),
        ("plain", "plain"),
    ],
)
def test_a_text_is_never_a_formula(evaluation: Evaluation, written: str, cell: str) -> None:
    finding = replace(evaluation.findings[0], measured=written)
    row = _read(to_csv([replace(evaluation, findings=(finding,))]))[0]
    assert row["measured"] == cell
