"""Worked examples of other codes, to see that the same forms say what those codes say.

Each code stands in `other_codes/` with the few figures that its examples need, its source named in
the file. They are not shipped: nobody is judged by them.
"""

from __future__ import annotations

from pathlib import Path

from tempwitness.model.rule import Code
from tempwitness.model.vocabulary import Cut, Form, Species
from tempwitness.rulebook.load import load_code_folder
from tests.published.traces import answer, held
from tests.support import Readings, lamb

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
