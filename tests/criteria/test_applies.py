"""Whether a requirement bears on a lot and on a stage: yes, no, or the record does not say."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from tempwitness.criteria.applies import Applies, both, to_lot, to_stage
from tempwitness.model.lot import Food, Lot, Piece, Weighed
from tempwitness.model.rule import Predicate
from tempwitness.model.vocabulary import Business, Cut, Form, Species
from tests.criteria.cases import case, stages
from tests.support import FOOD_CODE, note

YES, NO, OPEN = True, False, None


def lot(
    *,
    species: Species = Species.LAMB,
    forms: tuple[Form, ...] | None = (Form.INTACT,),
    cut: Cut | None = Cut.ROAST,
    facts: dict[str, str] | None = None,
    business: Business | None = None,
) -> Lot:
    named = None if forms is None else frozenset(forms)
    food = Food(species.value, species, named, cut)
    return Lot("t", food, FOOD_CODE, "UTC", (Piece("1"),), facts=facts or {}, business=business)


def when(**lines: object) -> Predicate:
    return Predicate.model_validate(lines)


@pytest.mark.parametrize(
    ("predicate", "about", "expected"),
    [
        pytest.param(when(), lot(), YES, id="nothing said"),
        pytest.param(when(species=("lamb", "beef")), lot(), YES, id="species"),
        pytest.param(when(species=("beef",)), lot(), NO, id="other species"),
        pytest.param(when(species_not=("lamb",)), lot(), NO, id="not for it"),
        pytest.param(when(species_not=("beef",)), lot(), YES, id="not for another"),
        pytest.param(when(form=("intact",)), lot(), YES, id="form"),
        pytest.param(when(form=("ground",)), lot(), NO, id="other form"),
        pytest.param(when(form=("ground",)), lot(forms=None), OPEN, id="form not said"),
        pytest.param(when(form_not=("ground",)), lot(forms=None), OPEN, id="barred form not said"),
        pytest.param(
            when(form_not=("injected",)), lot(forms=(Form.INJECTED, Form.STUFFED)), NO, id="barred"
        ),
        pytest.param(when(form_not=("injected",)), lot(), YES, id="not barred"),
        pytest.param(when(cut=("roast",)), lot(), YES, id="cut"),
        pytest.param(when(cut=("ribs",)), lot(), NO, id="other cut"),
        pytest.param(when(cut_not=("roast",)), lot(), NO, id="barred cut"),
        pytest.param(when(cut_not=("ribs",)), lot(), YES, id="cut not barred"),
        pytest.param(when(cut=("roast",)), lot(cut=None), OPEN, id="cut not said"),
        pytest.param(
            when(business=("caterer",)), lot(business=Business.CATERER), YES, id="business"
        ),
        pytest.param(
            when(business=("caterer",)), lot(business=Business.STORE), NO, id="other business"
        ),
        pytest.param(when(business=("caterer",)), lot(), OPEN, id="business not said"),
        pytest.param(when(facts={"cured": ("yes",)}), lot(facts={"cured": "yes"}), YES, id="fact"),
        pytest.param(when(facts={"cured": ("yes",)}), lot(facts={"cured": "no"}), NO, id="other"),
        pytest.param(when(facts={"cured": ("yes",)}), lot(), NO, id="never raised"),
        pytest.param(
            when(facts_not={"cured": ("yes",)}), lot(facts={"cured": "yes"}), NO, id="barred fact"
        ),
        pytest.param(when(facts_not={"cured": ("yes",)}), lot(), YES, id="barred fact not said"),
        pytest.param(
            when(species=("beef",), form=("ground",)), lot(forms=None), NO, id="no beats unknown"
        ),
        pytest.param(
            when(form=("ground",), cut=("ribs",)), lot(forms=None), NO, id="in either order"
        ),
    ],
)
def test_of_the_lot(predicate: Predicate, about: Lot, expected: bool | None) -> None:
    found = to_lot(predicate, about)
    assert found.answer is expected
    assert bool(found.why) == (expected is not True)


def test_silence_leaves_open_what_a_fact_permits() -> None:
    """A question that triggers is not laid on a silent record; one that permits stays open."""
    permits = when(facts={"cured": ("yes",)})
    assert to_lot(permits, lot(), silence_bars=False).answer is OPEN
    assert to_lot(permits, lot(facts={"cured": "unknown"}), silence_bars=False).answer is OPEN
    assert to_lot(permits, lot(facts={"cured": "no"}), silence_bars=False).answer is NO


#: Cook from 0 to 4, rest to 6, cool to 9; the rest is the stage in question.
THREE = stages([("cook", 0, 4), ("rest", 4, 6), ("cool", 6, 9)], method="box")
NOTES = [
    note(5, event="sliced"),
    note(5.5, event="stirred", piece="2"),
    note(6, event="portioned"),
]


@pytest.mark.parametrize(
    ("predicate", "expected"),
    [
        pytest.param(when(after=("cook",)), YES, id="after"),
        pytest.param(when(after=("reheat", "cook")), YES, id="after either"),
        pytest.param(when(after=("rest",)), NO, id="itself is not before"),
        pytest.param(when(after=("cool",)), NO, id="what follows is not before"),
        pytest.param(when(not_after=("cook",)), NO, id="not after"),
        pytest.param(when(not_after=("rest", "cool")), YES, id="none before"),
        pytest.param(when(before=("cool",)), YES, id="before"),
        pytest.param(when(before=("cook", "rest")), NO, id="nothing such follows"),
        pytest.param(when(method=("box", "towel")), YES, id="method"),
        pytest.param(when(method=("towel",)), NO, id="other method"),
        pytest.param(when(method_not=("box",)), NO, id="barred method"),
        pytest.param(when(method_not=("towel",)), YES, id="method not barred"),
        pytest.param(when(events=("sliced",)), YES, id="done"),
        pytest.param(when(events=("shredded",)), NO, id="not done"),
        pytest.param(when(events=("stirred",)), NO, id="done to another piece"),
        pytest.param(when(events=("portioned",)), NO, id="done when the stage was over"),
        pytest.param(when(events_not=("sliced",)), NO, id="barred by what was done"),
        pytest.param(when(events_not=("portioned", "stirred")), YES, id="not barred"),
        pytest.param(when(weight_below={"lb": 5, "kg": 2}), OPEN, id="weight not said"),
    ],
)
def test_of_the_stage(predicate: Predicate, expected: bool | None) -> None:
    one = case(THREE, 2, notes=NOTES)
    one.lot = lot()
    found = to_stage(predicate, one)
    assert found.answer is expected
    assert bool(found.why) == (expected is not True)


@pytest.mark.parametrize(
    ("weight", "at_least", "below"),
    [
        # 5 lb or 2 kg are one bound; each weight is compared in its own unit.
        (Weighed(5, "lb"), YES, NO),
        (Weighed(4.9, "lb"), NO, YES),
        (Weighed(2, "kg"), YES, NO),
        (Weighed(1.9, "kg"), NO, YES),
    ],
)
def test_weights(weight: Weighed, at_least: bool, below: bool) -> None:
    one = case(THREE, 2)
    food = Food("lamb", Species.LAMB, None, None, weight)
    one.lot = Lot("t", food, FOOD_CODE, "UTC", (Piece("1"),))
    bound = {"lb": 5, "kg": 2}
    assert to_stage(when(weight_at_least=bound), one).answer is at_least
    assert to_stage(when(weight_below=bound), one).answer is below
    # The weight of the piece itself goes before that of the food.
    one.lot = Lot("t", food, FOOD_CODE, "UTC", (Piece("1", Weighed(50, "lb")),))
    assert to_stage(when(weight_at_least=bound), one).answer is YES


@pytest.mark.parametrize(
    ("key", "answers"),
    [
        ("weight_at_least", (NO, YES, YES)),
        ("weight_more_than", (NO, NO, YES)),
        ("weight_at_most", (YES, YES, NO)),
        ("weight_below", (YES, NO, NO)),
    ],
)
@pytest.mark.parametrize(
    ("bound", "weights"),
    [
        # 1 lb is 0.45359237 kg by definition, so that 10 lb are 4.5359237 kg exactly.
        ({"lb": 10}, (Weighed(9.999, "lb"), Weighed(10, "lb"), Weighed(10.001, "lb"))),
        (
            {"lb": 10},
            (Weighed(4.5359236, "kg"), Weighed(4.5359237, "kg"), Weighed(4.5359238, "kg")),
        ),
        ({"kg": 5}, (Weighed(4.999, "kg"), Weighed(5, "kg"), Weighed(5.001, "kg"))),
        ({"kg": 0.45359237}, (Weighed(0.999, "lb"), Weighed(1, "lb"), Weighed(1.001, "lb"))),
    ],
)
def test_weight_printed_in_one_unit(
    key: str, answers: tuple[bool, ...], bound: dict[str, float], weights: tuple[Weighed, ...]
) -> None:
    one = case(THREE, 2)
    for weight, expected in zip(weights, answers, strict=True):
        one.lot = Lot(
            "t", Food("lamb", Species.LAMB, None, None, weight), FOOD_CODE, "UTC", (Piece("1"),)
        )
        assert to_stage(when(**{key: bound}), one).answer is expected


def test_a_weight_between_two_bounds() -> None:
    one = case(THREE, 2)
    between = when(weight_more_than={"kg": 2}, weight_at_most={"kg": 5})
    for kilograms, expected in ((2, NO), (2.1, YES), (5, YES), (5.1, NO)):
        food = Food("lamb", Species.LAMB, None, None, Weighed(kilograms, "kg"))
        one.lot = Lot("t", food, FOOD_CODE, "UTC", (Piece("1"),))
        assert to_stage(between, one).answer is expected


@pytest.mark.parametrize("key", ["weight_more_than", "weight_at_most"])
def test_a_weight_that_nobody_stated_stays_open(key: str) -> None:
    one = case(THREE, 2)
    one.lot = lot()
    assert to_stage(when(**{key: {"kg": 5}}), one).answer is OPEN


@pytest.mark.parametrize("bound", [{}, {"oz": 3}, {"lb": "ten"}, {"kg": True}])
def test_a_weight_that_cannot_be_read_is_refused(bound: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        when(weight_below=bound)


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        (YES, YES, YES), (YES, NO, NO), (NO, YES, NO), (YES, OPEN, OPEN), (OPEN, YES, OPEN),
        (OPEN, NO, NO), (NO, OPEN, NO), (OPEN, OPEN, OPEN),
    ],
)  # fmt: skip
def test_two_answers_joined(one: bool | None, other: bool | None, expected: bool | None) -> None:
    assert both(Applies(one), Applies(other)).answer is expected
