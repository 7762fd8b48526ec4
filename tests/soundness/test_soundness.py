"""Soundness: *met* never where the true history breaks the requirement, *not met* never where it
keeps it, for random histories that obey the printed assumption.

The rules' figures used here are typed from FDA Food Code 2022 3-401.11(B) Table 3-2 (three rows),
3-403.11, 3-501.14 and 3-501.16, independently of the rule files.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import datetime

import pytest

from tempwitness.model.finding import Finding
from tempwitness.model.vocabulary import StageName
from tests.soundness.histories import History, Span, history
from tests.soundness.truth import EPS, Line, always, outside, passage, reached
from tests.support import ZERO, channel, judge, staged

#: Table 3-2, all seventeen rows: °F, hours.
_LADDER = tuple(
    (f, s / 3600)
    for f, s in (
        (130, 6720), (131, 5340), (133, 3360), (135, 2160), (136, 1680), (138, 1080), (140, 720),
        (142, 480), (144, 300), (145, 240), (147, 134), (149, 85), (151, 54), (153, 34), (155, 22),
        (157, 14), (158, 0),
    )
)  # fmt: skip


def _stage_of(found: Finding) -> Span:
    assert found.stage_start is not None
    assert found.stage_end is not None
    start = (datetime.fromisoformat(found.stage_start).timestamp() - ZERO) / 3600
    end = (datetime.fromisoformat(found.stage_end).timestamp() - ZERO) / 3600
    return Span(found.stage, start, end)


def _fault(found: Finding, lot: History) -> str:
    """Return what is unsound about a finding, or an empty text."""
    name = found.requirement.split("#")[1]
    says = found.verdict.value
    if says not in ("met", "not_met"):
        return ""
    span = _stage_of(found)
    whole = Line(lot.grid, lot.true)
    line = whole.cut(span.start, span.end)
    strict, lenient = _truth(name, whole, line, span, lot)
    if says == "met" and not strict:
        return f"{name}: met, but the true history breaks it"
    if says == "not_met" and lenient:
        return f"{name}: not met, but the true history keeps it"
    return ""


def _truth(name: str, whole: Line, line: Line, span: Span, lot: History) -> tuple[bool, bool]:
    """Whether the requirement was kept, counted strictly and leniently."""
    stage = (span.start, span.end)
    if name == "hot-hold":
        # The 130 °F of roasts is never open here: no lot says that the oven's line was kept.
        kept = always(line, 135, above=True)
        return kept, kept
    if name == "cold-hold":
        kept = always(line, 41, above=False)
        return kept, kept
    if name == "band-hold":
        kept = outside(line, 41, 135)
        return kept, kept
    if name == "cook-roast":
        rest = [s for s in lot.spans if s.name == "rest" and abs(s.start - span.end) < EPS]
        carried = whole.cut(span.start, rest[0].end if rest else span.end)
        return reached(carried, _LADDER, slack=EPS), reached(carried, _LADDER)
    if name == "reheat-165":
        rows = ((165.0, 15 / 3600),)
        return reached(line, rows, slack=EPS), reached(line, rows)
    cap = {"cool-135-to-70": 2.0, "cool-135-to-41": 6.0, "reheat-in-2h": 2.0}.get(name)
    if cap is None:
        return True, False
    ends = {"cool-135-to-70": (135, 70), "cool-135-to-41": (135, 41), "reheat-in-2h": (41, 165)}
    first, second = ends[name]
    strict, lenient = passage(
        whole, stage, first, second, falling=first > second, since=_since(name, span, lot)
    )
    return strict <= cap + EPS, lenient <= cap - EPS


def _since(name: str, span: Span, lot: History) -> float:
    """Moment before which a clock cannot have started.

    Hot food put to cool starts its clock after it was last heated. Cold food put to reheat may
    have warmed on its way there; food that comes warm from a cooling starts with the reheat.
    """
    earlier = [s for s in lot.spans if s.end <= span.start + EPS]
    if name != "reheat-in-2h":
        heated = [s for s in earlier if s.name in ("cook", "reheat")]
        return heated[-1].start if heated else 0.0
    return 0.0 if earlier and earlier[-1].name == "cold_hold" else span.start


def _check(
    seeds: range, intervals: Mapping[StageName, float] | None = None
) -> tuple[Counter[str], list[str]]:
    answers: Counter[str] = Counter()
    faults = []
    for seed in seeds:
        lot = history(seed)
        log = staged([channel(lot.readings)], lot.notes)
        for found in judge(log, intervals=intervals).findings:
            if not found.weight.binds or not found.stage:
                continue
            answers[found.verdict.value] += 1
            fault = _fault(found, lot)
            if fault:
                faults.append(f"seed {seed}: {fault} ({found.stage} {found.stage_number})")
    return answers, faults


def test_no_unsound_answer_in_a_few_hundred_lots() -> None:
    answers, faults = _check(range(400))
    assert faults == []
    # A simulation that never decides anything would prove nothing.
    assert min(answers["met"], answers["not_met"], answers["not_shown"]) > 100


def test_the_simulation_finds_a_program_that_trusts_gaps() -> None:
    trusting = dict.fromkeys(StageName, 1e9)
    _answers, faults = _check(range(400), trusting)
    assert len(faults) >= 5


@pytest.mark.slow
def test_no_unsound_answer_in_ten_thousand_lots() -> None:
    answers, faults = _check(range(1_000, 11_000))
    assert faults == []
    assert min(answers["met"], answers["not_met"], answers["not_shown"]) > 2_500
