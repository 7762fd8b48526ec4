"""Soundness: *met* never where the true history breaks the requirement, *not met* never where it
keeps it, for random histories that obey the printed assumption.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

import pytest

from tempwitness.model.logs import StagedLog
from tempwitness.model.vocabulary import StageName
from tests.soundness.histories import History, history, two_points
from tests.soundness.referee import PAPERS, C, F, Printed, fault
from tests.support import channel, judge, staged


def _log(lot: History, printed: Printed) -> StagedLog:
    readings = lot.readings
    if printed is C:
        readings = [(t, round((v - 32) / 1.8, 6)) for t, v in readings]
    points = [channel(readings, celsius=printed is C)]
    return staged(points, lot.notes, food=lot.food, facts=lot.facts)


def _check(
    seeds: range, intervals: Mapping[StageName, float] | None = None, printed: Printed = F
) -> tuple[Counter[str], list[str]]:
    answers: Counter[str] = Counter()
    faults = []
    for seed in seeds:
        lot = history(seed)
        for found in judge(_log(lot, printed), intervals=intervals).findings:
            name = found.requirement.split("#")[1]
            if not found.weight.binds or not found.stage or name in PAPERS:
                continue
            answers[found.verdict.value] += 1
            answers[f"{name} {found.verdict.value}"] += 1
            unsound = fault(found, [lot], printed, found.verdict.value)
            if unsound:
                faults.append(f"seed {seed}: {unsound} ({found.stage} {found.stage_number})")
    return answers, faults


def _check_two(seeds: range) -> list[str]:
    faults = []
    for seed in seeds:
        points = two_points(seed)
        channels = [
            channel(p.readings, point=name, probe=name)
            for name, p in zip("ab", points, strict=True)
        ]
        for found in judge(staged(channels, points[0].notes)).findings:
            if not found.weight.binds or not found.stage:
                continue
            if found.requirement.split("#")[1] in PAPERS:
                continue
            unsound = fault(found, points, F, found.verdict.value)
            if unsound:
                faults.append(f"seed {seed}: {unsound} ({found.stage} {found.stage_number})")
    return faults


#: Requirements of which the simulation must see both answers, so that none is passed over.
_DECIDED = (
    "cold-hold",
    "cook-intact",
    "cook-plant",
    "cook-poultry-stuffed",
    "cook-roast",
    "cook-tenderised",
    "cool-135-to-41",
    "cool-135-to-70",
    "hot-hold",
    "band-hold",
    "receive-cold",
    "reheat-165",
    "reheat-in-2h",
    "thaw-raw-4h",
    "thaw-refrigerated",
)


def test_no_unsound_answer_in_a_few_hundred_lots() -> None:
    answers, faults = _check(range(400))
    assert faults == []
    # A simulation that never decides anything would prove nothing.
    assert min(answers["met"], answers["not_met"], answers["not_shown"]) > 100
    for name in _DECIDED:
        assert answers[f"{name} met"] + answers[f"{name} not_met"] >= 5, name


def test_no_unsound_answer_in_celsius_with_its_own_printed_figures() -> None:
    answers, faults = _check(range(20_000, 20_300), printed=C)
    assert faults == []
    assert min(answers["met"], answers["not_met"], answers["not_shown"]) > 75


def test_no_unsound_answer_with_two_probes_in_a_piece() -> None:
    assert _check_two(range(30_000, 30_300)) == []


def test_the_simulation_finds_a_program_that_trusts_gaps() -> None:
    trusting = dict.fromkeys(StageName, 1e9)
    _answers, faults = _check(range(400), trusting)
    assert len(faults) >= 5


@pytest.mark.slow
def test_no_unsound_answer_in_ten_thousand_lots() -> None:
    answers, faults = _check(range(100_000, 110_000))
    assert faults == []
    assert min(answers["met"], answers["not_met"], answers["not_shown"]) > 2_500
    for name in _DECIDED:
        assert min(answers[f"{name} met"], answers[f"{name} not_met"]) >= 5, name


@pytest.mark.slow
def test_no_unsound_answer_in_thousands_of_other_kinds() -> None:
    assert _check(range(40_000, 43_000), printed=C)[1] == []
    assert _check_two(range(50_000, 53_000)) == []
