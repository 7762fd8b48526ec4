"""Stages read from traces that were made by hand, with what a cook would call them.

Every expectation follows from the trace by the words of the project: hot from 135 °F / 57 °C,
cold up to 41 °F / 5 °C, a cooling once it has fallen to 70 °F / 21 °C, a hold where the food stays
within 4 °F for 2 h.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from tempwitness.model.vocabulary import Decided
from tempwitness.rulebook.load import load_code
from tests.stages.shown import inferred, of, shown
from tests.support import FOOD_CODE, Readings, channel, judge, note, staged

#: Thirty-four hours of a brisket: cook with a stall, wrapped rest, hold, cooling, cold, reheat.
WHOLE: Readings = [
    (0, 38), (2, 80), (4, 120), (6, 145), (8, 160), (10, 163), (12, 161), (14, 180), (16, 203),
    (17, 195), (18, 186), (19, 176), (20, 163), (21, 150), (22, 151), (23, 150), (24, 150),
    (25, 120), (26, 69), (28, 50), (30, 40), (31, 37),
    (32, 100), (33, 168), (34, 167),
]  # fmt: skip
WHOLE_STAGES = [
    ("cook", 0, 16),
    ("rest", 16, 21),
    ("hot_hold", 21, 24),
    ("cool", 24, 30),
    ("cold_hold", 30, 31),
    ("reheat", 31, 33),
    ("rest", 33, 34),
]


def celsius(readings: Readings) -> list[tuple[str | float, float]]:
    return [(t, round((v - 32) / 1.8, 1)) for t, v in readings]


def test_a_lot_from_the_smoker_to_the_second_day() -> None:
    log = inferred(WHOLE)
    assert shown(log) == WHOLE_STAGES
    assert {s.decided for s in of(log)} == {Decided.INFERRED}
    assert [s.closed for s in of(log)] == [True] * 6 + [False]
    assert not any(s.question for s in of(log))
    assert log.assumptions[0].startswith("piece 1: no step was noted")


def test_the_same_lot_in_celsius() -> None:
    assert shown(inferred(celsius(WHOLE), celsius=True)) == WHOLE_STAGES


def test_a_dip_in_the_stall_ends_no_cook() -> None:
    stall: Readings = [(0, 40), (4, 140), (6, 165), (7, 158), (8, 150), (9, 160), (12, 203)]
    assert shown(inferred(stall)) == [("cook", 0, 12)]


def test_cold_keeping_before_the_cook() -> None:
    log = inferred([(0, 38), (4, 39), (8, 40), (10, 100), (12, 150), (14, 203)])
    assert shown(log) == [("cold_hold", 0, 8), ("cook", 8, 14)]


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 38)], [("cold_hold", 0, 0)], id="one cold reading"),
        pytest.param([(0, 160)], [("rest", 0, 0)], id="one hot reading"),
        pytest.param([(0, 38), (9, 40)], [("cold_hold", 0, 9)], id="always cold"),
        pytest.param([(0, 190), (3, 150)], [("rest", 0, 3)], id="hot and falling"),
        pytest.param(
            [(0, 150), (1, 150), (2, 151), (4, 149)], [("hot_hold", 0, 4)], id="hot and steady"
        ),
        pytest.param(
            [(0, 160), (2, 60), (4, 40)], [("rest", 0, 0), ("cool", 0, 4)], id="hot, then cold"
        ),
    ],
)
def test_traces_that_say_one_thing(
    readings: Readings, expected: list[tuple[str, float, float]]
) -> None:
    log = inferred(readings)
    assert shown(log) == expected
    assert not any(s.question for s in of(log))


def test_no_core_reading_no_stage() -> None:
    assert staged([], []).stages == ()
    assert inferred([(0, 999.0)]).stages == ()  # a mark for no reading


#: Traces that may be two things, the stage in question and how its question begins.
AMBIGUOUS = [
    pytest.param([(0, 60), (4, 90)], "cold_hold", "Was this food kept cold", id="never hot"),
    pytest.param([(0, 75)], "cold_hold", "Was this food kept cold", id="one lukewarm reading"),
    pytest.param(
        [(0, 38), (6, 200), (7, 150), (8, 100), (9, 150)],
        "hot_hold", "Was this a hot hold that fell", id="fell and came back",
    ),
    pytest.param(
        [(0, 38), (6, 200), (7, 150), (8, 100)], "cool", "Was this a hot hold that fell",
        id="fell and stayed lukewarm",
    ),
    pytest.param(
        [(0, 200), (1, 150), (3, 60), (4, 65)], "cool", "Was this a hot hold that fell",
        id="cool and never cold",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("readings", "name", "question"), AMBIGUOUS)
def test_traces_that_may_be_two_things_ask(readings: Readings, name: str, question: str) -> None:
    asked = [s for s in of(inferred(readings)) if s.question]
    assert [s.name.value for s in asked] == [name]
    assert asked[0].question.startswith(question)


@pytest.mark.parametrize(("readings", "name", "question"), AMBIGUOUS)
def test_a_stage_in_question_is_never_met_nor_broken(
    readings: Readings, name: str, question: str
) -> None:
    """The cap is on every finding of that stage, whatever its readings say."""
    evaluation = judge(inferred(readings), code=load_code(FOOD_CODE))
    asked = {s.number for s in evaluation.stages if s.question}
    capped = [f.verdict.value for f in evaluation.findings if f.stage_number in asked]
    assert capped
    assert set(capped) <= {"not_shown", "not_applicable"}
    assert any(q.startswith(question) for q in evaluation.questions)
    assert evaluation.verdict.value != "met"
    assert name in {s.name for s in evaluation.stages}


def test_an_end_that_was_noted_closes_the_last_stage() -> None:
    log = inferred([(0, 38), (9, 40)], note(10, event="finished"))
    assert shown(log) == [("cold_hold", 0, 10)]
    assert of(log)[-1].closed


def test_of_several_points_the_one_with_most_readings_is_followed() -> None:
    few = channel([(0, 160), (3, 160)], point="B")
    many = channel([(0, 38), (1, 38), (2, 39), (3, 40)])
    assert shown(staged([few, many], [])) == [("cold_hold", 0, 3)]


def test_a_doubtful_reading_makes_no_stage() -> None:
    """230 °F in food that holds water is doubted: the trace stays cold."""
    assert shown(inferred([(0, 38), (4, 230), (8, 40)])) == [("cold_hold", 0, 8)]


def test_one_noted_step_and_nothing_is_inferred() -> None:
    assert shown(inferred(WHOLE, note(0, "cook"))) == [("cook", 0, 34)]


def test_an_inferred_rest_proves_nothing_about_a_long_gap() -> None:
    """7 h unread: a noted rest was not cooler than its last reading; an inferred one may be."""
    gap: Readings = [(0, 38), (6, 200), (13, 150)]
    held = [f for f in judge(inferred(gap)).findings if f.requirement.endswith("#hot-hold")]
    assert [f.verdict.value for f in held if f.stage == "rest"] == ["not_shown"]
    noted = staged([channel(gap)], [note(0, "cook"), note(6, "rest"), note(13, event="finished")])
    held = [f for f in judge(noted).findings if f.requirement.endswith("#hot-hold")]
    assert [f.verdict.value for f in held] == ["met"]


def test_the_order_of_stages_has_no_gap() -> None:
    stages = of(inferred(WHOLE))
    for before, after in pairwise(stages):
        assert before.end == after.start
        assert before.number + 1 == after.number
