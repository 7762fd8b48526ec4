"""Local overrides laid over a code: stricter is accepted, looser needs an approval in force."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tempwitness.errors import RuleError
from tempwitness.model.finding import OverrideUsed
from tempwitness.model.rule import Code, Requirement
from tempwitness.rulebook.change import Changed, change_requirement
from tempwitness.rulebook.checks import check_requirements
from tempwitness.rulebook.compare import Strictness
from tempwitness.rulebook.problems import raise_if_any
from tempwitness.rulebook.reword import reword_reheats

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from tempwitness.errors import Location
    from tempwitness.rulebook.override import Addition, Change, Override

__all__ = ["apply_overrides"]


@dataclass(frozen=True, slots=True)
class _State:
    """A code's requirements while overrides are laid over them, and what became of each."""

    requirements: tuple[Requirement, ...]
    used: tuple[OverrideUsed, ...] = ()


def apply_overrides(
    code: Code, overrides: Sequence[Override], on: date, until: date | None = None
) -> tuple[Code, tuple[OverrideUsed, ...]]:
    """Lay local overrides over a code, in the order given.

    Parameters
    ----------
    code : Code
        Code as published.
    overrides : sequence of Override
        What concerns other codes is left out.
    on, until : date
        First and last local day on which the food was handled; one day if `until` is omitted. What
        is looser must be in force on all of them, what is stricter on any.

    Returns
    -------
    Code
        Changed requirements carry the old limit in ``replaced``.
    tuple of OverrideUsed
        One a change or addition, also those that are not in force, with the reason.

    Raises
    ------
    RuleError
        If a change is looser than what it replaces and carries no approval, stricter in one unit
        and looser in the other, or does not fit the requirement's form.
    """
    days = on, until or on
    state = _State(code.requirements)
    for override in overrides:
        for change, where in override.changes:
            if change.code == code.head.id:
                state = _change(state, override, change, where, days)
        for addition in override.additions:
            if addition.code == code.head.id:
                state = _add(state, override, addition, days)
    changed = Code(head=code.head, requirements=state.requirements, sha256=code.sha256)
    return changed, state.used


def _change(
    state: _State, override: Override, change: Change, where: Location, days: tuple[date, date]
) -> _State:
    old = next((r for r in state.requirements if r.id == change.name), None)
    if old is None:
        raise RuleError(f"the code has no requirement '{change.name}'", location=where)
    changed = change_requirement(old, change, override, where)
    entry = OverrideUsed(
        file=override.file,
        sha256=override.sha256,
        requirement=change.requirement,
        replaced=changed.replaced,
        by=changed.by,
        authority=override.authority,
        citation=override.citation,
        in_force=True,
        reason=_reason(change, changed) + _for_all(override, days),
    )
    barred = _barred(override, days, looser=changed.strictness is Strictness.LOOSER)
    barred = barred or _unapproved(change, changed, days)
    if barred:
        return replace(state, used=(*state.used, replace(entry, in_force=False, reason=barred)))
    new = tuple(changed.requirement if r.id == old.id else r for r in state.requirements)
    return _State(reword_reheats(new, old, changed.requirement), (*state.used, entry))


def _add(state: _State, override: Override, addition: Addition, days: tuple[date, date]) -> _State:
    requirement = addition.requirement
    entry = OverrideUsed(
        file=override.file,
        sha256=override.sha256,
        requirement=f"{addition.code}#{requirement.id}",
        replaced="",
        by=requirement.title,
        authority=override.authority,
        citation=override.citation,
        in_force=True,
        reason=f"added by the local rule{_for_all(override, days)}",
    )
    barred = _barred(override, days, looser=False)
    if barred:
        return replace(state, used=(*state.used, replace(entry, in_force=False, reason=barred)))
    together = (*state.requirements, requirement)
    raise_if_any(check_requirements([(r, addition.where) for r in together]))
    return _State(together, (*state.used, entry))


def _barred(override: Override, days: tuple[date, date], *, looser: bool) -> str:
    """Say why an override does not hold for food of some days, or nothing."""
    begins, ends = days if looser else days[::-1]
    if begins < override.start:
        return f"not yet in force on {begins}: it begins on {override.start}"
    if override.end is not None and ends > override.end:
        return f"no longer in force on {ends}: it ended on {override.end}"
    return ""


def _for_all(override: Override, days: tuple[date, date]) -> str:
    """Say that a change which begins or ends within the lot's days is taken for all of them."""
    first, last = days
    if override.start <= first and (override.end is None or last <= override.end):
        return ""
    return f"; not in force on all days from {first} to {last}, and taken for all, being stricter"


def _unapproved(change: Change, changed: Changed, days: tuple[date, date]) -> str:
    """Say why a looser limit is not carried by its approval on all days, or nothing."""
    approval = change.approval
    if changed.strictness is not Strictness.LOOSER or approval is None:
        return ""
    first, last = days
    if first < approval.granted:
        return f"its approval {approval.number} was not yet granted on {first}: {approval.granted}"
    if not approval.holds_on(last):
        return f"its approval {approval.number} had expired on {last}: {approval.expires}"
    return ""


def _reason(change: Change, changed: Changed) -> str:
    parts = [change.reason]
    if changed.strictness is Strictness.LOOSER and change.approval is not None:
        approval = change.approval
        until = f" until {approval.expires}" if approval.expires else ""
        parts.append(
            f"looser by {approval.kind} no. {approval.number} of {approval.authority}, "
            f"granted {approval.granted}{until}"
        )
    if changed.dropped:
        parts.append(
            f"the alternative {' and '.join(changed.dropped)} falls away, because it is not shown "
            "to be as strict (keep_alternatives = true keeps it)"
        )
    return "; ".join(parts)
