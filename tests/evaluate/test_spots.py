"""Two probes that are said to be at one point and disagree: each shows for itself.

Food Code 2022 3-401.11(A) asks for "all parts of the food"; 3-501.14(A) cools the food, not its
coldest corner. The expectations are plain from the figures: 165 °F for a turkey, 70 °F in 2 h.
"""

from __future__ import annotations

import pytest

from tempwitness.model.vocabulary import Form, Species
from tests.support import Readings, channel, found, judge, lamb, note, staged

TURKEY = lamb(Species.TURKEY, forms=(Form.INTACT,), cut=None)


def cooked(one: Readings, other: Readings, *, second: str = "B") -> str:
    channels = [channel(one, probe="A"), channel(other, probe=second)]
    steps = [note(0, "cook"), note(4, "serve"), note(5, event="finished")]
    evaluation = judge(staged(channels, steps, food=TURKEY))
    return found(evaluation, "cook-poultry-stuffed").verdict.value


LOGGED: Readings = [(0, 60.0), (2, 150.0), (3, 166.0), ("3:10", 168.0), (5, 150.0)]


@pytest.mark.parametrize(
    ("spot", "expected"),
    [
        pytest.param([("3:01", 150.0)], "not_shown", id="a colder spot, read after"),
        pytest.param([("2:59", 150.0)], "not_shown", id="a colder spot, read before"),
        pytest.param([("3:01", 150.0), ("3:40", 165.0)], "met", id="it got there as well"),
        pytest.param([("3:01", 162.0)], "met", id="within what two good probes may differ"),
        pytest.param([("2:01", 149.0)], "met", id="agreed while it was cold"),
        pytest.param([("2:01", 120.0)], "not_shown", id="a colder spot that was not read again"),
        pytest.param([("3:05", 180.0)], "met", id="a warmer spot"),
        pytest.param([("2:30", 120.0)], "met", id="too long apart to disagree"),
    ],
)
def test_a_colder_spot_has_to_get_there_too(spot: Readings, expected: str) -> None:
    assert cooked(LOGGED, spot) == expected


def test_readings_of_one_probe_are_one_history() -> None:
    assert cooked(LOGGED, [("3:01", 150.0)], second="A") == "met"


@pytest.mark.parametrize(
    ("spot", "expected"),
    [
        pytest.param([("1:31", 90.0), ("4:00", 70.0)], "not_shown", id="the middle took longer"),
        pytest.param([("1:31", 90.0), ("1:58", 70.0)], "met", id="the middle in time as well"),
        pytest.param([("1:31", 73.0)], "met", id="within what two good probes may differ"),
        pytest.param([("1:31", 50.0)], "met", id="a colder spot"),
    ],
)
def test_a_warmer_spot_has_to_cool_as_well(spot: Readings, expected: str) -> None:
    main: Readings = [(0, 136.0), (1, 100.0), ("1:30", 70.0), ("1:40", 66.0), (5, 41.0)]
    steps = [note(0, "cool"), note(5, event="finished")]
    channels = [channel(main, probe="A"), channel(spot, probe="B")]
    evaluation = judge(staged(channels, steps))
    assert found(evaluation, "cool-135-to-70").verdict.value == expected
