"""Temperatures as hands and instruments write them: marks, bounds, ranges, units and words.

What each mark says is common practice in hand logs, no source; the expected figures are what
stands in the cell.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tempwitness.errors import InputError
from tempwitness.readers.cells import Kind, read_cell
from tempwitness.units import Unit
from tests.readers.build import bare, record

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.logs import RawLog

INF = math.inf


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("141", 141.0, None),
        ("-5", -5.0, None),
        ("+5.5", 5.5, None),
        ("60,5", 60.5, None),
        ("1.38E+02", 138.0, None),
        ("141 F", 141.0, Unit.F),
        ("141°F", 141.0, Unit.F),
        ("141 deg. F", 141.0, Unit.F),
        ("141 degrees fahrenheit", 141.0, Unit.F),
        ("60,5 °C", 60.5, Unit.C),
        ("60.5℃", 60.5, Unit.C),
        ("141℉", 141.0, Unit.F),
        ("141 ºF", 141.0, Unit.F),
    ],
)
def test_a_figure(text: str, value: float, unit: Unit | None) -> None:
    cell = read_cell(text)
    assert (cell.kind, cell.value, cell.unit, cell.why) == (Kind.FIGURE, value, unit, "")
    assert (cell.low, cell.high, cell.rough) == (value, value, False)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("\u22125", -5.0),  # a typographer's minus
        ("141\u00a0F", 141.0),  # a blank that does not break
        ("141\u00c2\u00b0F", 141.0),  # a degree sign in UTF-8 read as Windows-1252
        ("141\ufffdF", 141.0),  # a sign that was lost
    ],
)
def test_a_figure_with_an_odd_sign_is_read_and_said(text: str, value: float) -> None:
    cell = read_cell(text)
    assert cell.value == value
    assert "read as an ordinary one" in cell.why


@pytest.mark.parametrize(
    "text", ["~165", "ca 165", "ca. 165", "about 165 F", "165?", "≈165", "165 F ?"]
)
def test_an_approximate_figure(text: str) -> None:
    cell = read_cell(text)
    assert (cell.value, cell.rough) == (165.0, True)
    assert "decides nothing" in cell.why
    assert cell.words(Unit.F) == "about 165 °F"


@pytest.mark.parametrize(
    ("text", "low", "high", "words"),
    [
        ("≤41", -INF, 41.0, "at most 41 °F"),
        ("<=41", -INF, 41.0, "at most 41 °F"),
        ("at most 41", -INF, 41.0, "at most 41 °F"),
        (">=165", 165.0, INF, "at least 165 °F"),
        ("≥ 165 F", 165.0, INF, "at least 165 °F"),
        ("165+", 165.0, INF, "at least 165 °F"),
        ("140-145", 140.0, 145.0, "140 to 145 °F"),
        ("140–145 F", 140.0, 145.0, "140 to 145 °F"),
        ("140 to 145", 140.0, 145.0, "140 to 145 °F"),
        ("140 F - 145 F", 140.0, 145.0, "140 to 145 °F"),
        ("-5 to -2", -5.0, -2.0, "-5 to -2 °F"),
    ],
)
def test_bounds(text: str, low: float, high: float, words: str) -> None:
    cell = read_cell(text)
    assert (cell.low, cell.high) == (low, high)
    assert cell.value in (low, high)
    assert cell.words(Unit.F) == words
    assert cell.why


@pytest.mark.parametrize("text", ["<41", "< 41 F", "below 41", "under 41", "less than 41"])
def test_below_leaves_the_figure_itself_out(text: str) -> None:
    cell = read_cell(text)
    assert cell.low == -INF
    assert cell.high < 41.0 < math.nextafter(cell.high, INF) + 1e-9
    assert cell.words(Unit.F) == "below 41 °F"


@pytest.mark.parametrize("text", [">165", "above 165", "over 165 F", "more than 165"])
def test_above_leaves_the_figure_itself_out(text: str) -> None:
    cell = read_cell(text)
    assert cell.high == INF
    assert cell.low == math.nextafter(165.0, INF)
    assert cell.words(Unit.F) == "above 165 °F"


@pytest.mark.parametrize(
    "text", ["--", "OL", "HI", "LO", "Err", "open", "---", "NaN", "#N/A", "9.9999E+37", "n/a"]
)
def test_an_instrument_without_a_reading(text: str) -> None:
    cell = read_cell(text)
    assert cell.kind is Kind.NONE
    assert math.isnan(cell.value)
    assert cell.why


@pytest.mark.parametrize("text", ["OK", "ok", "good", "✓", "hot", "done"])
def test_a_word_is_no_temperature(text: str) -> None:
    assert read_cell(text).kind is Kind.WORD


@pytest.mark.parametrize("text", ['"', "〃", "”", "do.", "same", "..", "Ditto"])
def test_a_ditto_mark(text: str) -> None:
    assert read_cell(text).kind is Kind.DITTO


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("1,650", "may part thousands"),
        ("1.650,5", "is not a number"),
        ("1,650.5", "is not a number"),
        ("145-140", "does not rise"),
        ("140 F - 60 C", "two units"),
        ("sizzling", "is not a number"),
        (">165+", "is not a number"),
        ("165 K", "is not a number"),
        ("0x41", "is not a number"),
        ("1_000", "is not a number"),
        ("16 5", "is not a number"),
        ("", "is not a number"),
    ],
)
def test_what_is_none_of_these_is_refused(text: str, what: str) -> None:
    with pytest.raises(ValueError, match=what):
        read_cell(text)


@given(st.text(max_size=12))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        cell = read_cell(text)
    except ValueError:
        return
    assert math.isnan(cell.value) == (cell.kind is not Kind.FIGURE)
    assert math.isnan(cell.value) or cell.low <= cell.value <= cell.high or cell.low > cell.value


def column(folder: Path, *cells: str, head: str = "temp_f", separator: str = ";") -> RawLog:
    lines = [f"2026-07-04 18:{10 + i}{separator}{cell}" for i, cell in enumerate(cells)]
    return bare(folder, "\n".join([f"time{separator}{head}", *lines]) + "\n")


def test_each_mark_of_a_column_stands_in_the_log_and_in_the_list(tmp_path: Path) -> None:
    log = column(tmp_path, "165", '""""', "~160", "<41", "140-145", "OK", "OL", "58.9 C", "")
    (channel,) = log.channels
    assert channel.low is not None
    assert channel.high is not None
    assert channel.rough is not None
    assert channel.value[:5].tolist() == [165.0, 165.0, 160.0, 41.0, 140.0]
    assert [math.isnan(v) for v in channel.value.tolist()] == [False] * 5 + [True] * 2 + [
        False,
        True,
    ]
    assert channel.celsius.tolist() == [False] * 7 + [True, False]
    assert channel.rough.tolist() == [False, False, True, *[False] * 6]
    assert (channel.low[3], channel.high[4]) == (-INF, 145.0)
    assert channel.written(6) == "OL"
    # The empty cell changes nothing; every other odd one is told with its line and what was used.
    assert [(c.line, c.written, c.used) for c in log.changes] == [
        (3, '"', "165 °F"),
        (4, "~160", "about 160 °F"),
        (5, "<41", "below 41 °F"),
        (6, "140-145", "140 to 145 °F"),
        (7, "OK", ""),
        (8, "OL", ""),
        (9, "58.9 C", "58.9 °C"),
    ]
    assert all(c.reason and c.column == "temp_f" and c.source == "pit.csv" for c in log.changes)


def test_an_ordinary_column_changes_nothing(tmp_path: Path) -> None:
    log = column(tmp_path, "165", "", "164.5 F", "164")
    assert log.changes == ()
    assert log.channels[0].low is None
    assert log.channels[0].rough is None


def test_a_run_of_the_same_mark_is_one_entry(tmp_path: Path) -> None:
    log = column(tmp_path, "165", "OL", "OL", "OL", "164", "OL")
    assert [(c.line, c.rows) for c in log.changes] == [(3, 3), (7, 1)]


def test_a_ditto_of_a_ditto_and_of_a_bound(tmp_path: Path) -> None:
    log = column(tmp_path, "<41", "do.", "do.")
    (channel,) = log.channels
    assert channel.high is not None
    assert len(set(channel.high.tolist())) == 1
    assert [c.used for c in log.changes] == ["below 41 °F"] * 3


@pytest.mark.parametrize("cells", [("do.", "165"), ("OK", "do."), ("", "do.")])
def test_a_ditto_needs_a_reading_above_it(tmp_path: Path, cells: tuple[str, ...]) -> None:
    with pytest.raises(InputError, match="no reading of the same point in the row above"):
        column(tmp_path, *cells)


def test_a_ditto_under_another_piece_is_refused(tmp_path: Path) -> None:
    text = "time,temp_f,piece\n2026-07-04 18:10,165,A\n2026-07-04 18:10,do.,B\n"
    with pytest.raises(InputError, match="a ditto mark stands here") as caught:
        bare(tmp_path, text)
    assert caught.value.location is not None
    assert (caught.value.location.line, caught.value.location.column) == (3, "temp_f")


def test_a_ditto_in_a_wide_table_repeats_its_own_column(tmp_path: Path) -> None:
    text = "time,A_f,B_f\n2026-07-04 18:10,165,170\n2026-07-04 18:20,do.,same\n"
    log = bare(tmp_path, text)
    assert [c.value.tolist() for c in log.channels] == [[165.0, 165.0], [170.0, 170.0]]


@pytest.mark.parametrize("separator", [";", "\t"])
def test_a_decimal_comma(tmp_path: Path, separator: str) -> None:
    log = column(tmp_path, "60,5", "61", "-0,25", head="temp_c", separator=separator)
    assert log.channels[0].value.tolist() == [60.5, 61.0, -0.25]
    assert "a comma stands for the decimal point" in log.sources[0].understood


def test_comma_and_point_in_one_file_are_refused(tmp_path: Path) -> None:
    text = "time;A_c;B_c\n2026-07-04 18:10;60,5;61\n2026-07-04 18:20;60;61.5\n"
    for same in (text, text.replace("61.5", "61,5 ").replace("60;", "60.5;")):
        with pytest.raises(InputError, match="one of them may part thousands"):
            bare(tmp_path, same)


def test_readings_of_a_record(tmp_path: Path) -> None:
    body = "".join(
        f'[[reading]]\nat = "2026-07-04 18:1{i}"\ntemp = "{temp}"\n'
        for i, temp in enumerate(["165 F", "~165 F", "<41 F", "140-145 F", "60,5 °C"])
    )
    log = record(tmp_path, body)
    (channel,) = log.channels
    assert channel.low is not None
    assert channel.rough is not None
    assert channel.low.tolist() == [165.0, 165.0, -INF, 140.0, 60.5]
    assert channel.rough.tolist() == [False, True, False, False, False]
    assert [(c.source, c.line, c.written) for c in log.changes] == [
        ("record", 2, "~165 F"),
        ("record", 3, "<41 F"),
        ("record", 4, "140-145 F"),
    ]


@pytest.mark.parametrize("temp", ["~165", "140-145", "OK", "--", "do.", "165 F-60 C", "hottish F"])
def test_what_a_record_does_not_accept(tmp_path: Path, temp: str) -> None:
    with pytest.raises(InputError, match="write a number and F or C"):
        record(tmp_path, f'[[reading]]\nat = "2026-07-04 18:10"\ntemp = "{temp}"\n')
