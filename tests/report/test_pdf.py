"""The report on paper, read back with an independent reader (pypdf)."""

from __future__ import annotations

import os
import re
from dataclasses import replace
from io import BytesIO
from typing import TYPE_CHECKING, Literal, cast

import numpy as np
import pytest
from pypdf import PdfReader

from tempwitness.errors import ReportError
from tempwitness.model.finding import Action, Evidence
from tempwitness.model.logs import Doubt
from tempwitness.model.vocabulary import Flag, Place, Verdict
from tempwitness.report import to_pdf
from tempwitness.report.wording import verdict_word

from .lamb_log import START, channel, empty_log, long_log, staged

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

Paper = Literal["letter", "a4"]


def _read(evaluation: Evaluation, log: StagedLog, paper: Paper = "letter") -> PdfReader:
    return PdfReader(BytesIO(to_pdf(evaluation, log, paper=paper)))


def _pages(reader: PdfReader) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def _squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_page_one_answers(evaluation: Evaluation, log: StagedLog) -> None:
    first = _pages(_read(evaluation, log))[0]
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
    text = _squeezed("".join(_pages(_read(evaluation, log))))
    for finding in evaluation.findings:
        for words in (finding.title, verdict_word(finding.verdict), finding.citation):
            assert _squeezed(words) in text


def test_one_page_for_each_deviation_or_question(evaluation: Evaluation, log: StagedLog) -> None:
    pages = _pages(_read(evaluation, log))
    heads = (
        "1. NOT MET: cool, piece A",
        "2. NOT SHOWN: cool, piece B",
        "3. OPEN: cold hold, piece B",
        "4. NEEDS A LIMIT: rest",
    )
    # Page 1 is the answer, page 2 the chart; then one page each, the worst first.
    for page, head in zip(pages[2:6], heads, strict=True):
        assert head in page
        assert "Done by" in page
    assert "All findings" in pages[6]


def test_a_page_of_its_own_says_why_and_what_would_settle_it(
    evaluation: Evaluation, log: StagedLog
) -> None:
    page = _pages(_read(evaluation, log))[3]
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
    chart = _pages(_read(evaluation, log))[1]
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
    text = _squeezed("".join(_pages(_read(evaluation, log))))
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
        assert _squeezed(words) in text


def test_all_readings_of_a_short_record_are_printed_with_flag_and_correction(
    evaluation: Evaluation, log: StagedLog
) -> None:
    text = " ".join(_pages(_read(evaluation, log)))
    total = sum(len(channel) for channel in log.raw.channels)
    assert f"All {total} readings are printed." in text
    # 38 °F was read at 06:00 and 0.4 °F is taken off: 37.6. The spike does not decide.
    assert "14 Jun 06:00 38 °F → 37.6" in text
    assert "14 Jun 14:15 32 °F F" in text


def test_a_long_record_says_how_many_readings_it_prints(evaluation: Evaluation) -> None:
    text = " ".join(_pages(_read(evaluation, long_log(8, 60.0))))
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
    for page in _read(evaluation, log, paper).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            size, abs=0.01
        )


def test_another_paper_is_refused(evaluation: Evaluation, log: StagedLog) -> None:
    with pytest.raises(ReportError, match="'tabloid' is not known"):
        to_pdf(evaluation, log, paper=cast("Paper", "tabloid"))


def test_every_page_has_its_number_and_how_many_there_are(
    evaluation: Evaluation, log: StagedLog
) -> None:
    pages = _pages(_read(evaluation, log))
    for number, page in enumerate(pages, 1):
        assert f"page {number} of" in page
        assert re.search(rf"\b{len(pages)}\b", page)
        assert "Lot LAMB-0614" in page
        assert "tempwitness 0.1.0" in page


def test_bookmarks_lead_to_their_pages(evaluation: Evaluation, log: StagedLog) -> None:
    reader = _read(evaluation, log)
    pages = _pages(reader)
    for entry in reader.outline:
        assert not isinstance(entry, list)
        number = reader.get_destination_page_number(entry)
        assert number is not None
        assert str(entry.title) in pages[number]
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
    reader = _read(evaluation, log)
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
    reader = _read(evaluation, log)
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


def test_markup_in_names_is_printed_as_it_stands(evaluation: Evaluation, log: StagedLog) -> None:
    hostile = "<b>lamb</b> & <img src='x'/> \u202e羊 &amp; 🍖"
    lot = replace(evaluation.lot, food=hostile, id="<L&1>", pieces=("A<b>", "B"))
    findings = tuple(replace(f, title=hostile, reason=hostile) for f in evaluation.findings)
    text = " ".join(_pages(_read(replace(evaluation, lot=lot, findings=findings), log)))
    assert "<b>lamb</b> & <img src='x'/>" in text
    assert "&amp; \ufffd" in text
    assert "Lot <L&1>" in text


def test_very_long_names_neither_fail_nor_vanish(evaluation: Evaluation, log: StagedLog) -> None:
    long_name, long_word = "smoked lamb " * 400, "lamb" * 1500
    lot = replace(evaluation.lot, food=long_name, id=long_word[:300])
    findings = tuple(replace(f, title=long_name, measured=long_word) for f in evaluation.findings)
    action = Action(long_name, None, "practice")
    hostile = replace(
        evaluation, lot=lot, findings=findings, headline=long_name, todo=(action,) * 3
    )
    text = _squeezed("".join(_pages(_read(hostile, log))))
    assert text.count("smokedlamb") > 400 * len(findings)


def test_two_hundred_findings_are_all_there(evaluation: Evaluation, log: StagedLog) -> None:
    broken = next(f for f in evaluation.findings if f.verdict is Verdict.NOT_MET)
    findings = tuple(replace(broken, title=f"Rule number {k:03d}") for k in range(200))
    pages = _pages(_read(replace(evaluation, findings=findings), log))
    text = "".join(pages)
    for k in range(200):
        # Once on its own page and once in the table.
        assert text.count(f"Rule number {k:03d}") >= 2
    assert "and 192 more" in pages[0]


def test_a_finding_with_many_readings_says_how_many_are_printed(
    evaluation: Evaluation, log: StagedLog
) -> None:
    broken = next(f for f in evaluation.findings if f.verdict is Verdict.NOT_MET)
    many = replace(broken, evidence=Evidence(readings=broken.evidence.readings * 20))
    text = " ".join(_pages(_read(replace(evaluation, findings=(many,)), log)))
    assert "40 of 80 readings are printed here." in text


def test_a_record_without_readings_or_findings_is_still_a_report(evaluation: Evaluation) -> None:
    lot = replace(evaluation.lot, first_entry=None, last_entry=None)
    bare = replace(
        evaluation, lot=lot, findings=(), todo=(), doubts=(), verdict=Verdict.NOT_APPLICABLE
    )
    text = " ".join(_pages(_read(bare, empty_log())))
    assert "No reading is on record" in text
    assert "No action follows from this record." in text


def _odd_log(kind: str) -> StagedLog:
    nothing = np.array([], dtype=np.float64)
    lost = np.array([np.nan, np.nan])
    two = np.array([START, START + 600])
    made = {
        "an empty channel": channel(nothing, nothing, piece="A"),
        "no number at all": channel(two, lost, piece="A"),
        "one reading": channel(two[:1], np.array([140.0]), piece="A"),
        "one moment": channel(two[[0, 0]], np.array([140.0, 141.0]), piece="A"),
        "a surface alone": channel(two, np.array([140.0, 9.0]), piece="B", place=Place.SURFACE),
    }[kind]
    missing = len(made) and bool(np.isnan(made.value).any())
    doubts = (Doubt(0, 0, 1, Flag.MISSING, "sentinel", "no number"),) if missing else ()
    return staged((made,), doubts)


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("an empty channel", "All 0 readings are printed."),
        ("no number at all", "14 Jun 06:10 no number M"),
        ("one reading", "14 Jun 06:00 140 °F"),
        ("one moment", "14 Jun 06:00 141 °F"),
        ("a surface alone", "Piece B, surface, probe PB (lamb.csv)"),
    ],
)
def test_odd_records_are_printed_too(evaluation: Evaluation, kind: str, words: str) -> None:
    assert words in " ".join(_pages(_read(evaluation, _odd_log(kind))))


def test_a_failed_probe_check_prints_both_bounds(evaluation: Evaluation) -> None:
    made = staged((channel(np.array([START]), np.array([140.0]), piece="A"),))
    wide = replace(made.corrected, lower=(np.array([137.5]),), upper=(np.array([140.0]),))
    text = " ".join(_pages(_read(evaluation, replace(made, corrected=wide))))
    assert "140 °F → 137.5–140.0" in text
