"""Advice for someone who writes a local override: what is wrong, doubtful or missing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.errors import Location, RuleError
from tempwitness.rulebook.advice import Grade, Message
from tempwitness.rulebook.checks import limits_in
from tempwitness.rulebook.lint_fit import added_as_it_fits
from tempwitness.rulebook.lint_gaps import days_without_code, left_as_they_were
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.override import Change, Override, apply_overrides, read_override
from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tempwitness.model.figures import Limit, Row
    from tempwitness.model.finding import OverrideUsed

__all__ = ["Message", "lint_file"]

_ROUNDING = 0.6
"""Two printed figures of one limit differ by no more than rounding to whole degrees [°C]."""


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
    found = [
        *_applied(override),
        *_figures(override),
        *_one_unit(override),
        *_doubled(override),
        *added_as_it_fits(override),
        *_dates(override),
        *days_without_code(override),
        *left_as_they_were(override),
        *_approvals(override),
        *_papers(override),
    ]
    order: tuple[Grade, ...] = ("error", "warning", "hint")
    return sorted(found, key=lambda m: order.index(m.grade))


def _of_error(error: RuleError) -> Message:
    return Message("error", error.location, error.message, error.hint)


def _applied(override: Override) -> Iterator[Message]:
    """Lay each change, then each addition over its code, on the first day, and say what came of it.

    What is refused is left out of what follows, so that one slip does not hide another.
    """
    taken = replace(override, changes=(), additions=())
    steps = [replace(override, changes=(c,), additions=()) for c in override.changes]
    steps += [replace(override, changes=(), additions=(a,)) for a in override.additions]
    for step in steps:
        more = replace(
            taken,
            changes=(*taken.changes, *step.changes),
            additions=(*taken.additions, *step.additions),
        )
        code_id = step.changes[0][0].code if step.changes else step.additions[0].code
        try:
            _, used = apply_overrides(load_code(code_id), [more], override.start)
        except RuleError as error:
            yield _of_error(error)
            continue
        taken = more
        yield from _outcome(used[-1], override)
        if step.changes and step.changes[0][0].approval and "looser by" not in used[-1].reason:
            yield _needless(step.changes[0][1], used[-1])


def _outcome(entry: OverrideUsed, override: Override) -> Iterator[Message]:
    where = Location(override.file, key=entry.requirement)
    if not entry.in_force:
        yield Message("warning", where, f"the change is not applied: {entry.reason}")
    if entry.replaced == entry.by:
        yield Message("warning", where, f"nothing changes: the code says {entry.by} already")
    if "falls away" in entry.reason:
        yield Message("hint", where, entry.reason.rpartition("; ")[2])


def _needless(where: Location, entry: OverrideUsed) -> Message:
    if not entry.in_force:
        return Message("hint", where, "the approval does not carry the change on the first day")
    return Message("hint", where, "the change carries an approval, which only a looser limit needs")


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


def _one_unit(override: Override) -> Iterator[Message]:
    """Name limits that give one unit where the code prints both."""
    for change, where in override.changes:
        old = load_code(change.code).find(change.name)
        for limit in _limits(change):
            both = old is not None and any(x.printed == "both" for x in limits_in(old.test))
            if limit.printed == "both" or not both:
                continue
            scale = Unit.F if limit.printed == "c" else Unit.C
            exact = float(limit.f if scale is Unit.F else limit.c)
            yield Message(
                "warning",
                where,
                f"the limit gives {limit.figures} only, where '{change.requirement}' prints both "
                f"units; a reading in {scale.symbol} is held to the exact conversion, "
                f"{exact:.1f} {scale.symbol}, which may not be what the authority prints",
                f"add '{scale.lower()} = …' as the authority prints it; if it prints none, say so "
                "in the reason",
            )


def _doubled(override: Override) -> Iterator[Message]:
    """Name a figure that is changed twice."""
    seen: dict[tuple[str, str], Location] = {}
    for change, where in override.changes:
        key = (change.requirement, _key(change))
        if key in seen:
            yield Message(
                "warning",
                where,
                f"'{key[1]}' of '{change.requirement}' is changed twice, first in {seen[key]}; "
                "this change is weighed against that one and counts",
                "leave one of the two out",
            )
        seen.setdefault(key, where)


def _key(change: Change) -> str:
    if change.limit is not None:
        return f"limit {change.limit.op[0]}"
    keys = ("to", "within", "at_most")
    return next(key for key in keys if getattr(change, key) is not None)


def _approvals(override: Override) -> Iterator[Message]:
    """Name what an inspector would miss in an approval, and one that is not needed."""
    for change, where in override.changes:
        approval = change.approval
        if approval is None:
            continue
        empty = [
            key for key in ("kind", "authority", "number") if not getattr(approval, key).strip()
        ]
        if empty:
            yield Message(
                "warning",
                where,
                f"the approval names no {' and no '.join(empty)}; nobody can look it up",
                "write them as they stand on the paper",
            )
        if approval.expires is None:
            yield Message(
                "hint",
                where,
                "the approval has no last day; it counts until the file is changed",
                "give 'expires' if the paper names a day",
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
