"""Files as loggers and spreadsheets write them: every encoding gives the same log.

The standard library's codecs and its gzip are the reference.
"""

from __future__ import annotations

import gzip
from typing import TYPE_CHECKING

import pytest

from tests.readers.build import bare, rows, utc

if TYPE_CHECKING:
    from pathlib import Path

_TABLE = "time,temp_c,note\n2026-07-04 18:10,58.9,fat cap – 60 °C oven\n2026-07-04 18:20,58.4,\n"
_WANTED = [(utc("2026-07-04T23:10"), 58.9, True), (utc("2026-07-04T23:20"), 58.4, True)]


@pytest.mark.parametrize(
    ("codec", "said"),
    [
        ("utf-8", "UTF-8"),
        ("utf-8-sig", "UTF-8"),
        ("utf-16", "UTF-16"),
        ("cp1252", "Windows-1252"),
    ],
)
def test_the_encoding_changes_nothing_and_is_said(tmp_path: Path, codec: str, said: str) -> None:
    log = bare(tmp_path, _TABLE.encode(codec))
    assert rows(log.channels[0]) == _WANTED
    assert log.notes[0].text == "fat cap – 60 °C oven"
    assert log.sources[0].understood[0] == f"{said} text, columns separated by commas"


def test_utf_16_with_the_high_byte_first(tmp_path: Path) -> None:
    log = bare(tmp_path, b"\xfe\xff" + _TABLE.encode("utf-16-be"))
    assert rows(log.channels[0]) == _WANTED


@pytest.mark.parametrize("name", ["pit.csv.gz", "pit.CSV.GZ", "pit.tsv.gz"])
def test_a_packed_file(tmp_path: Path, name: str) -> None:
    text = _TABLE.replace(",", "\t") if "tsv" in name else _TABLE
    log = bare(tmp_path, gzip.compress(text.encode("cp1252")), name)
    assert rows(log.channels[0]) == _WANTED
    assert log.sources[0].rows == 2


def test_a_long_file_in_another_encoding_keeps_its_lines(tmp_path: Path) -> None:
    """Long files take another way through the reader than short ones."""
    body = "".join(f"2026-07-04 18:{m:02d}:{s:02d},58.9,–\n" for m in range(60) for s in range(60))
    log = bare(tmp_path, f"time,temp_c,note\n{body}".encode("utf-16"))
    assert len(log.channels[0]) == 3600
    assert log.channels[0].line[-1] == 3601
