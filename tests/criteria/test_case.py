"""What a criterion is told: moments in words, figures in their unit, neighbours, passivity."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest

from tempwitness.bounds.trace import Trace
from tempwitness.criteria.case import Local, distance, figure, reading_words
from tempwitness.model.figures import Limit
from tempwitness.model.vocabulary import Decided, Place
from tests.criteria.cases import case, moment, stages

FOUR_O_CLOCK = datetime(2026, 7, 4, 16, 0, tzinfo=UTC).timestamp()


@pytest.mark.parametrize(
    ("many", "later", "said"),
    [
        (False, 0, "16:00"),
        (False, 5, "16:00:05"),
        (True, 0, "Sat 4 Jul 16:00"),  # 4 July 2026 is a Saturday
    ],
)
def test_moments_in_words(many: bool, later: float, said: str) -> None:
    assert Local("UTC", many_days=many).say(FOUR_O_CLOCK + later) == said


def test_the_doubled_hour_is_told_apart() -> None:
    """In New York the hour from 01:00 comes twice on 1 November 2026: at 05:00 and 06:00 UTC."""
    local = Local("America/New_York", many_days=False)
    first = datetime(2026, 11, 1, 5, 30, tzinfo=UTC).timestamp()
    assert local.say(first) == "01:30 (EDT)"
    assert local.say(first + 3600) == "01:30 (EST)"
    assert local.say(first + 7200) == "02:30"
    assert local.iso(first) == "2026-11-01T01:30:00-04:00"


LIMIT = Limit.model_validate({"f": 135, "c": 57, "op": ">="})


def two(low: float, high: float, *, celsius: tuple[bool, bool] = (False, True)) -> Trace:
    """A trace of two readings that are both known to lie from one value to the other."""
    none = np.zeros(2, dtype=np.int64)
    return Trace(
        "1", Place.CORE, "", np.arange(2.0), np.full(2, low), np.full(2, high),
        np.array(celsius), np.ones(1, bool), none, none,
    )  # fmt: skip


def test_figures_and_readings_in_their_unit() -> None:
    assert figure(LIMIT, None) == "135 °F"
    assert figure(LIMIT, two(60, 60)) == "135 °F"  # mixed units: the code's first figure
    assert figure(LIMIT, two(60, 60, celsius=(True, True))) == "57 °C"
    assert reading_words(two(60, 60), 0) == "60 °F"
    assert reading_words(two(60, 61.5), 1) == "60 °C to 61.5 °C"
    assert reading_words(two(-np.inf, np.inf), 0) == "a doubtful reading"


def test_the_distance_from_a_limit_is_in_the_reading_s_own_unit() -> None:
    # 60 °F lies 75 °F below 135 °F, 60 °C lies 3 °C above 57 °C.
    assert distance(two(60, 60), 0, LIMIT) == -75
    assert distance(two(60, 60), 1, LIMIT) == 3
    assert distance(two(-np.inf, np.inf), 0, LIMIT) is None
    assert distance(two(60, 60), None, LIMIT) is None
    assert distance(two(60, 60), -1, LIMIT) is None


def test_of_a_range_the_end_counts_that_is_worse() -> None:
    # Corrected readings between 38 and 40 °F: 40 leaves 1 °F to 41 °F, 38 lies 97 below 135 °F.
    ceiling = Limit.model_validate({"f": 41, "c": 5, "op": "<="})
    assert distance(two(38, 40), 0, ceiling) == 1
    assert distance(two(38, 40), 0, LIMIT) == -97


FOUR = stages([("cook", 0, 4), ("rest", 4, 6), ("cool", 6, 9), ("cold_hold", 9, 12)])


def test_neighbours() -> None:
    first, last = case(FOUR, 1), case(FOUR, 4)
    assert first.previous is None
    assert first.following is FOUR[1]
    assert last.previous is FOUR[2]
    assert last.following is None
    assert (first.window().own_end, last.window().own_end) == (False, True)


@pytest.mark.parametrize(
    ("number", "since"),
    [
        pytest.param(1, None, id="a cook is heated"),
        pytest.param(2, 0, id="a rest: from the cook on, whose finish reading starts it"),
        pytest.param(3, 6, id="a cooling: from its own start"),
        pytest.param(4, None, id="a cold hold may be warmed and chilled"),
    ],
)
def test_from_when_nothing_heats_the_food(number: int, since: float | None) -> None:
    noted = case(FOUR, number).window().passive_from
    assert noted == (float("inf") if since is None else moment(since))
    spans = [(s.name.value, 0, 1) for s in FOUR]
    guessed = case(stages(spans, decided=Decided.INFERRED), number)
    assert guessed.window().passive_from == float("inf")


def test_a_rest_after_anything_but_heat_starts_with_itself() -> None:
    moved = stages([("transport", 0, 1), ("rest", 1, 3)])
    assert case(moved, 2).window().passive_from == moment(1)


@pytest.mark.parametrize(
    ("closed", "asked", "live"),
    [(False, 8, True), (False, "8:00:01", False), (True, 4, False)],
)
def test_a_stage_runs_until_a_reading_is_overdue(
    closed: bool, asked: str | float, live: bool
) -> None:
    assert case(stages([("hot_hold", 0, 4)], closed=closed), asked=asked).live is live
