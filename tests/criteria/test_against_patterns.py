"""Criteria against every pattern that the readings allow (`tests.bounds.referee`).

*Met* must stand exactly where all patterns keep the requirement, *not met* where all break it.
"""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.criteria import judge_test
from tempwitness.criteria.outcome import Outcome
from tempwitness.model.forms import BandClock, Reach, Test, Throughout
from tests.bounds.referee import FIGURE_C, FIGURE_F, Read, Setting, longest, patterns, total
from tests.criteria.cases import INTERVAL, case, stages
from tests.support import ZERO

MANY = settings(max_examples=250, deadline=None, derandomize=True)


@st.composite
def held(draw: st.DrawFn, ops: tuple[str, ...]) -> Setting:
    """Readings around a stage of at most five hours."""
    hours = draw(st.lists(st.integers(0, 12), max_size=7, unique=True))
    level = st.one_of(st.none(), st.integers(-2, 2), st.integers(-2, 2), st.integers(-2, 2))
    reads = tuple(Read(h, draw(level), draw(st.booleans())) for h in sorted(hours))
    start = draw(st.integers(0, 7))
    return Setting(
        reads,
        frozenset(draw(st.sets(st.integers(0, 5), max_size=1))),
        start,
        draw(st.integers(start, start + 5)),
        INTERVAL,
        draw(st.sampled_from(ops)),
    )


def outcome(test: Test, setting: Setting) -> Outcome:
    one = case(stages([("hot_hold", setting.start, setting.end)]))
    plain = setting.trace()
    trace = replace(plain, at=ZERO + 3600 * plain.at, _states={})
    return judge_test(test, one, trace, (one.stage.name,))


def expected(keeps: list[bool]) -> str:
    return "met" if all(keeps) else "not_shown" if any(keeps) else "not_met"


@MANY
@given(held((">=", ">", "<=", "<")))
def test_throughout(setting: Setting) -> None:
    out = outcome(Throughout(form="throughout", limit=setting.limit()), setting)
    assert out.verdict.value == expected([all(p) for p in patterns(setting)])
    if out.verdict.value == "not_met":
        broken = [len(p) // 2 - total(p) for p in patterns(setting)]
        assert (out.least, out.most) == (min(broken) * 3600, max(broken) * 3600)


@MANY
@given(held((">=",)), st.integers(0, 4))
def test_reach(setting: Setting, hold: int) -> None:
    row = {"f": FIGURE_F, "c": FIGURE_C, "hold": f"{hold} h"}
    out = outcome(Reach.model_validate({"form": "reach", "rows": (row,)}), setting)
    assert out.verdict.value == expected([longest(p) >= hold for p in patterns(setting)])


@MANY
@given(held((">", "<", ">=", "<=")), st.integers(0, 5))
def test_band_clock(setting: Setting, cap: int) -> None:
    clock = BandClock(form="band_clock", low=setting.limit(), at_most=f"{cap} h")
    out = outcome(clock, setting)
    totals = [total(p) for p in patterns(setting)]
    assert (out.least, out.most) == (min(totals) * 3600, max(totals) * 3600)
    assert out.verdict.value == expected([t <= cap for t in totals])
