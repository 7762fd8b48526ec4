"""Soundness: *met* never where the true history breaks the requirement, *not met* never where it
keeps it, for random histories that obey the printed assumption.

The rules' figures used here are typed from FDA Food Code 2022 3-401.11(B) Table 3-2,
3-403.11, 3-501.14 and 3-501.16, independently of the rule files.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

import pytest

from tempwitness.model.finding import Finding
from tempwitness.model.logs import StagedLog
from tempwitness.model.vocabulary import StageName
from tests.soundness.histories import History, Span, history, two_points
from tests.soundness.truth import EPS, Line, always, outside, passage, reached
from tests.support import ZERO, channel, judge, staged

_HOLDS = (
    6720, 5340, 3360, 2160, 1680, 1080, 720, 480, 300, 240, 134, 85, 54, 34, 22, 14, 0,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Printed:
    """The code's figures in one of its two units; the ladder as (temperature, hours)."""

    cold: float
    cooled: float
    hot: float
    reheated: float
    ladder: tuple[tuple[float, float], ...]


def _ladder(*figures: float) -> tuple[tuple[float, float], ...]:
    return tuple((f, s / 3600) for f, s in zip(figures, _HOLDS, strict=True))


_F = Printed(
    41, 70, 135, 165,
    _ladder(130, 131, 133, 135, 136, 138, 140, 142, 144, 145, 147, 149, 151, 153, 155, 157, 158),
)  # fmt: skip
_C = Printed(
    5, 21, 57, 74,
    _ladder(
        54.4, 55.0, 56.1, 57.2, 57.8, 58.9, 60.0, 61.1, 62.2, 62.8, 63.9, 65.0, 66.1, 67.2, 68.3,
        69.4, 70.0,
    ),
)  # fmt: skip


def _stage_of(found: Finding) -> Span:
    assert found.stage_start is not None
    assert found.stage_end is not None
    start = (datetime.fromisoformat(found.stage_start).timestamp() - ZERO) / 3600
    end = (datetime.fromisoformat(found.stage_end).timestamp() - ZERO) / 3600
    return Span(found.stage, start, end)


def _fault(found: Finding, points: Sequence[History], printed: Printed) -> str:
    """Return what is unsound about a finding, or an empty text.

    Of several points all that were read in or around the stage must keep a requirement, and one
    that breaks it is enough: an answer speaks of the points that were read and of nothing else.
    """
    name = found.requirement.split("#")[1]
    says = found.verdict.value
    if says not in ("met", "not_met"):
        return ""
    span = _stage_of(found)
    truths = [_truth(name, span, lot, printed) for lot in points if _read_about(lot, span)]
    if says == "met" and not all(strict for strict, _ in truths):
        return f"{name}: met, but the true history breaks it"
    if says == "not_met" and all(lenient for _, lenient in truths):
        return f"{name}: not met, but the true history keeps it"
    return ""


def _read_about(lot: History, span: Span) -> bool:
    return bool(lot.read_at[0] <= span.end + EPS and lot.read_at[-1] >= span.start - EPS)


def _truth(name: str, span: Span, lot: History, printed: Printed) -> tuple[bool, bool]:
    """Whether the requirement was kept, counted strictly and leniently."""
    true = lot.true if printed is _F else (lot.true - 32) / 1.8
    whole = Line(lot.grid, true)
    line = whole.cut(span.start, span.end)
    if name == "hot-hold":
        # The 130 °F of roasts is never open here: no lot says that the oven's line was kept.
        kept = always(line, printed.hot, above=True)
        return kept, kept
    if name == "cold-hold":
        kept = always(line, printed.cold, above=False)
        return kept, kept
    if name == "band-hold":
        kept = outside(line, printed.cold, printed.hot)
        return kept, kept
    if name == "cook-roast":
        rest = [s for s in lot.spans if s.name == "rest" and abs(s.start - span.end) < EPS]
        carried = whole.cut(span.start, rest[0].end if rest else span.end)
        return reached(carried, printed.ladder, slack=EPS), reached(carried, printed.ladder)
    if name == "reheat-165":
        rows = ((printed.reheated, 15 / 3600),)
        return reached(line, rows, slack=EPS), reached(line, rows)
    return _passage(name, span, lot, printed, whole)


def _passage(
    name: str, span: Span, lot: History, printed: Printed, whole: Line
) -> tuple[bool, bool]:
    passages = {
        "cool-135-to-70": (printed.hot, printed.cooled, 2.0),
        "cool-135-to-41": (printed.hot, printed.cold, 6.0),
        "reheat-in-2h": (printed.cold, printed.reheated, 2.0),
    }
    if name not in passages:
        return True, False
    first, second, cap = passages[name]
    strict, lenient = passage(
        whole,
        (span.start, span.end),
        first,
        second,
        falling=first > second,
        since=_since(name, span, lot),
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


def _faults(points: Sequence[History], log: StagedLog, printed: Printed = _F) -> list[str]:
    faults = [
        (_fault(found, points, printed), found)
        for found in judge(log).findings
        if found.weight.binds and found.stage
    ]
    return [f"{fault} ({found.stage} {found.stage_number})" for fault, found in faults if fault]


def _check(
    seeds: range, intervals: Mapping[StageName, float] | None = None, printed: Printed = _F
) -> tuple[Counter[str], list[str]]:
    answers: Counter[str] = Counter()
    faults = []
    for seed in seeds:
        lot = history(seed)
        readings = lot.readings
        if printed is _C:
            readings = [(t, round((v - 32) / 1.8, 6)) for t, v in readings]
        log = staged([channel(readings, celsius=printed is _C)], lot.notes)
        for found in judge(log, intervals=intervals).findings:
            if not found.weight.binds or not found.stage:
                continue
            answers[found.verdict.value] += 1
            fault = _fault(found, [lot], printed)
            if fault:
                faults.append(f"seed {seed}: {fault} ({found.stage} {found.stage_number})")
    return answers, faults


def _check_two(seeds: range) -> list[str]:
    faults = []
    for seed in seeds:
        points = two_points(seed)
        channels = [
            channel(p.readings, point=name, probe=name)
            for name, p in zip("ab", points, strict=True)
        ]
        log = staged(channels, points[0].notes)
        faults += [f"seed {seed}: {fault}" for fault in _faults(points, log)]
    return faults


def test_no_unsound_answer_in_a_few_hundred_lots() -> None:
    answers, faults = _check(range(400))
    assert faults == []
    # A simulation that never decides anything would prove nothing.
    assert min(answers["met"], answers["not_met"], answers["not_shown"]) > 100


def test_no_unsound_answer_in_celsius_with_its_own_printed_figures() -> None:
    answers, faults = _check(range(20_000, 20_300), printed=_C)
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
    answers, faults = _check(range(1_000, 11_000))
    assert faults == []
    assert min(answers["met"], answers["not_met"], answers["not_shown"]) > 2_500


@pytest.mark.slow
def test_no_unsound_answer_in_thousands_of_other_kinds() -> None:
    assert _check(range(40_000, 43_000), printed=_C)[1] == []
    assert _check_two(range(50_000, 53_000)) == []
