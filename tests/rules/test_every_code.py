"""What must hold for every shipped code and each of its requirements on a full day of a lot."""

from __future__ import annotations

import json
from functools import cache
from typing import TYPE_CHECKING

import pytest

from tempwitness.criteria import on_readings
from tempwitness.model.vocabulary import Verdict
from tempwitness.report import to_json, to_text
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.raw import raw_code
from tests.rules.days import day_of, told
from tests.support import judge

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.model.rule import Code, Requirement

CODES = code_ids()
CLEAR = (Verdict.MET, Verdict.NOT_MET)


@cache
def days() -> dict[str, list[tuple[Requirement, Evaluation]]]:
    """Of each code its requirements, each with a day to which it applies.

    What another code asks in the same words of data is not told again; the first requirement of
    each code always is. Days told alike are judged once.
    """
    known: set[str] = set()
    return {code_id: list(_of_code(load_code(code_id), known)) for code_id in CODES}


def _of_code(code: Code, known: set[str]) -> Iterator[tuple[Requirement, Evaluation]]:
    judged: dict[str, Evaluation] = {}
    for requirement in code.requirements:
        asked = repr([requirement.model_dump(exclude={"id", "instrument"}), code.head.cold])
        if asked in known and judged:
            continue
        known.add(asked)
        day = told(code, requirement)
        if day not in judged:
            # The second, strict answer is asked for on the first day of each code.
            judged[day] = judge(day_of(code, requirement), code=code, strict=not judged)
        yield requirement, judged[day]


def of(requirement: Requirement, evaluation: Evaluation) -> list[Finding]:
    """The findings of a requirement that apply."""
    name = f"{evaluation.code.id}#{requirement.id}"
    own = [f for f in evaluation.findings if f.requirement == name]
    assert own, f"{name} was not judged"
    return [f for f in own if f.verdict is not Verdict.NOT_APPLICABLE]


@pytest.mark.parametrize("code_id", CODES)
def test_a_code_is_read_as_it_is_written(code_id: str) -> None:
    """Reading is strict: a key that is not known, or a doubled id, raises."""
    written = [r["id"] for r in raw_code(code_id)["requirements"]]
    assert [r.id for r in load_code(code_id).requirements] == written
    assert written


@pytest.mark.parametrize("code_id", CODES)
def test_each_requirement_is_judged_where_it_applies(code_id: str) -> None:
    """What only breaks, or asks instead of condemning, may be left aside on a day that kept it."""
    for requirement, evaluation in days()[code_id]:
        aside = requirement.breaks_only or requirement.ask_instead
        assert of(requirement, evaluation) or aside, requirement.id


@pytest.mark.parametrize("code_id", CODES)
def test_a_clear_answer_says_on_what_it_rests(code_id: str) -> None:
    """On readings, on what the record says, or on an allowance whose conditions are all it asks."""
    for requirement, evaluation in days()[code_id]:
        for found in of(requirement, evaluation):
            if found.verdict not in CLEAR or found.allowance:
                continue
            assert found.reason
            rests_on = found.evidence.readings if on_readings(requirement.test) else found.measured
            assert rests_on, f"{requirement.id}: {found.reason}"


@pytest.mark.parametrize("code_id", CODES)
def test_every_output_names_the_section_of_each_finding(code_id: str) -> None:
    """The sections come from the TOML files; the text is written on lines of any length."""
    sections = {r["id"]: r["section"] for r in raw_code(code_id)["requirements"]}
    seen = {id(evaluation): evaluation for _, evaluation in days()[code_id]}
    for evaluation in seen.values():
        lines = to_text(evaluation, width=100_000, full=True).splitlines()
        document = json.loads(to_json(evaluation))
        assert document["findings"]
        for found in document["findings"]:
            section = sections[found["requirement"].split("#")[1]]
            assert section in found["citation"], found["requirement"]
            told_of = [k for k, line in enumerate(lines) if found["title"] in line]
            named = (section in line for k in told_of for line in lines[k : k + 2])
            assert any(named), found["requirement"]
