"""The numbers of the codes live in rules/*.toml, never in Python."""

from __future__ import annotations

import ast
import re
import tomllib
from typing import TYPE_CHECKING, Any

import pytest

from tests.architecture.tree import ROOT, docstrings, parsed, python_files, shown

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_JUDGING = (
    "src/tempwitness/bounds",
    "src/tempwitness/criteria",
    "src/tempwitness/evaluate",
    "src/tempwitness/stages",
    "src/tempwitness/report",
    "src/tempwitness/papers",
    "src/tempwitness/cli",
)
_DEGREES = re.compile(r"\d ?°[FC]")
# Small figures are counts as often as degrees, 60 is a minute's seconds, and 40, 80 and 100 are
# widths of text.
_SMALLEST = 41
_NOT_TOLD_APART = {60.0, 61.0, 80.0, 100.0}
# Outputs are full of widths and counts; there a number is looked at only where it is compared.
_OUTPUTS = ("src/tempwitness/report/", "src/tempwitness/papers/", "src/tempwitness/cli/")


def degrees(table: Any) -> Iterator[float]:  # noqa: ANN401 - whatever TOML holds
    """Yield every temperature that a rule file prints, in both units."""
    if isinstance(table, dict):
        for key, value in table.items():
            if key in ("f", "c") and isinstance(value, int | float):
                yield float(value)
            else:
                yield from degrees(value)
    elif isinstance(table, list):
        for value in table:
            yield from degrees(value)


def published() -> set[float]:
    """Return the temperatures of all rule files that can be told from counts."""
    found: set[float] = set()
    for path in (ROOT / "rules").rglob("*.toml"):
        found |= set(degrees(tomllib.loads(path.read_text(encoding="utf-8"))))
    return {figure for figure in found if figure >= _SMALLEST} - _NOT_TOLD_APART


def compared(tree: ast.Module) -> list[float]:
    """Return the numbers that something is compared with."""
    return [
        number
        for node in ast.walk(tree)
        if isinstance(node, ast.Compare)
        for side in (node.left, *node.comparators)
        for number in numbers(side)
    ]


def numbers(tree: ast.AST) -> list[float]:
    """Return the numbers that stand in code."""
    return [
        float(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, int | float)
        and not isinstance(node.value, bool)
    ]


def said_degrees(tree: ast.Module) -> list[str]:
    """Return the texts, docstrings apart, that name a number of degrees."""
    apart = docstrings(tree)
    return [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and id(node) not in apart
        and _DEGREES.search(node.value)
    ]


def test_the_limits_that_everybody_knows_are_among_those_looked_for() -> None:
    # FDA Food Code 2022: 3-501.16(A)(1) and (2), 3-501.14(A)(1), 3-403.11(A), 3-401.11(A)(1).
    assert {135, 57, 41, 70, 165, 74, 145, 63} <= published()


@pytest.mark.parametrize("path", python_files(*_JUDGING), ids=shown)
def test_no_limit_stands_in_code(path: Path) -> None:
    tree = parsed(path)
    assert said_degrees(tree) == []
    found = compared(tree) if shown(path).startswith(_OUTPUTS) else numbers(tree)
    assert [n for n in found if n in published()] == []


def test_a_limit_in_code_is_noticed() -> None:
    tree = ast.parse("width = 70\nif reading >= 135:\n    say('below 135 °F')")
    assert compared(tree) == [135]
    assert numbers(tree) == [70, 135]
    assert said_degrees(tree) == ["below 135 °F"]
