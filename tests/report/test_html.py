"""The report as a page: what it says, read back with an independent parser (html5lib)."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import ReportError
from tempwitness.model.vocabulary import Verdict
from tempwitness.report import to_html
from tempwitness.report.wording import verdict_word

from .lamb_log import empty_log, long_log
from .page import by_id, inside, page, parsed, words
from .test_pdf_comparison import CODES

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog


def test_the_answer_comes_first_and_what_to_do_next(evaluation: Evaluation, log: StagedLog) -> None:
    root = page(evaluation, log)
    main = next(root.iter("main"))
    assert [section.get("id") for section in main][:2] == ["answer", "do-now"]
    answer = words(by_id(root, "answer"))
    assert answer.startswith("Answer NOT MET Piece A took at least 2 h 35 min")
    do_now = words(by_id(root, "do-now"))
    assert "By Sat 14 Jun 2025 20:05 Reheat piece A to 165 °F (74 °C) or discard it." in do_now
    # An action without a deadline is for now.
    assert "Now Ask the authority" in do_now
    assert "On whose word: ask the authority" in do_now
    assert evaluation.caution[0] in words(main)


def test_every_finding_is_there_with_title_verdict_and_section(
    evaluation: Evaluation, log: StagedLog
) -> None:
    text = words(by_id(page(evaluation, log), "main"))
    for finding in evaluation.findings:
        # A section without the name of a text is one of the code's, as the page says.
        section = finding.citation.removeprefix("FDA Food Code 2022 ")
        for said in (finding.title, verdict_word(finding.verdict), section):
            assert said in text


def test_each_deviation_or_question_is_explained_the_worst_first(
    evaluation: Evaluation, log: StagedLog
) -> None:
    root = page(evaluation, log)
    heads = [words(h) for h in inside(by_id(root, "explained"), "h3")]
    assert heads == [
        "1. NOT MET: cool, piece A",
        "2. NOT SHOWN: cool, piece B",
        "3. OPEN: cold hold, piece B",
        "4. NEEDS A LIMIT: rest",
    ]
    second = words(by_id(root, "finding-2"))
    for said in (
        "between 35 min and 3 h 20 min",
        "the logger lost the probe",
        "A piece that only cools was not warmer at 21:30 than at 18:40.",
        "a reading of 70 °F or less in the core of piece B (Sat 14 Jun 2025 20:10)",
        "124.2 °F",
        "common practice, not code text",
        "FDA Food Code 2022 3-501.14(A)(1)",
        "number checked against the published text",
    ):
        assert said in second


def test_the_table_leads_to_what_is_explained(evaluation: Evaluation, log: StagedLog) -> None:
    root = page(evaluation, log)
    links = {words(a): a.get("href") for a in inside(by_id(root, "findings"), "a") if a.get("href")}
    assert links == {f"explained as number {n}": f"#finding-{n}" for n in range(1, 5)}


def test_the_record_behind_the_answer_is_there(evaluation: Evaluation, log: StagedLog) -> None:
    text = words(by_id(page(evaluation, log), "main"))
    for said in (
        evaluation.unsettled[0],
        evaluation.questions[0],
        evaluation.assumptions[0],
        "at least 140 °F (60 °C)",
        "ice point 05:40: 32.4 °F",
        "no check on record",
        "fell by 120 °F and came back within ten minutes",
        "ab" * 32,
        "c0" * 32,
        "d1" * 32,
        "Prepared by",
        "Reviewed by",
    ):
        assert said in text


def test_all_readings_of_a_short_record_are_listed_with_flag_and_correction(
    evaluation: Evaluation, log: StagedLog
) -> None:
    section = by_id(page(evaluation, log), "readings")
    total = sum(len(channel) for channel in log.raw.channels)
    assert f"All {total} readings are printed." in words(section)
    rows = [words(row) for row in inside(section, "tr")]
    assert sum(not row.startswith("When") for row in rows) == total
    # 38 °F was read at 06:00 and 0.4 °F is taken off: 37.6. The spike does not decide.
    assert "14 Jun 06:00 38 °F → 37.6" in rows
    spike = next(row for row in inside(section, "tr") if "14 Jun 14:15 32 °F" in words(row))
    meanings = [abbr.get("title", "") for abbr in inside(spike, "abbr")]
    assert [m.partition(":")[0] for m in meanings] == ["failed"]


def test_a_long_record_says_how_many_readings_it_lists(evaluation: Evaluation) -> None:
    section = by_id(page(evaluation, long_log(8, 60.0)), "readings")
    # 8 probes × 1440 minutes = 11520 readings; one in 12 keeps within 1000.
    listed = sum(len(inside(body, "tr")) for body in inside(section, "tbody"))
    assert f"{listed} of 11520 readings are printed one by one" in words(section)
    assert "one in 12 of the others" in words(section)


def test_a_lot_under_many_codes_names_them_all(evaluation: Evaluation, log: StagedLog) -> None:
    root = page(replace(evaluation, under=CODES), log)
    section = by_id(root, "under")
    text = words(section)
    assert f"The same lot under {len(CODES)} codes" in text
    for code in CODES:
        assert code.id in text
        assert verdict_word(code.verdict) in text or code.verdict is Verdict.NOT_APPLICABLE
    # The star marks a number from memory, brackets a code that was not in force.
    assert "eg/a, eg/b*" in text
    assert "(eg/old)" in text
    assert "Under other codes" in words(next(root.iter("nav")))


def test_without_other_codes_there_is_no_word_of_them(
    evaluation: Evaluation, log: StagedLog
) -> None:
    root = page(evaluation, log)
    assert not [e for e in root.iter() if e.get("id") == "under"]
    assert "Under other codes" not in words(next(root.iter("nav")))


def test_a_record_without_readings_or_findings_is_still_a_report(evaluation: Evaluation) -> None:
    lot = replace(evaluation.lot, first_entry=None, last_entry=None)
    bare = replace(
        evaluation, lot=lot, findings=(), do_now=(), doubts=(), verdict=Verdict.NOT_APPLICABLE
    )
    text = words(by_id(page(bare, empty_log()), "main"))
    assert "No reading is on record" in text
    assert "No action follows from this record." in text


def test_what_pieces_differ_in_stands_in_their_rows(evaluation: Evaluation, log: StagedLog) -> None:
    open_question = evaluation.findings[4]
    other = replace(open_question, piece="A", reason="Nobody read piece A either.")
    root = page(replace(evaluation, findings=(open_question, other)), log)
    article = by_id(root, "finding-1")
    assert words(inside(article, "h3")[0]) == "1. NOT SHOWN: cool, pieces A, B"
    assert "Why: Nobody read piece A either." in words(article)


@pytest.mark.parametrize("verdict", list(Verdict))
def test_each_answer_has_a_word_a_sign_and_an_edge_of_its_own(
    evaluation: Evaluation, log: StagedLog, verdict: Verdict
) -> None:
    root = page(replace(evaluation, verdict=verdict), log)
    answer = by_id(root, "answer")
    strong = inside(answer, "strong")[0]
    assert words(strong) == verdict_word(verdict)
    assert inside(strong, "svg")[0].get("aria-hidden") == "true"
    assert len(inside(strong, "path")) >= 1


def test_the_same_evaluation_gives_the_same_bytes(
    evaluation: Evaluation, log: StagedLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = to_html(evaluation, log)
    monkeypatch.setenv("TZ", "Asia/Kolkata")
    monkeypatch.setenv("LC_ALL", "C")
    assert to_html(evaluation, log) == first


@pytest.mark.parametrize(
    ("paper", "size"), [("letter", "size: letter;"), ("a4", "size: A4;"), (None, "")]
)
def test_the_sheets_are_those_asked_for_or_the_printers(
    evaluation: Evaluation, log: StagedLog, paper: str | None, size: str
) -> None:
    style = words(next(parsed(to_html(evaluation, log, paper=paper)).iter("style")))
    assert ("size:" in style.partition("@page")[2]) is bool(size)
    assert size in style


def test_another_paper_is_refused(evaluation: Evaluation, log: StagedLog) -> None:
    with pytest.raises(ReportError, match="'tabloid' is not known"):
        to_html(evaluation, log, paper="tabloid")
