"""Rules put into words print what the code prints, and nothing that was converted."""

from __future__ import annotations

import pytest

from tempwitness.rulebook.words import test_words as words_of_test
from tempwitness.rulebook.words import when_words


@pytest.mark.parametrize(
    ("key", "bound", "expected"),
    [
        ("weight_at_least", {"lb": 10, "kg": 4.5}, "pieces of at least 10 lb (4.5 kg)"),
        ("weight_more_than", {"kg": 5}, "pieces of more than 5 kg"),
        ("weight_at_most", {"lb": 10}, "pieces of at most 10 lb"),
        ("weight_below", {"kg": 5}, "pieces of under 5 kg"),
    ],
)
def test_weights(key: str, bound: dict[str, float], expected: str) -> None:
    assert when_words({key: bound}) == [expected]


def test_rows() -> None:
    rows = [{"c": 75, "hold": "1 min", "op": ">"}, {"f": 165, "c": 74, "hold": "0 s"}]
    said = words_of_test({"form": "reach", "rows": rows})
    assert said == "reaches above 75 °C for 1 min; or 165 °F (74 °C) at once"


def test_a_cap_within_any_stretch() -> None:
    band = {"form": "band_clock", "low": {"c": 5, "op": ">"}, "at_most": "12 h", "in_any": "24 h"}
    assert words_of_test(band) == "above 5 °C for at most 12 h in any 24 h"


@pytest.mark.parametrize(
    ("test", "expected"),
    [
        (
            {"form": "longest", "at_most": "30 min", "after_cook": "last"},
            "lasts at most 30 min from the end of the last cook on",
        ),
        (
            {
                "form": "band_clock",
                "low": {"c": 5, "op": ">"},
                "at_most": "4 h",
                "after_cook": "first",
            },
            "above 5 °C for at most 4 h in all after the first cook",
        ),
        (
            {"form": "evidence", "question": "Which one?", "settled_by": "x"},
            "a process proved safe: Which one?",
        ),
        (
            {"form": "evidence", "question": "Why?", "settled_by": "x", "what": "a reason"},
            "a reason: Why?",
        ),
    ],
)
def test_forms(test: dict[str, object], expected: str) -> None:
    assert words_of_test(test) == expected
