"""Each limit of the covered codes: exactly at it, just inside and just outside.

The traces are made from the rule files, in °F and in °C as printed, so that a new rule of them is
covered without a new test. The expected side is the printed operator's: "at or above" and "within"
include the figure. That the figures themselves are right is tested elsewhere, against published
tables.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.forms import BandClock, Instrument, ShelfLife
from tempwitness.model.lot import Probe, ProbeCheck, Weighed
from tempwitness.model.vocabulary import Place, StageName
from tempwitness.units import Unit
from tests.published.trio_logs import Boundary, boundaries
from tests.published.trio_rules import (
    Ask,
    asks,
    food_for,
    limit_paths,
    stated,
    steps_after,
    steps_before,
)
from tests.support import ZERO, channel, found, judge, note, staged

if TYPE_CHECKING:
    from tempwitness.model.figures import WeightBound

ASKS = list(asks())
DAY = 86400.0

TRIOS = [(a, b, c) for a in ASKS for c in (False, True) for b in boundaries(a.test, c)]
SHELVES = [a for a in ASKS if isinstance(a.test, ShelfLife) and a.stage is StageName.COLD_HOLD]
MARKED = [a for a in SHELVES if isinstance(a.test, ShelfLife) and a.test.mark_after is not None]
PROBES = [a for a in ASKS if isinstance(a.test, Instrument)]
WEIGHTS = [
    (ask, key, bound)
    for ask in ASKS
    for key in ("weight_at_least", "weight_below")
    if (bound := getattr(ask.requirement.when, key)) is not None
]


def verdict_at(ask: Ask, boundary: Boundary, celsius: bool) -> str:
    """Judge a trace in a record to which the requirement applies."""
    readings = [(f"0:0:{t!r}", value) for t, value in boundary.trace]
    if ask.requirement.when.after:
        # Cooked food was cold before the stage, else it would be cooling still.
        readings.insert(0, ("0:0:-3600", 3.0 if celsius else 38.0))
    end = boundary.trace[-1][0]
    steps = [*steps_before(ask), *steps_after(ask, end)]
    if isinstance(ask.test, BandClock) and ask.test.unheated_only:
        steps.append(note("0:0:0.1", event="heat_lost"))
    core = channel(readings, place=ask.place, celsius=celsius)
    evaluation = judge(staged([core], steps, **stated(ask)), code=ask.code)
    return found(evaluation, ask.requirement.id).verdict.value


def name(ask: Ask, boundary: Boundary, celsius: bool) -> str:
    scale = "C" if celsius else "F"
    return f"{ask.path} {ask.stage} {boundary.limit} {boundary.side} {scale}"


@pytest.mark.parametrize(("ask", "boundary", "celsius"), TRIOS, ids=[name(*trio) for trio in TRIOS])
def test_limit(ask: Ask, boundary: Boundary, celsius: bool) -> None:
    assert verdict_at(ask, boundary, celsius) in boundary.expected


def kept_cold(ask: Ask, seconds: float, *, marked: bool) -> str:
    """Keep cooked food cold for a time from 05:00 UTC of its day of preparation on."""
    steps = [*steps_before(ask), *steps_after(ask, seconds)]
    if marked:
        steps.append(note(0, event="date_marked"))
    evaluation = judge(staged([channel([(0, 38.0)])], steps, **stated(ask)), code=ask.code)
    return found(evaluation, ask.requirement.id).verdict.value


@pytest.mark.parametrize("ask", SHELVES, ids=lambda a: a.path)
@pytest.mark.parametrize(("more", "expected"), [(-1, "met"), (0, "met"), (1, "not_met")])
def test_days(ask: Ask, more: int, expected: str) -> None:
    """The day of preparation is day 1, so n days end with the evening n - 1 days later."""
    assert isinstance(ask.test, ShelfLife)
    until_noon = (ask.test.days - 1 + more) * DAY + 7 * 3600
    assert kept_cold(ask, until_noon, marked=True) == expected


@pytest.mark.parametrize("ask", MARKED, ids=lambda a: a.path)
@pytest.mark.parametrize(
    ("more", "expected"), [(-1, "not_applicable"), (0, "not_applicable"), (1, "not_shown")]
)
def test_time_after_which_a_mark_is_due(ask: Ask, more: int, expected: str) -> None:
    """The mark is due for food that is kept longer than the time printed."""
    assert isinstance(ask.test, ShelfLife)
    assert ask.test.mark_after is not None
    seconds = ask.test.mark_after + more
    assert kept_cold(ask, seconds, marked=False) == expected


@pytest.mark.parametrize("ask", PROBES, ids=lambda a: a.path)
@pytest.mark.parametrize("sign", [1.0, -1.0])
@pytest.mark.parametrize(("more", "expected"), [(-0.1, "met"), (0.0, "met"), (0.1, "not_met")])
@pytest.mark.parametrize("unit", [Unit.F, Unit.C])
def test_tolerance(ask: Ask, sign: float, more: float, expected: str, unit: Unit) -> None:
    assert isinstance(ask.test, Instrument)
    printed = ask.test.f if unit is Unit.F else ask.test.c
    assert printed is not None
    allowed = float(printed)
    ice = 32.0 if unit is Unit.F else 0.0
    read = round(ice + sign * (allowed + more), 2)
    check = ProbeCheck(ZERO, "ice", read, ice, unit, "ice")
    probe = Probe("a", scale="F" if unit is Unit.F else "C", reads=ask.test.reads, checks=(check,))
    log = staged([channel([(0, 140.0)], probe="a")], [note(0, "hot_hold")], probes=[probe])
    assert found(judge(log, code=ask.code), ask.requirement.id).verdict.value == expected


@pytest.mark.parametrize(
    ("ask", "key", "bound"), WEIGHTS, ids=[f"{a.path} {k}" for a, k, _ in WEIGHTS]
)
@pytest.mark.parametrize("more", [-0.01, 0.0, 0.01])
@pytest.mark.parametrize("unit", ["lb", "kg"])
def test_weight(ask: Ask, key: str, bound: WeightBound, more: float, unit: str) -> None:
    """A weight is compared in the unit in which it was entered."""
    printed = float(bound.lb if unit == "lb" else bound.kg)
    weight = Weighed(round(printed + more, 3), "lb" if unit == "lb" else "kg")
    said = stated(ask)
    said["food"] = replace(food_for(ask.requirement.when), weight=weight)
    readings = [(0, 300.0 if ask.place is Place.AIR else 120.0)]
    steps = [*steps_before(ask), *steps_after(ask, 3600.0)]
    log = staged([channel(readings, place=ask.place)], steps, **said)
    applies = found(judge(log, code=ask.code), ask.requirement.id).verdict.value != "not_applicable"
    assert applies is (more >= 0 if key == "weight_at_least" else more < 0)


def test_no_limit_of_a_rule_file_goes_without_its_trio() -> None:
    made = {f"{a.path} {b.limit}" for a in ASKS for b in boundaries(a.test, celsius=False)}
    made |= {f"{a.path} days" for a in SHELVES} | {f"{a.path} mark_after" for a in MARKED}
    made |= {f"{a.path} tolerance" for a in PROBES}
    made |= {f"{a.path} {key}" for a, key, _ in WEIGHTS}
    assert made == limit_paths()
    for celsius in (False, True):
        sides = Counter((a.path, a.stage, b.limit) for a, b, c in TRIOS if c is celsius)
        assert set(sides.values()) == {3}
        assert len(sides) >= len(limit_paths()) - len(SHELVES) - len(MARKED) - len(PROBES) - len(
            WEIGHTS
        )
