"""Where the rule files are found, and how their words are put."""

from __future__ import annotations

import doctest
from importlib import import_module
from pathlib import Path

import pytest

from tempwitness.errors import RuleError
from tempwitness.rulebook import folder
from tempwitness.rulebook.words import test_words as words_of


def test_an_installed_package_finds_the_rules_that_it_carries(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "site-packages" / "tempwitness"
    (package / "_rules" / "published").mkdir(parents=True)
    monkeypatch.setattr(folder, "__file__", str(package / "rulebook" / "folder.py"))
    assert folder.shipped_rules.__wrapped__() == package.resolve() / "_rules"


def test_a_package_without_its_rules_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = tmp_path / "a" / "b" / "rulebook" / "folder.py"
    monkeypatch.setattr(folder, "__file__", str(place))
    with pytest.raises(RuleError, match="the rule files are missing"):
        folder.shipped_rules.__wrapped__()


@pytest.mark.parametrize(
    ("test", "words"),
    [
        (
            {
                "form": "fall",
                "start": {"f": 135, "c": 57, "op": ">="},
                "to": {"f": 70, "c": 21, "op": "<="},
                "within": "2 h",
            },
            "from 135 °F (57 °C) to 70 °F (21 °C) within 2 h",
        ),
        (
            {
                "form": "rise",
                "start": {"f": 41, "c": 5, "op": "<="},
                "to": {"f": 165, "c": 74, "op": ">="},
                "hold": "15 s",
                "within": "2 h",
            },
            "from 41 °F (5 °C) to 165 °F (74 °C), held 15 s, within 2 h",
        ),
        (
            {
                "form": "band_clock",
                "low": {"f": 41, "c": 5, "op": ">"},
                "high": {"f": 135, "c": 57, "op": "<"},
                "at_most": "4 h",
                "unheated_only": True,
            },
            "above 41 °F (5 °C) and below 135 °F (57 °C) for at most 4 h in all while nothing "
            "heats it",
        ),
        (
            {"form": "reach", "rows": [{"f": 165, "c": 74, "hold": "0 s"}]},
            "reaches 165 °F (74 °C) at once",
        ),
        ({"form": "longest", "at_most": "60 min"}, "lasts at most 60 min"),
        ({"form": "day_end"}, "what is left is discarded by the end of the day"),
    ],
)
def test_a_test_is_put_into_words(test: dict[str, object], words: str) -> None:
    # The expected sentences are ours; the figures are those of the test beside them.
    assert words_of(test) == words


@pytest.mark.parametrize("module", ["compare", "foods", "words"])
def test_the_examples_in_the_docstrings_hold(module: str) -> None:
    result = doctest.testmod(import_module(f"tempwitness.rulebook.{module}"))
    assert result.attempted > 0
    assert result.failed == 0
