"""Further on the safe side is never worse, nearer to the other one never better: for every limit.

Hotter is safe for a floor, colder for a ceiling, faster for a time; for each test of each shipped
code at each stage, on traces drawn around its figures.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from typing import TYPE_CHECKING
from zlib import crc32

import numpy as np
import pytest

from tempwitness.model.forms import (
    BandClock,
    Fall,
    Lethality,
    Longest,
    Once,
    OutsideBand,
    Reach,
    ReachBy,
    Rise,
    Throughout,
    TimeControl,
)
from tests.published.trio_logs import figure
from tests.published.trio_rules import asks, stagewise
from tests.published.trio_scene import HOUR, Boundary, Trace, verdict_at

if TYPE_CHECKING:
    from collections.abc import Callable

    from tempwitness.model.forms import Test
    from tempwitness.model.vocabulary import StageName
    from tests.published.trio_rules import Ask

Floats = np.typing.NDArray[np.float64]
#: A trace as moments [s] and values, and what makes it safer by a share of 0 to 1, or less safe.
Draw = tuple[Floats, Floats, "Callable[[Trace, float], Trace]"]

DRAWS = 3
CLOCKS = {"cooked": "cook", "heat_ended": "hot_hold", "left_cold": "cold_hold"}
#: Readings further apart, or taken under another stage's name, may leave room: only clear answers
#: are compared.
WORTH = {"not_met": 0, "met": 1}


def warmer(trace: Trace, share: float) -> Trace:
    return [(t, round(v + 5.0 * share, 2)) for t, v in trace]


def colder(trace: Trace, share: float) -> Trace:
    return warmer(trace, -share)


def faster(trace: Trace, share: float) -> Trace:
    return [(t * (1.0 - share / 2.0), v) for t, v in trace]


def drawn(test: Test, rng: np.random.Generator, celsius: bool) -> Draw | None:
    """A trace about the figures of a test, and the way that is safe for it."""
    hours = np.sort(rng.uniform(0.0, 3.0, 4)) * HOUR
    match test:
        case Throughout():
            safe = warmer if test.limit.op in (">=", ">") else colder
            return hours, _near(rng, figure(test.limit, celsius)), safe
        case OutsideBand():
            hot = bool(rng.random() < 0.5)
            edge = figure(test.hot if hot else test.cold, celsius)
            return hours, _near(rng, edge), warmer if hot else colder
        case Reach() | ReachBy():
            row = test.rows[int(rng.integers(len(test.rows)))]
            return hours, _near(rng, figure(row, celsius)), warmer
        case Lethality():
            return hours / 40.0, _near(rng, figure(test.at, celsius) - 2.0), warmer
        case Fall() | Rise():
            return _passage(test, rng, celsius)
        case BandClock() | Once() | Longest() | TimeControl():
            return _timed(test, rng, celsius)
        case _:
            return None


def _near(rng: np.random.Generator, edge: float) -> Floats:
    return np.round(edge + rng.normal(0.0, 3.0) + rng.normal(0.0, 1.0, 4), 1)


def _passage(test: Fall | Rise, rng: np.random.Generator, celsius: bool) -> Draw:
    last = figure(test.to, celsius)
    way = 6.0 if isinstance(test, Rise) else -6.0
    first = last - 4.0 * way if test.start is None else figure(test.start, celsius)
    if abs(first - last) < 1.0:
        first = last - 4.0 * way
    shares = np.sort(rng.uniform(0.05, 0.95, 6))
    values = [first - way / 3, *(first + (last - first) * shares), last + way / 3, last + way / 2]
    moments = np.array([0.0, *np.sort(rng.uniform(0.05, 1.0, 7)), 1.0])
    length = test.within * float(rng.uniform(0.6, 1.6))
    return moments * length, np.round(values, 1), faster


def _timed(
    test: BandClock | Once | Longest | TimeControl, rng: np.random.Generator, celsius: bool
) -> Draw:
    edge = 60.0
    if isinstance(test, BandClock):
        edge = figure(next(e for e in (test.low, test.high) if e is not None), celsius)
    if isinstance(test, Once):
        edge = figure(test.limit, celsius)
    length = max(test.at_most, HOUR) * float(rng.uniform(0.6, 1.6))
    count = int(length // (2 * HOUR)) + 4
    moments = np.array([0.0, *np.sort(rng.uniform(0.0, 1.0, count - 2)), 1.0]) * length
    side = rng.normal(0.0, 3.0)
    return moments, np.round(edge + side + rng.normal(0.0, 1.0, count), 1), faster


@cache
def verdicts(ask: Ask, stage: StageName) -> tuple[tuple[str, str, str], ...]:
    """The answer to a less safe, a drawn and a safer trace, for each draw."""
    rng = np.random.default_rng(crc32(f"{ask.path} {stage}".encode()))
    clock = CLOCKS.get(getattr(ask.test, "clock", ""))
    found = []
    for number in range(DRAWS):
        celsius = number % 2 == 1
        made = drawn(ask.test, rng, celsius)
        if made is None:
            return ()
        moments, values, safe = made
        trace = [
            (round(float(t - moments[0]), 1), float(v))
            for t, v in zip(moments, values, strict=True)
        ]
        share = float(rng.uniform(0.2, 1.0))
        before = () if clock is None else ((-HOUR, clock),)
        say = [
            verdict_at(ask, stage, Boundary("", "", log, frozenset(), before), celsius)
            for log in (safe(trace, -share), trace, safe(trace, share))
        ]
        found.append((say[0], say[1], say[2]))
    return tuple(found)


DRAWN = [
    (a, s)
    for a, s in stagewise(asks())
    if drawn(a.test, np.random.default_rng(0), celsius=False) is not None
]


@pytest.mark.parametrize(("ask", "stage"), DRAWN, ids=[f"{a.path} {s}" for a, s in DRAWN])
def test_safer_is_never_worse(ask: Ask, stage: StageName) -> None:
    for said in verdicts(ask, stage):
        worth = [WORTH[v] for v in said if v in WORTH]
        assert worth == sorted(worth), said


def test_the_draws_see_both_answers_of_every_form() -> None:
    """Of the first dozen of each form: a comparison that never sees both would prove nothing."""
    seen: Counter[tuple[str, str]] = Counter()
    taken: Counter[str] = Counter()
    for ask, stage in DRAWN:
        taken[ask.test.form] += 1
        if taken[ask.test.form] <= 12:
            seen.update((ask.test.form, v) for said in verdicts(ask, stage) for v in said)
    for form in taken:
        assert min(seen[form, "met"], seen[form, "not_met"]) >= 1, form
