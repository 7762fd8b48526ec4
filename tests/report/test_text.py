"""The text: the answer first, nothing beyond its width, no meaning by colour alone."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Verdict
from tempwitness.report import to_text

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation

_ESCAPE = re.compile(r"\x1b\[[0-9;]*m")


def _flat(text: str) -> str:
    return " ".join(text.split())


def test_the_first_lines_answer(evaluation: Evaluation) -> None:
    head = to_text(evaluation).split("Do now")[0]
    for answer in ("LAMB-0614", "smoked lamb shoulder", "us/food-code/2022", "[NOT MET]"):
        assert answer in head
    assert evaluation.headline in _flat(head)


@pytest.mark.parametrize(
    ("verdict", "word"),
    [
        (Verdict.NOT_MET, "[NOT MET]"),
        (Verdict.NOT_SHOWN, "[NOT SHOWN]"),
        (Verdict.OPEN, "[OPEN]"),
        (Verdict.NEEDS_LIMIT, "[NEEDS A LIMIT]"),
        (Verdict.MET, "[MET]"),
    ],
)
def test_every_verdict_has_its_word_in_capitals(
    evaluation: Evaluation, verdict: Verdict, word: str
) -> None:
    assert word in to_text(replace(evaluation, verdict=verdict, findings=()))


@pytest.mark.parametrize("width", [10, 24, 40, 60, 80, 120])
@pytest.mark.parametrize("full", [False, True])
def test_no_line_is_wider_than_asked(evaluation: Evaluation, width: int, full: bool) -> None:
    lines = to_text(evaluation, width=width, full=full).splitlines()
    # Below 24 columns the text keeps to 24, as the docstring says.
    assert max(map(len, lines)) <= max(width, 24)


@pytest.mark.parametrize("width", [24, 40, 80])
def test_narrow_text_says_the_same_as_wide_text(evaluation: Evaluation, width: int) -> None:
    def words(text: str) -> list[str]:
        bare = re.sub(r"^-+$", "", text, flags=re.MULTILINE)
        return sorted("".join(bare.split()))

    assert words(to_text(evaluation, width=width)) == words(to_text(evaluation, width=200))


def test_colour_adds_nothing_but_colour(evaluation: Evaluation) -> None:
    coloured = to_text(evaluation, colour=True)
    assert coloured != to_text(evaluation)
    assert _ESCAPE.sub("", coloured) == to_text(evaluation)


def test_what_is_unsettled_has_its_reason_settling_reading_and_action(
    evaluation: Evaluation,
) -> None:
    text = _flat(to_text(evaluation))
    assert "why: Nobody read piece B from 18:40 to 21:30" in text
    assert "would settle it: a reading of 70 °F or less in the core of piece B" in text
    assert "1. BY SAT 14 JUN 20:05 – Reheat piece A" in text
    assert "do: number 1 of the list above" in text
    for basis in ("[food code]", "[common practice, not code text]", "[ask the authority]"):
        assert basis in text


def test_advice_stands_apart_from_what_binds(evaluation: Evaluation) -> None:
    before, after = to_text(evaluation).split("Advice – not law")
    assert "held uncovered" not in before
    assert "held uncovered" in _flat(after)


def test_an_override_shows_both_values(evaluation: Evaluation) -> None:
    text = _flat(to_text(evaluation))
    assert "at least 140 °F (60 °C) in place of at least 135 °F (57 °C)" in text


def test_numbers_that_were_not_checked_are_marked(evaluation: Evaluation) -> None:
    text, full = _flat(to_text(evaluation)), _flat(to_text(evaluation, full=True))
    assert text.count("(number from memory)") == 1
    assert text.count("(number second-hand)") == 1
    assert full.count("number from memory, not checked against any text") == 1
    assert full.count("number taken second-hand, not from the text itself") == 1


def test_full_adds_evidence_of_what_was_met_and_what_does_not_apply(
    evaluation: Evaluation,
) -> None:
    brief, full = to_text(evaluation), to_text(evaluation, full=True)
    assert "Frozen food stays frozen" in full
    assert "Frozen food stays frozen" not in brief
    assert "Every reading of the stage stands at or above the limit." in _flat(full)
    assert "Every reading of the stage stands at or above the limit." not in _flat(brief)


def test_full_joins_what_the_whole_lot_rules_out_by_its_reason(evaluation: Evaluation) -> None:
    base = replace(
        evaluation.findings[7], stage="", reason="the record does not say: Was it cured?"
    )
    two = (replace(base, title="One rule"), replace(base, title="Another rule"))
    text = _flat(to_text(replace(evaluation, findings=two), full=True))
    assert "The record does not say: Was it cured?: One rule (" in text
    assert text.count("Was it cured?") == 1
    assert "Another rule (" in text


def test_doubts_corrections_assumptions_and_caution_are_printed(evaluation: Evaluation) -> None:
    text = _flat(to_text(evaluation))
    for words in (
        "fell by 120 °F and came back within ten minutes",
        "-0.4 °F (ice point read 32.4 °F at 05:40)",
        "Does the authority count a closed box as hot holding?",
        "Did the smoker still heat after 14:30?",
        evaluation.assumptions[0],
        evaluation.caution[0],
    ):
        assert words in text


def test_a_name_cannot_steer_the_terminal_or_break_the_line(evaluation: Evaluation) -> None:
    lot = replace(evaluation.lot, food="lamb\x1b[2J\r\n\u202eshoulder\x07")
    text = to_text(replace(evaluation, lot=lot))
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f\u202e]", text)
    assert "lamb\ufffd[2J \ufffdshoulder\ufffd" in text


def test_an_evaluation_without_findings_is_still_a_text(evaluation: Evaluation) -> None:
    bare = replace(evaluation, findings=(), do_now=(), verdict=Verdict.NOT_APPLICABLE)
    text = to_text(bare)
    assert "[NOT APPLICABLE]" in text
    assert "No requirement of the code was applied." in text


def test_a_code_judged_beside_is_printed_apart_and_not_counted(evaluation: Evaluation) -> None:
    other = replace(evaluation.code, id="us/xx/other")
    finding = replace(
        evaluation.findings[3], requirement="us/xx/other#cool", title="Cool as the neighbours do"
    )
    both = replace(evaluation, beside=(other,), findings=(*evaluation.findings, finding))
    before, after = to_text(both).split("Under the codes beside it")
    assert "Under the code: 1 not met, 1 not shown" in before
    assert "as the neighbours do" not in before
    assert "as the neighbours do" in after


def test_a_question_of_a_stage_is_asked_once(evaluation: Evaluation) -> None:
    asked = replace(evaluation, questions=("Did the smoker still heat after 14:30?",))
    assert to_text(asked).count("Did the smoker still heat") == 1
