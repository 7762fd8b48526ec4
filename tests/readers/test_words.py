"""Temperatures, weights and heights as people write them."""

from __future__ import annotations

import pytest

from tempwitness.model.vocabulary import StageName
from tempwitness.readers.words import height_m, plain_number, temperature, weighed, word
from tempwitness.units import Unit


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("138 F", 138.0, Unit.F),
        ("138F", 138.0, Unit.F),
        ("58.9 °C", 58.9, Unit.C),
        ("58.9℃", 58.9, Unit.C),
        ("\u22125 c", -5.0, Unit.C),
        ("-0.5 deg F", -0.5, Unit.F),
    ],
)
def test_temperature(text: str, value: float, unit: Unit) -> None:
    assert temperature(text) == (value, unit)


@pytest.mark.parametrize("text", ["138", "~165 F", "<41 F", "140-145 F", "hot", "138,5 F", "1 F 2"])
def test_what_is_no_temperature_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not a temperature with its unit"):
        temperature(text)


def test_a_bare_number_is_asked_for_its_unit() -> None:
    with pytest.raises(ValueError, match="138 has no unit"):
        temperature(138)


@pytest.mark.parametrize("text", ["1_000", "1e3", "nan", "inf", "0x10", " 1", ""])
def test_python_s_own_numbers_are_not_a_person_s(text: str) -> None:
    with pytest.raises(ValueError, match="not a number"):
        plain_number(text)


@pytest.mark.parametrize(
    ("text", "shown"),
    # 4 oz is a quarter of a pound of 16 oz.
    [("9 lb", "9 lb"), ("9lbs", "9 lb"), ("9 lb 4 oz", "9.25 lb"), ("4.1 kg", "4.1 kg")],
)
def test_weight(text: str, shown: str) -> None:
    assert str(weighed(text)) == shown


@pytest.mark.parametrize("text", ["9", "9 stone", "0 lb", "4 kg 4 oz", "-1 lb"])
def test_what_is_no_weight_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not a weight"):
        weighed(text)


def test_height() -> None:
    # The international foot is 0.3048 m by definition: 5280 x 0.3048 = 1609.344.
    assert height_m("5280 ft") == pytest.approx(1609.344)
    assert height_m("1609 m") == 1609.0
    with pytest.raises(ValueError, match="not a height"):
        height_m("a mile")


def test_words_take_spaces_and_offer_the_nearest() -> None:
    assert word("Hot hold", StageName, "stage") is StageName.HOT_HOLD
    with pytest.raises(ValueError, match="did you mean 'hot_hold'"):
        word("hot_hod", StageName, "stage")
