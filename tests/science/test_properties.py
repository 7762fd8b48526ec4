"""Choi and Okos against CoolProp's data, and mixtures against figures worked out elsewhere."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI

from tempwitness.science.properties import (
    CONSTITUENTS,
    Composition,
    constituent,
    food_like,
    foods,
    material_of,
    series_conductivity,
)
from tempwitness.science.ranges import OutOfRangeError

_NAMES = {
    "protein": "FoodProtein",
    "fat": "FoodFat",
    "carbohydrate": "FoodCarbohydrate",
    "fibre": "FoodFiber",
    "ash": "FoodAsh",
    "water": "FoodWater",
}


@pytest.mark.parametrize("celsius", [0.5, 5.0, 41.0, 60.0, 99.5])
@pytest.mark.parametrize("name", CONSTITUENTS)
def test_constituents_agree_with_coolprop(name: str, celsius: float) -> None:
    kelvin, fluid = celsius + 273.15, f"INCOMP::{_NAMES[name]}"
    found = constituent(name).at(celsius)
    for value, key in (
        (found.conductivity, "L"),
        (found.density, "D"),
        (found.heat_capacity, "C"),
    ):
        assert value == pytest.approx(PropsSI(key, "T", kelvin, "P", 101325, fluid), rel=1e-12)


# The six constituents at 60 °C, worked out by hand from the printed polynomials: ρ, cp, k.
_AT_60 = {
    "water": (983.842, 4143.15, 0.65271),
    "protein": (1298.796, 2076.01, 0.24077),
    "fat": (900.536, 2055.32, 0.16351),
    "carbohydrate": (1580.472, 1645.17, 0.26906),
    "fibre": (1289.547, 1938.99, 0.24689),
    "ash": (2406.962, 1192.72, 0.40322),
}


@pytest.mark.parametrize("name", CONSTITUENTS)
def test_constituents_at_sixty_degrees(name: str) -> None:
    density, capacity, conductivity = _AT_60[name]
    found = constituent(name).at(60.0)
    assert found.density == pytest.approx(density, abs=5.1e-4)
    assert found.heat_capacity == pytest.approx(capacity, abs=5.1e-3)
    assert found.conductivity == pytest.approx(conductivity, abs=5.1e-6)


# Mixtures worked out apart from this program, rounded: ρ, cp, k parallel, k in series, α × 1e7.
_MIXTURES = {
    "beef_brisket": (60, 1048, 3180, 0.464, 0.333, 1.39),
    "pork_shoulder": (60, 1037, 3242, 0.474, 0.338, 1.41),
    "chicken": (60, 1053, 3389, 0.517, 0.396, 1.45),
    "beans": (60, 1082, 3477, 0.570, 0.490, 1.52),
    "macaroni_cheese": (60, 1076, 3394, 0.546, 0.438, 1.50),
}


@pytest.mark.parametrize("name", list(_MIXTURES))
def test_mixtures(name: str) -> None:
    celsius, density, capacity, parallel, series, diffusivity = _MIXTURES[name]
    food = next(f for f in foods() if f.id == name)
    found = material_of(food.composition, celsius)
    assert found.density == pytest.approx(density, abs=0.51)
    assert found.heat_capacity == pytest.approx(capacity, abs=0.51)
    assert found.conductivity == pytest.approx(parallel, abs=5.1e-4)
    assert series_conductivity(food.composition, celsius) == pytest.approx(series, abs=5.1e-4)
    assert found.diffusivity * 1e7 == pytest.approx(diffusivity, abs=0.006)


def test_volume_and_not_mass_is_what_conductivity_goes_by() -> None:
    # Mixed by mass, the density of cooked pork shoulder would be 1062.6 instead of 1036.5.
    food = next(f for f in foods() if f.id == "pork_shoulder")
    by_mass = sum(x * constituent(n).at(60).density for n, x in food.composition.shares().items())
    assert by_mass == pytest.approx(1062.6, abs=0.05)
    assert material_of(food.composition, 60).density == pytest.approx(1036.5, abs=0.05)


def test_heat_capacity_against_measurements() -> None:
    # Meat Refrigeration (James and James), table 13.2, 0 to 100 °C [kJ/(kg K)]: lean beef with
    # 72 % water 3.43; chicken with 73 % 3.39. The model is one of constituents: within 6 %.
    lean = Composition(water=0.72, protein=0.22, fat=0.05, ash=0.01)
    assert material_of(lean, 50).heat_capacity == pytest.approx(3430, rel=0.06)
    # Chen 1985, unfrozen: cp = 4190 - 2300 x - 628 x³ with x the solids; beans 3532, pork 3151.
    for name, solids in (("beans", 0.28), ("pork_shoulder", 0.43)):
        food = next(f for f in foods() if f.id == name)
        chen = 4190 - 2300 * solids - 628 * solids**3
        assert material_of(food.composition, 60).heat_capacity == pytest.approx(chen, rel=0.04)


def test_every_food_is_food() -> None:
    assert len(foods()) >= 6
    assert len({food.id for food in foods()}) == len(foods())
    for food in foods():
        found = material_of(food.composition, 60.0)
        # Range of unfrozen dense foods in tables: α 1.2 to 1.6e-7 m²/s.
        assert 1.2e-7 < found.diffusivity < 1.6e-7
        assert series_conductivity(food.composition, 60.0) < found.conductivity


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("smoked lamb shoulder", "lamb_shoulder"),
        ("Whole packer brisket", "beef_brisket"),
        ("baked beans", "beans"),
        ("turkey breast", "turkey"),
        ("Mac and Cheese", "macaroni_cheese"),
    ],
)
def test_foods_are_known_by_their_words(words: str, name: str) -> None:
    food = food_like(words)
    assert food is not None
    assert food.id == name


def test_an_unknown_food_is_not_guessed() -> None:
    assert food_like("apple sauce") is None


def test_what_is_out_of_range_is_refused() -> None:
    food = foods()[0].composition
    with pytest.raises(OutOfRangeError, match="ice"):
        material_of(food, -5.0)
    with pytest.raises(OutOfRangeError, match="from -40 to 150 °C"):
        material_of(food, 200.0)
    with pytest.raises(OutOfRangeError, match="sum of the shares"):
        Composition(water=0.5)
    with pytest.raises(OutOfRangeError, match="share of fat"):
        Composition(water=0.9, fat=-0.1)
    with pytest.raises(OutOfRangeError, match="no constituent"):
        constituent("sugar")
