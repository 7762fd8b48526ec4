"""No food and no stage slips between the requirements of the Food Code.

Where nothing of the code speaks of a food, a lot could be called met for all that was not asked.
FDA Food Code 2022 3-401.11(A) to (C) takes in all raw animal food between them; 3-501.16(A) asks
of all food that is neither prepared, cooked, cooled nor under time control that it be hot or cold.
"""

from __future__ import annotations

from itertools import product

import pytest

from tempwitness.model.finding import Finding
from tempwitness.model.vocabulary import Cut, Form, Species, StageName
from tests.support import channel, judge, lamb, note, staged

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
