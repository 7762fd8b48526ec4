"""Warmer, longer, laxer: which way a verdict may move. Limits are those of `test_settling`."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.model.forms import Test
from tests.criteria.cases import answer
from tests.properties.test_settling import (
    AT_ONCE,
    COLD,
    FALL,
    HELD,
    HOT,
    LADDER,
    RISE,
    middle,
    only_one_way,
    readings,
)
from tests.support import Readings

SOME = settings(max_examples=150, deadline=None, derandomize=True)

#: From worst to best; what does not apply is not compared.
WORTH = {"not_met": 0, "not_shown": 1, "open": 1, "met": 2}


def worth(test: Test, stage: str, log: Readings) -> int | None:
    return WORTH.get(answer(test, middle(stage), log).verdict.value)


def not_worse(one: int | None, other: int | None) -> bool:
    return one is None or other is None or other >= one


@pytest.mark.parametrize(
    ("test", "stage", "way"),
    [
        pytest.param(HOT, "hot_hold", 1, id="a hot hold, warmer"),
        pytest.param(HOT, "rest", 1, id="a rest, warmer"),
        pytest.param(AT_ONCE, "cook", 1, id="a cook, warmer"),
        pytest.param(HELD, "cook", 1, id="a held cook, warmer"),
        pytest.param(LADDER, "cook", 1, id="a ladder, warmer"),
        pytest.param(COLD, "hot_hold", -1, id="an upper limit, colder"),
    ],
)
@SOME
@given(log=readings, by=st.integers(1, 30))
def test_further_on_the_safe_side_is_never_worse(
    test: Test, stage: str, way: int, log: Readings, by: int
) -> None:
    moved = [(t, v + way * by) for t, v in log]
    assert not_worse(worth(test, stage, log), worth(test, stage, moved))


@pytest.mark.parametrize(("test", "stage"), [(FALL, "cool"), (RISE, "reheat")])
@SOME
@given(log=readings, more=st.floats(1, 4))
def test_more_time_is_never_worse(test: Test, stage: str, log: Readings, more: float) -> None:
    log = only_one_way(log, test)
    assert isinstance(test, type(FALL) | type(RISE))
    longer = test.model_copy(update={"within": test.within * more})
    assert not_worse(worth(test, stage, log), worth(longer, stage, log))


@pytest.mark.parametrize(
    ("test", "stage"),
    [(HOT, "hot_hold"), (FALL, "cool"), (RISE, "reheat"), (HELD, "cook"), (COLD, "hot_hold")],
)
@SOME
@given(log=readings, late=st.integers(1, 500))
def test_the_time_of_day_does_not_matter(test: Test, stage: str, log: Readings, late: int) -> None:
    """The same log read on another clock: everything `late` minutes later."""
    one = answer(test, middle(stage), log)
    shifted = middle(stage)
    by = late * 60.0
    moved = tuple(replace(s, start=s.start + by, end=s.end + by) for s in shifted.stages)
    shifted.stages, shifted.stage = moved, moved[1]
    shifted.asked += by
    other = answer(test, shifted, [(float(t) + late / 60, v) for t, v in log])
    assert other.verdict == one.verdict
    assert other.least == pytest.approx(one.least)
    assert other.most == pytest.approx(one.most)
