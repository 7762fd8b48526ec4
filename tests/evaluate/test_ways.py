"""Alternatives and their conditions, what the record leaves open, and what only asks."""

from __future__ import annotations

import pytest

from tempwitness.model.finding import Evaluation
from tempwitness.model.lot import TimeControlPlan
from tempwitness.model.vocabulary import Answer, Form
from tests.evaluate.codes import COLD, COOLED, HOT, REACH, WARM, judged, rule, verdicts
from tests.support import ZERO, Readings, channel, lamb, note, prepared_on, staged

MEAN: Readings = [(0, 120), (4, 90)]  # breaks 100 °F and keeps 80 °F
QUESTION = "Did the authority agree?"


def other_way(**more: object) -> dict[str, object]:
    """An alternative: 80 °F in place of 100 °F."""
    return {"id": "way", "title": "The other way", "section": "§ way", "test": WARM, **more}


def under(
    *alternatives: dict[str, object],
    facts: dict[str, str] | None = None,
    readings: Readings = MEAN,
) -> Evaluation:
    """A hold of four hours under a requirement with alternatives, after a cook."""
    core = channel([(-2, 60), (-1, 155), *readings])
    steps = [note(-2, "cook"), note(0, "hot_hold"), note(4, event="finished")]
    return judged(
        staged([core], steps, facts=facts),
        rule("cooked", REACH, stages=["cook"]),
        rule("marked", COOLED, stages=["cook"]),
        rule("held", HOT, alternatives=list(alternatives)),
    )


def answer(found: Evaluation) -> str:
    return verdicts(found)["held"]


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({"oven_line": "kept"}, "met"),
        ({"oven_line": "broken"}, "not_met"),
        ({"oven_line": "unknown"}, "not_shown"),
        ({}, "not_shown"),
    ],
)
def test_a_condition_that_the_record_answers_or_leaves_open(
    facts: dict[str, str], expected: str
) -> None:
    way = other_way(when={"facts": {"oven_line": ["kept"]}}, question=QUESTION)
    found = under(way, facts=facts)
    assert answer(found) == expected
    assert (QUESTION in found.questions) == (expected == "not_shown")


def test_an_allowance_that_was_used_is_stated() -> None:
    (held,) = [f for f in under(other_way()).findings if f.requirement.endswith("#held")]
    assert held.verdict.value == "met"
    assert held.allowance == "The other way (§ way)"
    assert held.reason.endswith("allowed by § way")


def test_an_alternative_is_not_used_where_the_rule_itself_is_kept() -> None:
    found = under(other_way(), readings=[(0, 120), (4, 110)])
    (held,) = [f for f in found.findings if f.requirement.endswith("#held")]
    assert (held.verdict.value, held.allowance) == ("met", "")


def test_an_alternative_that_was_broken_as_well_changes_nothing() -> None:
    found = under(other_way(question=QUESTION), readings=[(0, 120), (4, 70)])
    (held,) = [f for f in found.findings if f.requirement.endswith("#held")]
    assert held.verdict.value == "not_met"
    assert held.limit == "at least 100 °F (100 °C)"


@pytest.mark.parametrize(
    ("conditions", "expected"),
    [
        pytest.param({"requires": ["cooked"]}, "met", id="shown"),
        pytest.param({"requires": ["marked"]}, "not_shown", id="not shown"),
        pytest.param({"requires": ["cooked", "marked"]}, "not_shown", id="one of two is not"),
        pytest.param({"requires": ["nobody"]}, "not_met", id="never judged"),
        pytest.param({"requires_any": ["marked", "cooked"]}, "met", id="one is enough"),
        pytest.param({"requires_any": ["marked", "nobody"]}, "not_shown", id="one may be"),
        pytest.param({"requires_any": ["nobody"]}, "not_met", id="none"),
        pytest.param({"when": {"species": ["fish"]}}, "not_met", id="for other food"),
        pytest.param({"when": {"after": ["cook"]}}, "met", id="after a cook"),
        pytest.param({"when": {"events": ["sliced"]}}, "not_met", id="for food that was sliced"),
        pytest.param({"when": {"weight_below": {"lb": 5, "kg": 2}}}, "not_met", id="lighter food"),
    ],
)
def test_the_conditions_of_an_alternative(conditions: dict[str, object], expected: str) -> None:
    assert answer(under(other_way(**conditions))) == expected


def test_of_several_alternatives_the_best_counts() -> None:
    barred = other_way(id="barred", when={"species": ["fish"]})
    unknown = other_way(id="unknown", when={"facts": {"oven_line": ["kept"]}})
    assert answer(under(barred, unknown)) == "not_shown"
    assert answer(under(unknown, other_way(), barred)) == "met"


def test_a_bare_condition_as_an_alternative() -> None:
    way = other_way(requires=["cooked"], test={"form": "conditions"})
    assert answer(under(way)) == "met"


def test_an_alternative_read_at_another_point() -> None:
    """Nothing was read at the surface: the alternative is open, and does not save it."""
    found = under(other_way(point="surface"))
    assert answer(found) in ("not_met", "not_shown")
    assert answer(found) != "met"


def kept(readings: Readings, **more: object) -> Evaluation:
    """A hold of four hours under one requirement."""
    core = channel(readings)
    log = staged([core], [note(0, "hot_hold"), note(4, event="finished")])
    return judged(log, rule("a", HOT, question=QUESTION, **more))


@pytest.mark.parametrize(
    ("readings", "asks", "breaks"),
    [
        # What the test says; what is said with ask_instead; and with breaks_only.
        pytest.param([(0, 120), (4, 110)], "met", "not_applicable", id="met"),
        pytest.param([(0, 120), (4, 90)], "not_shown", "not_met", id="not met"),
        pytest.param([(0, 120)], "not_applicable", "not_shown", id="not shown"),
    ],
)
def test_what_only_the_authority_can_weigh(readings: Readings, asks: str, breaks: str) -> None:
    asking = kept(readings, ask_instead=True)
    assert verdicts(asking) == {"a": asks}
    assert (QUESTION in asking.questions) == (asks != "met")
    breaking = kept(readings, breaks_only=True)
    assert verdicts(breaking) == {"a": breaks}
    assert (QUESTION in breaking.questions) == (breaks == "not_applicable")


@pytest.mark.parametrize(
    ("forms", "last", "expected"),
    [
        ([Form.INTACT], 90.0, "not_applicable"),
        ([Form.GROUND], 90.0, "not_met"),
        (None, 90.0, "not_shown"),
        # What is kept anyway needs no answer.
        (None, 110.0, "met"),
    ],
)
def test_a_form_that_the_record_does_not_name(
    forms: list[Form] | None, last: float, expected: str
) -> None:
    core = channel([(0, 120), (4, last)])
    log = staged([core], [note(0, "hot_hold"), note(4, event="finished")], food=lamb(forms=forms))
    found = judged(log, rule("a", HOT, when={"form": ["ground"]}))
    assert verdicts(found) == {"a": expected}
    asked = any("does not say whether the food is intact" in q for q in found.questions)
    assert asked == (expected == "not_shown")


@pytest.mark.parametrize(
    ("weight", "expected"),
    [("10 lb", "not_met"), ("9.9 lb", "not_applicable"), ("4 kg", "not_met"),
     ("3.9 kg", "not_applicable")],
)  # fmt: skip
def test_a_weight_is_compared_in_its_own_unit(weight: str, expected: str) -> None:
    """10 lb or 4 kg are one bound as it is printed; 4 kg is 8.8 lb."""
    steps = [note(0, "hot_hold"), note(4, event="finished")]
    log = staged([channel(MEAN)], steps, food=lamb(weight=weight))
    found = judged(log, rule("a", HOT, when={"weight_at_least": {"lb": 10, "kg": 4}}))
    assert verdicts(found) == {"a": expected}


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("2026-07-04", "not_applicable"),
        ("2026-07-05", "not_met"),
        (None, "not_met"),
    ],
)
def test_a_time_control_shields_only_if_it_was_written_before(
    written: str | None, expected: str
) -> None:
    day = None if written is None else prepared_on(written)
    plan = TimeControlPlan(ZERO, "4h", day, Answer.YES)
    steps = [note(0, "hot_hold"), note(4, event="finished")]
    log = staged([channel(MEAN)], steps, time_control=[plan])
    end = rule("end", {"form": "time_control", "part": "end", "option": "4h", "at_most": "4 h"})
    assert verdicts(judged(log, rule("a", HOT), end))["a"] == expected
    assert verdicts(judged(log, rule("a", REACH), end))["a"] == "not_met"  # not a holding limit
    # A code that has no such procedure lifts nothing.
    assert verdicts(judged(log, rule("a", HOT))) == {"a": "not_met"}


def test_of_two_cooks_one_that_was_enough_decides() -> None:
    def cooks(first: float, second: float) -> str:
        core = channel([(0, 60), (1.5, first), (2.5, 60), (3.5, second), (4, second - 5)])
        steps = [note(0, "cook"), note(2, "prep"), note(2.5, "cook"), note(4, event="finished")]
        return verdicts(judged(staged([core], steps), rule("a", REACH, stages=["cook"])))["a"]

    assert cooks(155, 100) == "met not_applicable"
    assert cooks(100, 155) == "not_applicable met"
    assert cooks(100, 100) == "not_applicable not_met"


def test_an_inferred_stage_that_may_be_another_caps_every_answer() -> None:
    """Never hot and never cold: kept warm, thawed or put to cook?"""
    log = staged([channel([(0, 30), (1, 80), (2, 90)])], [])
    found = judged(log, rule("a", COLD, stages=["cold_hold"]), asked=ZERO + 9e9)
    assert verdicts(found) == {"a": "not_shown"}
    assert any(q.startswith("Was this food kept cold") for q in found.questions)
