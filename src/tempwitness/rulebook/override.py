"""Local overrides: what a county or a permit changes, by when, and on whose word."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, TypeVar

from pydantic import Field, ValidationError, model_validator

from tempwitness.errors import Location, RuleError
from tempwitness.model.base import Written
from tempwitness.model.figures import Duration, Limit
from tempwitness.rulebook.apply import apply_overrides
from tempwitness.rulebook.checks import check_requirements
from tempwitness.rulebook.files import code_ids, nearest, read_toml, shown
from tempwitness.rulebook.load import load_code, read_requirement
from tempwitness.rulebook.problems import Problem, place, problems_of, raise_if_any

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tempwitness.model.rule import Requirement

__all__ = [
    "Addition",
    "Change",
    "Grant",
    "Override",
    "apply_overrides",
    "load_override",
    "read_override",
]

_T = TypeVar("_T")
_CHANGEABLE = ("limit", "to", "within", "at_most")


class Grant(Written):
    """An approval that carries a looser limit: a variance or an approved plan."""

    kind: str
    authority: str
    number: str
    granted: date
    expires: date | None = None

    def holds_on(self, day: date) -> bool:
        """Whether it is in force on a day."""
        return self.granted <= day and (self.expires is None or day <= self.expires)


class Change(Written):
    """A new limit for one requirement of one code."""

    requirement: str = Field(pattern=r"^[^#]+#[^#]+$")
    limit: Limit | None = None
    to: Limit | None = None
    within: Duration | None = None
    at_most: Duration | None = None
    reason: str
    keep_alternatives: bool = False
    approval: Grant | None = None

    @model_validator(mode="after")
    def _one_figure(self) -> Change:
        given = [name for name in _CHANGEABLE if getattr(self, name) is not None]
        if len(given) != 1:
            raise ValueError(
                f"a change gives exactly one of {', '.join(_CHANGEABLE)}; this one gives "
                f"{' and '.join(given) or 'none'}"
            )
        return self

    @property
    def code(self) -> str:
        """Id of the code that is changed."""
        return self.requirement.partition("#")[0]

    @property
    def name(self) -> str:
        """Id of the requirement within its code."""
        return self.requirement.partition("#")[2]


class _Head(Written):
    id: str = Field(pattern=r"^[a-z0-9][a-z0-9/-]*$")
    title: str
    authority: str
    citation: str
    from_: date = Field(alias="from")
    to: date | None = None

    @model_validator(mode="after")
    def _in_order(self) -> _Head:
        if self.to is not None and self.to < self.from_:
            raise ValueError(f"it ends on {self.to}, before it begins on {self.from_}")
        return self


@dataclass(frozen=True, slots=True)
class Addition:
    """A requirement that a local rule adds to a code."""

    code: str
    requirement: Requirement
    where: Location


@dataclass(frozen=True, slots=True)
class Override:
    """A local change of one or more codes, as its file says.

    Parameters
    ----------
    id, title, authority, citation : str
        What it is, who decided it, and where that is written.
    start, end : date
        First and last day on which it applies; no `end` means until it is changed.
    changes : tuple of (Change, Location)
        New limits, and where each is written.
    additions : tuple of Addition
    file : str
        Name of the file.
    sha256 : str
        Hash of its bytes.
    """

    id: str
    title: str
    authority: str
    citation: str
    start: date
    end: date | None
    changes: tuple[tuple[Change, Location], ...]
    additions: tuple[Addition, ...]
    file: str
    sha256: str

    def holds_on(self, day: date) -> bool:
        """Whether it is in force on a day."""
        return self.start <= day and (self.end is None or day <= self.end)


def load_override(path: Path) -> Override:
    """Read an override file.

    Raises
    ------
    RuleError
        If it holds anything unknown, doubled, missing, or names a code or requirement that does
        not exist. Whether a change is looser than the code is judged when it is applied.
    """
    override, problems = read_override(path)
    raise_if_any(problems)
    if override is None:
        raise RuleError("the override cannot be understood", location=Location(shown(path)))
    return override


def read_override(path: Path) -> tuple[Override | None, list[Problem]]:
    """Read an override file; ``None`` and the problems if it cannot be used."""
    tables = read_toml(path)
    problems = _unknown_tables(tables, path)
    if problems := [*problems, *_no_tables(tables, path)]:
        return None, problems
    head = _read_head(tables.get("override", {}), path, problems)
    changes = _each(tables, "change", path, lambda t, w: _read_change(t, w, problems))
    additions = _each(tables, "add", path, lambda t, w: _read_addition(t, w, problems))
    if not changes and not additions and not problems:
        what = "it changes and adds nothing; write a [[change]] or an [[add]]"
        problems.append(Problem(Location(shown(path)), "", what))
    problems += _clashes(additions)
    if head is None or problems:
        return None, problems
    return Override(
        id=head.id,
        title=head.title,
        authority=head.authority,
        citation=head.citation,
        start=head.from_,
        end=head.to,
        changes=tuple(changes),
        additions=tuple(additions),
        file=shown(path),
        sha256=hashlib.sha256(path.read_bytes()).hexdigest(),
    ), problems


def _unknown_tables(tables: dict[str, Any], path: Path) -> list[Problem]:
    return [
        Problem(
            Location(shown(path), key=key),
            "",
            f"table '{key}' is not known here; an override has [override], [[change]] and [[add]]",
        )
        for key in sorted(set(tables) - {"override", "change", "add"})
    ]


def _no_tables(tables: dict[str, Any], path: Path) -> list[Problem]:
    """Name what is not written as a table, so that what follows may take it for one."""
    wrong = [
        (key, f"[[{key}]]")
        for key in ("change", "add")
        if not isinstance(entries := tables.get(key, []), list)
        or not all(isinstance(entry, dict) for entry in entries)
    ]
    return [
        Problem(Location(shown(path), key=key), "", f"'{key}' is a list of tables; write {header}")
        for key, header in wrong
    ]


def _read_head(table: dict[str, Any], path: Path, problems: list[Problem]) -> _Head | None:
    try:
        return _Head.model_validate(table)
    except ValidationError as error:
        where = Location(shown(path), key="override")
        problems += problems_of(error, _Head, "override", where)
        return None


def _each(
    tables: dict[str, Any], name: str, path: Path, read: Callable[[Any, Location], _T | None]
) -> list[_T]:
    entries = tables.get(name, [])
    found = [read(table, place(path, name, n)) for n, table in enumerate(entries)]
    return [entry for entry in found if entry is not None]


def _read_change(
    table: dict[str, Any], where: Location, problems: list[Problem]
) -> tuple[Change, Location] | None:
    subject = f"change of '{table.get('requirement', '?')}'"
    try:
        change = Change.model_validate(table)
    except ValidationError as error:
        problems += problems_of(error, Change, subject, where)
        return None
    missing = _missing(change)
    if missing:
        problems.append(Problem(where, subject, missing))
        return None
    return change, where


def _missing(change: Change) -> str:
    """Say what the change names and does not exist."""
    if change.code not in code_ids():
        return f"no code has the id '{change.code}'{_near(change.code, code_ids())}"
    code = load_code(change.code)
    if code.find(change.name) is None:
        for requirement in code.requirements:
            if change.name in {a.id for a in requirement.alternatives}:
                return (
                    f"'{change.name}' is another way to keep '{requirement.id}', and has no limit "
                    f"of its own to change; name '{change.code}#{requirement.id}', under which it "
                    "falls away or stays"
                )
        near = _near(change.name, [r.id for r in code.requirements])
        return f"'{change.code}' has no requirement '{change.name}'{near}"
    return ""


def _near(name: str, known: list[str]) -> str:
    near = nearest(name, known)
    return f"; did you mean {' or '.join(near)}?" if near else ""


def _read_addition(
    table: dict[str, Any], where: Location, problems: list[Problem]
) -> Addition | None:
    rest = {key: value for key, value in table.items() if key != "code"}
    code = table.get("code", "")
    subject = f"requirement '{table.get('id', '?')}'"
    if code not in code_ids():
        what = f"'code' must be the id of a code, not {code!r}{_near(str(code), code_ids())}"
        problems.append(Problem(where, subject, what))
        return None
    requirement, found = read_requirement(rest, where)
    problems += found
    return Addition(code, requirement, where) if requirement is not None else None


def _clashes(additions: list[Addition]) -> list[Problem]:
    """Check additions against each other and against the code that they are added to."""
    problems: list[Problem] = []
    for code_id in sorted({a.code for a in additions}):
        own = [(a.requirement, a.where) for a in additions if a.code == code_id]
        base = [(r, Location(code_id)) for r in load_code(code_id).requirements]
        problems += check_requirements([*base, *own])
    return problems
