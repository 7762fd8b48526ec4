"""What the report on paper joins, shortens or leaves out."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.model.finding import Reference
from tempwitness.model.vocabulary import Verdict

from .reread import pages, read

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog


def test_pieces_with_the_same_answer_share_a_page_with_a_row_each(
    evaluation: Evaluation, log: StagedLog
) -> None:
    slow = evaluation.findings[3]
    herd = tuple(
        replace(slow, piece=f"pan {n}", measured=f"{n} h from 135 °F to 70 °F")
        for n in range(3, 11)
    )
    lot = replace(evaluation.lot, pieces=tuple(f.piece for f in herd))
    sheets = pages(read(replace(evaluation, lot=lot, findings=herd), log))
    assert "1. NOT MET: cool, all 8 pieces" in sheets[2]
    for n in range(3, 11):
        assert f"pan {n} {n} h from 135 °F to 70 °F" in sheets[2]
    assert not any("2. NOT MET" in sheet for sheet in sheets)
    # What to do stands with the answer, not behind eight lists of readings.
    assert "Done by" in sheets[2]


def test_what_pieces_differ_in_stands_in_their_rows(evaluation: Evaluation, log: StagedLog) -> None:
    open_question = evaluation.findings[4]
    other = replace(open_question, piece="A", reason="Nobody read piece A either.")
    sheets = pages(read(replace(evaluation, findings=(open_question, other)), log))
    assert "1. NOT SHOWN: cool, pieces A, B" in sheets[2]
    assert "Why: Nobody read piece A either." in sheets[2]
    assert sheets[2].count("FDA Food Code 2022 3-501.14(A)(1)") == 1


def test_what_the_whole_lot_rules_out_is_joined_by_its_reason(
    evaluation: Evaluation, log: StagedLog
) -> None:
    base = replace(evaluation.findings[7], stage="", reason="it is for stuffed food")
    ruled = tuple(
        replace(base, title=title, citation=f"FDA Food Code 2022, {section}")
        for title, section in (("Cook stuffed fish", "3-401.11(A)(3)"), ("Another", "3-401.12"))
    )
    text = " ".join(pages(read(replace(evaluation, findings=ruled), log)))
    joined = "It is for stuffed food: Cook stuffed fish (3-401.11(A)(3)); Another (3-401.12)."
    assert joined in text
    assert text.count("It is for stuffed food") == 1


def test_advice_that_was_kept_is_a_line_for_each_title(
    evaluation: Evaluation, log: StagedLog
) -> None:
    kept = tuple(
        replace(evaluation.findings[6], verdict=Verdict.MET, stage=stage)
        for stage in ("rest", "hot_hold")
    )
    text = " ".join(pages(read(replace(evaluation, findings=kept), log)))
    assert "Advice that was kept" in text
    assert text.count("A rested roast is held uncovered") == 1
    assert "(rest, piece A; hot hold, piece A)" in text


def test_references_are_listed_with_their_short_names(
    evaluation: Evaluation, log: StagedLog
) -> None:
    cited = "Food Code, recommendations of the Public Health Service"
    named = replace(evaluation, references=(Reference("fda-food-code-2022", cited),))
    text = " ".join(pages(read(named, log)))
    assert f"fda-food-code-2022 {cited}" in text


def test_a_correction_of_nothing_is_left_out_and_the_check_stays(
    evaluation: Evaluation, log: StagedLog
) -> None:
    probe = replace(
        evaluation.probes[0],
        checks=("2025-06-14T05:40:00-04:00 ice: read 32.2 °F, should read 32 °F",),
    )
    none = replace(evaluation.corrections[0], added="+0.0 °F")
    text = " ".join(pages(read(replace(evaluation, probes=(probe,), corrections=(none,)), log)))
    assert "Corrections" not in text
    assert "Sat 14 Jun 2025 05:40 ice: read 32.2 °F, should read 32 °F" in text


def test_page_one_of_a_met_lot_says_that_there_is_nothing_to_do(
    evaluation: Evaluation, log: StagedLog
) -> None:
    met = replace(evaluation, verdict=Verdict.MET, findings=evaluation.findings[:1], do_now=())
    assert "Do now Nothing to do." in pages(read(met, log))[0]


def test_an_action_without_a_deadline_is_for_now(evaluation: Evaluation, log: StagedLog) -> None:
    first = pages(read(evaluation, log))[0]
    assert "no deadline" not in first
    assert "now Ask the authority" in first
