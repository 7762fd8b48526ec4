"""The drawing in the page, measured against the readings; and its tables."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from .lamb_log import START, channel, long_log, staged
from .page import Element, by_id, inside, page, words

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def charts(root: Element, kind: str) -> list[Element]:
    return [s for s in inside(root, "svg") if s.get("class") == f"chart {kind}"]


def points(path: Element) -> list[tuple[float, float]]:
    numbers = [float(n) for n in _NUMBER.findall(path.get("d") or "")]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def drawn(chart: Element, kind: str) -> list[Element]:
    return [e for e in chart if e.get("class") == kind]


@pytest.mark.parametrize("kind", ["broad", "narrow"])
def test_the_chart_names_pieces_stages_limits_and_midnight(
    evaluation: Evaluation, log: StagedLog, kind: str
) -> None:
    chart = charts(page(evaluation, log), kind)[0]
    said = [words(text) for text in inside(chart, "text")]
    for name in ("A", "B", "cook", "145 °F", "70 °F", "Sun 15 Jun"):
        assert name in said
    assert len(drawn(chart, "midnight")) == 1
    assert drawn(chart, "hatch")


@pytest.mark.parametrize("kind", ["broad", "narrow"])
def test_everything_lies_within_the_drawing(
    evaluation: Evaluation, log: StagedLog, kind: str
) -> None:
    for chart in charts(page(evaluation, log), kind):
        width, height = map(float, (chart.get("viewBox") or "").split()[2:])
        edge = drawn(chart, "edge")[0]
        left, top = float(edge.get("x") or 0), float(edge.get("y") or 0)
        right = left + float(edge.get("width") or 0)
        bottom = top + float(edge.get("height") or 0)
        assert 0 < left < right < width
        assert 0 < top < bottom < height
        for path in (*drawn(chart, "core"), *drawn(chart, "limit")):
            for x, y in points(path):
                assert left - 0.1 <= x <= right + 0.1
                assert top - 0.1 <= y <= bottom + 0.1
        for label in inside(chart, "text"):
            assert 0 <= float(label.get("x") or 0) <= width
            assert 0 <= float(label.get("y") or 0) <= height


def test_a_line_stands_where_its_readings_are(evaluation: Evaluation) -> None:
    # Two readings an hour apart, at 100 and at 200 °F; the marks of the axis give the scale.
    at = START + np.array([0.0, 3600.0])
    made = staged((channel(at, np.array([100.0, 200.0]), piece="A"),))
    bare = replace(evaluation, findings=())
    chart = charts(page(bare, made), "broad")[0]
    marks = {words(t): float(t.get("y") or 0) - 4 for t in inside(chart, "text")}
    (x0, y0), (x1, y1) = points(drawn(chart, "core")[0])
    assert y0 == pytest.approx(marks["100"], abs=0.11)
    assert y1 == pytest.approx(marks["200"], abs=0.11)
    hours = {words(t): float(t.get("x") or 0) for t in inside(chart, "text")}
    assert x0 == pytest.approx(hours["06:00"], abs=0.11)
    assert x1 == pytest.approx(hours["07:00"], abs=0.11)


def test_no_line_crosses_a_stretch_that_nobody_read(evaluation: Evaluation, log: StagedLog) -> None:
    chart = charts(page(evaluation, log), "broad")[0]
    # Piece B was not read from 18:40 to 21:30: one path before it, one after.
    dashed = [p for p in drawn(chart, "core") if p.get("stroke-dasharray")]
    assert len(dashed) == 2
    before, after = sorted((points(p) for p in dashed), key=lambda one: one[0][0])
    stretch = [
        float(n) for n in re.findall(r"M([\d.]+) [\d.]+v", drawn(chart, "hatch")[0].get("d") or "")
    ]
    left, right = stretch
    assert before[-1][0] <= left + 0.2
    assert after[0][0] >= right - 0.2


def test_a_long_record_is_thinned_to_what_a_screen_shows(evaluation: Evaluation) -> None:
    chart = charts(page(evaluation, long_log(8, 60.0)), "broad")[0]
    for path in drawn(chart, "core"):
        # At most a lowest and a highest reading in each of the 664 columns of the plot.
        assert len(points(path)) <= 2 * 665


def test_the_tables_tell_what_the_chart_shows(evaluation: Evaluation, log: StagedLog) -> None:
    chart = by_id(page(evaluation, log), "chart")
    tables = {words(t[0]): t for t in inside(chart, "table")}
    lines = tables["What the chart shows, line by line"]
    rows = {words(row[0]): [words(cell) for cell in row] for row in lines[2]}
    assert {"Piece A", "Piece B"} <= set(rows)
    own = [
        (c.value, log.corrected.lower[k], log.corrected.qualified.flags[k])
        for k, c in enumerate(log.raw.channels)
        if c.piece == "A" and c.place == "core"
    ]
    # The spike at 14:15 is counted apart and is not the lowest.
    assert rows["Piece A"][1] == str(sum(int((flags < 3).sum()) for _, _, flags in own))
    assert rows["Piece A"][-1] == "1"
    least = min(float(low[flags < 3].min()) for _, low, flags in own)
    assert rows["Piece A"][3].startswith(f"{least:.2f}".rstrip("0").rstrip("."))
    limits = tables["Limits of the chart, and stretches that nobody read"]
    said = [words(row) for row in limits[2]]
    assert "not read piece B Sat 14 Jun 2025 18:40 Sat 14 Jun 2025 21:30" in said
    assert any(row.startswith("limit 70 °F cool Sat 14 Jun 2025 17:30") for row in said)


def test_the_same_stage_is_drawn_once(evaluation: Evaluation, log: StagedLog) -> None:
    slow = evaluation.findings[3]
    twice = (slow, replace(slow, title="Another rule", requirement="other"))
    root = page(replace(evaluation, findings=twice), log)
    assert len(charts(root, "broad")) == 2
    assert "The chart of this stage stands with number 1." in words(by_id(root, "finding-2"))


def test_foreign_names_stay_text_within_the_drawing(evaluation: Evaluation, log: StagedLog) -> None:
    name = "<b>كتف</b>"
    lot = replace(evaluation.lot, id=name)
    chart = charts(page(replace(evaluation, lot=lot), log), "broad")[0]
    assert {e.tag for e in chart.iter()} <= {
        "svg",
        "title",
        "desc",
        "path",
        "rect",
        "circle",
        "text",
    }
    assert name in words(chart[0])
