"""Codes: their files read, checked against each other and frozen."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from tempwitness.errors import Location, RuleError
from tempwitness.model.rule import Code, CodeHead, Requirement
from tempwitness.rulebook.checks import check_requirements, number_problems
from tempwitness.rulebook.files import code_files, read_toml, rules_folder, shown, topic_files
from tempwitness.rulebook.ladders import ladders_of, with_ladders
from tempwitness.rulebook.problems import Problem, place, problems_of, raise_if_any

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

__all__ = ["Placed", "load_code", "load_code_folder", "read_requirement"]


@dataclass(frozen=True, slots=True)
class Placed:
    """A requirement and where it is written."""

    requirement: Requirement
    where: Location


@cache
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
    return _assemble(code_id, code_files(code_id), rules_folder())


def load_code_folder(code_id: str, folder: Path) -> Code:
    """Return a code that stands in a folder of its own, outside the shipped rules."""
    return _assemble(code_id, topic_files(folder), folder)


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


def _assemble(code_id: str, files: Sequence[Path], root: Path) -> Code:
    problems: list[Problem] = []
    head = _read_head(code_id, files[0], problems)
    placed: list[Placed] = []
    topics = {path: read_toml(path) for path in files}
    ladders = ladders_of(r for tables in topics.values() for r in tables.get("requirement", []))
    for path, tables in topics.items():
        placed += _read_topic(path, tables, ladders, problems)
    problems += check_requirements([(p.requirement, p.where) for p in placed])
    raise_if_any(problems)
    if head is None:  # then a problem was raised above
        raise RuleError(f"the code '{code_id}' has no head", location=Location(shown(files[0])))
    return Code(
        head=head,
        requirements=tuple(p.requirement for p in placed),
        sha256=_hash(files, root),
    )


def _read_head(code_id: str, path: Path, problems: list[Problem]) -> CodeHead | None:
    where = Location(shown(path), key="head")
    try:
        head = CodeHead.model_validate(read_toml(path).get("head", {}))
    except ValidationError as error:
        problems += problems_of(error, CodeHead, "head", where)
        return None
    if head.id != code_id:
        problems.append(Problem(where, "head", f"the id '{head.id}' is not the path '{code_id}'"))
    return head


def _read_topic(
    path: Path, tables: dict[str, Any], ladders: dict[str, list[Any]], problems: list[Problem]
) -> list[Placed]:
    known = {"head", "order", "requirement"} if path.stem == "code" else {"requirement"}
    problems += [
        Problem(
            Location(shown(path), key=key),
            "",
            f"key '{key}' is not known here; a topic file holds [[requirement]] tables only",
        )
        for key in sorted(set(tables) - known)
    ]
    placed = []
    for ordinal, table in enumerate(tables.get("requirement", [])):
        where = place(path, "requirement", ordinal)
        requirement, found = read_requirement(with_ladders(table, ladders), where)
        problems += found
        if requirement is not None:
            placed.append(Placed(requirement, where))
    return placed


def _hash(files: Iterable[Path], root: Path) -> str:
    """Hash names and bytes in the fixed order of the files, so that a rename shows too."""
    digest = hashlib.sha256()
    for path in files:
        data = path.read_bytes()
        digest.update(f"{path.relative_to(root).as_posix()}\0{len(data)}\0".encode())
        digest.update(data)
    return digest.hexdigest()
