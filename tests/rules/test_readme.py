"""The page on rule files names everything that rule files use."""

from __future__ import annotations

from typing import get_args

import pytest

from tempwitness.model.forms import Test
from tempwitness.model.rule import Requirement
from tempwitness.rulebook.files import code_ids, rules_folder
from tempwitness.rulebook.load import load_code

README = (rules_folder() / "README.md").read_text(encoding="utf-8")
REQUIREMENTS = [r for code_id in code_ids() for r in load_code(code_id).requirements]


def facts() -> set[str]:
    predicates = [r.when for r in REQUIREMENTS]
    predicates += [a.when for r in REQUIREMENTS for a in r.alternatives]
    return {fact for when in predicates for fact in (*when.facts, *when.facts_not)}


def forms() -> list[str]:
    models = get_args(get_args(Test)[0])
    return [get_args(model.model_fields["form"].annotation)[0] for model in models]


@pytest.mark.parametrize("fact", sorted(facts()))
def test_every_question_of_the_record_is_named(fact: str) -> None:
    assert f"`{fact}`" in README


def test_every_answer_that_counts_is_named() -> None:
    predicates = [r.when for r in REQUIREMENTS]
    answers = {
        answer
        for when in predicates
        for asked in (when.facts, when.facts_not)
        for fact, found in asked.items()
        for answer in found
        if fact != "rop_way"  # the page points at the file for these
    }
    assert {a for a in answers if f"`{a}`" not in README} == set()


@pytest.mark.parametrize("form", forms())
def test_every_form_is_named(form: str) -> None:
    assert f"| `{form}`" in README or f", `{form}` |" in README


def test_every_key_of_a_requirement_is_named() -> None:
    keys = {field.alias or key for key, field in Requirement.model_fields.items()}
    keys -= {"replaced"}  # filled by an override, never written
    assert {key for key in keys if f"`{key}`" not in README} == set()
