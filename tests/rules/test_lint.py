"""What lint tells someone who writes an override."""

from __future__ import annotations

from pathlib import Path

import pytest

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
requirement = "us/food-code/2022#eggs-air"
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
    (message,) = linted(change('{ f = 45, c = 7, op = "<=" }'), tmp_path)
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
    messages = linted(change('{ f = 50, c = 10, op = "<=" }') + approval, tmp_path)
    assert [m.grade for m in messages] == ["warning"]
    assert "the approval expires on 2026-03-31" in messages[0].text


def test_an_approval_not_yet_granted_on_the_first_day_is_a_warning(tmp_path: Path) -> None:
    approval = """
[change.approval]
kind = "variance"
authority = "Somewhere Health District"
number = "V-1"
granted = 2026-02-01
expires = 2026-12-31
"""
    messages = linted(change('{ f = 50, c = 10, op = "<=" }') + approval, tmp_path)
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
    looser = change('{ f = 50, c = 10, op = "<=" }', reason="strict")
    grades = [m.grade for m in linted(looser, tmp_path)]
    assert grades == ["error", "hint"]


def test_a_message_prints_grade_place_and_remedy(tmp_path: Path) -> None:
    (message,) = linted("[[change]\n", tmp_path)
    text = str(message)
    assert text.startswith("error: ")
    assert "county.toml, line 9" in text
    assert "to mend it:" in text


def added(test: str, more: str = "") -> str:
    return f"""
[[add]]
code = "us/food-code/2022"
id = "somewhere-rule"
title = "A rule of our own"
section = "Somewhere Code 1.3"
weight = "law"
confirmed = "text"
source = ["local"]
test = {test}
{more}
[[add.actions]]
on = ["not_met"]
do = "Discard it."
basis = "code"
"""


FLOOR = '{ form = "throughout", limit = { f = 140, c = 60, op = ">=" } }'
CEILING = '{ form = "throughout", limit = { f = 40, c = 4, op = "<=" } }'


def said(messages: list[Message]) -> list[tuple[str, str]]:
    return [(m.grade, m.text) for m in messages]


def test_an_added_rule_that_fits_has_nothing_to_mend(tmp_path: Path) -> None:
    assert linted(added(FLOOR, 'stages = ["hot_hold"]'), tmp_path) == []
    assert linted(added(CEILING, 'stages = ["cold_hold"]\npoint = "warmest"'), tmp_path) == []


@pytest.mark.parametrize(
    ("test", "more", "text"),
    [
        (FLOOR, 'stages = ["cold_hold"]', "the direction does not fit the stage"),
        (
            CEILING,
            'stages = ["hot_hold"]\npoint = "warmest"',
            "in hot hold: the direction does not",
        ),
        (FLOOR, 'stages = ["hot_hold"]\npoint = "warmest"', "at its warmest point, which says"),
        (CEILING, 'stages = ["cold_hold"]', "at its coldest point, which says nothing"),
        (
            '{ form = "fall", start = { c = 60, f = 140, op = ">=" }, '
            'to = { c = 20, f = 68, op = "<=" }, within = "2 h" }',
            'stages = ["hot_hold"]\npoint = "warmest"',
            "asks for a 'fall' in hot hold, where food does not do that",
        ),
        (
            '{ form = "fall", start = { c = 20, f = 68, op = ">=" }, '
            'to = { c = 60, f = 140, op = "<=" }, within = "2 h" }',
            'stages = ["cool"]\npoint = "warmest"',
            "falls whose colder end, 140 °F (60 °C), is not below its hotter one, 68 °F (20 °C)",
        ),
        (
            '{ form = "rise", start = { c = 5, f = 41, op = "<=" }, '
            'to = { c = 74, f = 165, op = "<=" }, within = "2 h" }',
            'stages = ["reheat"]',
            "has 'to' at most 165 °F (74 °C), which looks the wrong way",
        ),
        (
            '{ form = "outside_band", cold = { c = 60, f = 140, op = "<=" }, '
            'hot = { c = 5, f = 41, op = ">=" } }',
            'stages = ["serve"]',
            "keeps food out of a band whose colder end",
        ),
        (
            '{ form = "band_clock", low = { c = 5, f = 41, op = "<" }, at_most = "2 h" }',
            'stages = ["prep"]',
            "has 'low' below 41 °F (5 °C), which looks the wrong way",
        ),
        (
            FLOOR,
            'stages = ["hot_hold"]\nwhen = { facts = { high_susceptible = ["yes"] } }',
            "no record can state; did you mean highly_susceptible",
        ),
        (
            FLOOR,
            'stages = ["hot_hold"]\nwhen = { facts = { highly_susceptible = ["maybe"] } }',
            "asks whether 'highly_susceptible' is maybe, which is no answer to it",
        ),
    ],
)
def test_an_added_rule_that_does_not_fit_is_a_warning(
    test: str, more: str, text: str, tmp_path: Path
) -> None:
    messages = linted(added(test, more), tmp_path)
    assert [(m.grade, text in m.text) for m in messages] == [("warning", True)], said(messages)
    assert messages[0].mend


def test_an_added_rule_that_is_advice_is_a_warning(tmp_path: Path) -> None:
    text = added(FLOOR, 'stages = ["hot_hold"]').replace('weight = "law"', 'weight = "guidance"')
    (message,) = linted(text, tmp_path)
    assert message.grade == "warning"
    assert "never makes a lot not met" in message.text


def test_a_stage_or_form_that_is_misspelt_is_an_error_with_what_was_meant(tmp_path: Path) -> None:
    (message,) = linted(added(FLOOR, 'stages = ["hot hold"]'), tmp_path)
    assert message.grade == "error"
    assert message.text.endswith("; did you mean 'hot_hold'?")


def test_a_direction_turned_round_is_an_error(tmp_path: Path) -> None:
    (message,) = linted(change('{ f = 40, c = 4, op = ">=" }'), tmp_path)
    assert message.grade == "error"
    assert "in the opposite direction" in message.text
    assert "keep the direction of the code" in message.mend


def test_a_looser_limit_without_approval_is_an_error_that_names_the_approval(
    tmp_path: Path,
) -> None:
    (message,) = linted(change('{ f = 50, c = 10, op = "<=" }'), tmp_path)
    assert message.grade == "error"
    assert "no approval is given; a looser limit is refused" in message.text
    assert "[change.approval] with kind, authority, number, granted and expires" in message.mend


def test_one_slip_does_not_hide_another(tmp_path: Path) -> None:
    text = change('{ f = 50, c = 10, op = "<=" }') + change('{ f = 40, c = 4, op = ">=" }').replace(
        "eggs-air", "hot-hold"
    ).replace("f = 40, c = 4", "f = 130, c = 54")
    texts = [m.text for m in linted(text, tmp_path) if m.grade == "error"]
    assert ["eggs-air" in texts[0], "hot-hold" in texts[1]] == [True, True]


def test_a_requirement_that_is_misspelt_is_an_error_with_what_was_meant(tmp_path: Path) -> None:
    (message,) = linted(change(COLDER).replace("eggs-air", "eggs-aire"), tmp_path)
    assert message.grade == "error"
    assert "has no requirement 'eggs-aire'; did you mean eggs-air" in message.text


def test_another_way_is_an_error_that_names_its_requirement(tmp_path: Path) -> None:
    (message,) = linted(change(COLDER).replace("eggs-air", "hot-hold-roast-130"), tmp_path)
    assert message.grade == "error"
    assert "is another way to keep 'hot-hold'" in message.text


def test_one_unit_where_the_code_prints_both_is_a_warning(tmp_path: Path) -> None:
    (message,) = linted(change('{ f = 40, op = "<=" }'), tmp_path)
    assert message.grade == "warning"
    # 40 °F is (40 - 32) / 1.8 = 4.4 °C.
    assert "the limit gives 40 °F only" in message.text
    assert "held to the exact conversion, 4.4 °C" in message.text
    assert "add 'c = …'" in message.mend


def test_one_unit_where_the_code_prints_one_is_well(tmp_path: Path) -> None:
    text = change('{ c = 65, op = ">=" }').replace(
        "us/food-code/2022#eggs-air", "gb/eng/2013#hot-hold"
    )
    messages = linted(text, tmp_path)
    assert [m for m in messages if "only, where" in m.text] == []


def test_days_on_which_the_code_is_not_in_force_are_a_warning(tmp_path: Path) -> None:
    # 25 TAC 228 adopts the Food Code 2017 from 8 August 2021 on.
    text = change(COLDER).replace("us/food-code/2022", "us/tx/25-tac-228")
    head = HEAD.replace("from = 2026-01-01", "from = 2021-01-01")
    (message,) = linted(text, tmp_path, head)
    assert message.grade == "warning"
    assert "not known to be in force in us/tx from 2021-01-01 until 2021-08-07" in message.text


def test_a_code_that_has_ended_is_a_warning_that_names_the_next(tmp_path: Path) -> None:
    # O. Reg. 493/17 stands in the place of Regulation 562 from 1 July 2018 on.
    text = change(COLDER).replace("us/food-code/2022#eggs-air", "ca/on/562#reheat-2h")
    text = text.replace(f"limit = {COLDER}", 'at_most = "1 h"')
    message = next(m for m in linted(text, tmp_path) if "in force" in m.text)
    assert message.grade == "warning"
    assert "in ca/on from 2026-01-01 until 2026-12-31" in message.text
    assert "ca/on/493-17" in message.mend


def test_a_model_that_a_later_one_replaced_is_a_hint(tmp_path: Path) -> None:
    (message,) = linted(change(COLDER).replace("/2022", "/2017"), tmp_path)
    assert message.grade == "hint"
    assert "was superseded" in message.text


def test_the_same_limit_left_elsewhere_is_a_hint(tmp_path: Path) -> None:
    hotter = change('{ f = 140, c = 60, op = ">=" }').replace("eggs-air", "hot-hold")
    messages = [m for m in linted(hotter, tmp_path) if "stays in" in m.text]
    assert said(messages) == [
        ("hint", "'hot-hold' is changed, but the same limit stays in band-hold")
    ]
    both = hotter + hotter.replace("hot-hold", "band-hold")
    assert [m for m in linted(both, tmp_path) if "stays in" in m.text] == []


def test_a_figure_that_is_changed_twice_is_a_warning(tmp_path: Path) -> None:
    twice = change(COLDER) + change('{ f = 38, c = 3, op = "<=" }')
    (message,) = linted(twice, tmp_path)
    assert message.grade == "warning"
    assert "is changed twice, first in " in message.text


APPROVAL = """
[change.approval]
kind = "variance"
authority = "Somewhere Health District"
number = "V-1"
granted = 2026-01-01
expires = 2026-12-31
"""
LOOSER = '{ f = 50, c = 10, op = "<=" }'


def test_a_looser_limit_under_its_approval_is_well(tmp_path: Path) -> None:
    assert linted(change(LOOSER) + APPROVAL, tmp_path) == []


def test_an_approval_without_a_number_is_a_warning(tmp_path: Path) -> None:
    (message,) = linted(change(LOOSER) + APPROVAL.replace('"V-1"', '" "'), tmp_path)
    assert message.grade == "warning"
    assert "the approval names no number" in message.text


def test_an_approval_without_an_end_is_a_hint(tmp_path: Path) -> None:
    text = change(LOOSER) + APPROVAL.replace("expires = 2026-12-31\n", "")
    (message,) = linted(text, tmp_path)
    assert message.grade == "hint"
    assert "the approval has no last day" in message.text


def test_an_approval_that_is_not_needed_is_a_hint(tmp_path: Path) -> None:
    (message,) = linted(change(COLDER) + APPROVAL, tmp_path)
    assert message.grade == "hint"
    assert "which only a looser limit needs" in message.text
