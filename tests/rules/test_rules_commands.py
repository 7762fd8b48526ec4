"""The commands ``rules list | show | explain | compare | lint``."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tempwitness.cli import wrapping
from tempwitness.cli.rules import rules
from tempwitness.errors import RuleError
from tempwitness.rulebook.files import code_ids, rules_folder
from tempwitness.rulebook.load import load_code

CODE = "us/food-code/2022"
COUNTY = str(rules_folder() / "local" / "county-example.toml")


@pytest.fixture(autouse=True)
def _eighty_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(wrapping, "width", lambda: 80)


def run(*arguments: str) -> Result:
    return CliRunner().invoke(rules, arguments)


def output(*arguments: str) -> str:
    result = run(*arguments)
    assert result.exit_code == 0, result.output
    return result.output


def joined(text: str) -> str:
    """Undo the wrapping, so that a sentence can be looked for."""
    return " ".join(text.split())


def test_list_names_every_code() -> None:
    text = output("list")
    for code_id in code_ids():
        assert code_id in text


def test_list_as_json() -> None:
    codes = json.loads(output("list", "--json"))
    assert [c["id"] for c in codes] == code_ids()
    assert all(c["requirements"] > 0 for c in codes)


def test_show_prints_both_figures_section_and_confirmation() -> None:
    text = joined(output("show", CODE))
    # Food Code 3-501.16(A)(1) as Wisconsin prints it: 135 °F (57 °C), roasts 130 °F (54 °C).
    assert "at least 135 °F (57 °C) throughout" in text
    assert "at least 130 °F (54 °C) throughout" in text
    assert "3-501.16(A)(1) (P); law; rest, hot hold; coldest point" in text
    assert "unconfirmed: from memory" in text
    assert "unconfirmed: second-hand" in text
    assert "The local health authority decides" in text


def test_show_prints_the_ladder_row_by_row() -> None:
    lines = [line.strip() for line in output("show", CODE).splitlines()]
    # Table 3-2, first and last row (Washington WAC 246-215-03400).
    assert "130 °F (54.4 °C) for 112 min" in lines
    assert "158 °F (70.0 °C) at once" in lines


def test_show_names_every_requirement_and_stays_within_the_width() -> None:
    text = output("show", CODE)
    assert all(len(line) <= 80 for line in text.splitlines())
    for requirement in load_code(CODE).requirements:
        assert f"{requirement.id}: {requirement.title.split()[0]}" in text


def test_no_figure_is_torn_from_its_unit() -> None:
    for line in output("show", CODE).splitlines():
        assert not line.strip().startswith("°")


def test_show_one_stage() -> None:
    text = output("show", CODE, "--stage", "cool")
    assert "cool-135-to-70" in text
    assert "hot-hold:" not in text


def test_show_as_json_keeps_numbers_as_numbers() -> None:
    code = json.loads(output("show", CODE, "--json"))
    hold = next(r for r in code["requirements"] if r["id"] == "hot-hold")
    assert hold["test"]["limit"] == {"f": 135, "c": 57, "op": ">="}
    assert hold["file"] == "rules/published/us/food-code/2022/holding.toml"


def test_show_of_an_unknown_code_says_what_was_meant() -> None:
    result = run("show", "us/food-code/2023")
    assert isinstance(result.exception, RuleError)
    assert "us/food-code/2022" in result.exception.hint


@pytest.mark.parametrize(
    "name", ["us/food-code/2022#hot-hold", "us/food-code/2022#hot-hold-roast-130"]
)
def test_explain_gives_reason_action_and_source(name: str) -> None:
    text = joined(output("explain", name))
    assert text.startswith("us/food-code/2022#hot-hold")
    assert "if not met: Reheat every piece to 165 °F (74 °C) for 15 s within 2 h" in text
    assert "[practice]" in text
    assert "source: US Food and Drug Administration: Food Code" in text


def test_explain_of_an_unknown_requirement_says_what_was_meant() -> None:
    result = run("explain", "hot-hole")
    assert isinstance(result.exception, RuleError)
    assert "hot-hold" in result.exception.hint


def test_compare_sets_the_codes_side_by_side() -> None:
    text = joined(output("compare", CODE, "trade/smoking", "us/consumer-advice", "--topic", "hot"))
    hot = text.partition(" Hot hold: least temperature ")[2]
    assert hot.startswith("us/food-code/2022 at least 135 °F (57 °C) [3-501.16(A)(1)] or whole")
    assert "us/consumer-advice at least 140 °F (60 °C)" in hot


def test_compare_needs_two_codes() -> None:
    result = run("compare", CODE)
    assert result.exit_code == 2
    assert "at least two" in result.output


def test_lint_of_the_pattern_succeeds() -> None:
    assert "hint:" in output("lint", COUNTY)


def test_lint_of_a_broken_file_fails() -> None:
    broken = Path(__file__).parent / "broken" / "override-looser.toml"
    result = run("lint", str(broken))
    assert result.exit_code == 2
    assert "error:" in result.output
    assert "to mend it: add [change.approval]" in result.output


@pytest.mark.parametrize("arguments", [["list"], ["show", CODE], ["explain", f"{CODE}#hot-hold"]])
def test_showing_rules_imports_nothing_heavy(arguments: list[str]) -> None:
    script = (
        "import sys; from tempwitness.cli.rules import rules\n"
        f"rules({arguments!r}, standalone_mode=False)\n"
        "heavy = {'pydantic', 'numpy', 'pandas', 'reportlab'} & set(sys.modules)\n"
        "sys.exit(f'imported {heavy}' if heavy else 0)\n"
    )
    done = subprocess.run(  # noqa: S603 - our own interpreter and script
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_list_of_a_place_names_its_code_its_dates_and_its_text() -> None:
    text = joined(output("list", "--place", "us/tx"))
    assert "us/tx/25-tac-228: Texas (us/tx)" in text
    assert "from 2021-08-08" in text  # Texas Register 2024, preamble of 25 TAC 228
    assert "No code is known" in output("list", "--place", "us/tx", "--on", "2021-08-07")
    assert run("list", "--on", "2026-07-04").exit_code == 2


def test_a_name_of_several_codes_asks_for_the_whole_id() -> None:
    result = run("explain", "hot-hold")
    assert result.exit_code == 2
    assert "say which, such as" in result.output
    assert "#hot-hold" in result.output
