"""Small valid files of every kind that is read; all of them invented."""

from __future__ import annotations

import gzip
import io
from functools import cache
from pathlib import Path

from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P
from openpyxl import Workbook

__all__ = [
    "CELLS",
    "LONG",
    "MARKS",
    "RECORD",
    "ROOT",
    "SEEDS",
    "TIMES",
    "_rows_of_long",
    "workbook_bytes",
]

ROOT = Path(__file__).parents[2]

LONG = """\
time,temp_f,piece,place,probe,step,note
2026-07-04 10:00,41,lamb,core,P1,cook,into the pit
2026-07-04 12:00,120.5,lamb,core,P1,,
2026-07-04 14:00,~165,brisket,surface,P2,,
2026-07-04 16:00,140-145,lamb,core,P1,cool,on ice
2026-07-04 18:00,<41,lamb,core,P1,,
"""
WIDE = """\
time,left_f,right_f,pit air temp_c
07/14/2026 11:58 PM,135,136.5,101
07/15/2026 12:03 AM,134,136,100
07/15/2026 12:08 AM,,--,99.5
"""
TURNED = """\
time,2026-07-04 10:00,2026-07-04 10:05,2026-07-04 10:10
turkey_f,165,164,163
beans_f,140,139,138
"""
SEMICOLON = """\
Zeit;temp_c
2026-07-04 10:00;57,2
2026-07-04 10:05;56,9
""".replace("Zeit", "time")
TAB = "date\ttime\ttemp_f\n2026-07-04\t10:00\t140\n2026-07-04\t10:05\t139\n"
PREAMBLE = """\
Logger,A-1
Unit,°F
,
time,core_f
2026-07-04T10:00:00-05:00,140
2026-07-04T10:05:00-05:00,139 °F
"""
CLOCK = "time,temp_f\n1783159200,140\n1783159500,139\n1783159800,138\n"
JSON = '[{"time": "2026-07-04 10:00", "temp_f": 140}, {"time": "2026-07-04 10:05", "temp_f": 139}]'
LINES = '{"time": "2026-07-04 10:00", "temp_f": 14}\n{"time": "2026-07-04 10:05", "temp_f": null}\n'
RECORD = """\
schema = 1
lot = "lamb of the fourth"
code = "us/food-code/2022"
zone = "America/Chicago"
business = "caterer"
event = "field day"

[food]
name = "lamb shoulder"
species = "lamb"
cut = "roast"
form = "intact"
weight = "9 lb"

[facts]
cured = "no"

[[piece]]
id = "left"
weight = "8.5 lb"

[[probe]]
id = "P1"
kind = "leave-in thermistor"
accuracy = "1.8 F"
check = [{ at = "2026-07-03 21:00", kind = "ice", read = "32.2 F" }]

[[file]]
path = "long.csv"
probe = "P1"
columns.temp_f = { piece = "left" }
ignore = ["piece", "note", "probe", "place"]

[[note]]
at = "2026-07-04 05:00"
step = "cook"
text = "into the pit"

[[reading]]
at = "2026-07-04 10:00"
piece = "left"
probe = "P1"
temp = "145 F"

[[time_control]]
at = "2026-07-04 11:00"
option = "4h"
written = 2026-07-01
marked = "yes"

[[approval]]
kind = "variance"
authority = "County of Example"
number = "V-1"
granted = 2026-01-01
expires = 2027-01-01

[[rate]]
stage = "cool"
down = "60 F/h"
reason = "trial"

[[passive]]
stage = "cool"
ambient = ["36 F", "40 F"]
per_hour = [0.2, 0.6]
reason = "trial"
"""
OVERRIDE = (ROOT / "rules/local/county-example.toml").read_text("utf-8")
TIMES = (
    "2026-07-04 10:00", "7/4/2026 1:05 PM", "13.7.2026 10:05", "1783159200", "1783159200000",
    "46207.5", "10:05", "10.05", "Sat Jul 4 10:00:00 2026", "2026-07-04T10:00Z", "noon",
    "2026-07-04T10:00:00.5+02:00", "4 Jul 2026 10am", "24:00", "2026-07-04 12:00 AM",
)  # fmt: skip
CELLS = (
    "140", "140.5 °F", "60℃", "1,5", "~165", "<41", ">= 135", "140-145", "140–145", "OK", "--", '"',
    "ditto", "HI", "open", "1e3", "-127", "138/140", "57 Â°C", "140+", "about 150", "", "1 40",
)  # fmt: skip
MARKS = ("", '"', "''", "~", "<", ">", "-", "--", "±", "°", "°F", "C", ",", ".", "OK", "do.")


def _rows_of_long() -> list[list[str]]:
    """The long table as cells."""
    return [line.split(",") for line in LONG.splitlines()]


def workbook_bytes(rows: list[list[str]], suffix: str = ".xlsx") -> bytes:
    """A workbook of one sheet."""
    out = io.BytesIO()
    if suffix == ".ods":
        book = OpenDocumentSpreadsheet()
        table = Table(name="readings")
        for cells in rows:
            line = TableRow()
            for cell in cells:
                held = TableCell(valuetype="string")
                held.addElement(P(text=cell))
                line.addElement(held)
            table.addElement(line)
        book.spreadsheet.addElement(table)
        book.save(out)
    else:
        sheets = Workbook()
        sheet = sheets.active
        for cells in rows:
            sheet.append(cells)
        sheets.save(out)
    return out.getvalue()


@cache
def _all() -> dict[str, bytes]:
    texts = {
        "long.csv": LONG, "wide.csv": WIDE, "turned.csv": TURNED, "semicolon.csv": SEMICOLON,
        "tab.tsv": TAB, "preamble.csv": PREAMBLE, "clock.csv": CLOCK, "rows.json": JSON,
        "rows.jsonl": LINES, "record.toml": RECORD, "override.toml": OVERRIDE,
    }  # fmt: skip
    return {name: text.encode() for name, text in texts.items()} | {
        "mark.csv": b"\xef\xbb\xbf" + LONG.encode(),
        "wide16.csv": PREAMBLE.encode("utf-16"),
        "old.csv": PREAMBLE.encode("cp1252"),
        "packed.csv.gz": gzip.compress(LONG.encode(), mtime=0),
        "book.xlsx": workbook_bytes(_rows_of_long()),
        "book.ods": workbook_bytes(_rows_of_long(), ".ods"),
    }


SEEDS = _all()
