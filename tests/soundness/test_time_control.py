"""Soundness under a written time control: both procedures, all parts, records with holes."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.soundness.referee import PAPERS, F, fault
from tests.soundness.time_lots import kept, time_lot
from tests.support import judge


def _check(seeds: range, *, late: float = 0.0) -> tuple[Counter[str], list[str]]:
    answers: Counter[str] = Counter()
    faults = []
    for seed in seeds:
        lot = time_lot(seed)
        for found in judge(lot.log(late=late)).findings:
            name, says = found.requirement.split("#")[1], found.verdict.value
            if not found.weight.binds or not found.stage or name in PAPERS:
                continue
            answers[f"{name} {says}"] += 1
            if not name.startswith("tphc-"):
                unsound = fault(found, [lot.history], F, says)
            elif says in ("met", "not_met"):
                strict, lenient = kept(name, lot)
                wrong = not strict if says == "met" else lenient
                unsound = f"{name}: {says}, and it is not so" if wrong else ""
            else:
                unsound = ""
            if unsound:
                faults.append(f"seed {seed}: {unsound} ({found.stage} {found.stage_number})")
    return answers, faults


#: Parts of which the simulation must see both clear answers.
_PARTS = (
    "tphc-written",
    "tphc-start-4h",
    "tphc-end-4h",
    "tphc-marked",
    "tphc-written-6h",
    "tphc-start-6h",
    "tphc-end-6h",
    "tphc-marked-6h",
)


def test_no_unsound_answer_in_a_few_hundred_lots() -> None:
    answers, faults = _check(range(400))
    assert faults == []
    for name in _PARTS:
        assert answers[f"{name} met"], name
        assert answers[f"{name} not_met"], name
        assert answers[f"{name} not_shown"], name


def test_the_simulation_finds_a_clock_that_starts_too_late() -> None:
    _answers, faults = _check(range(400), late=0.5)
    assert len(faults) >= 5


@pytest.mark.slow
def test_no_unsound_answer_in_ten_thousand_lots() -> None:
    assert _check(range(100_000, 110_000))[1] == []
