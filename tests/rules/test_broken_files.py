"""Files with one mistake each: the message says what is wrong, where, and how to mend it.

The expected words stand in the first line of each file.
"""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from tempwitness.errors import RuleError
from tempwitness.rulebook.files import topic_files
from tempwitness.rulebook.lint import lint_file
from tempwitness.rulebook.load import load_code, load_code_folder
from tempwitness.rulebook.override import apply_overrides, load_override

BROKEN = Path(__file__).parent / "broken"
TOPICS = sorted(BROKEN.glob("topic-*.toml"))
OVERRIDES = sorted(BROKEN.glob("override-*.toml"))
HEAD = """
order = ["topic"]
[head]
id = "test/code"
title = "A code for a test"
edition = "1"
issuer = "nobody"
authority = "The local health authority decides."
"""


def expected(path: Path) -> str:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    return first.removeprefix("# expect: ").strip()


def code_folder(tmp_path: Path, topic: Path | None = None, head: str = HEAD) -> Path:
    (tmp_path / "code.toml").write_text(head, encoding="utf-8")
    if topic is not None:
        shutil.copy(topic, tmp_path / "topic.toml")
    return tmp_path


def name(path: Path) -> str:
    return path.stem


@pytest.mark.parametrize("path", TOPICS, ids=name)
def test_a_broken_rule_file_is_refused_and_says_why(path: Path, tmp_path: Path) -> None:
    with pytest.raises(RuleError) as caught:
        load_code_folder("test/code", code_folder(tmp_path, path))
    assert expected(path).lower() in str(caught.value).lower()
    assert caught.value.location is not None
    assert caught.value.location.file.endswith("topic.toml")
    assert caught.value.hint


@pytest.mark.parametrize("path", OVERRIDES, ids=name)
def test_a_broken_override_is_refused_and_says_why(path: Path) -> None:
    with pytest.raises(RuleError) as caught:
        apply_overrides(load_code("us/food-code/2022"), [load_override(path)], on=date(2026, 6, 1))
    assert expected(path).lower() in str(caught.value).lower()
    assert caught.value.location is not None
    assert caught.value.location.file.endswith(path.name)


@pytest.mark.parametrize("path", OVERRIDES, ids=name)
def test_lint_finds_the_same_mistake(path: Path) -> None:
    errors = [m for m in lint_file(path) if m.grade == "error"]
    assert any(expected(path).lower() in m.text.lower() for m in errors)


def test_a_mistake_is_placed_at_its_requirement(tmp_path: Path) -> None:
    folder = code_folder(tmp_path, BROKEN / "topic-duplicate-id.toml")
    with pytest.raises(RuleError) as caught:
        load_code_folder("test/code", folder)
    location = caught.value.location
    assert location is not None
    # Line 1 is the comment, the first requirement begins in line 2 and has 12 lines, then a blank.
    assert location.line == 15


def test_all_mistakes_are_told_at_once(tmp_path: Path) -> None:
    folder = code_folder(tmp_path, BROKEN / "topic-several.toml")
    with pytest.raises(RuleError) as caught:
        load_code_folder("test/code", folder)
    assert "key 'section' is missing" in str(caught.value)
    assert "'rule' is not allowed" in str(caught.value)


def test_order_must_name_the_files(tmp_path: Path) -> None:
    with pytest.raises(RuleError, match="do not agree: topic"):
        topic_files(code_folder(tmp_path))


def test_order_must_be_a_list(tmp_path: Path) -> None:
    head = HEAD.replace('["topic"]', '"topic"')
    with pytest.raises(RuleError, match="'order' must list"):
        topic_files(code_folder(tmp_path, head=head))


def test_the_head_must_carry_its_own_path(tmp_path: Path) -> None:
    good = BROKEN / "topic-unknown-source.toml"
    text = good.read_text(encoding="utf-8").replace("hearsay", "food-code-2022")
    folder = code_folder(tmp_path)
    (folder / "topic.toml").write_text(text, encoding="utf-8")
    assert load_code_folder("test/code", folder).head.id == "test/code"
    with pytest.raises(RuleError, match="the id 'test/code' is not the path 'test/other'"):
        load_code_folder("test/other", folder)


def test_an_unknown_code_names_the_nearest() -> None:
    with pytest.raises(RuleError, match="no code has the id 'us/food-code/2202'") as caught:
        load_code("us/food-code/2202")
    assert "us/food-code/2022" in caught.value.hint


def test_a_file_that_is_not_utf8_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "county.toml"
    path.write_bytes('title = "für"'.encode("latin-1"))
    with pytest.raises(RuleError, match="not UTF-8"):
        load_override(path)


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(RuleError, match="cannot be read"):
        load_override(tmp_path / "nowhere.toml")
