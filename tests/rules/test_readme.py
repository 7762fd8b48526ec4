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


def forms() -> list[str]:
    models = get_args(get_args(Test)[0])
    return [get_args(model.model_fields["form"].annotation)[0] for model in models]


@pytest.mark.parametrize("form", forms())
def test_every_form_is_named(form: str) -> None:
    assert f"| `{form}`" in README or f", `{form}` |" in README


def test_every_key_of_a_requirement_is_named() -> None:
    keys = {field.alias or key for key, field in Requirement.model_fields.items()}
    keys -= {"replaced"}  # filled by an override, never written
    assert {key for key in keys if f"`{key}`" not in README} == set()
