"""The repository as a tree of files, and Python files as syntax trees."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "tempwitness"

_TEXT = {".py", ".md", ".toml", ".json", ".csv", ".tsv", ".txt", ""}
_NOT_OURS = {
    "__pycache__",
    ".git",
    ".hypothesis",
    ".import_linter_cache",
    ".mypy_cache",
    ".pytest_cache",
    ".ruff_cache",
    ".venv",
    "build",
    "dist",
}


@cache
def our_files() -> tuple[Path, ...]:
    """Return every file of the repository that a person wrote or put there."""
    found = (p for p in ROOT.rglob("*") if p.is_file())
    return tuple(sorted(p for p in found if not _NOT_OURS & set(p.relative_to(ROOT).parts)))


def text_files() -> list[Path]:
    """Return the files that hold text."""
    return [p for p in our_files() if p.suffix in _TEXT]


def python_files(*folders: str) -> list[Path]:
    """Return the Python files below some folders of the repository."""
    inside = tuple(ROOT / folder for folder in folders)
    return [
        p for p in our_files() if p.suffix == ".py" and any(p.is_relative_to(f) for f in inside)
    ]


def shown(path: Path) -> str:
    """Return a path as it is named in a failure."""
    return path.relative_to(ROOT).as_posix()


@cache
def parsed(path: Path) -> ast.Module:
    """Return the syntax tree of a file."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def docstrings(tree: ast.Module) -> set[int]:
    """Return the identities of the string constants that are docstrings."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            first = node.body[0] if node.body else None
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                found.add(id(first.value))
    return found
