"""Workbooks, written here by the published format (ECMA-376)."""

from __future__ import annotations

import sys
import zipfile
from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import InputError
from tempwitness.readers import BareOptions, read_bare
from tests.readers.build import LAMB, rows, utc

if TYPE_CHECKING:
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
