"""Worked examples of other codes, to see that the same forms say what those codes say.

Each code stands in `other_codes/` with the few figures that its examples need, its source named in
the file. They are not shipped: nobody is judged by them.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tempwitness.model.rule import Code
from tempwitness.model.vocabulary import Cut, Form, Species
from tempwitness.rulebook.load import load_code_folder
from tests.published.traces import answer, held
from tests.support import ZERO, Readings, channel, found, judge, lamb, note, seconds, staged

FOLDER = Path(__file__).parent / "other_codes"
INJECTED = lamb(forms=(Form.INJECTED,))
TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)


def code(name: str) -> Code:
    return load_code_folder(f"test/{name}", FOLDER / name)


def test_fifteen_seconds_of_the_2013_edition() -> None:
    """V-11: 155 °F for 15 s was enough until the edition of 2017 asked for 17 s."""
    fda = code("fda-2013")
    assert answer("tenderised", "cook", held(155.0, 15.0), food=INJECTED, code=fda) == "met"


def test_one_reading_shows_no_fifteen_seconds() -> None:
    """V-14: 165 °F and a minute later 164 °F: anything up to a minute is possible."""
    readings: Readings = [(0, 165.0), ("0:01", 164.0)]
    assert answer("poultry", "cook", readings, food=TURKEY, code=code("fda-2013")) == "not_shown"


def test_two_clocks_of_new_york() -> None:
    """V-21: the first clock runs from 120 °F, the second from 70 °F."""
    readings: Readings = [(0, 160.0), ("1:10", 120.0), ("3:10", 70.0), ("7:10", 45.0)]
    ny = code("ny-14-1")
    assert answer("cool-first", "cool", readings, code=ny) == "met"
    assert answer("cool-then", "cool", readings, code=ny) == "met"


@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        pytest.param("hot_hold", "hot", 139.9, "not_met", id="V-30-hot"),
        pytest.param("cold_hold", "cold", 45.0, "met", id="V-30-cold"),
    ],
)
def test_holding_in_new_york(stage: str, requirement: str, value: float, expected: str) -> None:
    readings: Readings = [(0, value), (2, value)]
    assert answer(requirement, stage, readings, code=code("ny-14-1")) == expected


def test_reheating_in_south_dakota() -> None:
    """V-33: 165 °F at 1 h 1 min, where 1 h is allowed."""
    readings: Readings = [(0, 41.0), ("0:30", 100.0), ("1:00:59", 164.9), ("1:01", 165.0)]
    assert answer("reheat", "reheat", readings, code=code("sd-44-02-07")) == "not_met"


@pytest.mark.parametrize(
    ("end", "event", "expected"),
    [
        pytest.param("15:00", None, "open", id="V-49-at-eight"),
        pytest.param("15:00", "discarded", "met", id="V-49-destroyed"),
        pytest.param("20:00", "finished", "not_met", id="V-49-kept"),
    ],
)
def test_t39_hot_held_leftovers_go_at_the_end_of_the_day(
    end: str, event: str | None, expected: str
) -> None:
    """V-49: held at 140 °F all day; at 20:00 (0:00 is 05:00) what is left must go by midnight."""
    steps = [note(0, "hot_hold")]
    if event is not None:
        steps.append(note(end, event=event))
    readings = [(h, 140.0) for h in range(0, int(seconds(end) // 3600) + 1, 3)]
    asked = ZERO + (seconds("15:00") if event is None else seconds("40:00"))
    evaluation = judge(staged([channel(readings)], steps), asked=asked, code=code("ca-temporary"))
    assert found(evaluation, "end-of-day").verdict.value == expected
