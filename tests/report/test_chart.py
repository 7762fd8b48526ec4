"""What the chart draws, and what the list of readings keeps."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.graphics.shapes import String

from tempwitness.model.finding import Figure
from tempwitness.model.logs import Doubt
from tempwitness.model.vocabulary import Flag, Place
from tempwitness.report.content.selection import MOST, choose
from tempwitness.report.localtime import LocalTime
from tempwitness.report.pdf.chart.draw import Charts
from tempwitness.report.plot.limits import limit_lines
from tempwitness.report.plot.scale import Scale, degree_marks, hour_marks
from tempwitness.report.plot.series import converted, series_of, thinned, unit_of
from tempwitness.units import Unit

from .lamb_log import START, channel, empty_log, long_log, staged

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

_HOUR = 3600.0


@given(
    st.lists(st.floats(-50, 500), min_size=1, max_size=400),
    st.floats(0.5, 5000),
)
def test_thinning_never_loses_an_extreme(values: list[float], width: float) -> None:
    at = np.arange(len(values), dtype=np.float64) * 60
    read = np.array(values)
    moments, kept = thinned(at, read, read, width)
    assert kept.min() == read.min()
    assert kept.max() == read.max()
    # What is kept are readings at their own moments, in order of time.
    assert set(zip(moments, kept, strict=True)) <= set(zip(at, read, strict=True))
    assert (np.diff(moments) >= 0).all()


def test_a_second_by_second_line_is_thinned_to_the_paper() -> None:
    at = np.arange(86400.0)
    _, kept = thinned(at, np.sin(at), np.sin(at), 86400 / 450)
    # 450 columns, a lowest and a highest reading in each.
    assert len(kept) == 900


def test_few_readings_stay_as_they_are() -> None:
    at = np.array([0.0, 600.0, 1200.0])
    moments, kept = thinned(at, at + 1, at + 1, 100.0)
    assert moments.tolist() == at.tolist()
    assert kept.tolist() == [1.0, 601.0, 1201.0]


def test_a_reading_that_may_be_two_values_is_drawn_as_both() -> None:
    at = np.array([0.0, 600.0])
    _, kept = thinned(at, np.array([10.0, 20.0]), np.array([12.0, 22.0]), 100.0)
    assert kept.tolist() == [10.0, 12.0, 20.0, 22.0]


def test_doubted_readings_are_drawn_apart(log: StagedLog) -> None:
    first = series_of(log, Unit.F)[0]
    assert first.doubted.tolist() == [32.0]
    assert 32.0 not in first.low
    assert len(first.at) == len(log.raw.channels[0]) - 1


def test_the_chart_is_in_the_unit_of_most_readings_of_the_food(log: StagedLog) -> None:
    at = np.array([START, START + 60, START + 120])
    celsius = channel(at, np.array([60.0, 61.0, 62.0]), piece="A", celsius=True)
    fahrenheit = channel(at[:2], np.array([140.0, 141.0]), piece="B")
    air = channel(at, np.array([250.0, 251.0, 252.0]), piece="", place=Place.AIR)
    assert unit_of(log) is Unit.F
    assert not converted(log, Unit.F)
    mixed = staged((celsius, fahrenheit, air))
    assert unit_of(mixed) is Unit.C
    assert converted(mixed, Unit.C)
    # A country that reckons in °C reads its chart so, whatever the probe showed.
    assert unit_of(log, "C") is Unit.C
    assert converted(log, Unit.C)
    # (140 °F - 32) / 1.8 = 60 °C and 60 °C × 1.8 + 32 = 140 °F.
    assert series_of(mixed, Unit.C)[1].low[0] == pytest.approx(60.0)
    assert series_of(mixed, Unit.F)[0].low[0] == pytest.approx(140.0)


def test_a_draw_of_units_is_drawn_in_fahrenheit() -> None:
    at = np.array([START])
    celsius = channel(at, np.array([60.0]), piece="A", celsius=True)
    assert unit_of(staged((celsius, channel(at, np.array([140.0]), piece="B")))) is Unit.F


def test_unread_stretches_of_advice_are_not_hatched(evaluation: Evaluation, log: StagedLog) -> None:
    unread = evaluation.findings[4].evidence
    advice = replace(evaluation.findings[6], evidence=unread)
    only = replace(evaluation, findings=(advice,))
    assert Charts(only, log, LocalTime("America/New_York")).plot.gaps == []
    assert len(Charts(evaluation, log, LocalTime("America/New_York")).plot.gaps) == 1


def test_an_unread_stretch_names_its_piece_only_among_several(evaluation: Evaluation) -> None:
    def names(pieces: tuple[str, ...]) -> set[str]:
        made = channel(START + np.array([0.0, 20 * _HOUR]), np.array([140.0, 60.0]), piece="B")
        lot = replace(evaluation.lot, pieces=pieces)
        charts = Charts(replace(evaluation, lot=lot), staged((made,)), LocalTime(lot.zone))
        drawing = charts.whole(500, 300)
        assert drawing is not None
        return {s.text for s in drawing.contents if isinstance(s, String) and "not read" in s.text}

    assert names(("A", "B")) == {"B not read"}
    assert names(("B",)) == {"not read"}


def test_hand_readings_and_a_logger_of_one_point_are_one_line() -> None:
    early = channel(np.array([START, START + 1200]), np.array([140.0, 138.0]), piece="A")
    between = channel(np.array([START + 600]), np.array([139.0]), piece="A")
    (series,) = series_of(staged((early, replace(between, source="record"))), Unit.F)
    assert series.low.tolist() == [140.0, 139.0, 138.0]


def test_the_whole_chart_reaches_over_stages_without_readings(
    evaluation: Evaluation, log: StagedLog
) -> None:
    # The first and the last reading stand at 12:00 and 13:00; the stages from 06:00 to 06:00.
    made = channel(START + np.array([6.0, 7.0]) * _HOUR, np.array([140.0, 139.0]), piece="A")
    sparse = replace(staged((made,)), stages=log.stages)
    drawing = Charts(evaluation, sparse, LocalTime("America/New_York")).whole(500, 300)
    assert drawing is not None
    words = {shape.text for shape in drawing.contents if isinstance(shape, String)}
    assert {"06:00", "Sun 15 Jun", "cook", "cold hold"} <= words


def test_limits_are_the_figures_that_the_findings_print(evaluation: Evaluation) -> None:
    lines = {(line.stage, line.words) for line in limit_lines(evaluation.binding, Unit.F)}
    assert lines == {
        ("cook", "145 °F"),
        ("hot_hold", "135 °F"),
        ("cool", "135 °F"),
        ("cool", "70 °F"),
        ("cold_hold", "41 °F"),
    }


def test_limits_in_celsius_are_the_printed_ones_never_converted(evaluation: Evaluation) -> None:
    # 135 °F is 57.2 °C; the code prints 57 °C, and that is what is drawn.
    words = {line.words for line in limit_lines(evaluation.binding, Unit.C)}
    assert words == {"63 °C", "57 °C", "21 °C", "5 °C"}


@pytest.mark.parametrize(
    ("figures", "fahrenheit", "celsius"),
    [
        ((Figure(135.0, 57.0),), {"135 °F"}, {"57 °C"}),
        ((Figure(135.0, 57.0), Figure(70.0, 21.0)), {"135 °F", "70 °F"}, {"57 °C", "21 °C"}),
        ((Figure(40.0, 4.4), Figure(140.0, 60.0)), {"40 °F", "140 °F"}, {"4.4 °C", "60 °C"}),
        ((), set(), set()),
    ],
)
def test_a_line_stands_at_the_figure_of_the_scale_that_is_drawn(
    evaluation: Evaluation, figures: tuple[Figure, ...], fahrenheit: set[str], celsius: set[str]
) -> None:
    finding = replace(evaluation.findings[0], figures=figures, limit="")
    assert {line.words for line in limit_lines([finding], Unit.F)} == fahrenheit
    assert {line.words for line in limit_lines([finding], Unit.C)} == celsius


def test_a_row_that_did_not_decide_is_not_drawn_as_the_limit(evaluation: Evaluation) -> None:
    # A roast that kept the row of 138 °F for 18 min never owed the row of 158 °F.
    kept = replace(
        evaluation.findings[0],
        figures=(Figure(158.0, 70.0),),
        limit="138 °F (58.9 °C) for 18 min",
    )
    assert limit_lines([kept], Unit.F) == []
    assert limit_lines([replace(kept, limit="158 °F (70.0 °C)")], Unit.F) != []


def test_a_ladder_of_many_rows_is_not_drawn(evaluation: Evaluation) -> None:
    rows = (Figure(130.0, 54.4), Figure(135.0, 57.2), Figure(140.0, 60.0), Figure(145.0, 62.8))
    ladder = replace(evaluation.findings[0], figures=rows, limit="")
    assert limit_lines([ladder], Unit.F) == []
    assert len(limit_lines([replace(ladder, figures=rows[:3])], Unit.F)) == 3


def test_hours_are_marked_at_round_local_times_through_a_clock_change() -> None:
    # Clocks go back on 2 November 2025 (15 U.S.C. 260a): that local day lasts 25 h, so that
    # midnight is 04:00 UTC on the 2nd and 05:00 UTC on the 3rd.
    start = 1762041600.0  # 2025-11-02 00:00 UTC, 20:00 on the 1st in New York
    scale = Scale(start, start + 32 * _HOUR, 0, 1, 0, 0, 400, 100)
    marks = hour_marks(scale, LocalTime("America/New_York"), 12)
    midnights = [at for at, _, midnight in marks if midnight]
    assert midnights == [start + 4 * _HOUR, start + 29 * _HOUR]
    assert {name for _, name, midnight in marks if not midnight} <= {
        f"{hour:02d}:00" for hour in range(0, 24, 3)
    }


@pytest.mark.parametrize("hours", [0.2, 1, 24, 24 * 9, 24 * 400, 24 * 20000])
def test_the_axis_of_any_record_carries_a_few_marks(hours: float) -> None:
    scale = Scale(START, START + hours * _HOUR, 0, 1, 0, 0, 400, 100)
    assert 1 <= len(hour_marks(scale, LocalTime("America/New_York"), 10)) <= 14


@pytest.mark.parametrize(("low", "high"), [(31.0, 207.0), (-10.0, 5.0), (140.0, 141.0)])
def test_degrees_are_marked_at_round_figures_within_the_span(low: float, high: float) -> None:
    marks = degree_marks(low, high, 14)
    assert 1 <= len(marks) <= 14
    assert all(low <= mark <= high and mark == round(mark) for mark in marks)


def test_a_long_list_keeps_flagged_cited_first_last_and_extreme_readings(
    evaluation: Evaluation,
) -> None:
    plain_log = long_log(1, 10.0)
    readings = plain_log.raw.channels[0]
    doubts = (
        Doubt(0, 777, 777, Flag.SUSPECT, "spike", "alone"),
        Doubt(0, 3000, 3999, Flag.FAIL, "flat", "a run"),
    )
    log = staged((readings,), doubts)
    # Line 5003 of the file is row 5001, because the first row stands on line 2.
    cited = replace(
        evaluation.findings[3].evidence.readings[0], line=5003, source="lamb.csv", probe="P1"
    )
    finding = replace(
        evaluation.findings[3], evidence=replace(evaluation.findings[3].evidence, readings=(cited,))
    )
    (choice,) = choose(replace(evaluation, findings=(finding,)), log)
    kept = set(choice.single.tolist())
    lowest, highest = int(np.argmin(readings.value)), int(np.argmax(readings.value))
    assert {0, 777, 5001, 8639, lowest, highest} <= kept
    assert choice.cited == {5001}
    assert choice.runs == ((3000, 3999),)
    assert not kept & set(range(3000, 4000))
    assert len(kept) <= MOST


def test_a_citation_of_another_probe_on_the_same_line_is_not_taken(
    evaluation: Evaluation,
) -> None:
    (choice, *_) = choose(evaluation, long_log(2, 600.0))
    # The findings cite probes P1 and P2 of lines that this log has too, piece 1 has P1 alone.
    lines = {
        r.line
        for f in evaluation.findings
        for r in f.evidence.readings
        if r.probe == "P1" and r.source == "lamb.csv"
    }
    assert choice.cited == {line - 2 for line in lines if line - 2 < 144}


def test_no_reading_means_nothing_to_choose(evaluation: Evaluation) -> None:
    assert choose(evaluation, empty_log()) == []
