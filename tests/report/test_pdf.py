"""The report on paper, read back with an independent reader (pypdf)."""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING, cast

import pytest

from tempwitness.errors import ReportError
from tempwitness.report import to_pdf
from tempwitness.report.wording import verdict_word

from .lamb_log import long_log
from .reread import Paper, pages, read, squeezed

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog


def test_page_one_answers(evaluation: Evaluation, log: StagedLog) -> None:
    first = pages(read(evaluation, log))[0]
    for answer in (
        "LAMB-0614",
        "smoked lamb shoulder",
        "us/food-code/2022",
        "NOT MET",
        evaluation.headline,
        "Sat 14 Jun 2025 20:05",
        "Reheat piece A to 165 °F (74 °C) or discard it.",
        evaluation.caution[0],
    ):
        assert answer in first


def test_every_finding_is_there_with_title_verdict_and_section(
    evaluation: Evaluation, log: StagedLog
) -> None:
    text = squeezed("".join(pages(read(evaluation, log))))
    for finding in evaluation.findings:
        for words in (finding.title, verdict_word(finding.verdict), finding.citation):
            assert squeezed(words) in text


def test_one_page_for_each_deviation_or_question(evaluation: Evaluation, log: StagedLog) -> None:
    sheets = pages(read(evaluation, log))
    heads = (
        "1. NOT MET: cool, piece A",
        "2. NOT SHOWN: cool, piece B",
        "3. OPEN: cold hold, piece B",
        "4. NEEDS A LIMIT: rest",
    )
    # Page 1 is the answer, page 2 the chart; then one page each, the worst first.
    for page, head in zip(sheets[2:6], heads, strict=True):
        assert head in page
        assert "Done by" in page
    assert "All findings" in sheets[6]


def test_a_page_of_its_own_says_why_and_what_would_settle_it(
    evaluation: Evaluation, log: StagedLog
) -> None:
    page = pages(read(evaluation, log))[3]
    for words in (
        "between 35 min and 3 h 20 min",
        "the logger lost the probe",
        "A piece that only cools was not warmer at 21:30 than at 18:40.",
        "a reading of 70 °F or less in the core of piece B (Sat 14 Jun 2025 20:10)",
        "124.2 °F",
        "common practice, not code text",
        "FDA Food Code 2022 3-501.14(A)(1)",
        "number checked against the published text",
    ):
        assert words in page


def test_the_chart_names_pieces_stages_limits_gaps_and_midnight(
    evaluation: Evaluation, log: StagedLog
) -> None:
    chart = pages(read(evaluation, log))[1]
    for words in (
        "hot hold?",
        "cold hold",
        "145 °F",
        "70 °F",
        "B not read",
        "Sun 15 Jun",
        "America/New_York",
        "piece A",
        "doubted reading, does not decide",
        "fell by 120 °F and came back within ten minutes",
    ):
        assert words in chart


def test_the_record_behind_the_answer_is_printed(evaluation: Evaluation, log: StagedLog) -> None:
    text = squeezed("".join(pages(read(evaluation, log))))
    for words in (
        evaluation.unsettled[0],
        evaluation.questions[0],
        evaluation.assumptions[0],
        "at least 140 °F (60 °C)",
        "ice point 05:40: 32.4 °F",
        "no check on record",
        "ab" * 32,
        "c0" * 32,
        "d1" * 32,
        "Prepared by",
        "Reviewed by",
    ):
        assert squeezed(words) in text


def test_all_readings_of_a_short_record_are_printed_with_flag_and_correction(
    evaluation: Evaluation, log: StagedLog
) -> None:
    text = " ".join(pages(read(evaluation, log)))
    total = sum(len(channel) for channel in log.raw.channels)
    assert f"All {total} readings are printed." in text
    # 38 °F was read at 06:00 and 0.4 °F is taken off: 37.6. The spike does not decide.
    assert "14 Jun 06:00 38 °F → 37.6" in text
    assert "14 Jun 14:15 32 °F F" in text


def test_a_long_record_says_how_many_readings_it_prints(evaluation: Evaluation) -> None:
    text = " ".join(pages(read(evaluation, long_log(8, 60.0))))
    # 8 probes × 1440 minutes = 11520 readings; one in 12 keeps within 1000.
    found = re.search(r"(\d+) of 11520 readings are printed one by one", text)
    assert found is not None
    assert "one in 12 of the others" in text
    listed = re.findall(r"\d+ Jun \d\d:\d\d -?\d+(?:\.\d)? °F", text.split("no letter:")[1])
    assert len(listed) == int(found[1])


@pytest.mark.parametrize(
    ("paper", "size"),
    [
        # 8.5 × 11 in of 72 pt; 210 × 297 mm of 72 / 25.4 pt (ISO 216).
        ("letter", (612.0, 792.0)),
        ("a4", (210 * 72 / 25.4, 297 * 72 / 25.4)),
    ],
)
def test_paper_sizes(
    evaluation: Evaluation, log: StagedLog, paper: Paper, size: tuple[float, float]
) -> None:
    for page in read(evaluation, log, paper).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            size, abs=0.01
        )


def test_another_paper_is_refused(evaluation: Evaluation, log: StagedLog) -> None:
    with pytest.raises(ReportError, match="'tabloid' is not known"):
        to_pdf(evaluation, log, paper=cast("Paper", "tabloid"))


def test_every_page_has_its_number_and_how_many_there_are(
    evaluation: Evaluation, log: StagedLog
) -> None:
    sheets = pages(read(evaluation, log))
    for number, page in enumerate(sheets, 1):
        assert f"page {number} of {len(sheets)}" in page
        assert "Lot LAMB-0614" in page
        assert "tempwitness 0.1.0" in page


def test_bookmarks_lead_to_their_pages(evaluation: Evaluation, log: StagedLog) -> None:
    reader = read(evaluation, log)
    sheets = pages(reader)
    for entry in reader.outline:
        assert not isinstance(entry, list)
        number = reader.get_destination_page_number(entry)
        assert number is not None
        assert str(entry.title) in sheets[number]
    assert len(reader.outline) == 9


def test_the_same_evaluation_gives_the_same_bytes(
    evaluation: Evaluation, log: StagedLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    first = to_pdf(evaluation, log)
    assert "SOURCE_DATE_EPOCH" not in os.environ
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1")
    monkeypatch.setenv("TZ", "Asia/Kolkata")
    assert to_pdf(evaluation, log) == first
    assert os.environ["SOURCE_DATE_EPOCH"] == "1"


def test_the_document_is_dated_by_the_record(evaluation: Evaluation, log: StagedLog) -> None:
    reader = read(evaluation, log)
    info = reader.metadata
    assert info is not None
    assert info.author == "tempwitness"
    assert info.title == "Lot LAMB-0614: smoked lamb shoulder"
    assert info.creation_date is not None
    # The last entry is 06:00 in New York, 10:00 UTC.
    assert info.creation_date.isoformat() == "2025-06-15T10:00:00+00:00"
    assert str(reader.root_object["/Lang"]) == "en"


def test_the_fonts_are_embedded_and_no_text_is_below_eight_points(
    evaluation: Evaluation, log: StagedLog
) -> None:
    reader = read(evaluation, log)
    sizes: set[float] = set()
    drawn: set[str] = set()

    def visit(_text: str, _cm: object, _tm: object, font: object, size: float) -> None:
        if _text.strip() and isinstance(font, dict):
            sizes.add(size)
            drawn.add(str(font["/BaseFont"]))

    for page in reader.pages:
        page.extract_text(visitor_text=visit)
    assert min(sizes) >= 8
    assert drawn
    assert all("DejaVuSansCondensed" in name for name in drawn)
