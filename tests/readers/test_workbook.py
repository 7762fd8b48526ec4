"""Workbooks, written here by the published format (ECMA-376) or by openpyxl and odfpy."""

from __future__ import annotations

import math
import sys
import zipfile
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

import openpyxl
import pytest
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from tempwitness.errors import InputError
from tempwitness.readers import BareOptions, read_bare
from tests.readers.build import LAMB, rows, utc

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path


TYPES = """<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="xml" ContentType="application/xml"/></Types>"""
PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
# 2026-07-04 is day 46207 of the 1900 date system (2026-01-01 is 46023, then 184 days); 18:10 is
# 1090 of 1440 minutes. Number format 22 shows a date with its time (ECMA-376 part 1, 18.8.30).
FORMATS = '<cellXfs><xf numFmtId="0"/><xf numFmtId="22"/></cellXfs>'
STYLES = f'<styleSheet xmlns="{MAIN}">{FORMATS}</styleSheet>'
SHEET = f"""<worksheet xmlns="{MAIN}"><sheetData>
<row r="1">{{}}</row>
<row r="2"><c r="A2" s="1"><v>{46207 + 1090 / 1440!r}</v></c><c r="B2"><v>138</v></c>
<c r="C2" t="inlineStr"><is><t>rest</t></is></c></row>
<row r="3"><c r="A3" t="inlineStr"><is><t>2026-07-04 18:20</t></is></c>
<c r="B3"><v>137.5</v></c></row>
</sheetData></worksheet>"""
HEADER = "".join(
    f'<c r="{at}1" t="inlineStr"><is><t>{name}</t></is></c>'
    for at, name in zip("ABC", ("time", "temp_f", "step"), strict=True)
)


def book(path: Path, *sheets: str) -> Path:
    """Write a workbook by the published format, part by part."""
    listed = "".join(
        f'<sheet name="{name}" sheetId="{i}" r:id="r{i}"/>' for i, name in enumerate(sheets, 1)
    )
    related = "".join(
        f'<Relationship Id="r{i}" Type="{OFFICE}/worksheet" Target="s{i}.xml"/>'
        for i in range(1, len(sheets) + 1)
    )
    styles = f'<Relationship Id="st" Type="{OFFICE}/styles" Target="styles.xml"/>'
    root = f'<Relationship Id="r" Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/>'
    with zipfile.ZipFile(path, "w") as parts:
        parts.writestr("[Content_Types].xml", TYPES)
        parts.writestr("_rels/.rels", f'<Relationships xmlns="{PACKAGE}">{root}</Relationships>')
        parts.writestr(
            "xl/workbook.xml",
            f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>{listed}</sheets></workbook>',
        )
        parts.writestr(
            "xl/_rels/workbook.xml.rels",
            f'<Relationships xmlns="{PACKAGE}">{related}{styles}</Relationships>',
        )
        parts.writestr("xl/styles.xml", STYLES)
        for i in range(1, len(sheets) + 1):
            parts.writestr(f"xl/s{i}.xml", SHEET.format(HEADER))
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
    with pytest.raises(
        InputError, match="it is not said which sheet is meant; the workbook has log, old"
    ):
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


def written(path: Path, rows: Sequence[Sequence[Any]], *, mac: bool = False) -> Path:
    """Write a workbook by openpyxl, which is not the reader that the package uses."""
    workbook = openpyxl.Workbook()
    if mac:
        workbook.epoch = CALENDAR_MAC_1904
    for row in rows:
        workbook.worksheets[0].append(row)
    workbook.save(path)
    return path


A, B = utc("2026-07-04T23:10"), utc("2026-07-04T23:20")


@pytest.mark.parametrize("mac", [False, True])
def test_dates_in_both_date_systems_below_a_preamble(tmp_path: Path, mac: bool) -> None:
    rows_: list[list[Any]] = [
        ["Recorder 7"],
        [],
        ["Date Time", "Temp (°F)", "Note"],
        [datetime(2026, 7, 4, 18, 10), 138.5, None],  # noqa: DTZ001 - sheets know no zone
        ["2026-07-04 18:20", "137", "boxed"],
    ]
    log = read_bare(written(tmp_path / "p.xlsx", rows_, mac=mac), BareOptions(**LAMB))
    assert rows(log.channels[0]) == [(A, 138.5, False), (B, 137.0, False)]
    assert log.channels[0].line.tolist() == [4, 5]
    assert [c.line for c in log.changes] == [1, 2]
    assert log.sources[0].understood[0] == "sheet 'Sheet' of a workbook, header in line 3"


def test_times_alone_take_the_day_that_is_told(tmp_path: Path) -> None:
    path = written(tmp_path / "p.xlsx", [["time", "temp_f"], [time(18, 10), 138]])
    log = read_bare(path, BareOptions(**LAMB, date=date(2026, 7, 4)))
    assert rows(log.channels[0]) == [(A, 138.0, False)]


def test_a_length_of_time_is_no_time_of_day(tmp_path: Path) -> None:
    path = written(tmp_path / "p.xlsx", [["time", "temp_f"], [timedelta(minutes=70), 138]])
    with pytest.raises(InputError, match="a length of time"):
        read_bare(path, BareOptions(**LAMB))


def test_a_cell_with_an_error_is_not_an_empty_one(tmp_path: Path) -> None:
    table: list[list[Any]] = [["time", "temp_f"], ["2026-07-04 18:10", "#N/A"]]
    table.append(["2026-07-04 18:20", 137])
    (channel,) = read_bare(written(tmp_path / "p.xlsx", table), BareOptions(**LAMB)).channels
    assert channel.text is not None
    assert channel.text[0] == "#N/A"
    assert math.isnan(channel.value[0])


def test_a_formula_without_its_value_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path / "p.xlsx", [["time", "temp_f"], ["2026-07-04 18:10", "=130+8"]])
    with pytest.raises(InputError, match="'=130\\+8' is not a number"):
        read_bare(path, BareOptions(**LAMB))


def test_a_time_that_spans_two_rows_is_not_spread(tmp_path: Path) -> None:
    table = [["time", "temp_f"], ["2026-07-04 18:10", 138], [None, 137]]
    workbook = openpyxl.Workbook()
    for row in table:
        workbook.worksheets[0].append(row)
    workbook.worksheets[0].merge_cells("A2:A3")
    workbook.save(tmp_path / "p.xlsx")
    with pytest.raises(InputError, match="the row has no time") as caught:
        read_bare(tmp_path / "p.xlsx", BareOptions(**LAMB))
    assert caught.value.location is not None
    assert caught.value.location.line == 3


def test_an_open_document_sheet(tmp_path: Path) -> None:
    sheet = Table(name="log")
    at = {"valuetype": "date", "datevalue": "2026-07-04T18:10:00"}
    text = {"valuetype": "string"}
    for cells in (
        [("Recorder 7", text)],
        [("time", text), ("Temp (°C)", text)],
        [("4 July", at), ("58,9", {"valuetype": "float", "value": "58.9"})],
        [("2026-07-04 18:20", text), ("58.4", text)],
    ):
        row = TableRow()
        for words, told in cells:
            cell = TableCell(**told)
            cell.addElement(P(text=words))
            row.addElement(cell)
        sheet.addElement(row)
    document = OpenDocumentSpreadsheet()
    document.spreadsheet.addElement(sheet)
    document.save(tmp_path / "p.ods")
    log = read_bare(tmp_path / "p.ods", BareOptions(**LAMB))
    assert rows(log.channels[0]) == [(A, 58.9, True), (B, 58.4, True)]
    assert log.channels[0].line.tolist() == [3, 4]
