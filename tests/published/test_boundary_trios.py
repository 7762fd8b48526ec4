"""Each limit of every shipped code: exactly at it, just inside and just outside.

The traces are made from the rule files, in °F and in °C as printed, so that a new rule is covered
without a new test. The expected side is the printed operator's: "at or above" and "within" include
the figure. That the figures themselves are right is tested elsewhere, against published tables.
Requirements that ask just the same, such as those that one code takes over from another, are
walked once.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Unpack

import pytest

from tempwitness.model.forms import Instrument, ShelfLife
from tempwitness.model.lot import Probe, ProbeCheck, Weighed
from tempwitness.model.rule import Requirement
from tempwitness.model.vocabulary import Place, StageName
from tempwitness.rulebook.load import load_code
from tempwitness.units import Unit
from tests.published.trio_counts import boundaries
from tests.published.trio_rules import (
    BOUNDS,
    COVERED,
    NO_LIMIT,
    WEIGHTS,
    Ask,
    asks,
    bounded,
    limit_paths,
    stagewise,
)
from tests.published.trio_scene import Boundary, Other, food_for, verdict_at
from tests.support import ZERO, channel, found, judge, note, staged

if TYPE_CHECKING:
    from collections.abc import Iterator

ASKS = asks()
BOUNDED = bounded()
PROBES = [a for a in ASKS if isinstance(a.test, Instrument)]


@cache
def walks(ask: Ask, stage: StageName) -> tuple[tuple[Boundary, bool], ...]:
    """The traces of an ask at a stage in both scales; a shelf life only where food is kept cold."""
    if isinstance(ask.test, ShelfLife) and stage is not StageName.COLD_HOLD:
        return ()
    made = [(b, c) for c in (False, True) for b in boundaries(ask, stage, c)]
    if ask.place is Place.AIR and stage is StageName.COLD_HOLD:
        # Hot air in a refrigerator is doubted, so that it decides nothing.
        made = [(b, c) for b, c in made if b.limit != "hot"]
    return tuple(made)


WALKED = [(a, s) for a, s in stagewise(ASKS) if walks(a, s)]


def wrong(ask: Ask, stage: StageName) -> list[str]:
    """What is answered otherwise than the rule says."""
    found_wrong = []
    for made, celsius in walks(ask, stage):
        says = verdict_at(ask, stage, made, celsius)
        if says not in made.expected:
            scale = "C" if celsius else "F"
            line = f"{made.limit} {made.side} {scale}: {says}, not {sorted(made.expected)}"
            found_wrong.append(line)
    return found_wrong


@pytest.mark.parametrize(("ask", "stage"), WALKED, ids=[f"{a.path} {s}" for a, s in WALKED])
def test_limit(ask: Ask, stage: StageName) -> None:
    assert wrong(ask, stage) == []


@pytest.mark.parametrize("ask", PROBES, ids=lambda a: a.path)
@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize("more", ["-0.1", "0", "0.1"])
@pytest.mark.parametrize("unit", [Unit.F, Unit.C])
def test_tolerance(ask: Ask, sign: int, more: str, unit: Unit) -> None:
    assert isinstance(ask.test, Instrument)
    own, other = (ask.test.f, ask.test.c) if unit is Unit.F else (ask.test.c, ask.test.f)
    share = Fraction(9, 5) if unit is Unit.F else Fraction(5, 9)
    allowed = Fraction(own) if own is not None else Fraction(other or 0) * share
    off = round(allowed + Fraction(more), 2)
    ice = 32.0 if unit is Unit.F else 0.0
    check = ProbeCheck(ZERO, "ice", round(ice + sign * float(off), 2), ice, unit, "ice")
    probe = Probe("a", scale="F" if unit is Unit.F else "C", reads=ask.test.reads, checks=(check,))
    log = staged([channel([(0, 140.0)], probe="a")], [note(0, "hot_hold")], probes=[probe])
    verdict = found(judge(log, code=ask.code), ask.requirement.id).verdict.value
    assert verdict == ("met" if off <= allowed else "not_met")


def applies(ask: Ask, stage: StageName, **more: Unpack[Other]) -> bool:
    """Whether a requirement that is kept in any case bears on a lot."""
    made = Boundary("", "", [(0.0, 100.0), (600.0, 100.0)], frozenset())
    return verdict_at(ask, stage, made, celsius=False, **more) != "not_applicable"


BOUNDS_OF = [(ask, key) for ask in BOUNDED for key in BOUNDS if getattr(ask.when, key) is not None]
NUMBERS_OF = [
    (ask, key, question)
    for ask in BOUNDED
    for key in ("numbers_at_least", "numbers_below")
    for question in getattr(ask.when, key)
]
DATED = [
    (ask, key)
    for ask in BOUNDED
    for key in ("begins", "ends")
    if getattr(ask.requirement, key) is not None
]


def _first(ask: Ask) -> StageName:
    return ask.requirement.stages[0]


def heavy_enough(ask: Ask, weight: Weighed) -> bool:
    """Whether a weight keeps every bound of a requirement, by its printed word."""
    bounds = ((keeps, getattr(ask.when, name)) for name, keeps in WEIGHTS.items())
    value = Decimal(str(weight.value))
    return all(
        keeps(value, Decimal(str(float(getattr(bound, weight.unit)))))
        for keeps, bound in bounds
        if bound is not None
    )


@pytest.mark.parametrize(("ask", "key"), BOUNDS_OF, ids=[f"{a.path} {k}" for a, k in BOUNDS_OF])
def test_weight_and_thickness(ask: Ask, key: str) -> None:
    """A weight is compared in the unit in which it was entered."""
    bound = getattr(ask.when, key)
    if key == "thickness_at_most":
        printed = max(Fraction(bound.inch or 0) * 254, Fraction(bound.cm or 0) * 100)
        for more in (-1, 0, 1):  # tenths of a millimetre
            thick = replace(food_for(ask.when), thickness=float(printed + more) / 10_000)
            assert applies(ask, _first(ask), food=thick) is (more <= 0)
        return
    for unit in ("lb", "kg"):
        for off in (Decimal("-0.01"), Decimal(0), Decimal("0.01")):
            if not off and bound.printed not in ("both", unit):
                continue  # a conversion is no figure at which anything could be told apart
            weight = Weighed(float(getattr(bound, unit) + off), "lb" if unit == "lb" else "kg")
            heavy = replace(food_for(ask.when), weight=weight)
            assert applies(ask, _first(ask), food=heavy) is heavy_enough(ask, weight)


@pytest.mark.parametrize(
    ("ask", "key", "question"), NUMBERS_OF, ids=[f"{a.path} {k} {q}" for a, k, q in NUMBERS_OF]
)
def test_number(ask: Ask, key: str, question: str) -> None:
    bound = getattr(ask.when, key)[question]
    for more in (-1, 0, 1):
        if bound + more < 0:
            continue
        kept = more >= 0 if key == "numbers_at_least" else more < 0
        facts = ((question, str(bound + more)),)
        assert applies(ask, _first(ask), facts=facts) is kept


@pytest.mark.parametrize(("ask", "key"), DATED, ids=[f"{a.path} {k}" for a, k in DATED])
def test_first_and_last_day(ask: Ask, key: str) -> None:
    """Both days are in force; a record of ten minutes past 05:00 is of one day."""
    day = getattr(ask.requirement, key)
    for more in (-1, 0, 1):
        kept = more >= 0 if key == "begins" else more <= 0
        assert applies(ask, _first(ask), day=day + timedelta(days=more)) is kept


def made_paths() -> Iterator[str]:
    """The path of each limit that is walked above."""
    for ask, stage in WALKED:
        yield from (f"{path} {b.limit}" for path in ask.paths for b, _ in walks(ask, stage))
    yield from (f"{path} tolerance" for ask in PROBES for path in ask.paths)
    yield from (f"{path} {key}" for ask, key in BOUNDS_OF for path in ask.paths)
    yield from (f"{path} {key}.{q}" for ask, key, q in NUMBERS_OF for path in ask.paths)
    yield from (f"{path} {key}" for ask, key in DATED for path in ask.paths)


def test_no_limit_of_a_rule_file_goes_without_its_trio() -> None:
    assert set(made_paths()) == limit_paths()


def test_each_limit_is_walked_on_three_sides() -> None:
    """Nothing is less than no time or than one stage; a list of methods has as many sides."""
    for ask, stage in WALKED:
        for celsius in (False, True):
            sides = Counter(b.limit for b, c in walks(ask, stage) if c is celsius)
            few = {name for name, count in sides.items() if count < 3}
            least = getattr(ask.test, "at_most", None)
            assert not few or (few <= {"at_most"} and least in (0, 1)) or few == {"once"}


def test_every_requirement_is_walked_or_has_no_limit() -> None:
    forms = {a.test.form for a, _ in WALKED} | {a.test.form for a in PROBES}
    assert {a.test.form for a in ASKS} - forms == set(NO_LIMIT) & {a.test.form for a in ASKS}
    assert not forms & set(NO_LIMIT)


IF_READ = [
    (a, s) for a, s in WALKED if a.requirement.only_if_read and "/" not in a.path.split("#")[1]
]


@pytest.mark.parametrize(("ask", "stage"), IF_READ, ids=[f"{a.path} {s}" for a, s in IF_READ])
def test_what_is_judged_only_if_read_asks_for_no_reading(ask: Ask, stage: StageName) -> None:
    unread = Boundary("", "", [], frozenset(), end=3600.0)
    assert verdict_at(ask, stage, unread, celsius=True) == "not_applicable"


BREAKS = [
    (code_id, r)
    for code_id in COVERED
    for r in load_code(code_id).requirements
    if (r.breaks_only or r.ask_instead) and not r.instrument
]


@pytest.mark.parametrize(("code_id", "whole"), BREAKS, ids=[f"{c}#{r.id}" for c, r in BREAKS])
def test_what_only_breaks_is_never_met_and_what_asks_never_broken(
    code_id: str, whole: Requirement
) -> None:
    """The same traces under the requirement as it stands, without its other ways."""
    bare = next(a for a in ASKS if f"{code_id}#{whole.id}" in a.paths)
    alone = whole.model_copy(update={"alternatives": ()})
    code = bare.code.model_copy(update={"requirements": (alone,)})
    ask = Ask(bare.paths, code, alone)
    never = {"met"} if whole.breaks_only else set()
    never |= {"not_met", "open"} if whole.ask_instead else set()
    for stage in alone.stages:
        says = {verdict_at(ask, stage, b, c) for b, c in walks(bare, stage)}
        assert not says & never
