"""What is joined, what is kept apart, and the short words for both."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.finding import Evidence
from tempwitness.model.vocabulary import Confirmed, Verdict, Weight
from tempwitness.report.aside import ruled_out
from tempwitness.report.brief import changes, how_long, measure, measured_words, section, whose
from tempwitness.report.groups import Group, grouped
from tempwitness.rulebook.facts import load_facts

from .lamb_findings import FINDINGS

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, Finding

_HELD = FINDINGS[2]


def _subjects(findings: list[Finding], pieces: tuple[str, ...]) -> list[str]:
    return [group.subject(len(pieces)) for group in grouped(findings, pieces)]


def test_pieces_are_named_in_the_order_of_the_lot() -> None:
    found = [replace(_HELD, piece=piece) for piece in ("B", "A")]
    assert _subjects(found, ("A", "B")) == ["hot hold, pieces A, B"]


def test_a_stage_that_comes_again_is_joined_with_the_second_of_the_others() -> None:
    first = [replace(_HELD, piece=piece, stage_number=1) for piece in ("A", "B")]
    second = [replace(_HELD, piece=piece, stage_number=4) for piece in ("B", "A")]
    groups = grouped([*first, *second], ("A", "B"))
    assert [[f.stage_number for f in g.findings] for g in groups] == [[1, 1], [4, 4]]


@pytest.mark.parametrize(
    "other",
    [
        replace(_HELD, piece="B", verdict=Verdict.NOT_SHOWN),
        replace(_HELD, piece="B", limit="at least 140 °F (60 °C)"),
        replace(_HELD, piece="B", stage="rest"),
        replace(_HELD, piece="B", citation="another section"),
        replace(_HELD, piece="B", allowance="used once"),
        replace(_HELD, piece="B", requirement="another"),
    ],
)
def test_what_differs_in_more_than_the_piece_stays_apart(other: Finding) -> None:
    assert len(grouped([_HELD, other], ("A", "B"))) == 2
    assert len(grouped([_HELD, replace(_HELD, piece="B")], ("A", "B"))) == 1


def test_no_finding_is_lost_and_the_worst_comes_first() -> None:
    groups = grouped(FINDINGS, ("A", "B"))
    assert sorted(f.title for g in groups for f in g.findings) == sorted(f.title for f in FINDINGS)
    assert groups[0].verdict is Verdict.NOT_MET


def test_the_only_piece_and_very_many_pieces_are_not_listed() -> None:
    assert _subjects([_HELD], ("A",)) == ["hot hold"]
    names = tuple(f"pan {n}" for n in range(1, 10))
    found = [replace(_HELD, piece=name) for name in names]
    assert _subjects(found, names) == ["hot hold, all 9 pieces"]
    assert _subjects(found[:8], names) == [
        "hot hold, pieces pan 1, pan 2, pan 3, pan 4, pan 5, pan 6 and 2 more"
    ]


@pytest.mark.parametrize(
    ("measured", "limit", "least", "most", "words"),
    [
        (
            "127 °F",
            "at least 135 °F (57 °C)",
            0.0,
            19200.0,
            "beyond the limit for 0 s to 5 h 20 min",
        ),
        ("clock from 20:00", "135 → 70 °F within 2 h", 7500.0, 7500.0, "took 2 h 5 min"),
        ("145 °F", "145 °F (63 °C) for 15 s", 300.0, None, "held for at least 5 min"),
        ("0 s to 5 min in all", "at most 2 h above 40 °F", 0.0, 300.0, ""),
        ("4 h 10 min", "served within 4 h", 15000.0, 15000.0, "lasted 4 h 10 min"),
        ("41 °F", "at most 41 °F (5 °C)", None, None, ""),
        ("closed box", "at most 2 h 30 min", 7500.0, 7500.0, "lasted 2 h 5 min"),
        ("kept from 2026-05-02 to 2026-05-03", "at most 3 days after the day", 7500.0, None, ""),
    ],
)
def test_a_time_says_of_what_it_is(
    measured: str, limit: str, least: float | None, most: float | None, words: str
) -> None:
    # By hand: 19200 = 5 × 3600 + 20 × 60, 7500 = 2 × 3600 + 5 × 60, 15000 = 4 × 3600 + 10 × 60.
    finding = replace(
        _HELD, measured=measured, limit=limit, evidence=Evidence(least_s=least, most_s=most)
    )
    assert how_long(finding).removesuffix(", how much more is not known") == words


def test_a_time_that_still_runs_says_so_and_one_that_was_kept_needs_no_end() -> None:
    running = replace(
        _HELD, verdict=Verdict.OPEN, limit="135 → 70 °F", evidence=Evidence((), 3600.0, None)
    )
    assert how_long(running) == "at least 1 h so far"
    kept = replace(_HELD, limit="145 °F (63 °C) for 15 s", evidence=Evidence((), 300.0, None))
    assert how_long(kept) == "held for at least 5 min"
    broken = replace(kept, verdict=Verdict.NOT_SHOWN)
    assert how_long(broken) == "held for at least 5 min, how much more is not known"
    # From nothing at least to nobody knows what at most is no news.
    assert how_long(replace(broken, evidence=Evidence((), 0.0, None))) == ""


def test_a_time_is_not_said_twice() -> None:
    passage = replace(
        _HELD,
        measured="clock from 20:00; 69 °F at 22:50: 2 h 5 min to 2 h 50 min",
        limit="135 → 70 °F (57 → 21 °C) within 2 h",
        evidence=Evidence(least_s=7500.0, most_s=10200.0),
    )
    assert measure(passage) == "clock from 20:00; 69 °F at 22:50; took 2 h 5 min to 2 h 50 min"
    control = replace(
        _HELD, measured="4 h", limit="", evidence=Evidence(least_s=14400.0, most_s=14400.0)
    )
    assert measure(control) == "lasted 4 h"


def test_of_several_pieces_the_one_nearest_the_limit_is_named() -> None:
    found = [
        replace(_HELD, piece=piece, measured=f"highest {degrees} °F at 09:00")
        for piece, degrees in (("A", "38.6"), ("B", "39"), ("C", "4"))
    ]
    assert measured_words(Group(tuple(found))) == "highest 39 °F at 09:00 (B)"
    # Two scales are not compared: both are printed as they were read.
    mixed = (found[0], replace(found[1], measured="highest 4 °C at 09:00"))
    assert measured_words(Group(mixed)) == "A: highest 38.6 °F at 09:00; B: highest 4 °C at 09:00"


def test_of_several_kept_passages_the_longest_is_named() -> None:
    found = tuple(
        replace(
            _HELD, piece=piece, limit="135 → 70 °F within 2 h", evidence=Evidence((), 0.0, most)
        )
        for piece, most in (("A", 4500.0), ("B", 5400.0))
    )
    assert measured_words(Group(found)) == "took at most 1 h 30 min"
    # A passage whose end nobody knows is never given a longest time.
    endless = (found[0], replace(found[1], evidence=Evidence((), 0.0, None)))
    assert "at most" not in measured_words(Group(endless))


def test_on_whose_word_it_stands_is_said_once(evaluation: Evaluation) -> None:
    practice = replace(_HELD, weight=Weight.PRACTICE, citation="Habits, common practice, no source")
    assert whose(practice, evaluation) == "Habits, common practice, no source"
    guidance = replace(
        _HELD, weight=Weight.GUIDANCE, citation="A leaflet", confirmed=Confirmed.SECOND_HAND
    )
    assert whose(guidance, evaluation) == "A leaflet (official guidance, number second-hand)"


def test_the_code_of_the_head_is_not_named_with_every_section(evaluation: Evaluation) -> None:
    own = replace(_HELD, citation="FDA Food Code 2022, 3-501.16(A)(1)")
    assert section(own, evaluation) == "3-501.16(A)(1)"
    other = replace(_HELD, citation="Example County Code 8.12")
    assert section(other, evaluation) == "Example County Code 8.12"


@pytest.mark.parametrize(
    ("added", "any_change"),
    [("+0.0 °F", False), ("-0.0 °F", False), ("+3.0 °F", True), ("+0.0 to +2.5 °F", True)],
)
def test_a_correction_of_nothing_changes_nothing(
    evaluation: Evaluation, added: str, any_change: bool
) -> None:
    assert changes(replace(evaluation.corrections[0], added=added)) is any_change


@pytest.mark.parametrize("fact", sorted(load_facts()))
def test_every_question_of_a_record_has_words_that_a_cook_understands(fact: str) -> None:
    words = load_facts()[fact].asks
    assert words.endswith("?")
    assert "_" not in words
    assert not {"rop", "tphc", "tcs"} & set(words.lower().split())


def test_what_is_ruled_out_twice_for_one_reason_is_named_once(evaluation: Evaluation) -> None:
    base = replace(FINDINGS[7], stage="", reason="probe P1: the probe reads food")
    again = replace(base, reason="probe P2: the probe reads food")
    both = replace(evaluation, findings=(base, again, FINDINGS[7]))
    titles = ("Frozen food stays frozen (FDA Food Code 2022 3-501.11)",)
    assert ruled_out(both) == [("The probe reads food", titles)]
