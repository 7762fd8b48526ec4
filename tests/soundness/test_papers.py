"""Soundness of what notes and papers settle: days, marks, approvals, methods, checks, lengths."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest

from tempwitness.model.forms import ShelfLife
from tempwitness.model.rule import Code, Requirement
from tempwitness.rulebook.files import rules_folder
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.override import load_override
from tests.soundness.paper_lots import kept, paper_lot
from tests.support import FOOD_CODE, judge

_ASKED = (
    "nc-first-heating",
    "thaw-method",
    "variance-curing",
    "thermometer-food",
    "date-mark",
    "county-day-end",
)


@cache
def _code(more_days: int = 0) -> Code:
    """The Food Code with the invented county's rule; its shelf life longer by some days."""
    code = load_code(FOOD_CODE)
    county = load_override(rules_folder() / "local" / "county-example.toml")
    added = tuple(a.requirement for a in county.additions)
    own = tuple(_longer(r, more_days) for r in code.requirements)
    return code.model_copy(update={"requirements": (*own, *added)})


def _longer(requirement: Requirement, days: int) -> Requirement:
    test = requirement.test
    if not days or not isinstance(test, ShelfLife):
        return requirement
    longer = test.model_copy(update={"days": test.days + days})
    return requirement.model_copy(update={"test": longer})


def _check(seeds: range, *, more_days: int = 0) -> tuple[Counter[str], list[str]]:
    answers: Counter[str] = Counter()
    faults = []
    for seed in seeds:
        lot = paper_lot(seed)
        for found in judge(lot.log(), code=_code(more_days)).findings:
            name, says = found.requirement.split("#")[1], found.verdict.value
            if name not in _ASKED:
                continue
            answers[f"{name} {says}"] += 1
            if says in ("met", "not_met") and (says == "met") is not kept(name, lot):
                faults.append(f"seed {seed}: {name}: {says}, and it is not so: {found.reason}")
    return answers, faults


def test_no_unsound_answer_in_a_few_hundred_lots() -> None:
    answers, faults = _check(range(400))
    assert faults == []
    for name in _ASKED:
        assert answers[f"{name} met"], name
        assert answers[f"{name} not_met"], name


def test_the_simulation_finds_a_day_too_many() -> None:
    assert len(_check(range(400), more_days=1)[1]) >= 5


@pytest.mark.slow
def test_no_unsound_answer_in_ten_thousand_lots() -> None:
    assert _check(range(100_000, 110_000))[1] == []
