"""What must hold for every code, source and local example that is shipped."""

from __future__ import annotations

import hashlib
import re

import pytest

from tempwitness.model.rule import Code, Requirement
from tempwitness.model.vocabulary import Weight
from tempwitness.rulebook.files import code_files, code_ids, rules_folder
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.sources import citation, load_sources

#: Codes print whole degrees, so a figure stands up to half a degree from the exact one [°C].
ROUNDING = 0.6

CODES = [load_code(code_id) for code_id in code_ids()]
REQUIREMENTS = [(code, r) for code in CODES for r in code.requirements]


def name(value: object) -> str:
    if isinstance(value, Code):
        return value.head.id
    return value.id if isinstance(value, Requirement) else str(value)


def test_the_codes_that_other_papers_name_are_there() -> None:
    assert {"us/food-code/2022", "us/consumer-advice", "us/plant/come-up", "trade/smoking"} <= set(
        code_ids()
    )


@pytest.mark.parametrize("code", CODES, ids=name)
def test_companions_exist_and_bind_nobody(code: Code) -> None:
    for companion in code.head.companions:
        assert all(not r.weight.binds for r in load_code(companion).requirements)


@pytest.mark.parametrize("code", CODES, ids=name)
def test_a_code_says_that_the_authority_decides(code: Code) -> None:
    assert "The local health authority decides" in code.head.authority


@pytest.mark.parametrize(("code", "requirement"), REQUIREMENTS, ids=name)
def test_a_requirement_is_cited_and_readable(code: Code, requirement: Requirement) -> None:
    assert requirement.section
    assert requirement.title[0].isupper()
    assert not requirement.title.endswith(".")
    assert all(key in load_sources() for key in requirement.source)
    for action in requirement.actions:
        assert action.do.endswith("."), action.do
    if code.head.id.startswith("us/food-code"):
        assert requirement.weight is Weight.LAW
        assert re.match(r"[1348]-\d{3}\.\d\d", requirement.section)


@pytest.mark.parametrize(("code", "requirement"), REQUIREMENTS, ids=name)
def test_printed_figures_are_one_temperature(code: Code, requirement: Requirement) -> None:
    # Exact conversion: (°F - 32) / 1.8; codes round to whole or tenth degrees.
    dump = requirement.model_dump(mode="json")
    for f, c in figures(dump):
        assert abs((f - 32) / 1.8 - c) <= ROUNDING, f"{code.head.id}: {f} °F, {c} °C"


def figures(value: object) -> list[tuple[float, float]]:
    if isinstance(value, list):
        return [pair for item in value for pair in figures(item)]
    if not isinstance(value, dict):
        return []
    # A tolerance is a difference, not a temperature.
    printed = {"f", "c"} <= set(value) and value.get("form") != "instrument"
    own = [(float(value["f"]), float(value["c"]))] if printed else []
    return own + [pair for item in value.values() for pair in figures(item)]


def test_law_that_can_be_broken_by_readings_says_what_to_do() -> None:
    measured = {"throughout", "outside_band", "reach", "fall", "rise", "band_clock"}
    silent = [
        r.id
        for r in load_code("us/food-code/2022").requirements
        if r.test.form in measured and not r.actions and not r.ask_instead
    ]
    assert silent == []


def test_the_hash_follows_the_bytes() -> None:
    # Name and length stand before the bytes of each file, in the order in which they are judged.
    code = load_code("trade/smoking")
    digest = hashlib.sha256()
    for path in code_files("trade/smoking"):
        data = path.read_bytes()
        label = path.relative_to(rules_folder()).as_posix()
        digest.update(label.encode() + b"\0" + str(len(data)).encode() + b"\0" + data)
    assert code.sha256 == digest.hexdigest()


def test_codes_are_loaded_once() -> None:
    assert load_code("trade/smoking") is load_code("trade/smoking")


def test_citations_say_how_a_text_was_read() -> None:
    for key, source in load_sources().items():
        assert source.read in citation(key)
        assert source.title in citation(key)


def test_every_source_serves_somewhere() -> None:
    used = {key for _, r in REQUIREMENTS for key in r.source} | {"local"}
    assert set(load_sources()) - used == set()
