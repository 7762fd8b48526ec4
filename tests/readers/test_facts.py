"""The facts that a record may state are those that the shipped codes ask for."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any

from tempwitness.rulebook.facts import load_facts
from tempwitness.rulebook.files import rules_folder

if TYPE_CHECKING:
    from collections.abc import Iterator


def asked(table: Any) -> Iterator[tuple[str, str]]:  # noqa: ANN401 - whatever TOML holds
    """Yield every fact and answer that a rule file names."""
    if isinstance(table, list):
        for entry in table:
            yield from asked(entry)
    if not isinstance(table, dict):
        return
    for key, value in table.items():
        if key in ("facts", "facts_not"):
            yield from ((fact, answer) for fact, answers in value.items() for answer in answers)
        elif key in ("numbers_at_least", "numbers_below"):
            yield from ((fact, "1") for fact in value)
        elif key == "by" and table.get("form") == "reach_by":
            yield value, "1"
        elif key == "answered_by":
            yield from ((value, answer) for answer in ("yes", "no"))
        elif key == "or_room" and value:
            yield "room_temperature_c", "1"
        else:
            yield from asked(value)


def test_every_fact_of_a_rule_can_be_stated_and_no_other() -> None:
    files = sorted((rules_folder() / "published").rglob("*.toml"))
    found = {pair for path in files for pair in asked(tomllib.loads(path.read_text("utf-8")))}
    assert found
    assert {fact for fact, _ in found} == set(load_facts())
    assert [
        (fact, answer) for fact, answer in sorted(found) if not load_facts()[fact].takes(answer)
    ] == []
