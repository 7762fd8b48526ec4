"""One requirement with a new limit: what it was, what it is, and what falls away."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tempwitness.errors import Location, RuleError
from tempwitness.model.figures import Limit, duration_words
from tempwitness.model.forms import ShelfLife, Test
from tempwitness.model.vocabulary import Confirmed
from tempwitness.rulebook.compare import (
    Strictness,
    alternative_undercuts,
    strictness_of_duration,
    strictness_of_limit,
)
from tempwitness.rulebook.reword import reword

if TYPE_CHECKING:
    from tempwitness.model.rule import Alternative, Requirement
    from tempwitness.rulebook.override import Change, Override

__all__ = ["Changed", "change_requirement"]

_DAY = 86400.0
_MAY_CHANGE = {
    "throughout": ("limit",),
    "outside_band": ("limit",),
    "fall": ("to", "within"),
    "rise": ("to", "within"),
    "band_clock": ("at_most",),
    "longest": ("at_most",),
    "time_control": ("at_most",),
    "shelf_life": ("at_most",),
}


@dataclass(frozen=True, slots=True)
class Changed:
    """A requirement after a change.

    Parameters
    ----------
    requirement : Requirement
        With the new limit, the old one's words in ``replaced``, and its texts following.
    replaced, by : str
        Old and new limit in words.
    strictness : Strictness
    dropped : tuple of str
        Alternatives that no longer stand, with their tests.
    """

    requirement: Requirement
    replaced: str
    by: str
    strictness: Strictness
    dropped: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Figure:
    """The figure of a test that a change replaces: its key, and old and new value."""

    key: str
    old: Limit | float
    new: Limit | float

    @property
    def strictness(self) -> Strictness:
        if isinstance(self.old, Limit) and isinstance(self.new, Limit):
            return strictness_of_limit(self.new, self.old)
        if isinstance(self.old, float) and isinstance(self.new, float):
            return strictness_of_duration(self.new, self.old)
        return Strictness.OPPOSITE


def change_requirement(
    old: Requirement, change: Change, override: Override, where: Location
) -> Changed:
    """Return a requirement with a new limit.

    Raises
    ------
    RuleError
        If the change does not fit the form, runs in the opposite direction, is stricter in one
        unit and looser in the other, or is looser and carries no approval.
    """
    figure = _figure(old, change, where)
    strictness = figure.strictness
    before, after = _words(figure.old), _words(figure.new)
    _must_be_allowed(strictness, change, f"{after} is {strictness.value} {before}", where)
    test = _with_figure(old.test, figure)
    kept, dropped = _alternatives(old, test, change, strictness)
    worded = reword(old, figure.old, figure.new)
    requirement = worded.model_copy(
        update={
            "test": test,
            "alternatives": kept,
            "section": f"{old.section}, replaced by {override.citation}",
            # Whoever wrote the override read its text; nobody here did.
            "confirmed": Confirmed.SECOND_HAND,
            "source": ("local", *(key for key in old.source if key != "local")),
            "replaced": f"{old.replaced}; then {before}" if old.replaced else before,
        }
    )
    return Changed(requirement, before, after, strictness, dropped)


def _figure(old: Requirement, change: Change, where: Location) -> _Figure:
    given = next(k for k in ("limit", "to", "within", "at_most") if getattr(change, k) is not None)
    allowed = _MAY_CHANGE.get(old.test.form, ())
    if given not in allowed:
        can = f"it takes {' or '.join(allowed)}" if allowed else "it has no figure to change"
        raise RuleError(
            f"change of '{change.requirement}': a test of form '{old.test.form}' takes no "
            f"'{given}'; {can}",
            location=Location(where.file, where.line, key=given),
            hint="to ask for more, add a requirement of your own with [[add]]",
        )
    value = getattr(change, given)
    if isinstance(old.test, ShelfLife):
        return _Figure("days", old.test.days * _DAY, _whole_days(value, change, where))
    key = _band_side(value) if old.test.form == "outside_band" else given
    return _Figure(key, getattr(old.test, key), value)


def _whole_days(seconds: float, change: Change, where: Location) -> float:
    if seconds % _DAY or not seconds:
        raise RuleError(
            f"change of '{change.requirement}': a shelf life is counted in whole days",
            location=Location(where.file, where.line, key="at_most"),
            hint='at_most = "4 d"',
        )
    return seconds


def _band_side(limit: Limit) -> str:
    return "hot" if limit.op[0] == ">" else "cold"


def _must_be_allowed(strictness: Strictness, change: Change, what: str, where: Location) -> None:
    subject = f"change of '{change.requirement}': "
    if strictness is Strictness.LOOSER and change.approval is None:
        raise RuleError(
            f"{subject}{what}, and no approval is given; a looser limit is refused",
            location=where,
            hint="add [change.approval] with kind, authority, number, granted and expires",
        )
    if strictness in (Strictness.MIXED, Strictness.OPPOSITE):
        raise RuleError(
            f"{subject}{what}, so it is not known which is meant",
            location=where,
            hint="print both figures as the authority does, and keep the direction of the code",
        )


def _with_figure(test: Test, figure: _Figure) -> Test:
    update: dict[str, Any] = {figure.key: figure.new}
    if isinstance(test, ShelfLife) and isinstance(figure.new, float):
        update = {"days": int(figure.new // _DAY)}
    return test.model_copy(update=update)


def _alternatives(
    old: Requirement, test: Test, change: Change, strictness: Strictness
) -> tuple[tuple[Alternative, ...], tuple[str, ...]]:
    if change.keep_alternatives or strictness is not Strictness.STRICTER:
        return old.alternatives, ()
    falls = [a for a in old.alternatives if alternative_undercuts(a, test, old.point)]
    kept = tuple(a for a in old.alternatives if a not in falls)
    return kept, tuple(f"'{a.id}' ({a.title})" for a in falls)


def _words(value: Limit | float) -> str:
    if isinstance(value, Limit):
        return value.words
    if value % _DAY == 0:
        return f"{value / _DAY:g} d"
    return f"within {duration_words(value)}"
