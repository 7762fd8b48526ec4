"""Cells without a figure, figures as bounds, and slips of the pen beside instruments' marks."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tempwitness.calibration import correct
from tempwitness.model.vocabulary import Flag, Place, StageName
from tests.quality.made import FAIL, MISSING, OK, SUSPECT, channel, codes, flags, log, note

NONE = int(Flag.NOT_EVALUATED)


def test_a_word_is_no_temperature_and_an_empty_cell_no_reading() -> None:
    cells = replace(
        channel([138, math.nan, math.nan, math.nan, 137]), text=("138", "", "--", "Err", "137")
    )
    found = log(cells)
    assert found.flags[0].tolist() == [OK, MISSING, MISSING, MISSING, OK]
    assert codes(found) == [(1, 2, "missing"), (3, 3, "syntax")]
    assert found.doubts[1].reason == "'Err' is no temperature"


@pytest.mark.parametrize("word", ["HI", "OL", "warm"])
def test_a_word_that_speaks_of_a_temperature_leaves_it_unknown(word: str) -> None:
    # Missing, it would vanish, and 38 and 39 °F would vouch for the hour between them.
    cells = replace(
        channel([38, math.nan, 39], at=[0, 30, 60], place=Place.CORE), text=("38", word, "39")
    )
    found = log(cells)
    assert found.flags[0].tolist() == [OK, SUSPECT, OK]
    corrected = correct(found)
    assert corrected.lower[0].tolist() == [38, -math.inf, 39]
    assert corrected.upper[0].tolist() == [38, math.inf, 39]


def test_bounds_in_place_of_a_figure_are_passed_over_by_tests_of_change() -> None:
    bounds = replace(
        channel([38, 41, 38.5, 38]),
        low=np.array([38, -math.inf, 38.5, 38]),
        high=np.array([38, 41, 38.5, 38]),
    )
    found = log(bounds)
    assert found.flags[0].tolist() == [OK, NONE, OK, OK]
    assert found.doubts == ()
    # The range is tested all the same.
    hot = replace(bounds, value=np.array([38.0, 990, 38.5, 38]), at=bounds.at * 1.0)
    assert log(hot).flags[0].tolist() == [OK, SUSPECT, OK, OK]


@pytest.mark.parametrize(
    ("value", "celsius"),
    [
        (-999.9, False),
        (-275.0, True),
        (-255.0, False),
        (1100.0, True),
        (-32768.0, False),
        (9.9e37, False),
        (9.99999999e37, True),
    ],
)
def test_marks_of_instruments_fail(value: float, celsius: bool) -> None:
    # Makers' data sheets and users' reports, from memory.
    good = 58.0 if celsius else 138.0
    assert flags(channel([good, value, good], celsius=celsius)) == [OK, FAIL, OK]


def test_a_mark_is_known_as_it_is_printed_not_bit_by_bit() -> None:
    assert flags(channel([58.0, -127.04, 58.0], celsius=True)) == [OK, FAIL, OK]
    assert flags(channel([138.0, 999.04, 138.0])) == [OK, FAIL, OK]


@pytest.mark.parametrize("value", [999.0, 3276.7, 2500.0])
def test_what_an_instrument_cannot_have_meant_a_hand_may(value: float) -> None:
    # 999 for 99.9: failed, it would vanish and the readings around it would vouch for an hour.
    assert flags(channel([38.0, value, 39.0], at=[0, 30, 60])) == [OK, SUSPECT, OK]
    assert flags(channel([38.0, value, 39.0])) == [OK, FAIL, OK]
    typed = replace(channel([38.0, value, 39.0]), source="record")
    assert flags(typed) == [OK, SUSPECT, OK]


def test_the_power_on_value_at_either_end_is_doubted() -> None:
    assert flags(channel([85.0, 20.1, 20.2, 20.3], celsius=True))[0] == SUSPECT
    assert flags(channel([58.0, 58.1, 58.0, 0.0], celsius=True)) == [OK, OK, OK, SUSPECT]
    # A whole log at 85 °C may be oil, soup or a dead probe: nothing stands beside it.
    assert flags(channel([85.0] * 4, celsius=True)) == [OK] * 4


def test_air_is_ranged_by_what_was_noted() -> None:
    air = channel([38.0, 39, 140, 39], place=Place.AIR)
    assert codes(log(air, notes=[note(0, step=StageName.COLD_HOLD)])) == [(2, 2, "range")]
    assert log(air, notes=[note(0, step=StageName.COOK)]).doubts == ()
    assert log(air).doubts == ()
    # Food that is hot in a cold hold is a limit broken, and no doubt may hide it.
    assert log(channel([140.0] * 4), notes=[note(0, step=StageName.COLD_HOLD)]).doubts == ()
