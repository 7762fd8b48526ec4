"""Workbooks, written by an independent library."""

from __future__ import annotations

import sys
from datetime import datetime
from typing import TYPE_CHECKING

import openpyxl
import pytest

from tempwitness.errors import InputError
from tempwitness.readers import BareOptions, read_bare
from tests.readers.build import LAMB, rows, utc

if TYPE_CHECKING:
    from pathlib import Path


def book(path: Path, *sheets: str) -> Path:
    work = openpyxl.Workbook()
    work.remove(work.active)
    for name in sheets:
        sheet = work.create_sheet(name)
        sheet.append(["time", "temp_f", "step"])
        sheet.append([datetime(2026, 7, 4, 18, 10), 138, "rest"])  # noqa: DTZ001 - a clock face
        sheet.append(["2026-07-04 18:20", 137.5, None])
    work.save(path)
    return path


def test_a_sheet_is_read_as_its_csv_would_be(tmp_path: Path) -> None:
    log = read_bare(book(tmp_path / "pit.xlsx", "log"), BareOptions(**LAMB))
    assert rows(log.channels[0]) == [
        (utc("2026-07-04T23:10"), 138.0, False),
        (utc("2026-07-04T23:20"), 137.5, False),
    ]
    assert log.channels[0].line.tolist() == [2, 3]
    assert [n.line for n in log.notes] == [2]


def test_several_sheets_are_asked_for(tmp_path: Path) -> None:
    path = book(tmp_path / "pit.xlsx", "log", "old")
    with pytest.raises(InputError, match="it is not said which sheet is meant; .* log, old"):
        read_bare(path, BareOptions(**LAMB))


def test_without_the_extra_the_message_says_how_to_get_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = book(tmp_path / "pit.xlsx", "log")
    monkeypatch.setitem(sys.modules, "python_calamine", None)
    with pytest.raises(InputError) as caught:
        read_bare(path, BareOptions(**LAMB))
    assert 'pip install "tempwitness[excel]"' in caught.value.hint


def test_a_file_that_is_no_workbook(tmp_path: Path) -> None:
    path = tmp_path / "pit.xlsx"
    path.write_bytes(b"time,temp_f\n")
    with pytest.raises(InputError, match="the workbook cannot be read"):
        read_bare(path, BareOptions(**LAMB))
