"""Foods by their names; the pairs are plain kitchen knowledge, no source."""

from __future__ import annotations

import pytest

from tempwitness.errors import InputError
from tempwitness.rulebook.foods import classify, form_named


@pytest.mark.parametrize(
    ("name", "species", "cut"),
    [
        ("smoked lamb shoulder", "lamb", "roast"),
        ("Leg of LAMB", "lamb", "roast"),
        ("lamb shoulder chops", "lamb", "steak"),
        ("rack of lamb", "lamb", "ribs"),
        ("packer brisket", "beef", "roast"),
        ("beef brisket", "beef", "roast"),
        ("beef short ribs", "beef", "ribs"),
        ("beef short-ribs", "beef", "ribs"),
        ("prime rib", "beef", "roast"),
        ("beef ribeye steak", "beef", "steak"),
        ("corned beef", "beef", "roast"),
        ("beef", "beef", None),
        ("turkey breast", "turkey", "bird_part"),
        ("smoked turkey legs", "turkey", "bird_part"),
        ("whole turkey", "turkey", "whole_bird"),
        ("turkey", "turkey", None),
        ("turkey sausage", "turkey", "sausage"),
        ("chicken halves", "chicken", "bird_part"),
        ("goose", "other_poultry", None),
        ("turducken", "other_poultry", None),
        ("lamb with meat gravy", "lamb", None),
        ("pinto beans, no meat", "plant", "pan"),
        ("oysters", "fish", None),
        ("pork ribs", "pork", "ribs"),
        ("pork loin chops", "pork", "steak"),
        ("ham", "pork", "roast"),
        ("salmon", "fish", None),
        ("deviled eggs", "egg", None),
        ("ostrich steak", "ratite", "steak"),
        ("goat leg", "goat", "roast"),
        ("pinto beans", "plant", "pan"),
        ("collard greens", "plant", "pan"),
        ("sweet potatoes", "plant", "pan"),
        ("wild rice", "plant", "pan"),
        ("eggplant", "plant", "pan"),
    ],
)
def test_a_name_says_species_and_cut(name: str, species: str, cut: str | None) -> None:
    found, shape = classify(name)
    assert found.value == species
    assert (shape.value if shape else None) == cut


@pytest.mark.parametrize(
    "name",
    [
        "baked beans with brisket",
        "baked beans with meat",
        "beans and sausage",
        "beans and hot dogs",
        "red beans with andouille",
        "greens with ham",
        "greens with fatback",
        "corn and crawfish boil",
        "corn dogs",
        "egg rolls",
        "beef and pork",
        "chili",
    ],
)
def test_what_may_hold_several_animals_is_mixed_and_so_the_strictest(name: str) -> None:
    assert classify(name)[0].value == "mixed"


@pytest.mark.parametrize("name", ["ribs", "sausage", "meatballs", "dinner", "", "  ", "42"])
def test_an_unknown_name_says_what_to_write_instead(name: str) -> None:
    with pytest.raises(InputError, match="not known by its name") as caught:
        classify(name)
    assert "species = one of beef, veal, lamb" in caught.value.hint
    assert caught.value.location is not None
    assert caught.value.location.key == "food.species"


@pytest.mark.parametrize("name", ["venison haunch", "wild turkey", "wild boar shoulder"])
def test_game_is_asked_for_because_the_law_tells_hunted_from_farmed(name: str) -> None:
    with pytest.raises(InputError, match="leaves a question open") as caught:
        classify(name)
    assert "wild_game" in caught.value.message


@pytest.mark.parametrize(
    ("name", "answer"),
    [
        ("cornish game hens", "chicken"),
        ("game birds", "other_poultry"),
        ("stuffed peppers", "mixed"),
        ("stuffed cabbage", "mixed"),
        ("brisket mac and cheese", "mixed"),
        ("rice pudding", "mixed"),
    ],
)
def test_what_a_name_hides_is_asked_for(name: str, answer: str) -> None:
    # FDA Food Code 2022 1-201.10: game birds are poultry; 3-401.11(A)(3): the stuffing counts.
    with pytest.raises(InputError, match="leaves a question open") as caught:
        classify(name)
    assert f'"{answer}"' in caught.value.message
    assert "farmed" not in caught.value.message


@pytest.mark.parametrize(
    ("name", "form"),
    [
        ("ground beef", "ground"),
        ("turkey burgers", "ground"),
        ("injected brisket", "injected"),
        ("jaccarded flank steak", "tenderised"),
        ("stuffed lamb leg", "stuffed"),
        ("whole turkey, unstuffed", None),
        ("brisket, not injected", None),
        ("lamb shoulder", None),
    ],
)
def test_a_name_may_speak_of_the_form(name: str, form: str | None) -> None:
    found = form_named(name)
    assert (found and found.value) == form
