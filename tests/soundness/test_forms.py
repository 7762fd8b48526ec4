"""Soundness of the forms that the Food Code does not have, under an invented code.

As in `test_soundness` for readings that are exact, and as in `test_strict` for readings with error.
"""

from __future__ import annotations

from collections import Counter

import pytest

from tempwitness.model.vocabulary import StageName
from tests.soundness import form_referee
from tests.soundness.form_rules import LOTS, TESTS, form_lot, invented
from tests.soundness.histories import History
from tests.soundness.referee import stage_of
from tests.soundness.strict_histories import strict_lot
from tests.support import judge

#: What only the record of readings settles: it has no second answer, and is never not met.
WRITTEN = ("written-every", "written-twice")


def fault(name: str, says: str, at: str, lot: History, kept: tuple[bool, bool]) -> str:
    """What is unsound about an answer, or an empty text."""
    if (says == "met" and not kept[0]) or (says == "not_met" and kept[1]):
        return f"{name}: {says}, and it is not so ({at} of {[s.name for s in lot.spans]})"
    return ""


def check(seeds: range, *, trusting: bool = False) -> tuple[Counter[str], list[str]]:
    """First answers."""
    answers: Counter[str] = Counter()
    faults = []
    intervals = dict.fromkeys(StageName, 1e9) if trusting else None
    for seed in seeds:
        lot = form_lot(seed)
        for found in judge(lot.log(), code=invented(), intervals=intervals).findings:
            name, says = found.requirement.split("#")[1], found.verdict.value
            answers[f"{name} {says}"] += 1
            if says not in ("met", "not_met"):
                continue
            truth = form_referee.kept(name, stage_of(found), lot.history, lot.fat)
            unsound = fault(name, says, f"{found.stage} {found.stage_number}", lot.history, truth)
            faults += [f"seed {seed}: {unsound}"] if unsound else []
    return answers, faults


def check_strict(seeds: range, *, doubt: float = 1.0) -> tuple[Counter[str], list[str]]:
    """Second answers, on readings with error."""
    answers: Counter[str] = Counter()
    faults = []
    for seed in seeds:
        lot = strict_lot(seed, lots=LOTS)
        one = lot.points[0]
        for found in judge(lot.log(doubt=doubt), code=invented(), strict=True).findings:
            if found.strict is None:
                continue
            name, says = found.requirement.split("#")[1], found.strict.verdict.value
            answers[f"{name} {says}"] += 1
            if says not in ("met", "not_met"):
                continue
            truth = form_referee.kept(name, stage_of(found), one, None)
            unsound = fault(name, says, f"{found.stage} {found.stage_number}", one, truth)
            faults += [f"seed {seed}: {unsound}"] if unsound else []
    return answers, faults


def decided(answers: Counter[str], least: int, *, names: tuple[str, ...] = tuple(TESTS)) -> None:
    """Both clear answers are seen of each requirement, so that none is passed over."""
    for name in names:
        broken = "not_shown" if name in WRITTEN else "not_met"
        assert answers[f"{name} met"] >= least, (name, answers)
        assert answers[f"{name} {broken}"] >= least, (name, answers)


def test_no_unsound_answer_in_a_few_hundred_lots() -> None:
    answers, faults = check(range(600))
    assert faults == []
    decided(answers, 3)


def test_no_unsound_answer_with_an_instrument_that_errs() -> None:
    answers, faults = check_strict(range(600))
    assert faults == []
    decided(answers, 3, names=tuple(n for n in TESTS if n not in WRITTEN))


def test_the_simulation_finds_a_program_that_trusts_gaps() -> None:
    assert len(check(range(300), trusting=True)[1]) >= 5


def test_the_simulation_finds_a_program_that_trusts_probe_and_food_too_far() -> None:
    """The record admits half of the error and of the rates."""
    assert len(check_strict(range(300), doubt=0.5)[1]) >= 5


@pytest.mark.slow
def test_no_unsound_answer_in_ten_thousand_lots() -> None:
    answers, faults = check(range(100_000, 110_000))
    assert faults == []
    decided(answers, 20)
    assert check_strict(range(200_000, 205_000))[1] == []
