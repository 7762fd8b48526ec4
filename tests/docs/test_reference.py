"""The reference pages are those that the code would draw now, and nothing lacks its words."""

from __future__ import annotations

from pathlib import Path

import pytest

from tempwitness.cli.exit_codes import ExitCode
from tempwitness.model.base import Written
from tempwitness.model.vocabulary import Event, StageName, Verdict, Weight
from tempwitness.readers import shape
from tests.docs import answers, generate
from tests.docs.key_words import WORDS
from tests.docs.record_keys import TABLES, keys

ROOT = Path(__file__).resolve().parents[2]


def test_every_page_is_current() -> None:
    assert generate.differing() == []


def test_a_page_that_is_not_current_is_noticed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(generate, "REFERENCE", tmp_path)
    generate.write()
    assert generate.main(["--check"]) == 0
    (tmp_path / "answers.md").write_text("old\n", encoding="utf-8")
    (tmp_path / "left-over.md").write_text("old\n", encoding="utf-8")
    assert generate.main(["--check"]) == 1
    said = capsys.readouterr().err
    assert "answers.md" in said
    assert "left-over.md" in said
    assert generate.main([]) == 0
    assert generate.differing() == []


def test_every_table_of_a_record_is_on_its_page() -> None:
    written = {
        value
        for value in vars(shape).values()
        if isinstance(value, type) and issubclass(value, Written) and value is not Written
    }
    assert set(TABLES) == written


@pytest.mark.parametrize("model", TABLES, ids=lambda model: model.__name__)
def test_every_key_of_a_record_has_its_words_and_no_other(model: type[Written]) -> None:
    assert [key for key, _ in keys(model)] == list(WORDS[model.__name__])


def test_every_word_of_the_trade_is_explained() -> None:
    assert set(answers.VERDICTS) == set(Verdict)
    assert set(answers.STATUSES) == set(ExitCode)
    assert set(answers.WEIGHTS) == set(Weight)
    assert set(answers.EVENTS) == set(Event)
    assert set(answers.STAGES) == set(StageName)
