"""Codes as they are written, for commands that only print them; nothing heavy is imported here."""

from __future__ import annotations

from typing import Any

from tempwitness.errors import RuleError
from tempwitness.rulebook.files import code_files, code_ids, nearest, read_toml, shown
from tempwitness.rulebook.ladders import ladders_of, with_ladders

__all__ = ["find_requirements", "raw_code"]


def raw_code(code_id: str) -> dict[str, Any]:
    """Return a code's head and its requirements as they stand in the files, in order.

    Each requirement carries the name of its file under ``file``.
    """
    head: dict[str, Any] = {}
    requirements: list[dict[str, Any]] = []
    for path in code_files(code_id):
        tables = read_toml(path)
        head = tables.get("head", head)
        requirements += [{**r, "file": shown(path)} for r in tables.get("requirement", [])]
    ladders = ladders_of(requirements)
    return {"head": head, "requirements": [with_ladders(r, ladders) for r in requirements]}


def find_requirements(name: str) -> list[tuple[str, dict[str, Any]]]:
    """Return every requirement of that name with its code's id.

    Parameters
    ----------
    name : str
        Id of a requirement or of one of its alternatives, alone (``hot-hold``) or with its code
        (``us/food-code/2022#hot-hold``).

    Raises
    ------
    RuleError
        If there is none.
    """
    code, _, wanted = name.rpartition("#")
    known: list[str] = []
    found = []
    for code_id in [code] if code else code_ids():
        for requirement in raw_code(code_id)["requirements"]:
            names = [requirement["id"], *(a["id"] for a in requirement.get("alternatives", []))]
            known += names
            if wanted in names:
                found.append((code_id, requirement))
    if not found:
        near = nearest(wanted, known)
        raise RuleError(
            f"no requirement has the id '{wanted}'",
            hint=f"did you mean {' or '.join(near)}?" if near else "see `tempwitness rules show`",
        )
    return found
