"""Worked examples of Australia and New Zealand.

Sources: Standard 3.2.2, clauses 5 to 10 and 22, and 3.2.2A; the 2-hour/4-hour guides of New South
Wales and the Northern Territory; the recommendation of 1998 on large cooked meats; the New Zealand
food control plan of 2011, pages S4, S7 to S9 and S11, and the later plan's cooling card.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.lot import Approval, Food
from tempwitness.model.vocabulary import Cut, Form, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, held
from tests.support import Readings, channel, found, judge, lamb, note, prepared_on, staged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Note

MINUTE = 60.0
CHICKEN = lamb(Species.CHICKEN, cut=Cut.BIRD_PART)
AUSTRALIA = ("au/3.2.2", "au/nsw/3.2.2", "au/nt/3.2.2")


def said(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    *,
    before: Sequence[Note] = (),
    food: Food | None = None,
    approvals: Sequence[Approval] = (),
    facts: dict[str, str] | None = None,
) -> str:
    return answer(
        requirement,
        stage,
        readings,
        before=tuple(before),
        food=food,
        approvals=approvals,
        facts=facts,
        celsius=True,
        code=load_code(code),
    )


ROOM = {"room_temperature_c": "24"}


def steady(value: float, hours: float = 1.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


def out_for(hours: float, code: str, requirement: str, *, then: str = "", **facts: str) -> str:
    """Cooked food that stood at 30 °C for exactly a time, and what came after it."""
    core = steady(30.0, hours)
    steps = [note(-3, "cook"), note(0, "serve")]
    steps += [note(hours, then), note(hours + 2, event="finished")] if then else []
    steps += [] if then else [note(hours, event="finished")]
    log = staged([channel(core, celsius=True)], steps, facts=facts)
    return found(judge(log, code=load_code(code)), requirement).verdict.value


@pytest.mark.parametrize("code", AUSTRALIA)
@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        # 5 °C or colder, 60 °C or hotter.
        ("receive", "receive-band", 5.0, "met"),
        ("receive", "receive-band", 5.1, "not_met"),
        ("hot_hold", "hot-hold", 60.0, "met"),
        ("hot_hold", "hot-hold", 59.9, "not_met"),
        ("cold_hold", "cold-hold", 5.0, "met"),
        ("cold_hold", "cold-hold", 5.1, "not_met"),
        ("transport", "band-hold", 60.0, "met"),
        ("transport", "band-hold", 59.9, "not_met"),
    ],
)
def test_holding_in_australia(
    code: str, stage: str, requirement: str, value: float, expected: str
) -> None:
    """Standard 3.2.2, clauses 5 to 10; without a cook on record the guide does not help."""
    assert said(code, requirement, stage, steady(value)) == expected


@pytest.mark.parametrize("code", AUSTRALIA)
@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 60.0), (2, 21.0), (6, 5.0)], ("met", "met")),
        ([(0, 60.0), (2, 21.1), ("2:00:01", 21.0), (5, 5.0)], ("not_met", "met")),
        ([(0, 60.0), (1, 21.0), (5, 5.1), ("5:00:01", 5.0)], ("met", "not_met")),
    ],
)
def test_cooling_in_australia(code: str, readings: Readings, expected: tuple[str, str]) -> None:
    """Clause 7(3): 60 °C to 21 °C within 2 h, and 21 °C to 5 °C within a further 4 h."""
    assert tuple(said(code, n, "cool", readings) for n in ("cool-60-to-21", "cool-21-to-5")) == (
        expected
    )


def test_a_demonstrated_process_is_asked_for_its_limits() -> None:
    """Clause 7(3): unless the process is demonstrated to be safe."""
    slow: Readings = [(0, 60.0), (3, 30.0), (6, 21.0), (9, 5.0)]
    proof = Approval("validated_process", "health department", "1", prepared_on("2026-01-01"))
    assert said("au/3.2.2", "cool-60-to-21", "cool", slow) == "not_met"
    assert said("au/3.2.2", "cool-60-to-21", "cool", slow, approvals=[proof]) == "not_shown"


@pytest.mark.parametrize(
    ("hours", "facts", "expected"),
    [
        (1.99, {}, "met"),
        (2.0, {}, "not_shown"),
        (3.99, {}, "not_shown"),
        (3.99, {"eaten_in_time": "yes"}, "met"),
        (3.99, {"eaten_in_time": "no"}, "not_met"),
        (4.0, {"eaten_in_time": "yes"}, "not_met"),
    ],
)
def test_the_guide_in_place_of_temperatures(
    hours: float, facts: dict[str, str], expected: str
) -> None:
    """Guide of New South Wales, 2015: under 2 h in any case, under 4 h if it is eaten then."""
    assert out_for(hours, "au/nsw/3.2.2", "band-hold", **facts, cooling_in_clock="yes") == expected


@pytest.mark.parametrize(
    ("code", "hours", "expected"),
    [
        ("au/nsw/3.2.2", 3.99, "met"),
        ("au/nsw/3.2.2", 4.0, "not_met"),
        ("au/nt/3.2.2", 4.0, "met"),
        ("au/nt/3.2.2", 4.01, "not_met"),
        ("au/3.2.2", 4.0, "not_shown"),
        ("au/3.2.2", 3.99, "met"),
    ],
)
def test_discard_after_4h(code: str, hours: float, expected: str) -> None:
    """The guides of New South Wales (4 h or more) and the Northern Territory (more than 4 h)."""
    facts = {} if code == "au/3.2.2" else {"cooling_in_clock": "yes"}
    assert out_for(hours, code, "time-4h", **facts) == expected


@pytest.mark.parametrize(("hours", "expected"), [(1.99, "met"), (2.0, "not_met"), (3.0, "not_met")])
def test_chilled_again_only_under_2h(hours: float, expected: str) -> None:
    """Both guides: from 2 h on it is used and not refrigerated."""
    for code in AUSTRALIA:
        got = out_for(hours, code, "time-2h", then="cold_hold", cooling_in_clock="yes")
        assert got == expected
    assert out_for(hours, "au/nt/3.2.2", "time-2h") == "not_applicable"


@pytest.mark.parametrize(("value", "expected"), [(60.0, "met"), (59.9, "not_met"), (75.0, "met")])
@pytest.mark.parametrize("code", AUSTRALIA)
def test_reheating_for_hot_holding(code: str, value: float, expected: str) -> None:
    """Clause 7(4)."""
    steps = [note(0, "reheat"), note(1, "hot_hold"), note(2, event="finished")]
    core = channel([(0, 4.0), (0.5, value), ("0:59", value), (2, value - 1.0)], celsius=True)
    evaluation = judge(staged([core], steps), code=load_code(code))
    assert found(evaluation, "reheat-60").verdict.value == expected


@pytest.mark.parametrize(("hours", "expected"), [(2.0, "met"), (2.01, "not_met"), (1.0, "met")])
def test_reheating_is_ideally_done_in_2h(hours: float, expected: str) -> None:
    steps = [note(0, "reheat"), note(hours, "hot_hold"), note(hours + 1, event="finished")]
    core = channel([(0, 4.0), (hours, 70.0), (hours + 1, 70.0)], celsius=True)
    evaluation = judge(staged([core], steps), code=load_code("au/3.2.2"))
    line = found(evaluation, "reheat-2h")
    assert (line.verdict.value, line.weight.value) == (expected, "guidance")


@pytest.mark.parametrize(
    ("food", "value", "expected"),
    [
        (CHICKEN, 75.0, "met"),
        (CHICKEN, 74.9, "not_met"),
        (lamb(forms=(Form.GROUND,)), 74.9, "not_met"),
        (lamb(), 60.0, "met"),
    ],
)
def test_states_advise_75_in_the_middle(food: Food, value: float, expected: str) -> None:
    """Victoria's sheet of 2007; whole cuts of red meat are cooked to preference."""
    assert said("au/state-advice", "cook-75", "cook", held(value, 0.0), food=food) == expected


@pytest.mark.parametrize(
    ("value", "minutes", "expected"),
    [(65.0, 10.0, "met"), (65.0, 9.9, "not_met"), (64.9, 20.0, "not_met")],
)
def test_meat_processors(value: float, minutes: float, expected: str) -> None:
    """SCARM 80 and AS 4696, as quoted: 65 °C for 10 min."""
    readings = held(value, round(minutes * MINUTE))
    assert said("au/processors", "cook-65", "cook", readings) == expected


CURED = {"brine_percent": "2.5", "nitrite_ppm": "100"}
RUBBED = {"brine_percent": "2.4", "nitrite_ppm": "0"}


@pytest.mark.parametrize(
    ("requirement", "readings", "facts", "expected"),
    [
        # From the end of the cook: 50 °C by 2.5 h; 12 °C 6 h later; 5 °C 1.5 h later; 10 h in all.
        ("cool-to-50", [(0, 80.0), (2.5, 50.0)], RUBBED, "met"),
        ("cool-to-50", [(0, 80.0), (2.5, 50.1), ("2:30:01", 50.0)], RUBBED, "not_met"),
        ("cool-50-to-12", [(0, 50.0), (3, 30.0), (6, 12.0)], RUBBED, "met"),
        ("cool-50-to-12", [(0, 50.0), (6, 12.1), ("6:00:01", 12.0)], RUBBED, "not_met"),
        ("cool-12-to-5", [(0, 12.0), (1.5, 5.0)], RUBBED, "met"),
        ("cool-12-to-5", [(0, 12.0), (1.5, 5.1), ("1:30:01", 5.0)], RUBBED, "not_met"),
        ("cool-in-all", [(0, 80.0), (6, 20.0), (10, 5.0)], RUBBED, "met"),
        ("cool-in-all", [(0, 80.0), (6, 20.0), (10, 5.1), ("10:00:01", 5.0)], RUBBED, "not_met"),
        # A quarter more for cured meat: 3.25, 7.5, 1.75 and 12.5 h.
        ("cool-to-50", [(0, 80.0), (3.25, 50.0)], CURED, "met"),
        ("cool-to-50", [(0, 80.0), (3.25, 50.1), ("3:15:01", 50.0)], CURED, "not_met"),
        ("cool-50-to-12", [(0, 50.0), (3, 30.0), (7.5, 12.0)], CURED, "met"),
        ("cool-50-to-12", [(0, 50.0), (7.5, 12.1), ("7:30:01", 12.0)], CURED, "not_met"),
        ("cool-12-to-5", [(0, 12.0), (1.75, 5.0)], CURED, "met"),
        ("cool-12-to-5", [(0, 12.0), (1.75, 5.1), ("1:45:01", 5.0)], CURED, "not_met"),
        ("cool-in-all", [(0, 80.0), (8, 20.0), (12.5, 5.0)], CURED, "met"),
        ("cool-in-all", [(0, 80.0), (8, 20.0), (12.5, 5.1), ("12:30:01", 5.0)], CURED, "not_met"),
        # Good practice: 1 h, 1 h and 8 h, or 10 h for cured meat.
        ("good-to-50", [(0, 80.0), (1, 50.0)], RUBBED, "met"),
        ("good-to-50", [(0, 80.0), (1, 50.1), ("1:00:01", 50.0)], RUBBED, "not_met"),
        ("good-12-to-5", [(0, 12.0), (1, 5.0)], RUBBED, "met"),
        ("good-12-to-5", [(0, 12.0), (1, 5.1), ("1:00:01", 5.0)], RUBBED, "not_met"),
        ("good-in-all", [(0, 80.0), (4, 20.0), (8, 5.0)], RUBBED, "met"),
        ("good-in-all", [(0, 80.0), (4, 20.0), (8, 5.1), ("8:00:01", 5.0)], RUBBED, "not_met"),
        ("good-in-all", [(0, 80.0), (4, 20.0), (10, 5.0)], CURED, "met"),
    ],
)
def test_large_pieces(
    requirement: str, readings: Readings, facts: dict[str, str], expected: str
) -> None:
    """The recommendation of 1998; its clock starts at the end of the cook, here at 0:00."""
    cook = (note(-4, "cook"),)
    got = said("au/large-cuts", requirement, "cool", readings, before=cook, facts=facts)
    assert got == expected


def test_large_pieces_of_which_nobody_says_whether_they_are_cured() -> None:
    readings: Readings = [(0, 80.0), (3, 50.1), ("3:00:01", 50.0)]
    cook = (note(-4, "cook"),)
    assert said("au/large-cuts", "cool-to-50", "cool", readings, before=cook) == "not_shown"


@pytest.mark.parametrize(
    ("value", "hold", "expected"),
    [
        # S7 to S9: 65 °C for 10 min, 70 °C for 2 min, or 75 °C.
        (65.0, 10 * MINUTE, "met"),
        (65.0, 10 * MINUTE - 1, "not_met"),
        (70.0, 2 * MINUTE, "met"),
        (70.0, 2 * MINUTE - 1, "not_met"),
        (75.0, 0.0, "met"),
        (74.9, 60.0, "not_met"),
    ],
)
def test_poultry_in_the_plan_of_2011(value: float, hold: float, expected: str) -> None:
    readings = held(value, hold)
    assert said("nz/fcp/2011", "cook-poultry", "cook", readings, food=CHICKEN) == expected


@pytest.mark.parametrize(
    ("value", "hold", "expected"),
    [
        (70.0, 180.0, "met"),
        (70.0, 179.0, "not_met"),
        (75.0, 30.0, "met"),
        (75.0, 29.0, "not_met"),
    ],
)
def test_poultry_in_the_later_plan(value: float, hold: float, expected: str) -> None:
    """As remembered: 70 °C for 3 min or 75 °C for 30 s."""
    code = "nz/simply-safe-suitable"
    assert said(code, "cook-poultry", "cook", held(value, hold), food=CHICKEN) == expected


@pytest.mark.parametrize(
    ("code", "stage", "requirement", "value", "expected"),
    [
        ("nz/fcp/2011", "hot_hold", "hot-hold", 60.0, "met"),
        ("nz/fcp/2011", "hot_hold", "hot-hold", 59.9, "not_met"),
        ("nz/fcp/2011", "cold_hold", "cold-hold", 4.0, "met"),
        ("nz/fcp/2011", "cold_hold", "cold-hold", 4.1, "not_met"),
        ("nz/simply-safe-suitable", "hot_hold", "hot-hold", 60.0, "met"),
        ("nz/simply-safe-suitable", "hot_hold", "hot-hold", 59.9, "not_met"),
        ("nz/simply-safe-suitable", "cold_hold", "cold-hold", 5.0, "met"),
        ("nz/simply-safe-suitable", "cold_hold", "cold-hold", 5.1, "not_met"),
        ("nz/simply-safe-suitable", "transport", "band-hold", 5.0, "met"),
        ("nz/simply-safe-suitable", "transport", "band-hold", 5.1, "not_met"),
    ],
)
def test_holding_in_new_zealand(
    code: str, stage: str, requirement: str, value: float, expected: str
) -> None:
    """S11 and S4 of 2011; the later plan holds cold at 5 °C."""
    assert said(code, requirement, stage, steady(value)) == expected


@pytest.mark.parametrize(
    ("hours", "requirement", "then", "expected"),
    [
        (1.99, "time-2h", "cold_hold", "met"),
        (2.0, "time-2h", "cold_hold", "not_met"),
        (4.0, "time-4h", "", "met"),
        (4.01, "time-4h", "", "not_met"),
        (1.99, "band-hold", "", "met"),
        (3.0, "band-hold", "", "not_shown"),
        (4.01, "band-hold", "", "not_met"),
    ],
)
def test_time_between_4_and_60_in_new_zealand(
    hours: float, requirement: str, then: str, expected: str
) -> None:
    """S4: under 2 h chill or use it, from 2 h to 4 h use it now, over 4 h discard it."""
    assert out_for(hours, "nz/fcp/2011", requirement, then=then) == expected


@pytest.mark.parametrize(
    ("value", "hours", "expected"),
    [(50.0, 2.0, "met"), (50.0, 2.01, "not_met"), (21.0, 3.0, "met"), (21.1, 3.0, "not_met")],
)
def test_hot_food_that_fell_below_60(value: float, hours: float, expected: str) -> None:
    """S11: above 21 °C and below 60 °C for more than 2 h it is discarded."""
    core = steady(value, hours)
    steps = [note(-3, "cook"), note(0, "hot_hold"), note(hours, event="finished")]
    log = staged([channel(core, celsius=True)], steps)
    evaluation = judge(log, code=load_code("nz/fcp/2011"))
    assert found(evaluation, "hot-lost").verdict.value == expected


@pytest.mark.parametrize(
    ("moments", "expected"), [([0, 2, 4], "met"), ([0, 2, "4:00:01"], "not_shown")]
)
def test_hot_food_is_probed_after_2h(moments: list[float | str], expected: str) -> None:
    readings: Readings = [(m, 65.0) for m in moments]
    assert said("nz/fcp/2011", "hot-probe", "hot_hold", readings) == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 50.0), (2, 20.0), (4, 4.0)], "met"),
        ([(0, 50.0), (2, 20.0), (4, 4.1), ("4:00:01", 4.0)], "not_met"),
        ([(0, 50.0), (3, 4.0)], "met"),
    ],
)
def test_hot_food_that_fell_is_cooled_to_4_within_4h(readings: Readings, expected: str) -> None:
    """S11: for food that was below 60 °C for no more than 2 h."""
    held_hot = (note(-2, "hot_hold"),)
    code = "nz/fcp/2011"
    got = said(
        code, "cool-lost", "cool", readings, before=held_hot, facts={"fell_below_hot": "yes"}
    )
    assert got == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([(0, 60.0), (1.9, 21.0), (5.8, 5.0)], ("met", "met", "met")),
        # Less than 2 h, less than 4 h, less than 6 h: the hour itself is too late.
        ([(0, 60.0), (1, 40.0), (2, 21.1), ("2:00:01", 21.0)], ("not_met", "", "")),
        ([(0, 60.0), (1, 21.0), (5, 5.1), ("5:00:01", 5.0)], ("met", "not_met", "met")),
        ([(0, 60.0), (1.5, 21.0), (6, 5.1), ("6:00:01", 5.0)], ("met", "not_met", "not_met")),
    ],
)
def test_cooling_card_of_new_zealand(readings: Readings, expected: tuple[str, str, str]) -> None:
    names = ("cool-60-to-21", "cool-21-to-5", "cool-60-to-5")
    code = "nz/simply-safe-suitable"
    for name, wanted in zip(names, expected, strict=True):
        if wanted:
            got = said(code, name, "cool", readings, facts=ROOM)
            assert got == wanted, name


@pytest.mark.parametrize(
    ("name", "readings"),
    [
        ("cool-60-to-21", [(0, 60.0), (1, 40.0), (2, 21.0)]),
        ("cool-60-to-5", [(0, 60.0), (2, 20.0), (6, 5.0)]),
    ],
)
def test_the_full_time_is_not_less_than_it(name: str, readings: Readings) -> None:
    """Exactly 2 h or 6 h as read: "less than" is not shown."""
    code = "nz/simply-safe-suitable"
    assert said(code, name, "cool", readings, facts=ROOM) == "not_shown"
