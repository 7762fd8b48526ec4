"""Worked examples of Washington, South Dakota and Maine.

Each table names the section that its expected side follows from.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.lot import Weighed
from tempwitness.model.vocabulary import Cut, Form, Place, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, finding, held
from tests.support import Readings, channel, found, judge, lamb, note, staged

if TYPE_CHECKING:
    from tempwitness.model.lot import Food

WASHINGTON = load_code("us/wa/246-215")
WASHINGTON_2019 = load_code("us/wa/246-215-2019")
SOUTH_DAKOTA = load_code("us/sd/44-02-07")
EVENT = "temporary_event"
INCH = 0.0254

PULLED = lamb(Species.PORK, forms=None, cut=Cut.PAN)
INJECTED = lamb(Species.PORK, forms=(Form.INJECTED,))
TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
BOTH = ("cool-135-to-70", "cool-135-to-41")


def thick(food: Food, inches: float | None) -> Food:
    return replace(food, thickness=None if inches is None else inches * INCH)


def steady(value: float, hours: float = 2.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


@pytest.mark.parametrize(
    ("food", "inches", "air", "expected"),
    [
        # WAC 246-215-03515(1): layers of at most 2 in, intact cuts of at most 4 in, air at 41 °F.
        pytest.param(PULLED, 1.9, 40.0, "met", id="V-24"),
        pytest.param(lamb(), 4.5, 40.0, "not_shown", id="V-25"),
        pytest.param(PULLED, 2.0, 41.0, "met", id="03515(1)-edge"),
        pytest.param(PULLED, 2.1, 40.0, "not_shown", id="03515(1)-2.1-in"),
        pytest.param(lamb(), 4.0, 41.0, "met", id="03515(1)-cut-edge"),
        pytest.param(INJECTED, 3.0, 40.0, "not_shown", id="03515(1)-injected"),
        pytest.param(PULLED, 1.9, 41.1, "not_shown", id="03515(1)-air"),
        pytest.param(PULLED, None, 40.0, "not_shown", id="03515(1)-thickness-unknown"),
    ],
)
def test_t05_uncovered_layers_need_no_clock(
    food: Food, inches: float | None, air: float, expected: str
) -> None:
    for requirement in BOTH:
        line = finding(
            requirement,
            "cool",
            steady(air, 6.0),
            place=Place.AIR,
            method="uncovered_layer",
            food=thick(food, inches),
            code=WASHINGTON,
        )
        assert line.verdict.value == expected


def test_t05_the_layer_must_be_noted() -> None:
    """03515(1) is for what lies uncovered; a pan of which that is not said goes by time."""
    for method in ("", "shallow_pan"):
        got = answer(
            "cool-135-to-70",
            "cool",
            steady(40.0, 6.0),
            place=Place.AIR,
            method=method,
            food=thick(PULLED, 1.9),
            code=WASHINGTON,
        )
        assert got == "not_shown"


def test_t05_the_layer_is_a_method_of_its_own() -> None:
    for method, expected in (("uncovered_layer", "met"), ("on_the_porch", "not_shown")):
        got = answer("cool-method", "cool", steady(40.0), method=method, code=WASHINGTON)
        assert got == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # 03515(2): 135 to 70 °F within 2 h, 135 to 41 °F within 6 h in all.
        ([(0, 135.0), (2, 70.0), (6, 41.0)], ("met", "met")),
        ([(0, 135.0), ("2:00:59", 70.1), ("2:01", 70.0), (6, 41.0)], ("not_met", "met")),
        ([(0, 135.0), (1, 70.0), ("6:00:59", 41.1), ("6:01", 41.0)], ("met", "not_met")),
    ],
)
def test_cooling_by_time_in_washington(readings: Readings, expected: tuple[str, str]) -> None:
    for code in (WASHINGTON, WASHINGTON_2019):
        assert tuple(answer(r, "cool", readings, code=code) for r in BOTH) == expected


def test_the_text_of_2019_puts_time_first() -> None:
    """03515 (2019): time, or shallow pans, whose measures were not kept: they are asked for."""
    slow: Readings = [(0, 135.0), ("2:00:59", 70.1), ("2:01", 70.0), (6, 41.0)]
    pans = finding("cool-135-to-70", "cool", slow, method="shallow_pan", code=WASHINGTON_2019)
    assert pans.verdict.value == "not_shown"
    assert "its measures were not kept" in pans.limit.casefold()
    bath = answer("cool-135-to-70", "cool", slow, method="ice_bath", code=WASHINGTON_2019)
    assert bath == "not_met"
    assert str(WASHINGTON_2019.head.effective_to) == "2022-02-28"
    assert str(WASHINGTON.head.effective_from) == "2022-03-01"


@pytest.mark.parametrize(
    ("stage", "requirement", "value", "expected"),
    [
        # 03525: 135 °F, 41 °F.
        ("hot_hold", "hot-hold", 135.0, "met"),
        ("hot_hold", "hot-hold", 134.9, "not_met"),
        ("cold_hold", "cold-hold", 41.0, "met"),
        ("cold_hold", "cold-hold", 41.1, "not_met"),
    ],
)
def test_holding_in_washington(stage: str, requirement: str, value: float, expected: str) -> None:
    assert answer(requirement, stage, steady(value), food=TURKEY, code=WASHINGTON) == expected


@pytest.mark.parametrize(("hours", "expected"), [(2.0, "met"), (2.01, "not_met")])
def test_active_preparation_in_washington(hours: float, expected: str) -> None:
    """03525: active preparation for at most 2 h."""
    assert answer("prep-2h", "prep", steady(60.0, hours), code=WASHINGTON) == expected


def test_t22_four_hours_of_thawing_stand_in_b4() -> None:
    """03510 prints the clause of 3-501.13(B)(4): 4 h with the preparation."""
    base = WASHINGTON.find("thaw-raw-4h")
    assert base is not None
    assert base.section == "WAC 246-215-03510"
    for extra, expected in ((1.0, "met"), (1.02, "not_met")):
        steps = [note(0, "thaw", method="running_water"), note(3, "prep")]
        steps.append(note(3 + extra, event="finished"))
        core = channel([(0, 50.0), (3, 50.0), (3 + extra, 50.0)])
        evaluation = judge(staged([core], steps), code=WASHINGTON)
        lines = [f for f in evaluation.findings if f.requirement.endswith("#thaw-raw-4h")]
        assert lines[-1].verdict.value == expected


@pytest.mark.parametrize(
    ("end", "business", "expected"),
    [
        # 09210: from 41 °F to 165 °F within 1 h at a temporary establishment.
        pytest.param("1:00", EVENT, "met", id="09210-edge"),
        pytest.param("1:01", EVENT, "not_met", id="V-32-slow"),
        pytest.param("1:01", "restaurant", "not_applicable", id="09210-restaurant"),
    ],
)
def test_t21_reheating_at_an_event_in_washington(end: str, business: str, expected: str) -> None:
    before = "0:59:59" if end == "1:00" else "1:00:59"
    readings: Readings = [(0, 41.0), ("0:30", 100.0), (before, 164.9), (end, 165.0)]
    got = answer("temporary-reheat-in-1h", "reheat", readings, business=business, code=WASHINGTON)
    assert got == expected


@pytest.mark.parametrize(
    ("reheats", "expected"),
    [(1, "met"), pytest.param(2, "not_met", id="V-32-twice")],
)
def test_reheating_once_at_an_event_in_washington(reheats: int, expected: str) -> None:
    """09210: once only; the second reheat, 45 min long, is one too many."""
    readings: list[tuple[str | float, float]] = []
    steps = []
    for number in range(reheats):
        start = 3.0 * number
        readings += [(start, 41.0), (start + 0.75, 165.0), (start + 0.8, 166.0)]
        readings += [(start + 1, 150.0), (start + 2.9, 140.0)]
        steps += [note(start, "reheat"), note(start + 1, "hot_hold")]
    steps.append(note(3.0 * reheats, event="finished"))
    log = staged([channel(readings)], steps, business=EVENT)
    evaluation = judge(log, code=WASHINGTON)
    lines = [f for f in evaluation.findings if f.requirement.endswith("#temporary-reheat-once")]
    assert lines[-1].verdict.value == expected


@pytest.mark.parametrize(
    ("business", "steps", "expected"),
    [
        # 09210: no cooling of cooked food in a temporary establishment.
        (EVENT, ("cook", "cool"), "not_met"),
        (EVENT, ("receive", "cool"), "not_applicable"),
        ("restaurant", ("cook", "cool"), "not_applicable"),
    ],
)
def test_no_cooling_at_events_in_washington(
    business: str, steps: tuple[str, str], expected: str
) -> None:
    core = channel([(0, 170.0), (2, 160.0), (3, 70.0), (5, 41.0)])
    notes = [note(0, steps[0]), note(2, steps[1]), note(5, event="finished")]
    evaluation = judge(staged([core], notes, business=business), code=WASHINGTON)
    assert found(evaluation, "temporary-no-cooling").verdict.value == expected


@pytest.mark.parametrize(
    ("method", "expected"),
    [
        ("preheated_mechanical", "met"),
        ("approved_method", "met"),
        ("insulated_box", "not_shown"),
        ("", "not_applicable"),
    ],
)
def test_t26_hot_holding_at_an_event_in_washington(method: str, expected: str) -> None:
    """09210: preheated mechanical equipment, or another approved method."""
    line = finding(
        "temporary-hot-equipment",
        "hot_hold",
        steady(150.0),
        method=method,
        business=EVENT,
        code=WASHINGTON,
    )
    assert line.verdict.value == expected


@pytest.mark.parametrize(("value", "expected"), [(135.0, "met"), (134.9, "not_met")])
def test_t01_sealed_food_at_an_event_in_washington(value: float, expected: str) -> None:
    """09210: 135 °F; the 60 °C that is printed beside it is a slip and binds nobody."""
    readings: Readings = [(0, 41.0), ("0:45", value)]
    line = finding(
        "temporary-reheat-commercial",
        "reheat",
        readings,
        facts={"origin": "commercial_sealed"},
        business=EVENT,
        code=WASHINGTON,
    )
    assert line.verdict.value == expected


@pytest.mark.parametrize(("days", "expected"), [("21", "not_applicable"), ("22", "not_met")])
def test_days_of_a_temporary_place_in_washington(days: str, expected: str) -> None:
    """Definitions: up to 21 days in a row, where the Food Code gives 14."""
    facts = {"days_at_event": days, "longer_permit": "no"}
    line = finding(
        "temporary-days",
        "hot_hold",
        steady(150.0),
        facts=facts,
        business=EVENT,
        code=WASHINGTON,
    )
    assert line.verdict.value == expected


@pytest.mark.parametrize(
    ("said", "expected"), [("yes", "met"), ("no", "not_met"), ("unknown", "not_applicable")]
)
def test_hands_at_an_event_in_washington(said: str, expected: str) -> None:
    """09225: 5 gal or more with a spigot that stays open."""
    line = finding(
        "temporary-handwash",
        "hot_hold",
        steady(150.0),
        facts={"handwash_set_up": said},
        business=EVENT,
        code=WASHINGTON,
    )
    assert line.verdict.value == expected


@pytest.mark.parametrize(
    ("value", "oven", "expected"),
    [
        # 44:02:07:33: 140 °F, whole roasts 130 °F.
        (140.0, "unknown", "met"),
        (139.9, "not_kept", "not_met"),
        (130.0, "kept", "met"),
        (129.9, "kept", "not_met"),
        (130.0, "unknown", "not_shown"),
    ],
)
def test_hot_holding_in_south_dakota(value: float, oven: str, expected: str) -> None:
    facts = {"oven_line": oven}
    got = answer("hot-hold", "hot_hold", steady(value), facts=facts, code=SOUTH_DAKOTA)
    assert got == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # 44:02:07:35: 165 °F for 15 s within 1 h.
        pytest.param(
            [(0, 41.0), ("0:30", 100.0), ("1:00:59", 164.9), ("1:01", 165.0), ("1:01:15", 165.0)],
            "not_met",
            id="V-33",
        ),
        pytest.param(
            [(0, 41.0), ("0:30", 100.0), (1, 165.0), ("1:00:15", 165.0)], "met", id=":35-edge"
        ),
    ],
)
def test_reheating_in_south_dakota(readings: Readings, expected: str) -> None:
    assert answer("reheat-in-1h", "reheat", readings, code=SOUTH_DAKOTA) == expected
    assert answer("reheat-165", "reheat", readings, code=SOUTH_DAKOTA) == "met"


@pytest.mark.parametrize(
    ("requirement", "method", "origin", "value", "expected"),
    [
        # A microwave must bring it to 190 °F, a sealed commercial pack needs 140 °F.
        ("reheat-microwave", "microwave", "own", 190.0, "met"),
        ("reheat-microwave", "microwave", "own", 189.9, "not_met"),
        ("reheat-commercial-140", "", "commercial_sealed", 140.0, "met"),
        ("reheat-commercial-140", "", "commercial_sealed", 139.9, "not_met"),
    ],
)
def test_t41_other_reheats_in_south_dakota(
    requirement: str, method: str, origin: str, value: float, expected: str
) -> None:
    readings: Readings = [(0, 41.0), ("0:45", value)]
    got = answer(
        requirement,
        "reheat",
        readings,
        method=method,
        facts={"origin": origin},
        code=SOUTH_DAKOTA,
    )
    assert got == expected


@pytest.mark.parametrize(
    ("requirement", "oven", "pounds", "air", "expected"),
    [
        # 44:02:07:28: 325 °F in both convection columns.
        ("cook-roast-oven-convection", "convection", 12.0, 325.0, "met"),
        ("cook-roast-oven-convection", "convection", 12.0, 324.9, "not_shown"),
        ("cook-roast-oven-convection", "convection", 8.0, 324.9, "not_shown"),
        ("cook-roast-oven-still-small", "still", 9.9, 350.0, "met"),
        ("cook-roast-oven-still-small", "still", 9.9, 349.9, "not_shown"),
        # It splits at "10 lb or less" and "more than 10 lb".
        ("cook-roast-oven-still-small", "still", 10.0, 350.0, "met"),
        ("cook-roast-oven-still-small", "still", 10.0, 250.0, "not_shown"),
        ("cook-roast-oven-still-small", "still", 10.1, 350.0, "not_applicable"),
        ("cook-roast-oven-still-large", "still", 10.0, 250.0, "not_applicable"),
        ("cook-roast-oven-still-large", "still", 10.1, 250.0, "met"),
        ("cook-roast-oven-still-large", "still", 10.1, 249.9, "not_shown"),
        ("cook-roast-oven-humid", "humid", 12.0, 250.0, "met"),
        ("cook-roast-oven-humid", "humid", 12.0, 250.1, "not_shown"),
    ],
)
def test_t15_ovens_in_south_dakota(
    requirement: str, oven: str, pounds: float, air: float, expected: str
) -> None:
    food = replace(lamb(), weight=Weighed(pounds, "lb"))
    got = answer(
        requirement,
        "cook",
        steady(air),
        place=Place.AIR,
        food=food,
        facts={"oven": oven},
        code=SOUTH_DAKOTA,
    )
    assert got == expected


def test_what_was_not_read_of_south_dakota_is_asked_for() -> None:
    """Only :28, :33 and :35 were read: no figure is made up for anything else."""
    assert answer("cook-limit", "cook", held(165.0, 15.0), code=SOUTH_DAKOTA) == "needs_limit"
    for stage, requirement in (("cool", "cool-limit"), ("cold_hold", "cold-limit")):
        assert answer(requirement, stage, steady(40.0), code=SOUTH_DAKOTA) == "needs_limit"
