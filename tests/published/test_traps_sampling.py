"""What a recorder that writes every quarter of an hour cannot show.

The number is that of the list of traps for codes outside the United States.
"""

from __future__ import annotations

import pytest

from tempwitness.model.vocabulary import Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, finding
from tests.support import Readings, lamb, note

#: 80 °C for 6 s is the last row of "Prove it"; 60 °C for 45 min is its first (food.gov.uk).
PORK = lamb(Species.PORK)
COOKED = (note(-3, "cook"),)


def cooked(readings: Readings) -> str:
    return answer(
        "cook-ladder", "cook", readings, code=load_code("gb/guidance"), celsius=True, food=PORK
    )


def quarters(*values: float) -> Readings:
    return [(i / 4, value) for i, value in enumerate(values)]


def cooling(readings: Readings) -> str:
    """N.B. Reg. 2009-138 s. 27(1)(c): from 60 to 20 °C within 2 h."""
    return answer(
        "cool-20-by-2h",
        "cool",
        readings,
        before=COOKED,
        code=load_code("ca/nb/2009-138"),
        celsius=True,
    )


def test_trap27_one_reading_of_80_is_no_six_seconds_of_it() -> None:
    """Between 50 °C a quarter before and a quarter after, 80 °C may have lasted an instant."""
    assert cooked(quarters(40, 50, 80, 50)) == "not_shown"
    assert cooked(quarters(40, 50, 80, 80)) == "met"
    # Two readings of 60 °C are 15 min of it, four are 45 min.
    assert cooked(quarters(40, 60, 60, 40)) != "met"
    assert cooked(quarters(40, 60, 60, 60, 60, 40)) == "met"


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        # 62 °C at 0:00, 58 at 0:15: the clock began between them. 20 °C was read at 2:00: at most
        # 2 h; at 2:15, with 22 °C at 2:00: from 1:45 to 2:15.
        ((62, 58, 50, 44, 38, 32, 28, 24, 20), "met"),
        ((62, 58, 50, 44, 38, 32, 28, 24, 22, 20), "not_shown"),
        ((62, 58, 50, 44, 38, 32, 28, 24, 22, 21, 20), "not_met"),
    ],
)
def test_trap27_a_crossing_lies_between_two_readings(
    values: tuple[float, ...], expected: str
) -> None:
    assert cooling(quarters(*values)) == expected


def test_trap27_a_gap_beyond_the_monitoring_time_is_not_shown() -> None:
    """N.B. prints 60 °C for hot food; five hours unread are more than anybody may leave it."""
    code = load_code("ca/nb/2009-138")
    read = finding("hot-hold", "hot_hold", [(0, 70.0), (5, 70.0)], code=code, celsius=True)
    assert read.verdict.value == "not_shown"
    assert read.settle is not None
    again = [(0, 70.0), (2.5, 69.0), (5, 70.0)]
    assert answer("hot-hold", "hot_hold", again, code=code, celsius=True) == "met"
