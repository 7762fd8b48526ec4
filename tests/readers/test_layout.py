"""Lines that are no readings, and lines that are only half there.

Each small file is written here; the readings expected are those that stand in it, worked out by
hand. 18:10 in Chicago in July is 23:10 UTC (daylight time, five hours behind).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tempwitness.errors import InputError
from tempwitness.model.vocabulary import Event, StageName
from tempwitness.readers import files
from tests.readers.build import bare, rows, shapes, utc

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.logs import RawLog

A, B, C = (utc(f"2026-07-04T23:{m}") for m in (10, 20, 30))
T = "2026-07-04 18:"


def changes(log: RawLog) -> list[tuple[int, str, str]]:
    """Line, what stands there and what was taken in its place."""
    return [(c.line, c.written, c.used) for c in log.changes]


def lines(log: RawLog) -> list[int]:
    (channel,) = log.channels
    found: list[int] = channel.line.tolist()
    return found


def refused(folder: Path, text: str, words: str, line: int | None, name: str = "pit.csv") -> str:
    with pytest.raises(InputError, match=words) as caught:
        bare(folder, text, name)
    assert caught.value.location is not None
    assert caught.value.location.line == line
    assert "to mend it" in str(caught.value)
    return str(caught.value)


def test_lines_before_the_header_are_listed_one_by_one(tmp_path: Path) -> None:
    text = (
        f"Recorder 7\nSerial number;123;\n\nStart time: {T}00\n"
        f"Time;Temp (°C);Note\n{T}10;58,9;\n{T}20;58,4;boxed\n"
    )
    log = bare(tmp_path, text)
    assert rows(log.channels[0]) == [(A, 58.9, True), (B, 58.4, True)]
    assert lines(log) == [6, 7]
    assert [n.line for n in log.notes] == [7]
    assert changes(log) == [
        (1, "Recorder 7", ""),
        (2, "Serial number | 123", ""),
        (3, "", ""),
        (4, f"Start time: {T}00", ""),
    ]
    assert "header in line 5" in log.sources[0].understood[0]


@pytest.mark.parametrize("reader", ["PlainSheet", "SwiftSheet"])
def test_a_long_file_keeps_its_lines_below_a_preamble(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, reader: str
) -> None:
    monkeypatch.setattr(files, "_SMALL_BYTES", 0)
    real, used = files._open, []

    def watched(*args: Any) -> Any:  # noqa: ANN401 - passes anything on
        used.append(type(sheet := real(*args)).__name__)
        return sheet

    monkeypatch.setattr(files, "_open", watched)
    piece = "A" if reader == "PlainSheet" else '"A"'
    text = f"Recorder 7\n\ntime,temp_f,piece\n{T}10,138.5,{piece}\n{T}20,137.5,{piece}\n"
    log = bare(tmp_path, text)
    assert used == [reader]
    assert rows(log.channels[0]) == [(A, 138.5, False), (B, 137.5, False)]
    assert lines(log) == [4, 5]
    assert [c.line for c in log.changes] == [1, 2]


def test_two_lines_that_could_be_the_header_are_asked_about(tmp_path: Path) -> None:
    text = f"time,temp_f\nDate Time,Temp (°C)\n{T}10,138\n"
    refused(tmp_path, text, "lines 1 and 2 could both be the header", 2)


def test_a_header_over_several_lines_of_text(tmp_path: Path) -> None:
    log = bare(tmp_path, f'time,"temp\n(°F)"\n{T}10,138\n')
    assert rows(log.channels[0]) == [(A, 138.0, False)]
    assert lines(log) == [3]


def test_names_in_one_row_and_units_in_the_next(tmp_path: Path) -> None:
    log = bare(tmp_path, f"Time,Left,Right\nhh:mm,°F,°C\n{T}10,138,58.9\n")
    assert shapes(log) == {
        ("Left", "core", ""): [(A, 138.0, False)],
        ("Right", "core", ""): [(A, 58.9, True)],
    }
    assert log.channels[0].line.tolist() == [3]
    assert "header in lines 1 and 2" in log.sources[0].understood[0]


def test_a_unit_that_contradicts_its_row_of_units_is_refused(tmp_path: Path) -> None:
    refused(tmp_path, f"time,temp_f\n,°C\n{T}10,138\n", "names both °F and °C", 1)


def test_a_line_above_the_table_that_states_the_other_unit_is_asked_about(tmp_path: Path) -> None:
    text = f"Unit: °C\ntime,temp_f\n{T}10,138\n"
    refused(tmp_path, text, "line 1 states °C, but the column 'temp_f' is taken in °F", 2)


def test_the_separator_may_be_declared(tmp_path: Path) -> None:
    log = bare(tmp_path, f"sep=;\ntime;temp_c\n{T}10;58,9\n")
    assert rows(log.channels[0]) == [(A, 58.9, True)]
    assert (lines(log), changes(log)) == ([3], [(1, "sep=;", "")])
    refused(
        tmp_path,
        f"sep=|\ntime|temp_c\n{T}10|58,9\n",
        "the first line declares '.' as the separator",
        1,
    )


def test_a_header_that_stands_again_is_left_out(tmp_path: Path) -> None:
    log = bare(tmp_path, f"time,temp_f\n{T}10,138\nTime,Temp_F\n{T}20,137\n")
    assert rows(log.channels[0]) == [(A, 138.0, False), (B, 137.0, False)]
    assert changes(log) == [(3, "Time | Temp_F", "")]


@pytest.mark.parametrize(
    "second", ["time,temp_c", "temp_f,time", "time,temp_f,note", "Date Time,Temp (°F)"]
)
def test_a_header_that_stands_again_and_differs_is_refused(tmp_path: Path, second: str) -> None:
    text = f"time,temp_f\n{T}10,138\n{second}\n{T}20,137\n"
    refused(tmp_path, text, "stands here again, and it differs|could both be the header", 3)


def test_a_summary_is_no_reading(tmp_path: Path) -> None:
    end = "Max,138\nMin,137\nAverage:,137.5\nCount,2\nMaximum: 138 F\n-----\nEnd of log\n"
    log = bare(tmp_path, f"time,temp_f\n{T}10,138\n{T}20,137\n{end}")
    assert rows(log.channels[0]) == [(A, 138.0, False), (B, 137.0, False)]
    assert [c.line for c in log.changes] == [4, 5, 6, 7, 8, 9, 10]
    assert changes(log)[0] == (4, "Max | 138", "")


def test_a_summary_in_a_long_file_is_no_reading(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(files, "_SMALL_BYTES", 0)
    log = bare(tmp_path, f"time,temp_f\n{T}10,138\n{T}20,137\nMax,138\n")
    assert (lines(log), changes(log)) == ([2, 3], [(4, "Max | 138", "")])


def test_words_without_a_time_are_not_passed_over(tmp_path: Path) -> None:
    """They may say that a probe was moved."""
    text = f"time,temp_f\n{T}10,138\nprobe moved to the other leg\n{T}20,137\n"
    refused(tmp_path, text, "nothing but the words 'probe moved to the other leg'", 3)


def test_a_mark_of_the_recorder_without_a_column_for_it_is_left_out(tmp_path: Path) -> None:
    log = bare(tmp_path, f"time,temp_f\n{T}10,138\n{T}15,Logged\n{T}20,137\n")
    assert rows(log.channels[0]) == [(A, 138.0, False), (B, 137.0, False)]
    assert changes(log) == [(3, f"{T}15 | Logged", "")]


def test_a_mark_of_the_recorder_becomes_a_note(tmp_path: Path) -> None:
    log = bare(tmp_path, f"time,temp_f,note\n{T}10,138,\n{T}20,Stop,by hand\n{T}30,137,\n")
    assert rows(log.channels[0]) == [(A, 138.0, False), (C, 137.0, False)]
    assert [(n.at, n.event, n.text) for n in log.notes] == [(B, Event.REMARK, "by hand; Stop")]
    assert changes(log) == [(3, "Stop", "by hand; Stop")]


@pytest.mark.parametrize("small", [0, 20_000])
def test_a_mark_in_the_column_of_events_is_a_remark(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, small: int
) -> None:
    monkeypatch.setattr(files, "_SMALL_BYTES", small)
    text = f"time,temp_f,event\n{T}10,138,\n{T}20,,Logged\n{T}30,137,sliced\n"
    log = bare(tmp_path, text)
    assert [(n.line, n.event) for n in log.notes] == [(3, Event.REMARK), (4, Event.SLICED)]
    assert changes(log) == [(3, "Logged", "remark")]


def test_a_mark_beside_a_reading_of_another_probe_is_listed(tmp_path: Path) -> None:
    log = bare(tmp_path, f"time,A_f,B_f\n{T}10,138,137\n{T}20,Mark,136\n")
    assert shapes(log) == {
        ("A", "core", ""): [(A, 138.0, False)],
        ("B", "core", ""): [(A, 137.0, False), (B, 136.0, False)],
    }
    assert [(c.line, c.column, c.written) for c in log.changes] == [(3, "A_f", "Mark")]


def test_words_in_place_of_a_temperature_do_not_vanish(tmp_path: Path) -> None:
    text = f"time,temp_f\n{T}10,138\n{T}15,lid opened\n"
    refused(tmp_path, text, "'lid opened' is not a number", 3)


@pytest.mark.parametrize("small", [0, 20_000])
@pytest.mark.parametrize(
    ("text", "line"),
    [
        # 14 is what is left of 141.2 (or of 14.1, nobody knows).
        (f"time,temp_f,piece\n{T}10,141.2,A\n{T}20,14", 3),
        (f"time,temp_f,piece\n{T}10,141.2,A\n{T}20,14\n{T}30,141.0,A\n", 3),
        (f"time,temp_f\n{T}10,141.2\n{T}20,141.0\n{T}30,14", 4),
        (f"time,temp_f\n{T}10,141.2\n{T}20,141.0\n{T}30,140.", 4),
        (f"time,temp_f\n{T}10,141\n{T}20,141\n{T}30,14", 4),
        (f"time,A_f,B_f\n{T}10,141.2,140.1\n{T}20,141.0,140.0\n{T}30,141.0,1", 4),
        (f"temp_f,time\n141.2,{T}10:30\n141.0,{T}20:30\n140.9,{T}30", 4),
        (f"time,temp_f,piece\n{T}10,141.2,left\n{T}20,141.0,left\n{T}30,140.9,le", 4),
    ],
)
def test_half_a_line_is_never_read_as_a_shorter_number(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, line: int, small: int
) -> None:
    monkeypatch.setattr(files, "_SMALL_BYTES", small)
    refused(tmp_path, text, "half a line|broken off", line)
    whole = text if text.endswith("\n") else f"{text}\n"
    if text.count(",") == whole.count("\n") * text.split("\n", maxsplit=1)[0].count(","):
        bare(tmp_path, whole.replace("140.\n", "140.0\n"))


def test_a_last_line_without_its_break_is_whole_if_its_figures_are(tmp_path: Path) -> None:
    log = bare(tmp_path, f"time,temp_f\n{T}10,141.2\n{T}20,141.0\n{T}30,140.9")
    assert rows(log.channels[0])[-1] == (C, 140.9, False)


def test_a_writer_may_leave_empty_cells_off_the_ends_of_his_rows(tmp_path: Path) -> None:
    log = bare(tmp_path, f"time,temp_f,step\n{T}10,141\n{T}20,140\n{T}30,139,cool\n")
    assert [value for _, value, _ in rows(log.channels[0])] == [141.0, 140.0, 139.0]
    assert [n.step for n in log.notes] == [StageName.COOL]


def test_a_row_that_ends_early_among_rows_that_are_filled_up_is_refused(tmp_path: Path) -> None:
    text = f"time,temp_f,note\n{T}10,141,\n{T}20,14\n"
    refused(tmp_path, text, "2 of 3 cells: it may be half a line", 3)


def test_nul_bytes_are_named_with_their_line(tmp_path: Path) -> None:
    refused(tmp_path, f"time,temp_f\n{T}10,138\n{T}2\0,1\n", "the line holds NUL bytes", 3)


def test_decimal_commas_that_split_the_numbers_are_named(tmp_path: Path) -> None:
    text = f"time,temp_c,piece\n{T}10,58,9,A\n"
    refused(tmp_path, text, "as if decimal commas had split the numbers", 2)
    # The last cell is empty, but 9 would be taken for the reading of B.
    refused(tmp_path, f"time,A_c,B_c\n{T}10,58,60\n{T}20,58,9,\n", "decimal commas", 3)


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_a_decimal_comma_in_quotation_marks_goes_with_any_separator(
    tmp_path: Path, sign: str
) -> None:
    log = bare(tmp_path, f'time{sign}temp_c\n{T}10{sign}"58,9"\n{T}20{sign}"58,4"\n')
    assert rows(log.channels[0]) == [(A, 58.9, True), (B, 58.4, True)]


@pytest.mark.parametrize("cell", ["1.234,5", "1,234.5", "1,234"])
def test_signs_between_thousands_are_refused(tmp_path: Path, cell: str) -> None:
    refused(tmp_path, f"time;temp_c\n{T}10;{cell}\n", "is not a number|thousands", 2)


@pytest.mark.parametrize("text", ["temp_f\n138\n137\n", "138\n137\n", f"{T}10\n{T}20\n"])
def test_one_column_alone_is_never_a_table(tmp_path: Path, text: str) -> None:
    said = refused(tmp_path, text, "the columns cannot be told apart", 1)
    assert text.split("\n", maxsplit=1)[0] in said


def test_a_table_without_a_header_says_so(tmp_path: Path) -> None:
    refused(tmp_path, f"{T}10,138\n{T}20,137\n", "no line names the columns", 1)


def test_a_separator_at_the_end_of_every_row_is_a_habit(tmp_path: Path) -> None:
    log = bare(tmp_path, f"time,temp_f,\n{T}10,138,\n{T}20,137,\n")
    assert rows(log.channels[0]) == [(A, 138.0, False), (B, 137.0, False)]
