"""Worked examples of British and Irish advice, of the charter for large cuts, and of cook-chill.

Sources: safe method "Prove it"; ACMSF 2007; councils' pages; cook-chill guidelines of 1989; advice
and Guidance Note 15 of the Food Safety Authority of Ireland; charter cl. 7.6.2.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Form, Place, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, held
from tests.support import Readings, channel, found, judge, lamb, note, staged

if TYPE_CHECKING:
    from tempwitness.model.lot import Food

GUIDANCE, COOK_CHILL, LARGE = (
    load_code(name) for name in ("gb/guidance", "gb/cook-chill/1989", "gb/large-cuts")
)
FSAI, IRISH_COOK_CHILL = load_code("ie/fsai"), load_code("ie/cook-chill")
PORK = lamb(Species.PORK)
BURGER = lamb(Species.BEEF, forms=(Form.GROUND,))
MINUTE = 60.0


def said(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    *,
    food: Food | None = None,
    facts: dict[str, str] | None = None,
) -> str:
    return answer(
        requirement,
        stage,
        readings,
        code=load_code(code),
        celsius=True,
        food=food or PORK,
        facts=facts,
    )


def steady(value: float, hours: float = 4.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


@pytest.mark.parametrize(
    ("value", "seconds"),
    [(60.0, 45 * MINUTE), (65.0, 10 * MINUTE), (70.0, 2 * MINUTE), (75.0, 30.0), (80.0, 6.0)],
)
def test_rows_of_prove_it(value: float, seconds: float) -> None:
    """Any one of five rows, each held for its time."""
    for hold, expected in ((seconds, "met"), (seconds + 1, "met"), (seconds - 1, "not_met")):
        assert said("gb/guidance", "cook-ladder", "cook", held(value, hold)) == expected


@pytest.mark.parametrize(
    ("value", "seconds"), [(65.0, 13.6 * MINUTE), (70.0, 2 * MINUTE), (75.0, 18.0)]
)
def test_rows_of_burgers(value: float, seconds: float) -> None:
    """ACMSF 2007: z = 6 °C; the rows that its summary prints."""
    met = held(value, seconds)
    short = held(value, seconds * 0.9)
    assert said("gb/guidance", "cook-burger", "cook", met, food=BURGER) == "met"
    assert said("gb/guidance", "cook-burger", "cook", short, food=BURGER) != "met"
    assert said("gb/guidance", "cook-burger", "cook", met) == "not_applicable"


@pytest.mark.parametrize("put_away", [False, True])
@pytest.mark.parametrize(
    ("last", "final", "expected"),
    [
        ("3:29", 3.0, "met"),
        ("3:30", 3.0, "met"),
        ("3:31", 3.1, "not_met"),
        ("3:00", 3.1, "not_shown"),
    ],
)
def test_the_clock_to_3c_runs_on_in_the_refrigerator(
    last: str, final: float, expected: str, *, put_away: bool
) -> None:
    """Guidance Note 15: 3 °C by 150 min; at 4 °C the food is cold, and not yet as it should be."""
    steps = [note(0, "cook"), note(1, "cool"), note("5:00", event="finished")]
    if put_away:
        steps.insert(2, note("2:50", "cold_hold"))
    readings: Readings = [(0, 20.0), (1, 80.0), ("2:45", 4.0), (last, final)]
    log = staged([channel(readings, celsius=True)], steps, food=PORK)
    answered = found(judge(log, code=IRISH_COOK_CHILL), "chill-in-150")
    assert answered.verdict.value == expected


@pytest.mark.parametrize(
    ("requirement", "stage", "readings", "facts", "expected"),
    [
        # Above 63 °C in the core, else once for at most 2 h.
        ("hot-hold-advice", "hot_hold", steady(63.1), None, "met"),
        ("hot-hold-advice", "hot_hold", steady(63.0), None, "not_met"),
        ("hot-hold-advice", "hot_hold", steady(60.0, 2.0), None, "met"),
        ("serve-hot-advice", "serve", steady(60.0, 2.0), {"served": "hot"}, "met"),
        ("serve-hot-advice", "serve", steady(60.0, 2.1), {"served": "hot"}, "not_met"),
        # Cold food out for up to 4 h.
        ("cold-display-advice", "serve", steady(15.0, 4.0), {"served": "cold"}, "met"),
        ("cold-display-advice", "serve", steady(15.0, 4.1), {"served": "cold"}, "not_met"),
        # Reheated to 75 °C or an equivalent row.
        ("reheat-75", "reheat", steady(75.0, 0.5), None, "met"),
        ("reheat-75", "reheat", held(74.9, 0.0), None, "not_met"),
        ("reheat-75", "reheat", held(70.0, 120.0), None, "met"),
        ("reheat-75", "reheat", held(70.0, 119.0), None, "not_met"),
    ],
)
def test_other_advice(
    requirement: str, stage: str, readings: Readings, facts: dict[str, str] | None, expected: str
) -> None:
    assert said("gb/guidance", requirement, stage, readings, facts=facts) == expected


@pytest.mark.parametrize(
    ("value", "at_most", "at_least"),
    [(5.0, "met", "met"), (5.1, "not_met", "met"), (0.0, "met", "met"), (-0.1, "met", "not_met")],
)
def test_setting_of_the_refrigerator(value: float, at_most: str, at_least: str) -> None:
    """0 to 5 °C is the setting to aim at: the air's, not the food's."""
    for requirement, expected in (("fridge-at-most-5", at_most), ("fridge-at-least-0", at_least)):
        found_so = answer(
            requirement,
            "cold_hold",
            steady(value),
            code=GUIDANCE,
            celsius=True,
            place=Place.AIR,
        )
        assert found_so == expected


@pytest.mark.parametrize(("minutes", "expected"), [(89, "met"), (90, "met"), (91, "not_met")])
def test_into_the_refrigerator_in_90_minutes(minutes: int, expected: str) -> None:
    """Councils: 90 min from cooking to the refrigerator, resting and cooling together."""
    cold = f"1:{minutes - 30}" if minutes < 90 else f"2:{minutes - 90:02}"
    steps = [
        note(0, "cook"),
        note("0:30", "rest"),
        note("1:00", "cool"),
        note(cold, "cold_hold"),
        note(10, event="finished"),
    ]
    readings: Readings = [(0, 20.0), ("0:30", 80.0), ("1:00", 70.0), (cold, 5.0), (10, 4.0)]
    log = staged([channel(readings, celsius=True)], steps)
    assert found(judge(log, code=GUIDANCE), "cool-90").verdict.value == expected


@pytest.mark.parametrize(("reheats", "expected"), [(1, "met"), (2, "not_met")])
def test_reheated_once(reheats: int, expected: str) -> None:
    steps = [note(0, "cook")]
    for k in range(reheats):
        steps += [note(2 + 4 * k, "cold_hold"), note(4 + 4 * k, "reheat")]
    steps.append(note(20, event="finished"))
    log = staged([channel([(0, 20.0), (1, 80.0), (20, 80.0)], celsius=True)], steps)
    findings = [
        f.verdict.value
        for f in judge(log, code=GUIDANCE).findings
        if f.requirement.endswith("#reheat-once")
    ]
    assert findings[-1] == expected


@pytest.mark.parametrize(
    ("requirement", "stage", "readings", "expected"),
    [
        # Cook-chill 1989: 70 °C for 2 min, 0 to 3 °C, out at 10 °C.
        ("cook-70", "cook", held(70.0, 120.0), "met"),
        ("cook-70", "cook", held(70.0, 119.0), "not_met"),
        ("reheat-70", "reheat", held(70.0, 120.0), "met"),
        ("reheat-70", "reheat", held(70.0, 119.0), "not_met"),
    ],
)
def test_cook_chill_heat(requirement: str, stage: str, readings: Readings, expected: str) -> None:
    assert said("gb/cook-chill/1989", requirement, stage, readings) == expected


def kept_cold(value: float, requirement: str, code: str, until: float = 20.0) -> str:
    steps = [note(0, "cook"), note(1, "cool"), note(2, "cold_hold"), note(until, event="finished")]
    cold = min(value, 4.0)
    readings: Readings = [(0, 80.0), (1, 70.0), ("1:59", 6.0), (2, cold), ("2:01", value)]
    readings = [*readings, *((h, value) for h in range(8, int(until), 6)), (until, value)]
    log = staged([channel(readings, celsius=True)], steps)
    return found(judge(log, code=load_code(code)), requirement).verdict.value


@pytest.mark.parametrize("code", ["gb/cook-chill/1989", "ie/cook-chill"])
@pytest.mark.parametrize(
    ("value", "requirement", "expected"),
    [
        (3.0, "store-at-most-3", "met"),
        (3.1, "store-at-most-3", "not_met"),
        (0.0, "store-at-least-0", "met"),
        (-0.1, "store-at-least-0", "not_met"),
    ],
)
def test_cook_chill_storage(code: str, value: float, requirement: str, expected: str) -> None:
    assert kept_cold(value, requirement, code) == expected


@pytest.mark.parametrize(
    ("value", "until", "requirement", "expected"),
    [
        (5.1, 14.0, "use-in-12h-above-5", "met"),
        (5.1, 14.5, "use-in-12h-above-5", "not_met"),
        (5.0, 20.0, "use-in-12h-above-5", "met"),
        (10.0, 20.0, "discard-above-10", "met"),
        (10.1, 20.0, "discard-above-10", "not_met"),
    ],
)
def test_cook_chill_warm_store(value: float, until: float, requirement: str, expected: str) -> None:
    """Above 5 up to 10 °C: used within 12 h; above 10 °C: discarded."""
    assert kept_cold(value, requirement, "gb/cook-chill/1989", until) == expected


@pytest.mark.parametrize(
    ("rest", "expected"), [("0:59", "met"), ("1:00", "met"), ("1:01", "not_met")]
)
def test_cook_chill_starts_in_30_minutes(rest: str, expected: str) -> None:
    steps = [note(0, "cook"), note("0:30", "rest"), note(rest, "cool"), note(4, event="finished")]
    log = staged([channel([(0, 20.0), ("0:30", 80.0), (4, 3.0)], celsius=True)], steps)
    assert found(judge(log, code=COOK_CHILL), "start-in-30").verdict.value == expected


@pytest.mark.parametrize(("carved", "expected"), [("1:00", "met"), ("1:01", "not_met")])
def test_cook_chill_counts_all_time_since_the_cooker(carved: str, expected: str) -> None:
    """30 min from leaving the cooker: trimming before it is not meant, carving after it is."""
    steps = [
        note(-1, "prep"),
        note(0, "cook"),
        note("0:30", "rest"),
        note("0:45", "prep"),
        note(carved, "cool"),
        note(4, event="finished"),
    ]
    log = staged([channel([(0, 20.0), ("0:30", 80.0), (4, 3.0)], celsius=True)], steps)
    assert found(judge(log, code=COOK_CHILL), "start-in-30").verdict.value == expected


@pytest.mark.parametrize(
    ("code", "requirement", "readings", "expected"),
    [
        ("ie/fsai", "cool-63-to-10", [(0, 63.0), ("1:59", 10.0)], "met"),
        ("ie/fsai", "cool-63-to-10", [(0, 63.0), (2, 10.0)], "met"),
        ("ie/fsai", "cool-63-to-10", [(0, 63.0), ("0:01", 62.0), ("2:02", 10.1)], "not_met"),
        # The time from 95 to 63 °C is not counted.
        ("ie/fsai", "cool-63-to-10", [(0, 95.0), (1, 63.0), (3, 10.0)], "met"),
        # 10 °C is not the end, and no time is printed for the rest.
        ("ie/fsai", "cool-10-to-5", [(0, 63.0), (2, 10.0)], "needs_limit"),
        ("ie/cook-chill", "chiller-90", [(0, 70.0), ("1:30", 3.0)], "met"),
        ("ie/cook-chill", "chiller-90", [(0, 70.0), ("1:31", 3.0)], "not_met"),
    ],
)
def test_irish_cooling(code: str, requirement: str, readings: Readings, expected: str) -> None:
    assert said(code, requirement, "cool", readings) == expected


@pytest.mark.parametrize(
    ("code", "requirement", "end", "final", "food", "expected"),
    [
        # Guidance Note 15: 150 min from cooking to 3 °C.
        ("ie/cook-chill", "chill-in-150", "3:29", 3.0, PORK, "met"),
        ("ie/cook-chill", "chill-in-150", "3:30", 3.0, PORK, "met"),
        ("ie/cook-chill", "chill-in-150", "3:31", 3.1, PORK, "not_met"),
        # Charter cl. 7.6.2: pieces under 5 kg below 5 °C within 4 h.
        ("gb/large-cuts", "cool-below-5kg", "5:00", 4.9, lamb(weight="4.9 kg"), "met"),
        ("gb/large-cuts", "cool-below-5kg", "5:01", 5.0, lamb(weight="4.9 kg"), "not_met"),
        ("gb/large-cuts", "cool-below-5kg", "5:00", 4.9, lamb(weight="5.1 kg"), "not_applicable"),
        ("gb/large-cuts", "cool-above-5kg", "5:00", 4.9, lamb(weight="5.1 kg"), "needs_limit"),
        ("gb/large-cuts", "cool-above-5kg", "5:00", 4.9, lamb(weight="4.9 kg"), "not_applicable"),
        # It names those above and those under 5 kg: one of exactly 5 kg is asked about.
        ("gb/large-cuts", "cool-below-5kg", "5:00", 4.9, lamb(weight="5 kg"), "not_applicable"),
        ("gb/large-cuts", "cool-above-5kg", "5:00", 4.9, lamb(weight="5 kg"), "not_applicable"),
        ("gb/large-cuts", "cool-just-5kg", "5:00", 4.9, lamb(weight="5 kg"), "needs_limit"),
        ("gb/large-cuts", "cool-just-5kg", "5:00", 4.9, lamb(weight="4.9 kg"), "not_applicable"),
        ("gb/large-cuts", "cool-just-5kg", "5:00", 4.9, lamb(weight="5.1 kg"), "not_applicable"),
        # 5 kg are 11.0231... lb: the charter prints no pounds, so the exact figure counts.
        ("gb/large-cuts", "cool-below-5kg", "5:00", 4.9, lamb(weight="11.023 lb"), "met"),
        ("gb/large-cuts", "cool-above-5kg", "5:00", 4.9, lamb(weight="11.024 lb"), "needs_limit"),
    ],
)
def test_chilled_from_the_end_of_cooking(
    code: str, requirement: str, end: str, final: float, food: Food, expected: str
) -> None:
    steps = [note(0, "cook"), note(1, "cool"), note(end, event="finished")]
    readings: Readings = [(0, 20.0), (1, 80.0), ("2:00", 40.0), (end, final)]
    log = staged([channel(readings, celsius=True)], steps, food=food)
    assert found(judge(log, code=load_code(code)), requirement).verdict.value == expected


@pytest.mark.parametrize(
    ("requirement", "stage", "readings", "facts", "expected"),
    [
        ("cook-75", "cook", held(75.0, 0.0), None, "met"),
        ("cook-75", "cook", held(74.9, 0.0), None, "not_met"),
        ("cook-75", "cook", held(70.0, 120.0), None, "met"),
        ("cook-75", "cook", held(70.0, 119.0), None, "not_met"),
        ("chilled-at-most-5", "cold_hold", steady(5.0), None, "met"),
        ("chilled-at-most-5", "cold_hold", steady(5.1), None, "not_met"),
        ("chilled-at-least-0", "cold_hold", steady(0.0), None, "met"),
        ("chilled-at-least-0", "cold_hold", steady(-0.1), None, "not_met"),
        ("frozen", "freeze", steady(-18.0), None, "met"),
        # Never read at -18 °C: it may still be on its way there; once there, it must stay.
        ("frozen", "freeze", steady(-17.9), None, "not_shown"),
        ("frozen", "freeze", [(0, 5.0), (2, -10.0), (4, -18.0), (6, -18.5)], None, "met"),
        ("frozen", "freeze", [(0, 5.0), (2, -18.0), (4, -17.9), (6, -18.5)], None, "not_met"),
        ("hot-hold", "hot_hold", steady(63.0), None, "met"),
        ("hot-hold", "hot_hold", steady(62.9), None, "not_met"),
        ("serve-hot", "serve", steady(62.9), {"served": "hot"}, "not_met"),
        ("reheat-70", "reheat", held(70.0, 0.0), None, "met"),
        ("reheat-70", "reheat", held(69.9, 0.0), None, "not_met"),
        ("reheat-75", "reheat", held(74.9, 0.0), None, "not_met"),
    ],
)
def test_irish_advice(
    requirement: str, stage: str, readings: Readings, facts: dict[str, str] | None, expected: str
) -> None:
    assert said("ie/fsai", requirement, stage, readings, facts=facts) == expected
