"""Stages as people noted them, and what the readings add to them."""

from __future__ import annotations

from datetime import date

import pytest

from tempwitness.model.lot import TimeControlPlan
from tempwitness.model.vocabulary import Answer, Decided, Verdict
from tests.stages.shown import noted, of, shown
from tests.support import ZERO, Readings, channel, found, judge, note, staged

HOT: Readings = [(0, 50), (4, 150), (6, 150), (9, 150)]


def test_a_stage_lasts_from_its_note_to_the_next() -> None:
    log = noted(HOT, [note(0, "cook"), note(4, "rest"), note(6, "hot_hold")])
    assert shown(log) == [("cook", 0, 4), ("rest", 4, 6), ("hot_hold", 6, 9)]
    assert [s.closed for s in of(log)] == [True, True, False]
    assert [s.number for s in of(log)] == [1, 2, 3]
    assert {s.decided for s in of(log)} == {Decided.NOTED}


def test_notes_may_stand_in_any_order() -> None:
    steps = [note(6, "hot_hold"), note(0, "cook"), note(4, "rest")]
    assert shown(noted(HOT, steps)) == [("cook", 0, 4), ("rest", 4, 6), ("hot_hold", 6, 9)]


@pytest.mark.parametrize("event", ["finished", "discarded"])
def test_an_end_closes_the_last_stage(event: str) -> None:
    log = noted(HOT, [note(0, "cook"), note(4, "hot_hold"), note(8, event=event)])
    assert shown(log)[-1] == ("hot_hold", 4, 8)
    assert of(log)[-1].closed
    assert "piece 1: 1 reading(s) stand after the note" in log.assumptions[-1]


@pytest.mark.parametrize("event", ["finished", "discarded"])
@pytest.mark.parametrize("again", ["hot_hold", "cool"])
def test_what_goes_on_after_its_end_leaves_a_question(event: str, again: str) -> None:
    """Food that a later step finds was not gone (design: doubt is never met, nor not met)."""
    steps = [note(0, "cook"), note(4, "hot_hold"), note(6, event=event), note(8, again)]
    log = noted(HOT, steps)
    assert shown(log)[1:] == [("hot_hold", 4, 6), ("hot_hold", 6, 8), (again, 8, 9)]
    assert [bool(s.question) for s in of(log)] == [False, False, True, False]
    assert f"was noted as {event}" in of(log)[2].question
    assert found(judge(log), "hot-hold", stage_number=3).verdict is Verdict.NOT_SHOWN


def test_an_end_and_a_step_of_one_moment_leave_nothing_between() -> None:
    steps = [note(0, "cook"), note(4, "hot_hold"), note(6, event="finished"), note(6, "cool")]
    assert shown(noted(HOT, steps))[1:] == [("hot_hold", 4, 6), ("cool", 6, 9)]


def test_raw_food_that_goes_on_after_its_end_was_kept_cold_or_not() -> None:
    steps = [note(0, "thaw"), note(1, event="finished"), note(3, "cook")]
    log = noted([(0, 30), (1, 40), (3, 40), (5, 160)], steps)
    assert shown(log)[:2] == [("thaw", 0, 1), ("cold_hold", 1, 3)]
    assert found(judge(log), "cold-hold").verdict is Verdict.NOT_SHOWN


def test_other_events_close_nothing_and_are_the_last_word() -> None:
    log = noted(HOT, [note(0, "cook"), note(4, "hot_hold"), note(10, event="remark")])
    assert shown(log)[-1] == ("hot_hold", 4, 10)
    assert not of(log)[-1].closed


def test_a_step_noted_again_is_the_same_stage() -> None:
    cool: Readings = [(0, 140), (2, 60)]
    steps = [note(0, "cool", method="ice_bath"), note(1, "cool", method="refrigerator")]
    log = noted(cool, steps)
    assert shown(log) == [("cool", 0, 2)]
    assert of(log)[0].method == "ice_bath"
    unnamed = noted(cool, [note(0, "cool"), note(1, "cool", method="refrigerator")])
    assert of(unnamed)[0].method == "refrigerator"


@pytest.mark.parametrize("step", ["cook", "reheat"])
@pytest.mark.parametrize("ways", [("oven", "microwave"), ("microwave", "oven")])
def test_heat_in_part_by_microwave_is_held_to_its_limit(step: str, ways: tuple[str, str]) -> None:
    """Food Code 3-401.12 and 3-403.11(B): what a microwave heats reaches 165 °F in all parts."""
    log = noted(HOT, [note(hour, step, method=way) for hour, way in enumerate(ways)])
    assert [(s.name.value, s.method) for s in of(log)] == [(step, "microwave")]


def test_thawing_in_another_way_is_another_stage() -> None:
    cold: Readings = [(0, 30), (2, 45)]
    other = [note(0, "thaw", method="refrigerator"), note(1, "thaw", method="running_water")]
    assert shown(noted(cold, other)) == [("thaw", 0, 1), ("thaw", 1, 2)]
    same = [note(0, "thaw", method="refrigerator"), note(1, "thaw", method="refrigerator")]
    assert shown(noted(cold, same)) == [("thaw", 0, 2)]


def test_notes_of_one_piece_leave_the_others_to_their_own() -> None:
    both = [channel(HOT, piece=p) for p in ("1", "2")]
    steps = [
        note(0, "cook"),
        note(4, "rest", piece="1"),
        note(5, "hot_hold", piece="2"),
        note(8, event="finished", piece="2"),
    ]
    log = staged(both, steps, pieces=["1", "2"])
    assert shown(log, "1") == [("cook", 0, 4), ("rest", 4, 9)]
    assert shown(log, "2") == [("cook", 0, 5), ("hot_hold", 5, 8)]


def test_readings_before_the_first_step_are_said_to_belong_to_none() -> None:
    log = noted([(-2, 50), (-1, 50), (0, 60), (4, 150)], [note(0, "cook")])
    assert shown(log) == [("cook", 0, 4)]
    assert log.assumptions[0].startswith("piece 1: 2 reading(s) stand before the first noted step")


def test_a_reason_names_the_note() -> None:
    log = noted(HOT, [note(0, "cook")])
    assert of(log)[0].reason == "step 'cook' (test, line 1)"


@pytest.mark.parametrize("into", ["cold_hold", "freeze", "thaw"])
def test_warm_food_put_into_the_cold_is_cooling(into: str) -> None:
    """Nothing below 41 °F was read before it was put there: from 150 °F it can only be cooling."""
    log = noted([(0, 50), (4, 150), (9, 60)], [note(0, "cook"), note(4, into)])
    assert shown(log) == [("cook", 0, 4), ("cool", 4, 9)]
    assert of(log)[1].reason.endswith("the food was not yet cold, so it was cooling")


def test_how_cold_food_was_before_its_cook_says_nothing_of_afterwards() -> None:
    """Raw at 38 °F, cooked, and put straight into the refrigerator: it is cooling there."""
    read = [(0, 38), (4, 150), (5, 203), (7, 90), (10, 41), (12, 38)]
    log = noted(read, [note(0, "cook"), note(5, "cold_hold"), note(12, event="finished")])
    assert shown(log) == [("cook", 0, 5), ("cool", 5, 10), ("cold_hold", 10, 12)]


def test_a_cooling_goes_on_in_the_refrigerator_until_the_food_is_cold() -> None:
    steps = [note(0, "cook"), note(4, "cool"), note(6, "cold_hold")]
    warm = noted([(0, 50), (4, 150), (6, 80), (9, 60)], steps)
    assert shown(warm) == [("cook", 0, 4), ("cool", 4, 9)]
    # Read cold at 8:00: from then on it is held cold.
    then_cold = noted([(0, 50), (4, 150), (6, 80), (8, 41), (9, 39)], steps)
    assert shown(then_cold) == [("cook", 0, 4), ("cool", 4, 8), ("cold_hold", 8, 9)]
    # Read cold before it went there: the note stands.
    cold = noted([(0, 50), (4, 150), (5, 41), (6, 40), (9, 39)], steps)
    assert shown(cold)[-1] == ("cold_hold", 6, 9)


def test_cold_food_that_was_never_warm_is_held_cold_as_noted() -> None:
    assert shown(noted([(0, 50), (2, 50)], [note(0, "receive"), note(1, "cold_hold")])) == [
        ("receive", 0, 1),
        ("cold_hold", 1, 2),
    ]


def test_food_that_has_cooled_is_held_cold_from_its_first_cold_reading() -> None:
    log = noted([(0, 140), (4, 41), (8, 38)], [note(0, "cool"), note(8, event="finished")])
    assert shown(log) == [("cool", 0, 4), ("cold_hold", 4, 8)]
    assert [s.closed for s in of(log)] == [True, True]
    assert of(log)[1].decided is Decided.INFERRED
    at_the_end = noted([(0, 140), (4, 41)], [note(0, "cool"), note(4, event="finished")])
    assert shown(at_the_end) == [("cool", 0, 4)]


def test_every_point_must_be_cold() -> None:
    second = channel([(0, 140), (4, 60), (6, 40), (8, 38)], point="B")
    steps = [note(0, "cool"), note(8, event="finished")]
    log = noted([(0, 140), (4, 41), (8, 38)], steps, second)
    assert shown(log) == [("cool", 0, 6), ("cold_hold", 6, 8)]
    never = noted([(0, 140), (4, 41)], steps, channel([(0, 140), (8, 60)], point="B"))
    assert shown(never) == [("cool", 0, 8)]


def plan(start: float, pieces: frozenset[str] | None = None) -> TimeControlPlan:
    return TimeControlPlan(ZERO + start * 3600, "4h", date(2026, 7, 4), Answer.YES, pieces)


def under(log_plan: TimeControlPlan) -> list[tuple[str, float, float, bool]]:
    steps = [note(0, "hot_hold"), note(4, "serve"), note(6, "transport"), note(7, "cold_hold")]
    log = noted([(0, 150), (9, 38)], steps, time_control=[log_plan])
    rows = zip(shown(log), of(log), strict=True)
    return [(*row, stage.time_control is not None) for row, stage in rows]


def test_a_time_control_is_laid_over_its_stage_and_what_is_done_under_it() -> None:
    assert under(plan(4)) == [
        ("hot_hold", 0, 4, False),
        ("serve", 4, 6, True),
        ("transport", 6, 7, True),
        ("cool", 7, 9, False),  # hot when it was served, and not read cold on the way
    ]


def test_a_time_control_that_starts_within_a_stage_splits_it() -> None:
    rows = under(plan(3))
    assert rows[:3] == [("hot_hold", 0, 3, False), ("hot_hold", 3, 4, True), ("serve", 4, 6, True)]


def test_a_time_control_of_other_pieces_leaves_this_one_alone() -> None:
    assert not any(covered for *_, covered in under(plan(4, frozenset({"2"}))))
    assert any(covered for *_, covered in under(plan(4, frozenset({"1"}))))


def test_a_time_control_that_starts_with_the_last_word_of_the_record() -> None:
    log = noted([(0, 150), (4, 150)], [note(0, "hot_hold")], time_control=[plan(4)])
    assert shown(log) == [("hot_hold", 0, 4), ("hot_hold", 4, 4)]
    assert [s.time_control is not None for s in of(log)] == [False, True]


@pytest.mark.parametrize(
    ("events", "stretches"),
    [
        pytest.param([(2, "heat_lost"), (3, "heat_back")], [(2, 3)], id="lost and back"),
        pytest.param([(2, "heat_lost")], [(2, 6)], id="never back"),
        pytest.param(
            [(1, "heat_lost"), (2, "heat_back"), (3, "heat_lost"), (4, "heat_back")],
            [(1, 2), (3, 4)],
            id="twice",
        ),
        pytest.param(
            [(1, "heat_lost"), (2, "heat_lost"), (3, "heat_back")], [(1, 3)], id="said twice"
        ),
        pytest.param([(2, "heat_back")], [], id="back without a loss"),
        pytest.param([(7, "heat_lost")], [], id="after the cook"),
    ],
)  # fmt: skip
def test_stretches_of_a_cook_without_heat(
    events: list[tuple[float, str]], stretches: list[tuple[float, float]]
) -> None:
    steps = [note(0, "cook"), note(6, "rest"), *(note(t, event=e) for t, e in events)]
    log = noted([(0, 50), (6, 150), (8, 140)], steps)
    cook, rest = of(log)
    assert [((a - ZERO) / 3600, (b - ZERO) / 3600) for a, b in cook.unheated] == stretches
    assert rest.unheated == ()


def test_a_heat_loss_of_another_piece_is_not_this_one_s() -> None:
    log = noted([(0, 50), (6, 150)], [note(0, "cook"), note(2, event="heat_lost", piece="2")])
    assert of(log)[0].unheated == ()


def test_a_piece_without_any_note_or_reading_has_no_stage() -> None:
    log = noted([(0, 50)], [note(0, "cook", piece="1")], pieces=["1", "2"])
    assert of(log, "2") == []
