"""The whole report: one evaluation and its readings in, the bytes of a PDF out."""

from __future__ import annotations

import os
from contextlib import contextmanager
from datetime import datetime
from io import BytesIO
from threading import Lock
from typing import TYPE_CHECKING, Literal

from reportlab.platypus import Flowable, PageBreak, Spacer

from tempwitness.errors import ReportError
from tempwitness.report.localtime import LocalTime
from tempwitness.report.pdf.chart.draw import Charts
from tempwitness.report.pdf.chart.key import chart_key
from tempwitness.report.pdf.comparison import comparison_page
from tempwitness.report.pdf.findings import all_findings
from tempwitness.report.pdf.fonts import register
from tempwitness.report.pdf.pages import finding_pages
from tempwitness.report.pdf.paper import Heading, Paper, Sheets
from tempwitness.report.pdf.readings import readings_pages
from tempwitness.report.pdf.record import doubts_table, record_pages, signatures
from tempwitness.report.pdf.styles import BODY, PAPER, SMALL, words
from tempwitness.report.pdf.summary import summary

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog
    from tempwitness.report.groups import Group

__all__ = ["dated", "last_entry", "lot_story", "to_pdf"]

_EPOCH = "SOURCE_DATE_EPOCH"
_BUILDING = Lock()
_MOST_PART_CHARTS = 6


def to_pdf(
    evaluation: Evaluation, log: StagedLog, *, paper: Literal["letter", "a4"] = "letter"
) -> bytes:
    """Set the report of a lot on paper.

    Parameters
    ----------
    evaluation : Evaluation
    log : StagedLog
        The log that was evaluated, for the chart and the list of readings.
    paper : {"letter", "a4"}

    Returns
    -------
    bytes
        A PDF; the same evaluation and log give the same bytes, dated by the last entry of the
        record.

    Raises
    ------
    ReportError
        If the paper is not one of the two.
    """
    if paper not in PAPER:
        raise ReportError(f"the paper {paper!r} is not known", hint="choose 'letter' or 'a4'")
    register()
    target = BytesIO()
    sheets = Sheets(target, evaluation, paper)
    story = lot_story(evaluation, log, sheets.width)
    with dated(last_entry(evaluation)):
        sheets.build(story, canvasmaker=Paper)
    return target.getvalue()


def lot_story(evaluation: Evaluation, log: StagedLog, width: float) -> list[Flowable]:
    """Set everything that is said of a lot; `width` is the room between the margins [pt]."""
    clock = LocalTime(evaluation.lot.zone)
    charts = Charts(evaluation, log, clock)
    story = summary(evaluation, clock, width)
    story += _chart_page(evaluation, charts, clock, width)
    story += finding_pages(evaluation, clock, width, _part_charts(charts, width))
    story += all_findings(evaluation, width)
    story += comparison_page(evaluation, width)
    story += record_pages(evaluation, clock, width)
    story += readings_pages(evaluation, log, clock)
    return story + signatures(evaluation)


def _chart_page(
    evaluation: Evaluation, charts: Charts, clock: LocalTime, width: float
) -> list[Flowable]:
    parts: list[Flowable] = [PageBreak(), Heading("The whole record", "chart")]
    drawing = charts.whole(width, 400)
    if drawing is None:
        parts.append(words("No reading is on record, so there is nothing to draw.", BODY))
    else:
        parts += [drawing, Spacer(1, 6), chart_key(charts.pieces, width)]
    return parts + doubts_table(evaluation, clock, width)


def _part_charts(charts: Charts, width: float) -> Callable[[Group, int], Flowable | None]:
    """Return what draws the chart of a page: of the first few, and the same stages once."""
    drawn: dict[tuple[tuple[str, ...], str | None], int] = {}

    def draw(group: Group, number: int) -> Flowable | None:
        key = (tuple(f.piece for f in group.findings), group.first.stage_start)
        if key in drawn:
            return words(f"The chart of this stage stands with number {drawn[key]}.", SMALL)
        chart = charts.part(group.findings, width, 190) if len(drawn) < _MOST_PART_CHARTS else None
        if chart is not None:
            drawn[key] = number
        return chart

    return draw


def last_entry(evaluation: Evaluation) -> int:
    """Return the moment by which the document is dated [s since 1970-01-01 UTC]."""
    last = evaluation.lot.last_entry or evaluation.asked_at
    return int(datetime.fromisoformat(last).timestamp()) if last else 0


@contextmanager
def dated(seconds: int) -> Iterator[None]:
    """Let reportlab date a document by what it is about instead of by the clock.

    Parameters
    ----------
    seconds : int
        [s since 1970-01-01 UTC]
    """
    with _BUILDING:
        before = os.environ.get(_EPOCH)
        os.environ[_EPOCH] = str(seconds)
        try:
            yield
        finally:
            if before is None:
                del os.environ[_EPOCH]
            else:
                os.environ[_EPOCH] = before
