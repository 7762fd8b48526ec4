"""The examples that `rules explain` gives, really judged, for every requirement of every code."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any

import pytest

from tempwitness.rulebook.examples import examples, food_words
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.raw import raw_code
from tests.rules.example_records import judged

_SAME = ("id", "title", "section", "source", "file", "note", "why", "actions", "alternatives")


def _what_is_judged(table: dict[str, Any], unit: str) -> str:
    """What two requirements must share for one of them to be judged for both."""
    return json.dumps(
        [unit, {k: v for k, v in table.items() if k not in _SAME}], default=str, sort_keys=True
    )


def asked() -> list[tuple[str, str]]:
    """Return every requirement that has examples, of those that ask the same one."""
    seen: dict[str, tuple[str, str]] = {}
    for code_id in code_ids():
        code = raw_code(code_id)
        unit = code["head"].get("unit", "F")
        for table in code["requirements"]:
            if examples(table, unit):
                seen.setdefault(_what_is_judged(table, unit), (code_id, table["id"]))
    return list(seen.values())


@pytest.mark.parametrize(("code_id", "name"), asked(), ids=lambda v: v)
def test_an_example_is_judged_as_it_says(code_id: str, name: str) -> None:
    code = load_code(code_id)
    requirement = code.find(name)
    assert requirement is not None
    raw = raw_code(code_id)
    (table,) = (r for r in raw["requirements"] if r["id"] == name)
    for example in examples(table, raw["head"].get("unit", "F")):
        assert judged(example, code, requirement) == example.verdict, example.words


def test_most_measured_requirements_have_examples() -> None:
    forms = {"throughout", "outside_band", "reach", "fall", "rise", "band_clock", "instrument"}
    bare = [
        f"{code_id}#{table['id']}"
        for code_id in code_ids()
        for table in raw_code(code_id)["requirements"]
        if table["test"]["form"] in forms and not examples(table, "F")
    ]
    assert bare == []


def requirement(test: dict[str, Any], **more: object) -> dict[str, Any]:
    return {"id": "x", "weight": "law", "stages": ["hot_hold"], "test": test, **more}


def said(table: dict[str, Any], unit: str = "F") -> list[tuple[str, str]]:
    return [(e.words, e.verdict) for e in examples(table, unit)]


def test_the_last_place_of_the_printed_figure_decides_what_just_breaks_it() -> None:
    whole = {"form": "throughout", "limit": {"f": 140, "c": 60, "op": ">="}}
    tenth = {"form": "throughout", "limit": {"c": Decimal("54.4"), "op": ">"}}
    assert said(requirement(whole))[:2] == [
        ("food that reads 140 °F all the time", "met"),
        ("food that reads 139 °F", "not_met"),
    ]
    assert said(requirement(whole), "C")[0][0] == "food that reads 60 °C all the time"
    # "Above" does not include the figure, and °F is not printed.
    assert said(requirement(tenth))[:2] == [
        ("food that reads 54.5 °C all the time", "met"),
        ("food that reads 54.4 °C", "not_met"),
    ]


def test_what_the_wording_makes_of_it_decides_the_verdict() -> None:
    test = {"form": "throughout", "limit": {"c": 60, "op": ">="}}
    verdicts: dict[str, dict[str, Any]] = {
        "law": {},
        "ask": {"ask_instead": True},
        "breaks only": {"breaks_only": True},
        "if read": {"only_if_read": True},
        "advice": {"weight": "guidance"},
    }
    found = {
        name: [verdict for _, verdict in said(requirement(test, **more))]
        for name, more in verdicts.items()
    }
    assert found == {
        "law": ["met", "not_met", "not_shown"],
        "ask": ["met", "not_shown", "not_applicable"],
        "breaks only": ["not_applicable", "not_met", "not_shown"],
        "if read": ["met", "not_met", "not_applicable"],
        "advice": ["met", "not_met", "not_applicable"],
    }


def test_a_duty_has_no_example() -> None:
    assert said(requirement({"form": "duty", "question": "?"})) == []


@pytest.mark.parametrize(
    ("when", "words"),
    [
        ({}, "food"),
        ({"species_not": ["egg"]}, "lamb"),
        ({"species": ["chicken"], "cut": ["whole_bird"]}, "chicken whole bird"),
        ({"species": ["beef", "lamb"], "form": ["ground"]}, "ground lamb"),
        ({"form": ["intact"], "cut": ["roast"]}, "lamb roast"),
        ({"species": ["plant"]}, "vegetables"),
    ],
)
def test_food_is_named_as_the_requirement_wants_it(when: dict[str, Any], words: str) -> None:
    assert food_words(when) == words
