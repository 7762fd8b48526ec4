"""What counts as another answer, and what as the same one otherwise told."""

from __future__ import annotations

import copy
from typing import Any

from tempwitness.sealing.compare import differences

FINDING = {
    "requirement": "us/food-code/2022#hot-hold",
    "stage": "rest",
    "stage_number": 2,
    "piece": "left",
    "verdict": "met",
    "limit": "at least 135 °F",
    "reason": "kept",
    "figures": [{"f": 135.0, "c": 57.0}],
}
TREE: dict[str, Any] = {
    "tool": "tempwitness 0.1.0",
    "verdict": "met",
    "headline": "all kept",
    "findings": [FINDING],
}


def changed(**finding: object) -> dict[str, Any]:
    tree = copy.deepcopy(TREE)
    tree["findings"][0].update(finding)
    return tree


def test_the_same_differs_in_nothing() -> None:
    found = differences(TREE, copy.deepcopy(TREE) | {"tool": "tempwitness 9.0.0"})
    assert (found.answers, found.words) == ((), ())


def test_another_verdict_of_a_finding_is_named_with_its_stage_and_piece() -> None:
    (line,) = differences(TREE, changed(verdict="not_shown")).answers
    assert line == (
        "us/food-code/2022#hot-hold (rest 2 left) was sealed as met, now it is not shown"
    )


def test_another_verdict_of_the_lot_is_named() -> None:
    assert differences(TREE, TREE | {"verdict": "open"}).answers == (
        "the answer was sealed as met, now it is open",
    )


def test_another_limit_is_another_answer() -> None:
    (line,) = differences(TREE, changed(limit="at least 140 °F")).answers
    assert "by another limit" in line


def test_other_words_are_told_apart() -> None:
    found = differences(TREE, changed(reason="held") | {"headline": "kept"})
    assert found.answers == ()
    assert found.words == (
        "us/food-code/2022#hot-hold (rest 2 left): reason",
        "the part 'headline' of the evaluation",
    )


def test_findings_that_came_or_went_are_named_unless_they_do_not_apply() -> None:
    gone = differences(TREE, TREE | {"findings": []}).answers
    assert gone == (
        "us/food-code/2022#hot-hold (rest 2 left) was sealed as met, now there is none",
    )
    came = differences(TREE | {"findings": []}, TREE).answers
    assert "was not there, now it is met" in came[0]
    silent = changed(verdict="not_applicable")
    assert differences(silent, silent | {"findings": []}).answers == ()


def test_two_findings_of_one_name_are_both_compared() -> None:
    two = TREE | {"findings": [FINDING, FINDING]}
    other = TREE | {"findings": [FINDING, FINDING | {"verdict": "not_met"}]}
    (line,) = differences(two, other).answers
    assert "no. 2 was sealed as met, now it is not met" in line


def test_figures_that_machines_round_differently_are_the_same() -> None:
    near = changed(figures=[{"f": 135.0 + 1e-10, "c": 57.0}])
    assert differences(TREE, near).answers == ()
    far = changed(figures=[{"f": 135.1, "c": 57.0}])
    assert differences(TREE, far).answers != ()


def test_a_key_that_a_later_version_added_is_no_difference() -> None:
    found = differences(TREE, changed(colour="red") | {"weather": "fine"})
    assert (found.answers, found.words) == ((), ())
