"""Gaps that a local override leaves: days on which its code is not in force, limits not changed."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from tempwitness.errors import Location
from tempwitness.model.forms import OutsideBand, Throughout
from tempwitness.model.vocabulary import StageName
from tempwitness.rulebook.advice import Message
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.places import load_adoptions

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.model.figures import Limit
    from tempwitness.model.rule import Code, Requirement
    from tempwitness.rulebook.override import Override

__all__ = ["days_without_code", "left_as_they_were"]

_HELD = frozenset(
    {
        StageName.REST,
        StageName.HOT_HOLD,
        StageName.COLD_HOLD,
        StageName.SERVE,
        StageName.TRANSPORT,
    }
)
_FEW = 3

Days = tuple[date, date]


def days_without_code(override: Override) -> Iterator[Message]:
    """Name days of an override on which a code that it changes is not in force, as far as known."""
    named = {c.code for c, _ in override.changes} | {a.code for a in override.additions}
    where = Location(override.file, key="override.from")
    for code_id in sorted(named):
        code = load_code(code_id)
        gaps = _gaps((override.start, override.end or date.max), _in_force(code))
        for first, last in gaps:
            until = "" if last == date.max else f" until {last}"
            yield Message(
                "warning",
                where,
                f"{code_id} is not known to be in force{_at(code)} from {first}{until}; on those "
                "days the override changes nothing",
                _instead(code),
            )
        if code.head.superseded_by and not gaps:
            yield Message(
                "hint",
                where,
                f"{code_id} was superseded: {code.head.superseded_by}",
                "name the code that is in force where you are: see `tempwitness rules list`",
            )


def _at(code: Code) -> str:
    return f" in {code.head.place}" if code.head.place else ""


def _instead(code: Code) -> str:
    if code.head.superseded_by:
        return f"write an override for what stands in its place: {code.head.superseded_by}"
    return "give the override the days of its code, or name the code of the other days too"


def _in_force(code: Code) -> list[Days]:
    """Return the days on which a code is in force: by its head, and by the texts that adopt it."""
    head = code.head
    own = (head.effective_from or date.min, head.effective_to or date.max)
    adopted = [
        (a.begins or date.min, a.ends or date.max)
        for a in load_adoptions()
        if a.code == head.id and a.place == head.place
    ]
    return [(max(own[0], a), min(own[1], b)) for a, b in adopted] or [own]


def _gaps(asked: Days, held: Sequence[Days]) -> list[Days]:
    """Return the days asked for of which none is held."""
    found = []
    begin, end = asked
    for first, last in sorted(held):
        if first > begin:
            found.append((begin, min(end, first - timedelta(days=1))))
        if last >= begin:
            begin = date.max if last == date.max else last + timedelta(days=1)
        if begin > end or last == date.max:
            return [gap for gap in found if gap[0] <= gap[1]]
    return [*(gap for gap in found if gap[0] <= gap[1]), (begin, end)]


def left_as_they_were(override: Override) -> Iterator[Message]:
    """Name requirements that hold food to the same limit as a changed one and are not changed."""
    changed = {c.requirement for c, _ in override.changes}
    for change, where in override.changes:
        code = load_code(change.code)
        old = code.find(change.name)
        if old is None or change.limit is None:
            continue
        before = [x for x in _held(old) if x.op[0] == change.limit.op[0]]
        left = [
            r.id
            for r in code.requirements
            if f"{change.code}#{r.id}" not in changed and any(x in before for x in _held(r))
        ]
        if left:
            more = f" and {len(left) - _FEW} more" if len(left) > _FEW else ""
            yield Message(
                "hint",
                where,
                f"'{change.name}' is changed, but the same limit stays in "
                f"{', '.join(left[:_FEW])}{more}",
                "change these too, if the authority does",
            )


def _held(requirement: Requirement) -> list[Limit]:
    """Return the limits to which food is held in a requirement that binds."""
    test = requirement.test
    if not requirement.weight.binds or not _HELD & set(requirement.stages):
        return []
    if isinstance(test, Throughout):
        return [test.limit]
    return [test.cold, test.hot] if isinstance(test, OutsideBand) else []
