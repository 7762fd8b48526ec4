"""The short text: what was kept in a line or two, nothing said twice, nothing to do said."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.finding import Guard, Reference
from tempwitness.model.vocabulary import Verdict, Weight
from tempwitness.report import to_text

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, Finding


def _flat(text: str) -> str:
    return " ".join(text.split())


def _met(evaluation: Evaluation, findings: tuple[Finding, ...]) -> Evaluation:
    return replace(evaluation, verdict=Verdict.MET, findings=findings, do_now=(), overrides=())


def test_a_met_lot_says_that_there_is_nothing_to_do(evaluation: Evaluation) -> None:
    text = to_text(_met(evaluation, evaluation.findings[:1]))
    assert "Do now\n------\nNothing to do.\n" in text


def test_a_met_lot_says_what_comes_next_where_something_still_runs(evaluation: Evaluation) -> None:
    later, sooner = (
        replace(evaluation.findings[5], weight=Weight.GUIDANCE, title=title, deadline=deadline)
        for title, deadline in (
            ("Use it up", "2025-06-21T12:00:00-04:00"),
            ("Read it again", "2025-06-15T13:00:00-04:00"),
        )
    )
    text = _flat(to_text(_met(evaluation, (evaluation.findings[0], later, sooner))))
    assert "Nothing to do now. What comes next, by Sun 15 Jun 2025 13:00: Read it again." in text


def test_what_is_not_met_never_reads_as_nothing_to_do(evaluation: Evaluation) -> None:
    text = _flat(to_text(replace(evaluation, do_now=())))
    assert "Nothing to do" not in text
    assert "Ask the local health authority" in text


def test_kept_findings_of_several_pieces_are_one_short_entry(evaluation: Evaluation) -> None:
    held = evaluation.findings[2]
    pair = tuple(
        replace(held, piece=piece, measured=f"lowest {degrees} °F at 17:30")
        for piece, degrees in (("A", 151), ("B", 147))
    )
    text = to_text(_met(evaluation, pair))
    assert (
        "[MET] hot hold, pieces A, B: Hot food is held at 135 °F or above\n"
        "  lowest 147 °F at 17:30 (B) | limit at least 135 °F (57 °C) |"
    ) in text
    assert text.count("[MET] hot hold") == 1


@pytest.mark.parametrize(
    ("margin", "short"),
    [
        (0.4, "0.4 °F from the limit"),
        (-0.4, "0.4 °F beyond the limit"),
        (0.0, "right on the limit"),
    ],
)
def test_a_close_call_is_kept_in_the_short_text(
    evaluation: Evaluation, margin: float, short: str
) -> None:
    guard = Guard("P1", "F", margin, 0.9, 1.8, 136.5, 0.67, ("its maker: u 0.9 °F",), ("drift",))
    held = evaluation.findings[2]
    near = replace(held.evidence, doubt="the reading stands near the limit", guard=guard)
    text = _flat(to_text(_met(evaluation, (replace(held, evidence=near),))))
    assert f"close: {short}, the probe is good to ±1.8 °F" in text


def test_an_inference_is_named_in_the_short_text(evaluation: Evaluation) -> None:
    held = evaluation.findings[2]
    inferred = replace(held, evidence=replace(held.evidence, inference="it only cools"))
    assert "inferred in part" in _flat(to_text(_met(evaluation, (inferred,))))


def test_advice_that_was_kept_is_a_number_only(evaluation: Evaluation) -> None:
    advice = replace(evaluation.findings[6], verdict=Verdict.MET)
    brief = to_text(replace(evaluation, findings=(evaluation.findings[0], advice, advice)))
    assert "Advice kept: 2 (--full lists it)" in brief
    assert advice.title not in _flat(brief)
    assert advice.title in _flat(to_text(replace(evaluation, findings=(advice,)), full=True))


def test_a_correction_of_nothing_needs_no_line(evaluation: Evaluation) -> None:
    none = replace(evaluation.corrections[0], added="+0.0 °F")
    unchanged = replace(evaluation, corrections=(none,))
    assert "Corrected readings" not in to_text(unchanged)
    assert "Corrected readings" in to_text(unchanged, full=True)
    wide = replace(none, added="+0.0 to +2.5 °F")
    assert "+0.0 to +2.5 °F" in _flat(to_text(replace(evaluation, corrections=(wide,))))


def test_what_a_finding_says_is_not_said_again_as_undetermined(evaluation: Evaluation) -> None:
    open_question = evaluation.findings[4]
    again = f"{open_question.title} (cool B): {open_question.reason}"
    other = "no check of probe P2 is on record: how true it reads is not known"
    text = to_text(replace(evaluation, unsettled=(again, other)))
    listed = _flat(text.split("Could not be determined")[1])
    assert other in listed
    assert open_question.reason not in listed


def test_the_thermometers_are_named(evaluation: Evaluation) -> None:
    base = replace(evaluation.findings[2], stage="", piece="", title="Thermometer true to ±2 °F")
    made = [
        replace(base, reason=f"probe {name}: every check lies within ±2 °F", measured=measured)
        for name, measured in (
            ("P1", "ice: read 32.4 °F: off by +0.4 °F"),
            ("P2", "ice: read 31.8 °F: off by -0.2 °F"),
        )
    ]
    text = _flat(to_text(_met(evaluation, tuple(made))))
    assert "[MET] probes P1, P2: Thermometer true to ±2 °F" in text
    assert "P1 off by +0.4 °F; P2 off by -0.2 °F" in text
    full = _flat(to_text(_met(evaluation, tuple(made)), full=True))
    assert "[MET] probe P2: Thermometer true to ±2 °F" in full


def test_references_stand_in_the_full_text_alone(evaluation: Evaluation) -> None:
    cited = "Food Code, recommendations of the Public Health Service"
    both = replace(evaluation, references=(Reference("fda-food-code-2022", cited),))
    assert f"- fda-food-code-2022: {cited}" in to_text(both, full=True)
    assert cited not in to_text(both)


def test_several_slow_pieces_have_one_account_with_a_line_each(evaluation: Evaluation) -> None:
    slow = evaluation.findings[3]
    herd = tuple(replace(slow, piece=f"pan {n}") for n in range(1, 9))
    lot = replace(evaluation.lot, pieces=tuple(f.piece for f in herd))
    text = to_text(replace(evaluation, lot=lot, findings=herd))
    assert text.count("[NOT MET] cool") == 1
    assert "[NOT MET] cool, all 8 pieces: " in text
    assert all(f"- pan {n}: " in text for n in range(1, 9))
