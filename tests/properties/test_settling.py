"""The reading that a finding asks for settles it: with it, *not shown* becomes *met*.

Readings are drawn on quarters of an hour, in tens of degrees, so that most of them stand at, just
above or just below a limit. The limits are the invented ones of `tests.criteria.cases`.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.criteria.case import Case
from tempwitness.criteria.outcome import Outcome
from tempwitness.model.forms import Fall, Reach, Rise, Test, Throughout
from tests.criteria.cases import Span, answer, case, limit, stages
from tests.support import ZERO, Readings, seconds

HOT = Throughout(form="throughout", limit=limit(100, ">="))
COLD = Throughout(form="throughout", limit=limit(60, "<="))
FALL = Fall(form="fall", start=limit(100, ">="), to=limit(60, "<="), within="2 h")
RISE = Rise(form="rise", start=limit(60, "<="), to=limit(100, ">="), within="2 h")
AT_ONCE = Reach.model_validate({"form": "reach", "rows": ({"f": 100, "c": 100, "hold": "0 s"},)})
HELD = Reach.model_validate({"form": "reach", "rows": ({"f": 100, "c": 100, "hold": "1 h"},)})
LADDER = Reach.model_validate(
    {
        "form": "reach",
        "rows": ({"f": 80, "c": 80, "hold": "2 h"}, {"f": 100, "c": 100, "hold": "30 min"}),
    }
)

#: What each criterion is asked of: the stage that it speaks of stands in the middle.
ROUND: dict[str, list[Span]] = {
    "hot_hold": [("cook", -4, 0), ("hot_hold", 0, 4), ("serve", 4, 6)],
    "rest": [("cook", -4, 0), ("rest", 0, 12), ("serve", 12, 14)],
    "cool": [("cook", -4, 0), ("cool", 0, 5), ("serve", 5, 6)],
    "reheat": [("cold_hold", -4, 0), ("reheat", 0, 5), ("serve", 5, 6)],
    "cook": [("cold_hold", -4, 0), ("cook", 0, 6), ("serve", 6, 7)],
}

ASKED_FOR = re.compile(r"a reading of (\d+) °F or (more|less)")

DECIDES_AGAINST = re.compile(r"a reading (above|below) (\d+) °F")

readings = st.lists(
    st.tuples(st.integers(-16, 56).map(lambda q: q / 4), st.sampled_from(range(50, 130, 10))),
    min_size=1,
    max_size=7,
    unique_by=lambda r: r[0],
).map(sorted)


def asked_for(out: Outcome, log: Readings) -> tuple[float, float] | None:
    """The one reading that a finding names, unless something was read at that very moment."""
    if out.verdict.value != "not_shown" or out.settle is None or out.settle.at is None:
        return None
    match = ASKED_FOR.fullmatch(out.settle.what)
    hours = (out.settle.at - ZERO) / 3600
    if match is None or any(abs(seconds(t) - hours * 3600) < 1 for t, _ in log):
        return None
    return hours, float(match[1])


def against(out: Outcome, log: Readings) -> tuple[float, float] | None:
    """The one reading that would decide against it, a degree beyond the figure."""
    if out.verdict.value != "not_shown" or out.against is None or out.against.at is None:
        return None
    match = DECIDES_AGAINST.fullmatch(out.against.what)
    assert match is not None, out.against.what
    hours = (out.against.at - ZERO) / 3600
    if any(abs(seconds(t) - hours * 3600) < 1 for t, _ in log):
        return None
    return hours, float(match[2]) + (-1.0 if match[1] == "below" else 1.0)


def only_one_way(log: Readings, test: Test) -> Readings:
    """The same figures as of food that only cools, or only warms, where a clock is asked for."""
    if not isinstance(test, Fall | Rise):
        return log
    values = sorted((v for _, v in log), reverse=isinstance(test, Fall))
    return [(t, v) for (t, _), v in zip(log, values, strict=True)]


def middle(stage: str) -> Case:
    return case(stages(ROUND[stage]), 2)


#: Tests that a single reading can settle for and against.
BOTH_WAYS = [
    pytest.param(HOT, "hot_hold", id="throughout, hot"),
    pytest.param(HOT, "rest", id="throughout, rest"),
    pytest.param(COLD, "hot_hold", id="throughout, cold"),
    pytest.param(FALL, "cool", id="fall"),
    pytest.param(RISE, "reheat", id="rise"),
]


@pytest.mark.parametrize(
    ("test", "stage"),
    [
        *BOTH_WAYS,
        pytest.param(AT_ONCE, "cook", id="reach"),
        pytest.param(HELD, "cook", id="reach and hold"),
        pytest.param(LADDER, "cook", id="ladder"),
    ],
)
@settings(max_examples=300, deadline=None, derandomize=True)
@given(log=readings)
def test_the_reading_that_is_asked_for_settles(test: Test, stage: str, log: Readings) -> None:
    log = only_one_way(log, test)
    one = middle(stage)
    wanted = asked_for(answer(test, one, log), log)
    if wanted is not None:
        more = sorted([*log, wanted], key=lambda r: seconds(r[0]))
        assert answer(test, one, more).verdict.value == "met"


@pytest.mark.parametrize(
    ("test", "stage"),
    BOTH_WAYS,
)
@settings(max_examples=300, deadline=None, derandomize=True)
@given(log=readings)
def test_the_reading_against_it_settles_as_well(test: Test, stage: str, log: Readings) -> None:
    log = only_one_way(log, test)
    one = middle(stage)
    wanted = against(answer(test, one, log), log)
    if wanted is not None:
        more = sorted([*log, wanted], key=lambda r: seconds(r[0]))
        assert answer(test, one, more).verdict.value == "not_met"


def test_readings_against_it_are_named_at_all() -> None:
    """By hand: one trace for each criterion in which one reading decides against it."""
    missing: list[tuple[Test, str, Readings]] = [
        (HOT, "hot_hold", [(0, 120), (3, 120)]),
        (COLD, "hot_hold", [(1, 50), (4, 50)]),
        (FALL, "cool", [(0, 110), (0.5, 90), (3, 60)]),
        (RISE, "reheat", [(0, 50), (0.5, 80), (3, 100)]),
    ]
    for test, stage, log in missing:
        assert against(answer(test, middle(stage), log), log) is not None


def test_such_readings_are_asked_for_at_all() -> None:
    """By hand: one trace for each criterion in which exactly one reading is missing."""
    missing: list[tuple[Test, str, Readings]] = [
        (HOT, "hot_hold", [(0, 120), (3, 120)]),
        (HOT, "rest", [(-1, 120), (11, 120)]),
        (COLD, "hot_hold", [(1, 50), (4, 50)]),
        (FALL, "cool", [(0, 110), (1.5, 90), (3, 60)]),
        (RISE, "reheat", [(0, 50), (1.5, 80), (3, 100)]),
        (AT_ONCE, "cook", [(1, 90)]),
        (HELD, "cook", [(1, 90), (2, 100), (5, 90)]),
        (LADDER, "cook", [(1, 70), (2, 100), (2.5, 70)]),
    ]
    for test, stage, log in missing:
        assert asked_for(answer(test, middle(stage), log), log) is not None
