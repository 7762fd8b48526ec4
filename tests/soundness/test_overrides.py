"""Soundness under local overrides: the limit that was in force on the day is the one that counts.

What is in force follows from the words of the file alone: an override between its two days; a
looser limit only while the approval that carries it holds; a limit that is not in force changes
nothing. A stricter hold takes the 130 °F of whole roasts away, unless the override keeps it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tempwitness.model.rule import Code
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.override import apply_overrides, load_override
from tests.soundness.histories import history
from tests.soundness.referee import PAPERS, F, Printed, fault
from tests.support import FOOD_CODE, channel, judge, staged

_DAY = date(2026, 7, 4)


@dataclass(frozen=True, slots=True)
class Change:
    """A change, and what it makes of the figures that the referee knows."""

    name: str
    figure: str
    printed: Printed
    looser: bool = False


def _hours(name: str, hours: float) -> Printed:
    return replace(F, hours={**F.hours, name: hours})


#: Invented limits, some stricter and some looser than the code's.
_CHANGES = (
    Change("hot-hold", 'limit = { f = 140, c = 60, op = ">=" }', replace(F, hot=140, roast=1e9)),
    Change("hot-hold", 'limit = { f = 130, c = 54, op = ">=" }', replace(F, hot=130), looser=True),
    Change("band-hold", 'limit = { f = 140, c = 60, op = ">=" }', replace(F, hot=140, roast=1e9)),
    Change("cold-hold", 'limit = { f = 38, c = 3, op = "<=" }', replace(F, cold=38)),
    Change("cold-hold", 'limit = { f = 45, c = 7, op = "<=" }', replace(F, cold=45), looser=True),
    Change("cool-135-to-70", 'within = "90 min"', _hours("cool-135-to-70", 1.5)),
    Change("cool-135-to-70", 'within = "4 h"', _hours("cool-135-to-70", 4), looser=True),
    Change("cool-135-to-41", 'to = { f = 38, c = 3, op = "<=" }', replace(F, cold=38)),
    Change("cool-135-to-41", 'within = "9 h"', _hours("cool-135-to-41", 9), looser=True),
    Change("reheat-in-2h", 'within = "1 h"', _hours("reheat-in-2h", 1)),
    Change("thaw-raw-4h", 'at_most = "2 h"', _hours("thaw-raw-4h", 2)),
    Change("thaw-raw-4h", 'at_most = "8 h"', _hours("thaw-raw-4h", 8), looser=True),
)


@dataclass(frozen=True, slots=True)
class Local:
    """An override file in words, and whether its change is in force on the day."""

    change: Change
    text: str
    in_force: bool

    @property
    def figures(self) -> Printed:
        """Figures that count for the changed requirement."""
        return self.change.printed if self.in_force else F


def _local(rng: np.random.Generator) -> Local:
    change = _CHANGES[int(rng.integers(len(_CHANGES)))]
    first, last, holds = _term(rng)
    text = (
        '[override]\nid = "local/somewhere"\ntitle = "Rules"\nauthority = "Somewhere Health"\n'
        f'citation = "Somewhere 1.2"\nfrom = {first}\nto = {last}\n'
        f'[[change]]\nrequirement = "{FOOD_CODE}#{change.name}"\n{change.figure}\nreason = "so"\n'
    )
    if change.looser:
        granted, expires, approved = _term(rng)
        holds = holds and approved
        text += (
            '[change.approval]\nkind = "variance"\nauthority = "Somewhere Health"\nnumber = "1"\n'
            f"granted = {granted}\nexpires = {expires}\n"
        )
    return Local(change, text, holds)


def _term(rng: np.random.Generator) -> tuple[date, date, bool]:
    """First and last day, and whether the test's day lies between them."""
    way = int(rng.choice(4, p=[0.6, 0.1, 0.15, 0.15]))
    days = ((-90, 90), (-30, 10), (-90, -10), (10, 90))[way]
    return _DAY + timedelta(days=days[0]), _DAY + timedelta(days=days[1]), way < 2


def _code(local: Local, folder: Path) -> Code:
    path = folder / "county.toml"
    path.write_text(local.text, encoding="utf-8")
    return apply_overrides(load_code(FOOD_CODE), [load_override(path)], _DAY)[0]


def _check(
    seeds: range, folder: Path, *, forced: Mapping[str, Any] | None = None
) -> tuple[Counter[str], list[str]]:
    """Judge lots under overrides; `forced` is what the referee is told in place of the truth."""
    answers: Counter[str] = Counter()
    faults = []
    for seed in seeds:
        local = replace(_local(np.random.default_rng(seed)), **(forced or {}))
        lot = history(seed)
        log = staged([channel(lot.readings)], lot.notes, food=lot.food, facts=lot.facts)
        for found in judge(log, code=_code(local, folder)).findings:
            name, says = found.requirement.split("#")[1], found.verdict.value
            if not found.weight.binds or not found.stage or name in PAPERS:
                continue
            changed = name == local.change.name
            answers[f"{says} {local.in_force}"] += changed
            unsound = fault(found, [lot], local.figures if changed else F, says)
            if unsound:
                faults.append(f"seed {seed}: {unsound} {local.change.figure} {local.in_force}")
    return answers, faults


def test_no_unsound_answer_in_a_few_hundred_lots(tmp_path: Path) -> None:
    answers, faults = _check(range(60_000, 60_400), tmp_path)
    assert faults == []
    for in_force in (True, False):
        assert answers[f"met {in_force}"] > 5
        assert answers[f"not_met {in_force}"] > 5


def test_the_simulation_finds_an_approval_that_never_ends(tmp_path: Path) -> None:
    """The referee holds every change to be out of force: what was judged by it is then wrong."""
    assert len(_check(range(60_000, 60_400), tmp_path, forced={"in_force": False})[1]) >= 5


@pytest.mark.slow
def test_no_unsound_answer_in_ten_thousand_lots(tmp_path: Path) -> None:
    assert _check(range(200_000, 210_000), tmp_path)[1] == []
