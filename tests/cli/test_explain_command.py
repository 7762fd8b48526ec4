"""`rules explain`: what is asked, why, by which text, how far confirmed, and examples."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from tempwitness.cli import wrapping
from tempwitness.cli.rules import rules


def explained(name: str, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr(wrapping, "width", lambda: 80)
    result = CliRunner().invoke(rules, ["explain", name])
    assert result.exit_code == 0, result.output
    assert [line for line in result.output.splitlines() if len(line) > 80] == []
    return " ".join(result.output.split())


def test_it_says_what_is_asked_where_and_how_far_that_is_known(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    text = explained("us/food-code/2022#hot-hold", monkeypatch)
    assert text.startswith("us/food-code/2022#hot-hold FDA Food Code, 2022 hot-hold: Hold hot")
    assert "3-501.16(A)(1) (P); law; rest, hot hold" in text
    assert "at least 135 °F (57 °C) throughout" in text
    assert "read in a text that reproduces the section" in text
    assert "source: US Food and Drug Administration: Food Code" in text
    assert "The local health authority decides" in text


def test_it_gives_examples_for_its_own_food(monkeypatch: pytest.MonkeyPatch) -> None:
    # Table 3-2 of 3-401.11(B)(1) begins at 130 °F for 112 min.
    text = explained("us/food-code/2022#cook-roast", monkeypatch)
    assert "for example, invented, where it applies:" in text
    assert "lamb roast that stands at 130 °F for 1 h 52 min: met" in text
    assert "lamb roast that never passes 129 °F: not met" in text
    assert "lamb roast that stands at 130 °F for 1 h 51 min: not met" in text
    assert "lamb roast, nothing measured: not shown" in text


def test_it_says_that_another_way_may_hold(monkeypatch: pytest.MonkeyPatch) -> None:
    text = explained("gb/eng/2013#hot-hold", monkeypatch)
    # SI 2013/2996, Schedule 4, paragraphs 6 and 7.
    assert "where it applies and none of the other ways is kept: " in text
    assert "food that reads 62 °C: not met" in text
    assert "effect: offence" in text


def test_it_says_what_was_taken_over_and_who_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    text = explained("us/tx/25-tac-228#cook-roast-oven-humid", monkeypatch)
    assert "taken over from: FDA Food Code" in text
    assert "where it is broken, the authority is asked what follows" in text
