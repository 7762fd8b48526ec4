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
from tests.support import Readings, lamb

FOLDER = Path(__file__).parent / "other_codes"
MINUTE = 60.0
INJECTED = lamb(forms=(Form.INJECTED,))
TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
CHICKEN = lamb(Species.CHICKEN, cut=Cut.WHOLE_BIRD)


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


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 130.0), ("1:30", 80.0), ("6:30", 40.0)], ("met", "met"), id="V-26"),
        # 80.1 °F at 1:30:59 stands for the crossing at 1:31.
        pytest.param(
            [(0, 130.0), ("1:30:59", 80.1), ("1:31", 80.0), (6, 40.0)],
            ("not_met", "met"),
            id="V-27",
        ),
    ],
)
def test_cooling_in_plants(readings: Readings, expected: tuple[str, str]) -> None:
    fsis = code("fsis")
    both = ("cool-first", "cool-then")
    assert tuple(answer(r, "cool", readings, code=fsis) for r in both) == expected


def test_t32_chicken_of_unknown_fat_takes_the_strictest_column() -> None:
    """V-50: 3.1 min at 150 °F is enough for 8 % of fat; unknown fat goes by 12 %, 4.2 min."""
    readings, fsis = held(150.0, 3.1 * MINUTE), code("fsis")
    fat = {"fat": "8"}
    assert answer("chicken-8", "cook", readings, food=CHICKEN, facts=fat, code=fsis) == "met"
    assert answer("chicken-12", "cook", readings, food=CHICKEN, code=fsis) == "not_met"


@pytest.mark.parametrize(
    ("value", "expected"),
    [pytest.param(164.0, "not_met", id="V-51-164"), pytest.param(165.0, "met", id="V-51-165")],
)
def test_turkey_in_plants(value: float, expected: str) -> None:
    readings = held(value, 0.0)
    assert answer("turkey-1", "cook", readings, food=TURKEY, code=code("fsis")) == expected


def test_a_missed_target_may_still_keep_a_lower_row() -> None:
    """V-56: 158 °F was missed, but 27 s at 154 °F or more are a row of their own."""
    assert answer("meat", "cook", held(154.0, 27.0), code=code("fsis")) == "met"
