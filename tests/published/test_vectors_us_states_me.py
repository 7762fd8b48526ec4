"""Worked examples of Maine: 10-144 ch. 200 (kitchens) and 01-001 ch. 346 (plants)."""

from __future__ import annotations

import pytest

from tempwitness.rulebook.load import load_code
from tests.published.traces import answer
from tests.support import Readings

MAINE = load_code("us/me/ch-200")
MAINE_PLANTS = load_code("us/me/ch-346")


def steady(value: float, hours: float = 2.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


@pytest.mark.parametrize(
    ("readings", "first", "then"),
    [
        # 01-001 ch. 346 §3-12: 140 to 70 °F in 2 h, then 70 to 41 °F in 4 h.
        pytest.param(
            [(0, 135.0), ("0:30", 70.0), (3, 50.0), ("5:58:59", 41.1), ("5:59", 41.0)],
            "not_shown",  # when 140 °F was passed is not on record
            "not_met",
            id="V-19-maine",
        ),
        ([(0, 140.0), (2, 70.0), (6, 41.0)], "met", "met"),
        ([(0, 140.0), ("2:00:59", 70.1), ("2:01", 70.0), (6, 41.0)], "not_met", "met"),
    ],
)
def test_t03_two_clocks_of_plants_in_maine(readings: Readings, first: str, then: str) -> None:
    assert answer("cool-140-to-70", "cool", readings, code=MAINE_PLANTS) == first
    assert answer("cool-70-to-41", "cool", readings, code=MAINE_PLANTS) == then


@pytest.mark.parametrize(
    ("readings", "first", "whole"),
    [
        ([(0, 135.0), (2, 70.0), (6, 41.0)], "met", "met"),
        ([(0, 135.0), ("2:00:59", 70.1), ("2:01", 70.0), (6, 41.0)], "not_met", "met"),
        ([(0, 135.0), ("0:30", 70.0), (3, 50.0), ("5:58:59", 41.1), ("5:59", 41.0)], "met", "met"),
    ],
)
def test_kitchens_in_maine_go_by_the_food_code(readings: Readings, first: str, whole: str) -> None:
    """10-144 ch. 200 is of the Food Code's form; only 3-501.11 and .12 are confirmed as read."""
    assert answer("cool-135-to-70", "cool", readings, code=MAINE) == first
    assert answer("cool-135-to-41", "cool", readings, code=MAINE) == whole
    slack, hot = MAINE.find("slack"), MAINE.find("hot-hold")
    assert slack is not None
    assert hot is not None
    assert (slack.confirmed.value, hot.confirmed.value) == ("text", "memory")
    assert MAINE.find("cook-label") is None


@pytest.mark.parametrize(("value", "expected"), [(41.0, "met"), (41.1, "not_met")])
def test_slacking_in_maine(value: float, expected: str) -> None:
    """10-144 ch. 200 §3-501.12: slacked at 41 °F or below."""
    assert answer("slack", "thaw", steady(value), method="slacking", code=MAINE) == expected
