"""No food and no stage slips between the requirements of the Food Code.

Where nothing of the code speaks of a food, a lot could be called met for all that was not asked.
FDA Food Code 2022 3-401.11(A) to (C) takes in all raw animal food between them; 3-501.16(A) asks
of all food that is neither prepared, cooked, cooled nor under time control that it be hot or cold.
"""

from __future__ import annotations

from itertools import product

import pytest

from tempwitness.model.finding import Finding
from tempwitness.model.lot import Approval
from tempwitness.model.vocabulary import Cut, Form, Species, StageName
from tests.support import channel, judge, lamb, note, prepared_on, staged

ANIMAL = [s for s in Species if s is not Species.PLANT]
UNDONE = {"not_met", "not_shown", "open", "needs_limit"}
FOODS = [*product(ANIMAL, Form, Cut)]


def cooked_to_100(
    species: Species, form: Form, cut: Cut, *, method: str = "", facts: dict[str, str] | None = None
) -> list[Finding]:
    """Binding findings on the cook of food that never got warmer than 100 °F."""
    core = channel([(0, 50.0), (1, 80.0), (2, 100.0)])
    steps = [note(0, "cook", method=method), note(2, event="finished")]
    food = lamb(species, forms=(form,), cut=cut)
    return list(judge(staged([core], steps, food=food, facts=facts)).binding)


def named(findings: list[Finding]) -> list[tuple[str, str]]:
    return [(f.requirement, f.verdict.value) for f in findings]


@pytest.mark.parametrize(("species", "form", "cut"), FOODS)
def test_every_raw_animal_food_has_its_row(species: Species, form: Form, cut: Cut) -> None:
    for method in ("", "microwave"):
        found = cooked_to_100(species, form, cut, method=method)
        assert [f for f in found if f.verdict.value == "not_met"], named(found)


@pytest.mark.parametrize(("species", "form", "cut"), FOODS)
def test_the_steak_of_paragraph_c_is_beef_intact_and_a_steak(
    species: Species, form: Form, cut: Cut
) -> None:
    """What the record calls an undercooked steak is let off only where 3-401.11(C) lets it off."""
    found = cooked_to_100(species, form, cut, facts={"undercooked": "steak"})
    steak = (species, form, cut) == (Species.BEEF, Form.INTACT, Cut.STEAK)
    wanted = {"not_shown"} if steak else {"not_met"}
    assert [f for f in found if f.verdict.value in wanted], named(found)


STAGES = [s for s in StageName if s is not StageName.COOK]


@pytest.mark.parametrize("cooked", [False, True], ids=["raw", "cooked"])
@pytest.mark.parametrize("species", [Species.LAMB, Species.TURKEY, Species.FISH, Species.EGG])
@pytest.mark.parametrize("stage", STAGES)
def test_twelve_hours_at_100_are_never_passed_over(
    stage: StageName, species: Species, cooked: bool
) -> None:
    before = [(-4, 100.0), (-2, 170.0), (-1, 190.0)] if cooked else []
    core = channel([*before, (0, 100.0), (3, 100.0), (6, 100.0), (9, 100.0), (12, 100.0)])
    steps = [note(-4, "cook")] if cooked else []
    steps += [note(0, stage.value), note(12, event="finished")]
    evaluation = judge(staged([core], steps, food=lamb(species)))
    found = [f for f in evaluation.binding if f.stage != "cook"]
    assert [f for f in found if f.verdict.value in UNDONE], named(found)


@pytest.mark.parametrize("value", [100.0, 150.0])
def test_food_reheated_for_a_guest_at_once_is_not_held_afterwards(value: float) -> None:
    """3-403.10 lets food for immediate service off; food that is then held hot needs 165 °F."""
    core = channel([(0, 40.0), (1, value), (2, value)])
    steps = [note(0, "reheat"), note(1, "hot_hold"), note(2, event="finished")]
    log = staged([core], steps, facts={"reheat_for": "immediate_service"})
    found = [f for f in judge(log).binding if f.stage == "reheat"]
    assert [f for f in found if f.verdict.value in UNDONE], named(found)


@pytest.mark.parametrize("heating", ["cook", "reheat"])
@pytest.mark.parametrize("cooled", [128.0, 100.0, 60.0])
@pytest.mark.parametrize("ended", [True, False])
def test_a_heating_that_nobody_ended_lets_nothing_stand(
    heating: str, cooled: float, ended: bool
) -> None:
    """Food that fell to 128 °F and stood there for hours is no more being cooked."""
    core = channel([(0, 40.0), (0.5, 100.0), (1, 166.0), (1.1, 170.0), (4, cooled), (9, cooled)])
    steps = [note(0, heating)]
    if ended:
        steps.append(note(9, event="finished"))
    evaluation = judge(staged([core], steps))
    assert evaluation.verdict.value == "not_shown", named(list(evaluation.binding))
    assert not [f for f in evaluation.binding if f.verdict.value == "not_met"]
    if cooled == 128.0:  # not so cold that the order of the readings is doubted
        assert [f.stage for f in evaluation.binding if f.verdict.value == "not_shown"] == [
            "hot_hold"
        ]
        assert evaluation.questions


def test_a_loss_of_heat_that_was_noted_is_judged_as_such() -> None:
    core = channel([(0, 40.0), (2, 140.0), (3, 100.0), (5, 90.0), (8, 80.0)])
    steps = [note(0, "cook"), note(2, event="heat_lost"), note(8, event="discarded")]
    found = {f.requirement.split("#")[1] for f in judge(staged([core], steps)).binding}
    assert "cook-heat-lost" in found
    assert "hot-hold" not in found


def test_heat_that_came_back_is_one_cook() -> None:
    core = channel([(0, 40.0), (2, 140.0), (3, 125.0), (5, 160.0), (6, 180.0)])
    steps = [note(0, "cook"), note(6, event="finished")]
    assert {f.stage for f in judge(staged([core], steps)).binding} == {"cook"}


def test_food_that_another_law_lets_in_warmer_needs_that_law() -> None:
    """3-202.11(B): the code names no temperature, so its own law must be on record."""
    core = channel([(0, 60.0), (1, 60.0)])
    steps = [note(0, "receive"), note(1, event="finished")]
    log = staged([core], steps, facts={"received": "cold_by_other_law"})
    assert judge(log).verdict.value == "needs_limit"


@pytest.mark.parametrize(("then", "expected"), [("reheat", set()), ("cold_hold", {"not_met"})])
def test_cooked_food_thawed_warm_is_heated_on(then: str, expected: set[str]) -> None:
    """3-501.13(C): thawing as part of cooking, or in a microwave, is followed by the heat."""
    core = channel([(-12, 150.0), (-10, 200.0), (0, 30.0), (0.5, 50.0), (1, 60.0), (2, 100.0)])
    steps = [note(-12, "cook"), note(-10, "freeze"), note(0, "thaw", method="microwave")]
    steps += [note(1, then), note(2, event="finished")]
    found = judge(staged([core], steps)).binding
    ready = {f.verdict.value for f in found if f.requirement.endswith("#thaw-ready-to-eat")}
    assert ready & {"not_met", "not_shown"} == expected


@pytest.mark.parametrize(("stage", "fact"), [("reheat", "reheat_for"), ("thaw", "thaw_for")])
def test_hours_are_not_at_once(stage: str, fact: str) -> None:
    """What 3-403.10 and 3-501.13(D) let off for one guest's order is no leave for a long stand."""
    verdicts = []
    for hours in (0.5, 9.0):
        warm = [(h * hours / 3, 100.0) for h in range(4)]
        core = channel([(-4, 170.0), (-3.5, 200.0), (-0.2, 30.0), *warm])
        steps = [
            note(-4, "cook"),
            note(-3.4, "freeze"),
            note(0, stage),
            note(hours, event="finished"),
        ]
        log = staged([core], steps, facts={fact: "immediate_service"})
        found = [f for f in judge(log).binding if f.requirement.endswith(f"#{stage}-at-once")]
        verdicts.append([f.verdict.value for f in found])
    assert verdicts == [[], ["not_shown"]]


@pytest.mark.parametrize(
    ("back", "last", "expected"),
    [
        pytest.param(False, 80.0, "not_shown", id="it stood without heat"),
        pytest.param(False, 140.0, "not_shown", id="it may have, unread"),
        pytest.param(True, 166.0, "not_applicable", id="it was cooked on"),
    ],
)
def test_cooked_food_does_not_cool_in_a_dead_pit(back: bool, last: float, expected: str) -> None:
    """3-501.16(A) lets off cooking; without heat nothing is cooked. 165 °F at 1:00, end at 4:30."""
    core = channel([(0, 60.0), (1, 165.0), (2.5, 150.0), (4.5, last)])
    steps = [note(0, "cook"), note(1, event="heat_lost"), note(4.5, event="finished")]
    steps += [note(2.5, event="heat_back")] if back else []
    found = judge(staged([core], steps)).findings
    lost = [f for f in found if f.requirement.endswith("#cook-heat-lost")]
    assert [f.verdict.value for f in lost] == [expected]


def test_hot_food_is_not_thawed() -> None:
    """3-501.14(A): 135 °F at 0:30 and 70 °F at 6:00 are 5 h 30 min, whatever the step is called."""
    core = channel([(-2, 170.0), (0, 160.0), (0.5, 135.0), (4, 80.0), (6, 70.0), (6.4, 41.0)])
    steps = [note(-2, "cook"), note(0, "thaw", method="as_part_of_cooking"), note(6.5, "reheat")]
    evaluation = judge(staged([core], steps))
    broken = [f.requirement for f in evaluation.binding if f.verdict.value == "not_met"]
    assert f"{evaluation.code.id}#cool-135-to-70" in broken


@pytest.mark.parametrize("claim", ["ambient", "received_warm"])
def test_what_was_cooked_here_cools_by_paragraph_a(claim: str) -> None:
    """3-501.14(B) and (C) are for food that was never hot here: 130 to 75 °F in 3 h is too slow."""
    core = channel([(-2, 170.0), (0, 140.0), (0.5, 130.0), (3.5, 75.0), (3.9, 41.0)])
    steps = [note(-2, "cook"), note(0, "cool"), note(3.9, event="finished")]
    evaluation = judge(staged([core], steps, facts={"cooling_from": claim}))
    cooled = [f for f in evaluation.binding if f.stage == "cool"]
    assert [f for f in cooled if f.verdict.value == "not_met"], named(cooled)


@pytest.mark.parametrize(
    ("facts", "then", "expected"),
    [
        (None, "hot_hold", "not_shown"),
        ({"egg_service": "held"}, "hot_hold", "not_met"),
        ({"egg_service": "immediate"}, "hot_hold", "not_met"),
        ({"egg_service": "immediate"}, "serve", "met"),
    ],
)
def test_eggs_at_145_for_15_s_are_for_one_guest_at_once(
    facts: dict[str, str] | None, then: str, expected: str
) -> None:
    """3-401.11(A)(1)(a): eggs broken and cooked to order; others go by (A)(2), 3 min at 145."""
    second = 1 / 3600
    heat = [(1 - second, 144.0), (1, 145.0), (1 + 15 * second, 145.0), (1 + 16 * second, 140.0)]
    core = channel([(0, 50.0), *heat, (1.5, 140.0)])
    steps = [note(0, "cook"), note(1 + 16 * second, then), note(1.5, event="finished")]
    evaluation = judge(staged([core], steps, food=lamb(Species.EGG, cut=None), facts=facts))
    found = [f for f in evaluation.binding if f.stage == "cook"]
    worst = {f.verdict.value for f in found}
    order = ("not_met", "not_shown", "met")
    assert next(v for v in order if v in worst) == expected, named(found)


@pytest.mark.parametrize("method", ["", "microwave"])
@pytest.mark.parametrize(("cooked", "expected"), [(False, "met"), (True, "not_met")])
def test_135_is_for_what_the_plant_cooked_by_any_heat(
    method: str, cooked: bool, expected: str
) -> None:
    """3-403.11(C), to which (A) and (B) leave sealed food; what was cooked here is not such."""
    before = [(-9, 60.0), (-8, 170.0), (-7, 40.0)] if cooked else [(-7, 40.0)]
    core = channel([*before, (0, 40.0), (1, 135.0), (1.1, 136.0), (1.2, 137.0)])
    steps = [note(-9, "cook"), note(-8, "cool")] if cooked else []
    steps += [note(-7, "cold_hold"), note(0, "reheat", method=method)]
    steps += [note(1.1, "serve"), note(1.2, event="finished")]
    evaluation = judge(staged([core], steps, facts={"origin": "commercial_sealed"}))
    found = [f for f in evaluation.binding if f.stage == "reheat"]
    worst = "not_met" if any(f.verdict.value == "not_met" for f in found) else "met"
    assert worst == expected, named(found)
    assert cooked or {f.verdict.value for f in found} == {"met"}, named(found)


@pytest.mark.parametrize("method", ["microwave", "as_part_of_cooking"])
@pytest.mark.parametrize(("then", "expected"), [("cook", "met"), ("cold_hold", "not_shown")])
def test_a_thaw_that_is_part_of_cooking_is_cooked_on(method: str, then: str, expected: str) -> None:
    """3-501.13(C): thawed in a microwave and moved to other heat at once, or in the cook itself."""
    core = channel([(0, 20.0), (0.5, 36.0), (1, 38.0)])
    steps = [note(0, "thaw", method=method), note(0.5, then), note(1, event="finished")]
    found = [f for f in judge(staged([core], steps)).binding if f.stage == "thaw"]
    verdicts = {f.requirement.split("#")[1]: f.verdict.value for f in found}
    assert verdicts["thaw-cooked-on"] == expected
    assert verdicts["thaw-method"] == "met"


@pytest.mark.parametrize(
    ("days", "then", "expected"),
    [(6, "serve", "met"), (9, "serve", "not_shown"), (9, "cook", "met")],
)
def test_a_slaw_has_its_seven_days_too(days: int, then: str, expected: str) -> None:
    """3-501.17(A) speaks of all ready-to-eat food that is kept, cooked or not."""
    hours = 24.0 * days
    core = channel([(0, 38.0), *((10.0 * i, 38.0) for i in range(1, int(hours / 10) + 1))])
    marked = [note(2, event="date_marked")]
    steps = [note(0, "prep"), note(1, "cold_hold"), *marked, note(hours, then)]
    steps.append(note(hours + 1, event="finished"))
    food = lamb(Species.PLANT, forms=None, cut=Cut.PAN)
    found = judge(staged([core], steps, food=food)).binding
    verdicts = {f.requirement.split("#")[1]: f.verdict.value for f in found}
    assert verdicts["date-mark-uncooked"] == expected


@pytest.mark.parametrize(("value", "asked"), [(41.0, False), (60.0, True)])
def test_no_paper_makes_warm_food_frozen(value: float, asked: bool) -> None:
    """3-501.16(A)(2) excepts no freezer: 41 °F is the limit there as well."""
    granted = Approval("frozen_limit", "county", "7", prepared_on("2026-01-01"))
    steps = [note(0, "freeze"), note(6, event="finished")]
    core = channel([(0, value), (3, value), (6, value)])
    evaluation = judge(staged([core], steps, approvals=[granted]))
    assert (evaluation.verdict.value == "not_shown") is asked
    assert ("freeze-cold" in {f.requirement.split("#")[1] for f in evaluation.binding}) is asked
