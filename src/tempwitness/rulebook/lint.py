"""Advice for someone who writes a local override: what is wrong, doubtful or missing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from tempwitness.errors import Location, RuleError
from tempwitness.rulebook.checks import limits_in
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.override import Change, Override, apply_overrides, read_override
from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tempwitness.model.figures import Limit, Row
    from tempwitness.model.finding import OverrideUsed

__all__ = ["Message", "lint_file"]

Grade = Literal["error", "warning", "hint"]

_ROUNDING = 0.6
"""Two printed figures of one limit differ by no more than rounding to whole degrees [°C]."""


@dataclass(frozen=True, slots=True)
class Message:
    """One thing to say about a file: how grave, where, what, and how to mend it."""

    grade: Grade
    where: Location | None
    text: str
    mend: str = ""

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        mend = f"\n  to mend it: {self.mend}" if self.mend else ""
        return f"{self.grade}: {place}{self.text}{mend}"


def lint_file(path: Path) -> list[Message]:
    """Return what is to be said about an override file, the gravest first.

    An error keeps the file from being used; a warning says that it may not do what was meant; a
    hint names what an inspector would miss.
    """
    try:
        override, problems = read_override(path)
    except RuleError as error:
        return [_of_error(error)]
    if override is None:
        return [Message("error", p.location, str(p)) for p in problems]
    found = [*_applied(override), *_figures(override), *_dates(override), *_papers(override)]
    order: tuple[Grade, ...] = ("error", "warning", "hint")
    return sorted(found, key=lambda m: order.index(m.grade))


def _of_error(error: RuleError) -> Message:
    return Message("error", error.location, error.message, error.hint)


def _applied(override: Override) -> Iterator[Message]:
    """Lay the file over each code that it names, on its first day, and say what came of it."""
    named = {c.code for c, _ in override.changes} | {a.code for a in override.additions}
    for code_id in sorted(named):
        try:
            _, used = apply_overrides(load_code(code_id), [override], override.start)
        except RuleError as error:
            yield _of_error(error)
            continue
        for entry in used:
            yield from _outcome(entry, override)


def _outcome(entry: OverrideUsed, override: Override) -> Iterator[Message]:
    where = Location(override.file, key=entry.requirement)
    if not entry.in_force:
        yield Message("warning", where, f"the change is not applied: {entry.reason}")
    if entry.replaced == entry.by:
        yield Message("warning", where, f"nothing changes: the code says {entry.by} already")
    if "falls away" in entry.reason:
        yield Message("hint", where, entry.reason.rpartition("; ")[2])


def _figures(override: Override) -> Iterator[Message]:
    written: list[tuple[Limit | Row, Location]] = [
        (limit, where) for c, where in override.changes for limit in _limits(c)
    ]
    for addition in override.additions:
        written += [(limit, addition.where) for limit in limits_in(addition.requirement.test)]
    for limit, where in written:
        exact = convert(float(limit.f), Unit.F, Unit.C)
        if abs(exact - float(limit.c)) > _ROUNDING:
            yield Message(
                "warning",
                where,
                f"{limit.f} °F is {exact:.1f} °C, but {limit.c} °C is written beside it",
                "print both figures as the authority does; readings in °C are held to the °C one",
            )


def _limits(change: Change) -> Iterator[Limit]:
    yield from (limit for limit in (change.limit, change.to) if limit is not None)


def _dates(override: Override) -> Iterator[Message]:
    if override.end is None:
        yield Message(
            "hint",
            Location(override.file, key="override.to"),
            "the override has no last day; it applies until the file is changed",
            "give 'to' if the permit or the rule ends on a day",
        )
    for change, where in override.changes:
        expires = change.approval.expires if change.approval else None
        if expires and (override.end is None or expires < override.end):
            yield Message(
                "warning",
                where,
                f"the approval expires on {expires}, before the override ends; from then on the "
                "change is not applied",
            )


def _papers(override: Override) -> Iterator[Message]:
    for change, where in override.changes:
        if len(change.reason.split()) < 3:
            yield Message(
                "hint",
                where,
                f"'{change.reason}' says little; an inspector reads the reason beside the limit",
            )
    for addition in override.additions:
        if not addition.requirement.actions:
            yield Message(
                "hint",
                addition.where,
                f"requirement '{addition.requirement.id}' has no action: a cook will not know "
                "what to do when it is not met",
            )
