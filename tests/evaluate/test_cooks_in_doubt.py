"""A cook of which a part stays unread breaks nothing: the food may have been done there.

Limit: FDA Food Code 2022 3-401.11(A)(3), poultry at 165 °F.
"""

from __future__ import annotations

from tempwitness.model.logs import Note
from tempwitness.model.vocabulary import Cut, Species
from tests.support import Readings, channel, judge, lamb, note, staged


def cooked(readings: Readings, *steps: Note) -> list[str]:
    """Answers of the requirement on cooking, at each of the cooks that it is asked of."""
    turkey = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
    findings = judge(staged([channel(readings)], steps, food=turkey)).findings
    return [
        f.verdict.value
        for f in findings
        if f.requirement.endswith("#cook-poultry-stuffed") and f.verdict.value != "not_applicable"
    ]


def test_a_first_cook_that_may_have_been_enough_is_not_undone_by_a_second() -> None:
    # From 1:30 to 6:30 nothing was read; the second cook, read each hour, ends at 140 °F.
    steps = (note(0, "cook"), note(8, "cool"), note(12, "cook"), note(15, event="finished"))
    second = [(12, 60.0), (13, 100.0), (14, 130.0), (15, 140.0)]
    unread = [(0, 40.0), (1.5, 90.0), (6.5, 120.0), (8, 110.0), *second]
    assert cooked(unread, *steps) == ["not_shown"]
    read = [(0, 40.0), (1.5, 90.0), (4, 100.0), (6.5, 120.0), (8, 110.0), *second]
    assert cooked(read, *steps) == ["not_met"]


def test_what_was_not_read_after_food_fell_may_have_been_hot_enough() -> None:
    # Cook noted to 12:00; from 4:30, at 107 °F, to the serving nothing was read for more than 4 h.
    steps = (note(0, "cook"), note(12, "serve"), note(13, event="finished"))
    fell = [(0, 46.0), (1, 98.0), (2.5, 139.0), (4.5, 107.0), (13, 136.0)]
    assert cooked(fell, *steps) == ["not_shown"]
    # Read each four hours it stays below 165 °F all the time.
    again = [*fell[:-1], (8.5, 100.0), (12, 90.0), (13, 136.0)]
    assert cooked(again, *steps) == ["not_met"]


def test_heat_that_rises_on_in_the_rest_counts_after_a_fall_in_doubt() -> None:
    # The first point falls to 129 °F near the end of the cook, so that what follows is in doubt;
    # the second is read at 120 °F there and at 170 °F in the wrapped rest.
    steps = (note(0, "cook"), note(8.5, "rest"), note(12, "serve"), note(13, event="finished"))
    turkey = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
    hot = [(0, 40.0), (4, 120.0), (7, 170.0), (8, 129.0), (11, 128.0), (13, 127.0)]
    slow = [(0, 40.0), (4, 110.0), (8, 120.0), (10, 170.0), (13, 140.0)]
    points = [channel(r, point=p, probe=p) for p, r in (("a", hot), ("b", slow))]
    findings = judge(staged(points, steps, food=turkey)).findings
    answers = [f.verdict.value for f in findings if f.requirement.endswith("cook-poultry-stuffed")]
    assert answers == ["not_shown"]
