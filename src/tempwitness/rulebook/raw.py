"""Codes as they are written, for commands that only print them; nothing heavy is imported here."""

from __future__ import annotations

from typing import Any

from tempwitness.errors import RuleError
from tempwitness.rulebook.files import code_ids, nearest, shown
from tempwitness.rulebook.overlay import laid_code

__all__ = ["find_requirements", "raw_code"]


def raw_code(code_id: str) -> dict[str, Any]:
    """Return a code's head and its requirements as they stand in the files, in order.

    Each requirement carries the name of its file under ``file``.
    """
    laid = laid_code(code_id)
    requirements = [{**e.table, "file": shown(e.path)} for e in laid.entries]
    return {"head": laid.head, "requirements": requirements}


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
