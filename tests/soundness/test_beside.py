"""Soundness of the codes that are judged beside: advice of the trade and a plant's yardstick.

Figures: FSIS-GD-2021-14, from 50 to 130 °F in at most 6 h; 145 °F in the box and 140 °F in the
cabinet are habits of the trade, common practice without a source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

import pytest

from tempwitness.rulebook.load import load_code
from tests.soundness.histories import history
from tests.soundness.referee import stage_of
from tests.soundness.truth import Line, always
from tests.support import channel, judge, staged

_NEAR = 1e-4


def _come_up(line: Line) -> float:
    """Hours between 50 and 130 °F."""
    whole = float(line.at[-1] - line.at[0])
    return whole - line.time(50, above=False) - line.time(130, above=True)


_KEPT: dict[str, Callable[[Line], tuple[bool, bool]]] = {
    "come-up": lambda line: (_come_up(line) <= 6 + _NEAR, _come_up(line) <= 6 - _NEAR),
    "trade-box-alarm": lambda line: (always(line, 145, above=True),) * 2,
    "trade-cabinet": lambda line: (always(line, 140, above=True),) * 2,
}


def _fault(name: str, says: str, line: Line) -> str:
    strict, lenient = _KEPT[name](line)
    wrong = (says == "met" and not strict) or (says == "not_met" and lenient)
    return f"{name}: {says}, and it is not so" if wrong else ""


def _check(seeds: range) -> tuple[Counter[str], list[str]]:
    answers: Counter[str] = Counter()
    faults = []
    codes = [load_code(name) for name in ("us/plant/come-up", "trade/smoking")]
    for seed in seeds:
        lot = history(seed)
        if sum(s.name == "cook" for s in lot.spans) > 1:
            continue
        log = staged([channel(lot.readings)], lot.notes, food=lot.food)
        for code in codes:
            for found in judge(log, code=code).findings:
                name, says = found.requirement.split("#")[1], found.verdict.value
                if name not in _KEPT or not found.stage:
                    continue
                span = stage_of(found)
                line = Line(lot.grid, lot.true).cut(span.start, max(span.end, span.start + 1e-9))
                answers[f"{name} {says}"] += 1
                unsound = _fault(name, says, line)
                faults += [f"seed {seed}: {unsound}"] if unsound else []
    return answers, faults


def test_no_unsound_advice_in_a_few_hundred_lots() -> None:
    answers, faults = _check(range(70_000, 70_600))
    assert faults == []
    for name in _KEPT:
        assert answers[f"{name} met"], name
        assert answers[f"{name} not_met"], name


@pytest.mark.slow
def test_no_unsound_advice_in_ten_thousand_lots() -> None:
    assert _check(range(300_000, 310_000))[1] == []
