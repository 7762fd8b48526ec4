"""Soundness of strict answers: for histories that obey the rates, read with error.

*Met* must hold for the true history whatever it did between the readings, *not met* must fail for
it. The histories are bent to the edge of what the readings allow (see `strict_histories`).
"""

from __future__ import annotations

from collections import Counter

import pytest

from tests.soundness.referee import PAPERS, C, F, fault
from tests.soundness.strict_histories import strict_lot, strict_time_lot
from tests.soundness.time_lots import kept
from tests.support import judge


def _check(
    seeds: range, *, points: int = 1, celsius: bool = False, doubt: float = 1.0
) -> tuple[Counter[str], list[str]]:
    answers: Counter[str] = Counter()
    faults = []
    for seed in seeds:
        lot = strict_lot(seed, points)
        for found in judge(lot.log(celsius=celsius, doubt=doubt), strict=True).findings:
            name = found.requirement.split("#")[1]
            if found.strict is None or not found.weight.binds or name in PAPERS:
                continue
            says = found.strict.verdict.value
            answers[says] += 1
            answers[f"{name} {says}"] += 1
            unsound = fault(found, lot.points, C if celsius else F, says)
            if unsound:
                faults.append(f"seed {seed}: {unsound} ({found.stage} {found.stage_number})")
    return answers, faults


def _under_time(seeds: range) -> tuple[Counter[str], list[str]]:
    """The parts of a time control that rest on readings: its start and its end."""
    answers: Counter[str] = Counter()
    faults = []
    for seed in seeds:
        lot = strict_time_lot(seed)
        assert lot.under is not None
        for found in judge(lot.log(), strict=True).findings:
            name = found.requirement.split("#")[1]
            if found.strict is None or not name.startswith("tphc-"):
                continue
            says = found.strict.verdict.value
            answers[f"{name} {says}"] += 1
            strict, lenient = kept(name, lot.under)
            if (says == "met" and not strict) or (says == "not_met" and lenient):
                faults.append(f"seed {seed}: {name}: {says}, and it is not so")
    return answers, faults


#: Requirements of which the simulation must see both clear answers.
_DECIDED = (
    "band-hold",
    "cold-hold",
    "cook-intact",
    "cook-plant",
    "cook-poultry-stuffed",
    "cook-roast",
    "cook-tenderised",
    "cool-135-to-41",
    "cool-135-to-70",
    "hot-hold",
    "receive-cold",
    "reheat-165",
    "thaw-raw-4h",
    "thaw-refrigerated",
)


def test_no_unsound_answer_in_a_few_hundred_lots() -> None:
    answers, faults = _check(range(600))
    assert faults == []
    assert min(answers["met"], answers["not_met"], answers["not_shown"]) > 300


def test_no_unsound_answer_in_celsius() -> None:
    assert _check(range(10_000, 10_300), celsius=True)[1] == []


def test_no_unsound_answer_with_two_points() -> None:
    assert _check(range(20_000, 20_200), points=2)[1] == []


def test_no_unsound_answer_under_a_time_control() -> None:
    answers, faults = _under_time(range(30_000, 30_400))
    assert faults == []
    for name in ("tphc-start-4h", "tphc-start-6h", "tphc-end-6h"):
        assert answers[f"{name} met"] > 3, name
        assert answers[f"{name} not_met"] > 3, name


def test_the_simulation_finds_a_program_that_trusts_probe_and_food_too_far() -> None:
    """The record admits half of the error and of the rates."""
    assert len(_check(range(300), doubt=0.5)[1]) >= 5


@pytest.mark.slow
def test_no_unsound_answer_in_a_hundred_thousand_lots() -> None:
    answers, faults = _check(range(100_000, 180_000))
    assert faults == []
    for name in _DECIDED:
        assert answers[f"{name} met"] > 20, name
        assert answers[f"{name} not_met"] > 20, name
    assert _check(range(200_000, 212_000), celsius=True)[1] == []
    assert _check(range(300_000, 308_000), points=2)[1] == []
    assert _under_time(range(400_000, 410_000))[1] == []
