"""Files and functions stay small enough to be read in one go (limits: DEVELOPERS.md)."""

from __future__ import annotations

import ast
import io
import tokenize
from typing import TYPE_CHECKING

from tests.architecture.tree import parsed, python_files, shown

if TYPE_CHECKING:
    from pathlib import Path

LONGEST_FILE = 400
LONGEST_FUNCTION = 40
MOST_POSITIONAL = 5

Function = ast.FunctionDef | ast.AsyncFunctionDef
_NOT_CODE = {
    tokenize.COMMENT,
    tokenize.NL,
    tokenize.NEWLINE,
    tokenize.INDENT,
    tokenize.DEDENT,
    tokenize.ENCODING,
    tokenize.ENDMARKER,
}


def code_lines(text: str) -> set[int]:
    """Return the numbers of the lines that hold more than a comment or nothing."""
    lines: set[int] = set()
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type not in _NOT_CODE:
            lines.update(range(token.start[0], token.end[0] + 1))
    return lines


def length(function: Function, code: set[int]) -> int:
    """Return how many code lines a function has, its docstring not counted."""
    own = set(range(function.lineno, (function.end_lineno or function.lineno) + 1)) & code
    first = function.body[0]
    if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
        own -= set(range(first.lineno, (first.end_lineno or first.lineno) + 1))
    return len(own)


def functions(path: Path) -> list[Function]:
    return [n for n in ast.walk(parsed(path)) if isinstance(n, Function)]


def test_code_lines_leave_out_comments_blanks_and_docstrings() -> None:
    # Counted by hand: the line of def, the two lines of the return.
    text = 'def f():\n    """Say.\n\n    More."""\n    # why\n\n    return (1 +\n        2)\n'
    function = ast.parse(text).body[0]
    assert isinstance(function, ast.FunctionDef)
    assert length(function, code_lines(text)) == 3


def test_no_file_is_longer_than_the_limit() -> None:
    found = python_files("src", "tests")
    assert len(found) > 50
    lengths = {shown(p): len(p.read_text(encoding="utf-8").splitlines()) for p in found}
    assert {name: n for name, n in lengths.items() if n > LONGEST_FILE} == {}


def test_no_function_is_longer_than_the_limit() -> None:
    too_long = {}
    for path in python_files("src", "tests"):
        code = code_lines(path.read_text(encoding="utf-8"))
        for function in functions(path):
            if (lines := length(function, code)) > LONGEST_FUNCTION:
                too_long[f"{shown(path)}:{function.name}"] = lines
    assert too_long == {}


def test_no_function_takes_more_positional_arguments_than_the_limit() -> None:
    found = [(path, function) for path in python_files("src") for function in functions(path)]
    too_many = {
        f"{shown(path)}:{function.name}": len(names)
        for path, function in found
        if len(names := _positional(function)) > MOST_POSITIONAL
    }
    assert too_many == {}


def _positional(function: Function) -> list[str]:
    names = [a.arg for a in (*function.args.posonlyargs, *function.args.args)]
    return [name for name in names if name not in ("self", "cls")]
