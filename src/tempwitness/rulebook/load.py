"""Codes: their files read, checked against each other and frozen."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from tempwitness.errors import Location, RuleError
from tempwitness.model.rule import Code, CodeHead, Requirement
from tempwitness.rulebook.checks import check_requirements, number_problems
from tempwitness.rulebook.files import rules_folder, shown
from tempwitness.rulebook.folder import kept_by_rules
from tempwitness.rulebook.overlay import Laid, laid_code, laid_folder
from tempwitness.rulebook.problems import Problem, problems_of, raise_if_any

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

__all__ = ["load_code", "load_code_folder", "read_requirement"]


@kept_by_rules
def load_code(code_id: str) -> Code:
    """Return a shipped code.

    Parameters
    ----------
    code_id : str
        Path-like id, such as ``us/food-code/2022``.

    Returns
    -------
    Code
        Frozen, its requirements in the order in which they are judged.

    Raises
    ------
    RuleError
        If no code has that id, or its files hold anything unknown, doubled or missing.
    """
    return _assemble(code_id, laid_code(code_id), rules_folder())


def load_code_folder(code_id: str, folder: Path) -> Code:
    """Return a code that stands in a folder of its own, outside the shipped rules."""
    return _assemble(code_id, laid_folder(folder), folder)


def read_requirement(
    table: dict[str, Any], where: Location
) -> tuple[Requirement | None, list[Problem]]:
    """Read one requirement; ``None`` and the problems if it cannot be understood."""
    subject = f"requirement '{table.get('id', '?')}'"
    try:
        requirement = Requirement.model_validate(table)
    except ValidationError as error:
        return None, problems_of(error, Requirement, subject, where)
    return requirement, number_problems(requirement, where)


def _assemble(code_id: str, laid: Laid, root: Path) -> Code:
    problems = _unknown_keys(laid)
    head = _read_head(code_id, laid, problems)
    placed: list[tuple[Requirement, Location]] = []
    for entry in laid.entries:
        requirement, found = read_requirement(entry.table, entry.where)
        problems += found
        if requirement is not None:
            placed.append((requirement, entry.where))
    problems += check_requirements(placed)
    raise_if_any(problems)
    if head is None:  # then a problem was raised above
        raise RuleError(f"the code '{code_id}' has no head", location=_head_place(laid))
    return Code(
        head=head,
        requirements=tuple(requirement for requirement, _ in placed),
        sha256=_hash(laid.files, root),
    )


def _unknown_keys(laid: Laid) -> list[Problem]:
    return [
        Problem(
            Location(shown(path), key=key),
            "",
            f"key '{key}' is not known here; a topic file holds [[requirement]] and [[amend]] "
            "tables only",
        )
        for path, key in laid.extra
    ]


def _head_place(laid: Laid) -> Location:
    return Location(shown(laid.files[0]), key="head")


def _read_head(code_id: str, laid: Laid, problems: list[Problem]) -> CodeHead | None:
    where = _head_place(laid)
    try:
        head = CodeHead.model_validate(laid.head)
    except ValidationError as error:
        problems += problems_of(error, CodeHead, "head", where)
        return None
    if head.id != code_id:
        problems.append(Problem(where, "head", f"the id '{head.id}' is not the path '{code_id}'"))
    return head


def _hash(files: Iterable[Path], root: Path) -> str:
    """Hash names and bytes in the fixed order of the files, so that a rename shows too."""
    digest = hashlib.sha256()
    for path in files:
        data = path.read_bytes()
        folder = root if path.is_relative_to(root) else rules_folder()
        digest.update(f"{path.relative_to(folder).as_posix()}\0{len(data)}\0".encode())
        digest.update(data)
    return digest.hexdigest()
