"""What is easily got wrong with the codes of Britain, Ireland, the Union, Codex and WHO.

The numbers are those of the list of traps for codes outside the United States. Worked figures come
from the published rows, or from the printed formula (trap 13).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.lot import Approval, Probe
from tempwitness.model.vocabulary import Form, Species, Weight
from tempwitness.rulebook.load import load_code
from tempwitness.units import Unit
from tests.published.traces import answer, at, finding, held
from tests.support import Readings, channel, found, judge, lamb, note, prepared_on, staged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import Note
    from tempwitness.model.lot import Food

ENGLAND, SCOTLAND, GUIDANCE, UNION, FSAI, WHO, CODEX = (
    load_code(name)
    for name in (
        "gb/eng/2013",
        "gb/sct/2006",
        "gb/guidance",
        "eu/852-2004",
        "ie/fsai",
        "who/five-keys/2006",
        "codex/rcp-39-1993",
    )
)
HOT = {"served": "hot"}
PORK = lamb(Species.PORK)
BURGER = lamb(Species.BEEF, forms=(Form.GROUND,))
INJECTED = lamb(Species.PORK, forms=(Form.INJECTED,))
MINUTE = 60.0


def steady(value: float, hours: float = 2.0) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


def england(
    readings: Readings, steps: Sequence[Note], facts: dict[str, str] | None = None
) -> Evaluation:
    log = staged([channel(readings, celsius=True)], steps, facts=facts)
    return judge(log, code=ENGLAND)


def test_trap01_no_number_is_no_pass() -> None:
    """Regulation (EC) 852/2004 sets duties without numbers; England none for cook and cooling."""
    readings: Readings = [(0, 70.0), (1, 90.0), (2, 70.0), (3, 3.0), (4, 3.0)]
    steps = [note(0, "cook"), note(2, "cool"), note(3, "cold_hold"), note(4, event="finished")]
    log = staged([channel(readings, celsius=True)], steps)
    assert judge(log, code=UNION).verdict.value == "needs_limit"
    evaluation = judge(log, code=ENGLAND)
    assert evaluation.verdict.value == "needs_limit"
    for requirement in ("heat-by-plan", "cool-fast"):
        assert found(evaluation, requirement).verdict.value == "needs_limit"
    assert found(evaluation, "cold-hold").verdict.value == "met"


def test_trap03_two_hours_mean_different_things() -> None:
    """Exactly 2 h at 60 °C and below: WHO lets them pass, Sch. 4 para 7(2) less than 2 h alone."""
    steps = [note(0, "cook"), note(1, "serve"), note(3, event="finished")]
    readings: Readings = [(0, 61.0), ("0:59:59", 60.1), (1, 60.0), (2, 58.0), (3, 56.0)]
    log = staged([channel(readings, celsius=True)], steps, facts=HOT)
    assert found(judge(log, code=WHO), "out-2h").verdict.value == "met"
    assert found(judge(log, code=ENGLAND), "serve-hot").verdict.value == "not_met"
    assert found(judge(log, code=GUIDANCE), "serve-hot-advice").verdict.value == "met"
    # For Codex the figure is a time for cooling, and the same hours of serving are not asked for.
    assert [f.requirement for f in judge(log, code=CODEX).findings if "cool" in f.requirement] == []


DIP: Readings = [(0, 65.0), ("0:30", 60.0), ("1:00", 65.0), (2, 65.0)]


def test_trap04_the_two_hours_are_used_up_once() -> None:
    """Sch. 4 para 7(2): not previously kept so; hot holding and serving are one account."""
    second: Readings = [("2:30", 60.0), ("3:00", 65.0), ("4:00", 65.0)]
    steps = [note(0, "hot_hold"), note(2, "serve"), note(4, event="finished")]
    evaluation = england([*DIP, *second], steps, HOT)
    first = found(evaluation, "hot-hold")
    assert first.verdict.value == "met"
    assert "Sch. 4 para 7(2)" in first.allowance
    again = found(evaluation, "serve-hot")
    assert again.verdict.value == "not_met"
    assert again.allowance == ""
    # Twice while serving is twice as well.
    twice = [*DIP, *second]
    assert answer("serve-hot", "serve", twice, code=ENGLAND, celsius=True, facts=HOT) == "not_met"


def test_trap04_it_is_for_service_and_display_only() -> None:
    """Not for resting, carrying, cooling or storing; cooking and resting have no number at all."""
    away: Readings = [(0, 60.0), ("0:30", 60.0), ("1:00", 60.0)]
    raw = {"raw_for_cooking": "no"}
    assert answer("carry", "transport", away, code=ENGLAND, celsius=True, facts=raw) == "not_met"
    steps = [note(0, "cook"), note("0:20", "rest"), note("1:00", event="finished")]
    evaluation = england(away, steps)
    assert found(evaluation, "handle-cooked").verdict.value == "needs_limit"
    assert [f for f in evaluation.findings if f.allowance] == []
    cold: Readings = [(0, 7.0), ("0:30", 9.0), ("1:00", 7.0)]
    for stage in ("cold_hold", "thaw"):
        kept = answer("cold-hold", stage, cold, code=ENGLAND, celsius=True, facts=raw)
        assert kept == "not_met"


def test_trap04_hot_food_takes_no_cold_tolerance() -> None:
    """Three hours at 50 °C: too long for para 7(2), and para 5(1) is for cold food."""
    readings: Readings = [(0, 65.0), (1, 65.0), ("1:01", 60.0), (2, 55.0), (4, 50.0)]
    steps = [note(0, "hot_hold"), note(1, "serve"), note(4, event="finished")]
    assert found(england(readings, steps), "serve-hot-or-cold").verdict.value == "not_met"
    assert found(england(readings, steps, HOT), "serve-hot").verdict.value == "not_met"
    short = [*readings[:3], ("2:30", 55.0)]
    ended = [*steps[:2], note("2:30", event="finished")]
    assert found(england(short, ended), "serve-hot-or-cold").verdict.value == "met"


@pytest.mark.parametrize(
    ("value", "england_says", "scotland_says"),
    [(63.1, "met", "met"), (63.0, "met", "not_met"), (62.9, "not_met", "not_met")],
)
def test_trap05_strict_or_not(value: float, england_says: str, scotland_says: str) -> None:
    """England: the offence is below 63 °C; Scotland: above 63 °C."""
    for code, expected in ((ENGLAND, england_says), (SCOTLAND, scotland_says)):
        assert answer("hot-hold", "hot_hold", steady(value), code=code, celsius=True) == expected


def test_trap05_less_than_two_hours() -> None:
    """CAC/RCP 39 s. 7.6 asks for less than 2 h, Irish advice for at most 2 h."""
    codex = [(0, 60.0), (2, 10.0)]
    irish = [(0, 63.0), (2, 10.0)]
    assert answer("cool-60-to-10", "cool", codex, code=CODEX, celsius=True) == "not_shown"
    assert answer("cool-63-to-10", "cool", irish, code=FSAI, celsius=True) == "met"


def test_trap06_scotland_has_no_8_degrees_and_reheats_to_82() -> None:
    """SSI 2006/3 Sch. 4: a cold place without a number, and 82 °C or a defence."""
    cold = {"kept_in_cold_place": "yes", "raw_for_cooking": "no"}
    for requirement, code, expected in (
        ("cold-place", SCOTLAND, "met"),
        ("cold-hold", ENGLAND, "not_met"),
    ):
        says = answer(requirement, "cold_hold", steady(12.0), code=code, celsius=True, facts=cold)
        assert says == expected
    binding = [r for r in SCOTLAND.requirements if r.weight is Weight.LAW]
    assert {r.test.form for r in binding if "cold_hold" in r.stages} == {"paper", "duty"}
    reheated = held(78.0, 120.0)
    assert answer("reheat-82", "reheat", reheated, code=SCOTLAND, celsius=True) == "not_met"
    assert answer("heat-by-plan", "reheat", reheated, code=ENGLAND, celsius=True) == "needs_limit"
    proof = Approval("reheat_quality", "example council", "1", prepared_on("2026-01-01"))
    defended = finding(
        "reheat-82", "reheat", reheated, code=SCOTLAND, celsius=True, approvals=(proof,)
    )
    assert defended.verdict.value == "not_shown"
    says = f"{defended.reason} {defended.note}"
    assert "a reason why 82 °C would spoil this food (example council, no. 1" in says
    assert "proved safe" not in says


def test_trap09_a_wrapped_rest_is_no_hot_hold_here() -> None:
    """Para 6 speaks of food for service or on display; the rest before has a duty only."""
    readings: Readings = [(0, 80.0), (1, 80.0), (2, 60.0), (4, 50.0)]
    rested = england(readings, [note(0, "cook"), note(1, "rest"), note(4, event="finished")])
    assert [f for f in rested.findings if f.requirement.endswith("#hot-hold")] == []
    assert found(rested, "handle-cooked").verdict.value == "needs_limit"
    kept = england(readings, [note(0, "cook"), note(1, "hot_hold"), note(4, event="finished")])
    assert found(kept, "hot-hold").verdict.value == "not_met"


def test_trap09_heat_in_the_rest_counts_for_the_cook() -> None:
    """70 °C for 2 min, one of them wrapped, is a row of "Prove it"."""
    readings: Readings = [(0, 69.9), ("0:01", 70.0), ("0:02", 70.2), ("0:03", 70.0), ("0:04", 69.9)]
    steps = [note(0, "cook"), note("0:02", "rest"), note("0:04", event="finished")]
    log = staged([channel(readings, celsius=True)], steps, food=PORK)
    assert found(judge(log, code=GUIDANCE), "cook-ladder").verdict.value == "met"


@pytest.mark.parametrize(
    ("requirement", "food", "z", "value", "printed", "unit", "places"),
    [
        ("cook-sum", PORK, 7.5, 60.0, 43.1, MINUTE, 1),
        ("cook-sum", PORK, 7.5, 65.0, 9.28, MINUTE, 2),
        ("cook-sum", PORK, 7.5, 75.0, 25.9, 1.0, 1),
        ("cook-sum", PORK, 7.5, 80.0, 5.6, 1.0, 1),
        ("cook-burger-sum", BURGER, 6.0, 60.0, 92.8, MINUTE, 1),
        ("cook-burger-sum", BURGER, 6.0, 65.0, 13.6, MINUTE, 1),
        ("cook-burger-sum", BURGER, 6.0, 75.0, 17.6, 1.0, 1),
        ("cook-burger-sum", BURGER, 6.0, 80.0, 2.6, 1.0, 1),
    ],
)
def test_trap13_the_formula_itself(
    requirement: str, food: Food, z: float, value: float, printed: float, unit: float, places: int
) -> None:
    """From 70 °C for 2 min: 120 s times 10 to the power of (70 - T) / z."""
    exact = 120.0 * 10.0 ** ((70.0 - value) / z)
    assert round(exact / unit, places) == printed
    code = GUIDANCE if requirement == "cook-sum" else FSAI
    for share, enough in ((1.001, True), (0.999, False)):
        readings: Readings = [(0, value), (at(exact * share), value)]
        says = answer(requirement, "cook", readings, code=code, celsius=True, food=food)
        assert (says == "met") is enough


@pytest.mark.parametrize(
    ("value", "seconds", "by_7_5", "by_6"),
    [
        # Below 70 °C z = 6 °C asks for more, above it for less: pierced meat is asked for both.
        (65.0, 9.5 * MINUTE, "met", "not_met"),
        (65.0, 13.7 * MINUTE, "met", "met"),
        (75.0, 20.0, "not_met", "met"),
        (75.0, 26.0, "met", "met"),
    ],
)
def test_trap13_pierced_meat_takes_the_longer_of_both(
    value: float, seconds: float, by_7_5: str, by_6: str
) -> None:
    readings: Readings = [(0, value), (at(seconds), value)]
    for requirement, expected in (("cook-sum", by_7_5), ("cook-pierced-sum", by_6)):
        says = answer(requirement, "cook", readings, code=GUIDANCE, celsius=True, food=INJECTED)
        assert says == expected
    rolled = answer(
        "cook-rolled-sum",
        "cook",
        readings,
        code=GUIDANCE,
        celsius=True,
        food=PORK,
        facts={"rolled": "yes"},
    )
    assert rolled == by_6


@pytest.mark.parametrize(("value", "seconds"), [(60.0, 12 * MINUTE), (65.0, 85.0)])
def test_trap14_rows_of_another_table_are_not_taken(value: float, seconds: float) -> None:
    """60 °C for 12 min and 65 °C for 85 s are Canadian rows for another organism."""
    readings = held(value, seconds)
    says = answer("cook-ladder", "cook", readings, code=GUIDANCE, celsius=True, food=PORK)
    assert says == "not_met"


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param(held(75.0, 0.0), "not_met", id="touched"),
        pytest.param(held(67.0, 9 * MINUTE), "not_met", id="lower-row-not-full"),
        pytest.param(held(67.0, 10 * MINUTE), "met", id="lower-row"),
        pytest.param(held(75.0, 29.0), "not_met", id="29-s"),
        pytest.param(held(75.0, 30.0), "met", id="30-s"),
    ],
)
def test_trap15_rows_are_held_and_never_mixed(readings: Readings, expected: str) -> None:
    """Between two rows the lower one counts; 67 °C is nowhere printed."""
    says = answer("cook-ladder", "cook", readings, code=GUIDANCE, celsius=True, food=PORK)
    assert says == expected


SEALED = {"rolled": "no", "surface_sealed": "yes"}


@pytest.mark.parametrize(
    ("food", "facts", "expected"),
    [
        pytest.param(lamb(), SEALED, "met", id="whole-lamb"),
        pytest.param(lamb(Species.BEEF), SEALED, "met", id="whole-beef"),
        pytest.param(lamb(), {}, "not_shown", id="nobody-says"),
        pytest.param(lamb(), {**SEALED, "rolled": "yes"}, "not_met", id="rolled"),
        pytest.param(lamb(forms=(Form.INJECTED,)), SEALED, "not_met", id="injected"),
        pytest.param(lamb(forms=(Form.TENDERISED,)), SEALED, "not_met", id="pierced"),
        pytest.param(lamb(forms=(Form.GROUND,)), SEALED, "not_met", id="minced"),
        pytest.param(PORK, SEALED, "not_met", id="pork"),
        pytest.param(lamb(Species.CHICKEN), SEALED, "not_met", id="poultry"),
    ],
)
def test_trap16_pink_is_for_whole_muscle_alone(
    food: Food, facts: dict[str, str], expected: str
) -> None:
    readings = steady(52.0)
    says = answer(
        "cook-ladder", "cook", readings, code=GUIDANCE, celsius=True, food=food, facts=facts
    )
    assert says == expected


@pytest.mark.parametrize(
    ("requirement", "code", "last_day"),
    [
        # Cooked on the 4th. Cook-chill: 5 days, those of cooking and eating included: the 8th.
        ("life-5", "gb/cook-chill/1989", 8),
        ("life-5", "codex/rcp-39-1993", 8),
        # A council's 4 days do not say how they are counted: the stricter way, the 7th.
        ("use-in-4-days", "gb/guidance", 7),
    ],
)
def test_trap20_how_days_are_counted(requirement: str, code: str, last_day: int) -> None:
    for day, expected in ((last_day, "met"), (last_day + 1, "not_met")):
        hours = (day - 4) * 24 + 12  # noted gone in the afternoon of that day
        steps = [note(0, "cook"), note(2, "cool"), note(6, "cold_hold")]
        readings: Readings = [(0, 60.0), (2, 60.0), (6, 3.0), (hours, 3.0)]
        log = staged(
            [channel(readings, celsius=True)], [*steps, note(hours, event="finished")], food=PORK
        )
        assert found(judge(log, code=load_code(code)), requirement).verdict.value == expected


def test_trap23_advice_is_no_offence_and_a_defence_no_permission() -> None:
    """75 °C, 5 °C and 90 min bind nobody; the tolerance says that it must be proved."""
    for code in (GUIDANCE, FSAI, CODEX, WHO):
        assert [r.id for r in code.requirements if r.weight is Weight.LAW] == []
    slow: Readings = [(0, 63.0), (2, 40.0), (4, 20.0), (6, 7.0)]
    assert answer("cool-90-to-8", "cool", slow, code=GUIDANCE, celsius=True) != "met"
    steps = [note(0, "cool"), note(6, event="finished")]
    assert england(slow, steps).verdict.value == "needs_limit"
    used = finding("serve-hot", "serve", DIP, code=ENGLAND, celsius=True, facts=HOT)
    assert used.verdict.value == "met"
    assert "a defence if it is proved, no permission" in used.allowance
    broken = finding("hot-hold", "hot_hold", steady(50.0, 4.0), code=ENGLAND, celsius=True)
    assert broken.effect == "offence"


def test_trap26_a_probe_within_one_degree_proves_no_63_point_0() -> None:
    """With an error of 1 °C a reading of 63.0 °C may be 62.0 °C: both answers are given.

    Three hours, so that the tolerance of 2 h cannot stand in.
    """
    probe = Probe("p", accuracy=1.0, accuracy_unit=Unit.C, scale="C")
    steps = [note(0, "hot_hold"), note(3, event="finished")]

    def strict(value: float) -> tuple[str, str]:
        readings: Readings = [(at(60.0 * k), value) for k in range(181)]
        log = staged([channel(readings, celsius=True, probe="p")], steps, probes=(probe,))
        held_hot = found(judge(log, code=ENGLAND, strict=True), "hot-hold")
        assert held_hot.strict is not None
        return held_hot.verdict.value, held_hot.strict.verdict.value

    assert strict(63.0) == ("met", "not_shown")
    assert strict(69.0) == ("met", "met")
