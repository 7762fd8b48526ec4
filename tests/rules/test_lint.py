"""What lint tells someone who writes an override."""

from __future__ import annotations

from pathlib import Path

from tempwitness.rulebook.files import rules_folder
from tempwitness.rulebook.lint import Message, lint_file

HEAD = """
[override]
id = "local/somewhere"
title = "Somewhere's rules"
authority = "Somewhere Health District"
citation = "Somewhere Code 1.2"
from = 2026-01-01
to = 2026-12-31
"""


def linted(text: str, tmp_path: Path, head: str = HEAD) -> list[Message]:
    path = tmp_path / "county.toml"
    path.write_text(head + text, encoding="utf-8")
    return lint_file(path)


def change(
    limit: str = '{ f = 140, c = 60, op = ">=" }', reason: str = "kept since 1990 here"
) -> str:
    return f"""
[[change]]
requirement = "us/food-code/2022#cold-hold"
limit = {limit}
reason = "{reason}"
"""


COLDER = '{ f = 40, c = 4, op = "<=" }'


def test_a_good_file_has_nothing_to_mend(tmp_path: Path) -> None:
    assert linted(change(COLDER), tmp_path) == []


def test_the_shipped_pattern_has_hints_only() -> None:
    messages = lint_file(rules_folder() / "local" / "county-example.toml")
    assert {m.grade for m in messages} == {"hint"}
    assert all("falls away" in m.text for m in messages)


def test_a_slip_between_the_units_is_a_warning(tmp_path: Path) -> None:
    # 38 °F is (38 - 32) / 1.8 = 3.33 °C, so 4.4 °C is not its rounding.
    (message,) = linted(change('{ f = 38, c = 4.4, op = "<=" }'), tmp_path)
    assert message.grade == "warning"
    assert "38 °F is 3.3 °C, but 4.4 °C is written beside it" in message.text


def test_a_change_that_changes_nothing_is_a_warning(tmp_path: Path) -> None:
    (message,) = linted(change('{ f = 41, c = 5, op = "<=" }'), tmp_path)
    assert message.grade == "warning"
    assert "nothing changes" in message.text


def test_a_bare_reason_is_a_hint(tmp_path: Path) -> None:
    (message,) = linted(change(COLDER, reason="strict"), tmp_path)
    assert message.grade == "hint"
    assert "'strict' says little" in message.text


def test_an_open_end_is_a_hint(tmp_path: Path) -> None:
    (message,) = linted(change(COLDER), tmp_path, HEAD.replace("to = 2026-12-31\n", ""))
    assert message.grade == "hint"
    assert "no last day" in message.text


def test_an_approval_that_ends_early_is_a_warning(tmp_path: Path) -> None:
    approval = """
[change.approval]
kind = "variance"
authority = "Somewhere Health District"
number = "V-1"
granted = 2026-01-01
expires = 2026-03-31
"""
    messages = linted(change('{ f = 45, c = 7, op = "<=" }') + approval, tmp_path)
    assert [m.grade for m in messages] == ["warning"]
    assert "the approval expires on 2026-03-31" in messages[0].text


def test_an_approval_not_yet_granted_on_the_first_day_is_a_warning(tmp_path: Path) -> None:
    approval = """
[change.approval]
kind = "variance"
authority = "Somewhere Health District"
number = "V-1"
granted = 2026-02-01
"""
    messages = linted(change('{ f = 45, c = 7, op = "<=" }') + approval, tmp_path)
    assert any("the change is not applied" in m.text for m in messages)


def test_an_added_requirement_without_an_action_is_a_hint(tmp_path: Path) -> None:
    (message,) = linted(
        """
[[add]]
code = "us/food-code/2022"
id = "somewhere-day-end"
title = "Nothing stays overnight"
section = "Somewhere Code 1.3"
weight = "law"
confirmed = "text"
source = ["local"]
test = { form = "day_end" }
""",
        tmp_path,
    )
    assert message.grade == "hint"
    assert "has no action" in message.text


def test_the_gravest_comes_first(tmp_path: Path) -> None:
    looser = change('{ f = 45, c = 7, op = "<=" }', reason="strict")
    grades = [m.grade for m in linted(looser, tmp_path)]
    assert grades == ["error", "hint"]


def test_a_message_prints_grade_place_and_remedy(tmp_path: Path) -> None:
    (message,) = linted("[[change]\n", tmp_path)
    text = str(message)
    assert text.startswith("error: ")
    assert "county.toml, line 9" in text
    assert "to mend it:" in text
