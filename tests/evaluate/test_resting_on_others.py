"""A way that rests on another requirement: at which stages that other one must have been met."""

from __future__ import annotations

from tempwitness.rulebook.load import load_code
from tests.support import channel, found, judge, note, staged

CALIFORNIA = "us/ca/retail-food-code"


def cold_line(first: float, second: float, number: int) -> str:
    """Answer on cold food of a serving line, twice held cold, for one of its stages."""
    log = staged(
        [
            channel(
                [
                    ("0:00", first),
                    ("0:30", first),
                    ("1:00", 40.0),
                    ("1:30", second),
                    ("2:00", second),
                ]
            )
        ],
        [
            note("0:00", "cold_hold"),
            note("0:45", "prep"),
            note("1:15", "cold_hold"),
            note("2:00", event="finished"),
        ],
        facts={"allowed_45": "serving_line"},
        business="restaurant",
    )
    return found(
        judge(log, code=load_code(CALIFORNIA)), "cold-hold", stage_number=number
    ).verdict.value


def test_a_serving_line_kept_once_says_nothing_of_the_next_time() -> None:
    """Cal. Health and Safety Code 113996: 45 °F at most, whenever it stands on the line."""
    assert cold_line(44.0, 44.0, 3) == "met"
    assert cold_line(44.0, 50.0, 3) == "not_met"


def test_a_serving_line_broken_earlier_does_not_break_a_later_one_that_was_kept() -> None:
    """The stage's own answer decides."""
    assert cold_line(50.0, 44.0, 3) == "met"
    assert cold_line(50.0, 44.0, 1) == "not_met"
