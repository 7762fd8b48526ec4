"""Worked examples of the federal cooling guidelines for plants: Appendix B of 1999 and of 2021."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.lot import Approval
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, at, judged
from tests.support import Readings, channel, found, judge, note, prepared_on, staged

if TYPE_CHECKING:
    from tempwitness.model.rule import Code

NOW = load_code("us/plant/appendix-b/2021")
OLD = load_code("us/plant/appendix-b/1999")
BOTH = pytest.mark.parametrize("code", [NOW, OLD], ids=["2021", "1999"])
HOUR = 3600.0


def falling(start: float, to: float, seconds: float) -> Readings:
    """Food that stood at `start` at 0:00 and was first read at `to` after a time."""
    middle = (start + to) / 2
    hours = [h for h in range(1, int(seconds // HOUR) + 1) if h * HOUR < seconds - 1]
    between = [(at(h * HOUR), middle) for h in hours]
    return [(at(0.0), start), *between, (at(seconds - 0.2), to + 0.1), (at(seconds), to)]


@BOTH
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
        pytest.param(
            [(0, 130.0), ("1:30", 80.0), (4, 60.0), ("6:30:59", 40.1), ("6:31", 40.0)],
            ("met", "not_met"),
            id="second-step-too-long",
        ),
    ],
)
def test_option_one(code: Code, readings: Readings, expected: tuple[str, str]) -> None:
    """Option 1: 130 to 80 °F in 1.5 h, 80 to 40 °F in 5 h; judged where no option is named."""
    both = ("option-1-to-80", "option-1-to-40")
    assert tuple(answer(r, "cool", readings, code=code) for r in both) == expected


@pytest.mark.parametrize(
    ("option", "requirement", "start", "to", "hours"),
    [
        ("option_2", "option-2-to-80", 120.0, 80.0, 1.0),
        ("option_2", "option-2-to-55", 80.0, 55.0, 5.0),
        ("cured", "cured-to-80", 130.0, 80.0, 5.0),
        ("cured", "cured-to-45", 80.0, 45.0, 10.0),
        ("slow_cured", "slow-cured-to-40", 120.0, 40.0, 20.0),
    ],
)
def test_steps_of_the_options_of_2021(
    option: str, requirement: str, start: float, to: float, hours: float
) -> None:
    """FSIS-GD-2021-13, options 2 to 4: each step exactly in time, and a minute later."""
    facts = {"plant_cooling": option}
    for more, expected in ((0.0, "met"), (60.0, "not_met")):
        readings = falling(start, to, hours * HOUR + more)
        assert answer(requirement, "cool", readings, facts=facts, code=NOW) == expected
    first = answer("option-1-to-80", "cool", falling(start, to, HOUR), facts=facts, code=NOW)
    assert first == "not_applicable"


def test_large_products_take_less_than_six_hours() -> None:
    """The gap of 2021: 120 to 55 °F in less than 6 h, without a look at 80 °F."""
    facts = {"plant_cooling": "large_not_intact"}
    # At 6 h to the second the reading just before leaves room; "within 6 h" would be met there.
    for more, expected in ((-60.0, "met"), (0.0, "not_shown"), (60.0, "not_met")):
        readings = falling(120.0, 55.0, 6 * HOUR + more)
        name = "large-not-intact-to-55"
        assert answer(name, "cool", readings, facts=facts, code=NOW) == expected


def test_option_two_of_1999_prints_six_hours() -> None:
    """Option 2 of 1999: 120 to 55 °F (12.7 °C) in 6 h; 1 h to 80 °F is a target only."""
    facts = {"plant_cooling": "option_2"}
    for seconds, expected in ((6 * HOUR, "met"), (6 * HOUR + 60, "not_met")):
        readings = falling(120.0, 55.0, seconds)
        assert answer("option-2-to-55", "cool", readings, facts=facts, code=OLD) == expected
    # It prints 48 °C for 120 °F as well: a slip for 48.9 °C, which is the later moment to reach.
    celsius = falling(48.9, 12.7, 6 * HOUR)
    got = answer("option-2-to-55", "cool", celsius, facts=facts, code=OLD, celsius=True)
    assert got == "met"
    slow = judged("cool", falling(120.0, 80.0, HOUR + 60), facts=facts, code=OLD)
    assert found(slow, "option-2-to-80").verdict == "not_met"
    assert found(slow, "option-2-to-80").effect == "target"


@pytest.mark.parametrize(("minutes", "expected"), [(90, "met"), (91, "not_met")])
def test_option_two_of_1999_begins_within_90_minutes(minutes: int, expected: str) -> None:
    """Option 2 of 1999: chilling starts within 90 min of the cook."""
    end = 2 + minutes / 60
    steps = [
        note(0, "cook"),
        note(2, "rest"),
        note(end, "cool"),
        note(end + 1, event="finished"),
    ]
    readings = [(0, 40.0), (2, 165.0), (end, 140.0), (end + 1, 120.0)]
    log = staged([channel(readings)], steps, facts={"plant_cooling": "option_2"})
    assert found(judge(log, code=OLD), "option-2-start").verdict == expected


@pytest.mark.parametrize(("minutes", "expected"), [(90, "met"), (91, "not_met")])
def test_the_90_minutes_count_from_the_last_cook(minutes: int, expected: str) -> None:
    """Half an hour of rest between two cooks is no part of it, a hot hold after them is."""
    end = 3 + minutes / 60
    steps = [
        note(0, "cook"),
        note(2, "rest"),
        note(2.5, "cook"),
        note(3, "rest"),
        note(3.5, "hot_hold"),
        note(end, "cool"),
        note(end + 1, event="finished"),
    ]
    readings = [(0, 40.0), (2, 140.0), (3, 165.0), (end, 140.0), (end + 1, 120.0)]
    log = staged([channel(readings)], steps, facts={"plant_cooling": "option_2"})
    assert found(judge(log, code=OLD), "option-2-start").verdict == expected


@BOTH
@pytest.mark.parametrize(
    ("cold", "expected"), [("yes", "met"), ("no", "not_met"), ("", "not_shown")]
)
def test_option_two_goes_on_to_40(code: Code, cold: str, expected: str) -> None:
    """Option 2: the cooling goes on to 40 °F."""
    facts = {"plant_cooling": "option_2"} | ({"cooled_to_40f": cold} if cold else {})
    readings = falling(120.0, 55.0, HOUR)
    assert answer("option-2-to-40", "cool", readings, facts=facts, code=code) == expected


@pytest.mark.parametrize(
    ("option", "requirement", "question", "least"),
    [
        ("cured", "cured-nitrite", "nitrite_ppm", 100),
        ("cured", "cured-accelerator", "erythorbate_ppm", 250),
        ("slow_cured", "slow-cured-nitrite", "nitrite_ppm", 40),
        ("slow_cured", "slow-cured-brine", "brine_percent", 6),
    ],
)
def test_cure_that_the_slower_options_ask_for(
    option: str, requirement: str, question: str, least: int
) -> None:
    """Options 3 and 4: 100 ppm of nitrite and 250 ppm of its helper; 40 ppm and 6 % of brine."""
    readings = falling(130.0, 80.0, HOUR)
    for stated, expected in ((least, "met"), (least - 1, "not_shown"), (None, "not_shown")):
        facts = {"plant_cooling": option}
        if stated is not None:
            facts[question] = str(stated)
        assert answer(requirement, "cool", readings, facts=facts, code=NOW) == expected


@BOTH
def test_growth_worked_out_from_the_trace_saves_a_lot(code: Code) -> None:
    """9 CFR 318.17(a)(2): at most 1-log of C. perfringens and no C. botulinum, by a model."""
    slow = falling(130.0, 80.0, 2 * HOUR)
    facts = {"cooling_deviation": "modelled"}
    paper = Approval("growth_model", "process authority", "7", prepared_on("2026-01-01"))
    for approvals, expected in (((), "not_shown"), ((paper,), "met")):
        got = judged("cool", slow, facts=facts, approvals=approvals, code=code)
        assert found(got, "deviation-modelled").verdict == expected
        assert found(got, "option-1-to-80").verdict == expected
    assert answer("option-1-to-80", "cool", slow, approvals=(paper,), code=code) == "not_met"


@pytest.mark.parametrize(("seconds", "expected"), [(120.0, "met"), (119.0, "not_met")])
def test_second_cook_after_slow_cooling(seconds: float, expected: str) -> None:
    """Appendix B of 1999, from memory: 149 °F for 2 min."""
    start = 3 * HOUR
    steps = [
        note(0, "cool"),
        note(3, "reheat"),
        note(at(start + 600 + seconds + 0.2), event="finished"),
    ]
    readings: Readings = [
        (0, 130.0),
        (3, 60.0),
        (at(start + 599.8), 148.9),
        (at(start + 600), 149.0),
        (at(start + 600 + seconds), 149.0),
        (at(start + 600 + seconds + 0.2), 148.9),
    ]
    log = staged([channel(readings)], steps, facts={"cooling_deviation": "recooked"})
    assert found(judge(log, code=OLD), "recook-after-deviation").verdict == expected


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (140.0, ("met", "met")),
        (139.9, ("not_shown", "met")),
        (130.0, ("not_shown", "met")),
        (129.9, ("not_shown", "not_met")),
    ],
)
def test_held_hot_in_place_of_cooling(value: float, expected: tuple[str, str]) -> None:
    """FSIS-GD-2021-13, from memory: 130 to 140 °F; between both the plan is asked for."""
    facts, readings = {"plant_cooling": "hot_held"}, [(0, value), (1, value)]
    got = judged("hot_hold", readings, facts=facts, code=NOW)
    assert tuple(found(got, r).verdict for r in ("hot-held", "hot-held-floor")) == expected


def test_partly_cooked_food_needs_limits_of_its_own() -> None:
    """FSIS-GD-2021-13, options 1.2 to 1.4: their figures are not known here."""
    facts = {"plant_product": "partly_cooked"}
    got = judged("cool", falling(130.0, 80.0, HOUR), facts=facts, code=NOW)
    assert found(got, "partly-cooked").verdict == "needs_limit"
    assert found(got, "option-1-to-80").verdict == "not_applicable"
