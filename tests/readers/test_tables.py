"""Readings files: layouts, separators, units, notes and lines."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import InputError
from tempwitness.model.vocabulary import Event, Place, StageName
from tests.readers.build import bare, record, rows, shapes, utc

if TYPE_CHECKING:
    from pathlib import Path

A, B = utc("2026-07-04T23:10"), utc("2026-07-04T23:20")


def test_a_plain_table(tmp_path: Path) -> None:
    log = bare(tmp_path, "time,temp_f\n2026-07-04 18:10,138\n2026-07-04 18:20,137.5\n")
    (channel,) = log.channels
    assert rows(channel) == [(A, 138.0, False), (B, 137.5, False)]
    assert (channel.piece, channel.place, channel.source) == ("1", Place.CORE, "pit.csv")
    assert channel.line.tolist() == [2, 3]
    assert channel.text is None
    assert [p.id for p in log.lot.pieces] == ["1"]
    assert log.sources[0].rows == 2
    assert "column 'temp_f' holds temperatures in °F" in log.sources[0].understood


def test_the_hash_is_that_of_the_bytes(tmp_path: Path) -> None:
    import hashlib  # noqa: PLC0415 - the reference for this test

    raw = b"\xef\xbb\xbftime,temp_f\r\n2026-07-04 18:10,138\r\n"
    log = bare(tmp_path, raw)
    assert log.sources[0].sha256 == hashlib.sha256(raw).hexdigest()
    assert rows(log.channels[0]) == [(A, 138.0, False)]


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_separators(tmp_path: Path, sign: str) -> None:
    text = f"time{sign}temp_c{sign}piece\n2026-07-04 18:10{sign}58.9{sign}A\n"
    assert shapes(bare(tmp_path, text)) == {("A", "core", ""): [(A, 58.9, True)]}


def test_a_decimal_comma_needs_another_separator(tmp_path: Path) -> None:
    log = bare(tmp_path, "time;temp_c\n2026-07-04 18:10;58,9\n")
    assert rows(log.channels[0]) == [(A, 58.9, True)]
    assert log.channels[0].text == ("58,9",)
    assert "a comma stands for the decimal point" in log.sources[0].understood
    with pytest.raises(InputError, match="3 cells where the header names 2"):
        bare(tmp_path, "time,temp_c\n2026-07-04 18:10,58,9\n")


def test_mixed_units(tmp_path: Path) -> None:
    log = bare(tmp_path, "time,temp_f,temp_c\n2026-07-04 18:10,138,\n2026-07-04 18:20,,58.9\n")
    assert rows(log.channels[0]) == [(A, 138.0, False), (B, 58.9, True)]
    assert log.probes[0].scale == "both"
    with pytest.raises(InputError, match="a temperature in °F and one in °C"):
        bare(tmp_path, "time,temp_f,temp_c\n2026-07-04 18:10,138,58.9\n")


def test_lines_count_blank_lines_and_quoted_line_breaks(tmp_path: Path) -> None:
    text = 'time,temp_f,note\n\n2026-07-04 18:10,138,"two\nlines"\n,,\n2026-07-04 18:20,137,\n'
    log = bare(tmp_path, text)
    assert log.channels[0].line.tolist() == [4, 6]
    assert log.notes[0].text == "two\nlines"


def test_a_wide_table(tmp_path: Path) -> None:
    text = (
        "time,A_f,B_surface_c,air_f,air_left_f\n"
        "2026-07-04 18:10,138,58.9,225,230\n2026-07-04 18:20,,58.5,226,\n"
    )
    assert shapes(bare(tmp_path, text)) == {
        ("", "air", ""): [(A, 225.0, False), (B, 226.0, False)],
        ("", "air", "left"): [(A, 230.0, False)],
        ("A", "core", ""): [(A, 138.0, False)],
        ("B", "surface", ""): [(A, 58.9, True), (B, 58.5, True)],
    }


def test_air_beside_a_long_table_is_no_missing_core_reading(tmp_path: Path) -> None:
    text = "time,temp_f,air_f\n2026-07-04 18:10,138,225\n2026-07-04 18:20,,226\n"
    assert shapes(bare(tmp_path, text)) == {
        ("", "air", ""): [(A, 225.0, False), (B, 226.0, False)],
        ("1", "core", ""): [(A, 138.0, False)],
    }


@pytest.mark.parametrize("word", ["", "--", "NA", "n/a"])
def test_words_for_no_reading_are_kept_as_missing(tmp_path: Path, word: str) -> None:
    log = bare(tmp_path, f"time,temp_f\n2026-07-04 18:10,{word}\n2026-07-04 18:20,137\n")
    (channel,) = log.channels
    assert math.isnan(channel.value[0])
    assert channel.text is not None
    assert channel.text[0] == word


def test_rows_are_sorted_by_time_and_keep_their_lines(tmp_path: Path) -> None:
    log = bare(tmp_path, "time,temp_f\n2026-07-04 18:20,137\n2026-07-04 18:10,138\n")
    assert rows(log.channels[0]) == [(A, 138.0, False), (B, 137.0, False)]
    assert log.channels[0].line.tolist() == [3, 2]


def test_equal_times_are_kept_in_their_order(tmp_path: Path) -> None:
    log = bare(tmp_path, "time,temp_f\n2026-07-04 18:10,138\n2026-07-04 18:10,137\n")
    assert rows(log.channels[0]) == [(A, 138.0, False), (A, 137.0, False)]


def test_many_equal_times_keep_their_order_when_sorted(tmp_path: Path) -> None:
    lines = ["2026-07-04 18:20,99", *(f"2026-07-04 18:10,{100 + i}" for i in range(60))]
    log = bare(tmp_path, "\n".join(["time,temp_f", *lines]))
    assert log.channels[0].value.tolist() == [*(100.0 + i for i in range(60)), 99.0]


def test_a_written_offset_wins(tmp_path: Path) -> None:
    log = bare(tmp_path, "time,temp_f\n2026-07-04 18:10+02:00,138\n2026-07-04 18:20,137\n")
    assert [at for at, *_ in rows(log.channels[0])] == [utc("2026-07-04T16:10"), B]


def test_stages_events_and_words_in_rows(tmp_path: Path) -> None:
    text = (
        "time,temp_f,step,event,method,note\n"
        "2026-07-04 18:10,203,rest,,,\n"
        "2026-07-04 18:20,202,rest,,,\n"
        "2026-07-04 18:30,,,sliced,,for plates\n"
        "2026-07-04 18:40,140,cool,,ice_bath,\n"
        "2026-07-04 18:50,130,,,ice_bath,smells good\n"
    )
    log = bare(tmp_path, text)
    assert [(n.line, n.step, n.event, n.method, n.text) for n in log.notes] == [
        (2, StageName.REST, None, "", ""),
        (4, None, Event.SLICED, "", "for plates"),
        (5, StageName.COOL, None, "ice_bath", ""),
        (6, None, Event.REMARK, "ice_bath", "smells good"),
    ]
    assert [n.piece for n in log.notes] == [None] * 4
    assert log.channels[0].line.tolist() == [2, 3, 5, 6]


def test_a_stage_in_a_row_belongs_to_the_row_s_piece(tmp_path: Path) -> None:
    text = (
        "time,temp_f,piece,step\n2026-07-04 18:10,203,A,rest\n2026-07-04 18:10,201,B,rest\n"
        "2026-07-04 18:20,202,A,Rest\n"
    )
    assert [(n.piece, n.line) for n in bare(tmp_path, text).notes] == [("A", 2), ("B", 3)]


def test_a_stage_on_an_air_row_or_in_a_wide_table_keeps_its_piece(tmp_path: Path) -> None:
    text = (
        "time,temp_f,piece,place,step\n2026-07-04 18:10,203,A,core,\n"
        "2026-07-04 18:20,225,A,air,rest\n2026-07-04 18:20,201,B,core,\n"
    )
    assert [n.piece for n in bare(tmp_path, text).notes] == ["A"]
    text = "time,A_f,B_f,piece,step\n2026-07-04 18:10,203,201,A,rest\n2026-07-04 18:20,202,200,,\n"
    log = bare(tmp_path, text)
    assert [n.piece for n in log.notes] == ["A"]
    assert [p.id for p in log.lot.pieces] == ["A", "B"]
    body = '[[piece]]\nid = "A"\n[[piece]]\nid = "B"\n[[file]]\npath = "p.csv"\n'
    with pytest.raises(InputError, match="there is no piece 'C'"):
        record(tmp_path, body, files={"p.csv": text.replace(",A,rest", ",C,rest")})


def test_a_method_on_a_row_where_nothing_begins_is_refused(tmp_path: Path) -> None:
    text = "time,temp_f,step,method\n2026-07-04 18:10,50,cool,\n2026-07-04 18:20,49,,ice_bath\n"
    with pytest.raises(InputError, match="where no stage begins"):
        bare(tmp_path, text)


def test_probes_by_row(tmp_path: Path) -> None:
    text = "time,temp_f,probe\n2026-07-04 18:20,137,red\n2026-07-04 18:10,138,blue\n"
    log = bare(tmp_path, text)
    assert log.channels[0].probe == ("blue", "red")
    assert [p.id for p in log.probes] == ["red", "blue"]


def test_a_probe_in_air_only_is_an_air_probe(tmp_path: Path) -> None:
    log = bare(tmp_path, "time,temp_c,place\n2026-07-04 18:10,110,air\n")
    assert (log.probes[0].reads, log.probes[0].scale) == ("air", "C")
    assert log.channels[0].piece == ""


def test_columns_as_a_record_maps_them(tmp_path: Path) -> None:
    body = """
[[file]]
path = "pit.tsv"
ignore = ["battery"]
columns.Stamp = {as = "time"}
columns.P1 = {piece = "A", unit = "F", probe = "blue"}
columns.P2 = {place = "air", unit = "C"}
"""
    text = "Stamp\tP1\tP2\tbattery\n2026-07-04 18:10\t138\t110\tlow\n"
    log = record(tmp_path, body, files={"pit.tsv": text})
    assert shapes(log) == {
        ("", "air", ""): [(A, 110.0, True)],
        ("A", "core", ""): [(A, 138.0, False)],
    }
    assert [s.name for s in log.sources] == ["lamb.toml", "pit.tsv"]
    assert "column 'battery' was left out on request" in log.sources[1].understood


def test_a_column_on_request_is_left_out(tmp_path: Path) -> None:
    text = "time,temp_f,battery\n2026-07-04 18:10,138,low\n"
    assert len(bare(tmp_path, text, ignore=("battery",)).channels) == 1
    with pytest.raises(InputError, match="'battery' is not understood") as caught:
        bare(tmp_path, text)
    assert "--ignore-column 'battery'" in caught.value.hint


def test_a_file_of_one_piece_and_zone(tmp_path: Path) -> None:
    body = '[[file]]\npath = "p.csv"\npiece = "B"\nplace = "surface"\nunit = "C"\nzone = "UTC"\n'
    log = record(tmp_path, body, files={"p.csv": "time,temp\n2026-07-04 18:10,58\n"})
    assert shapes(log) == {("B", "surface", ""): [(utc("2026-07-04T18:10"), 58.0, True)]}
