"""Which code is in force where, from when, for whom, and by which text."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from pydantic import ValidationError

from tempwitness.errors import Location, RuleError
from tempwitness.model.base import Written
from tempwitness.model.vocabulary import Business, Confirmed
from tempwitness.rulebook.files import code_ids, nearest, read_toml, rules_folder, shown
from tempwitness.rulebook.folder import kept_by_rules
from tempwitness.rulebook.problems import Problem, place, problems_of, raise_if_any
from tempwitness.rulebook.sources import load_sources

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

__all__ = ["Adoption", "adoptions_of", "in_force", "load_adoptions", "places"]


class Adoption(Written):
    """One text that puts a code in force in a place.

    Parameters
    ----------
    place, name : str
        Path such as ``us/ny``, and the name as it is printed.
    code : str
        Id of the code.
    business : tuple of Business
        For whom; empty for all.
    begins, ends : date, optional
        First and last day; ``None`` where they are not known.
    by : str
        The text that adopts it.
    """

    place: str
    name: str
    code: str
    business: tuple[Business, ...] = ()
    begins: date | None = None
    ends: date | None = None
    by: str
    source: tuple[str, ...]
    confirmed: Confirmed
    note: str = ""

    def holds_on(self, day: date) -> bool:
        """Whether it is in force on a day, as far as its dates are known."""
        begun = self.begins is None or self.begins <= day
        return begun and (self.ends is None or day <= self.ends)

    def bears_on(self, business: Business | None) -> bool | None:
        """Whether it is for a kind of business; ``None`` if the record does not say which."""
        if not self.business:
            return True
        return None if business is None else business in self.business

    @property
    def dates(self) -> str:
        """Its dates in words; empty where none is known."""
        parts = []
        if self.begins is not None:
            parts.append(f"from {self.begins}")
        if self.ends is not None:
            parts.append(f"until {self.ends}")
        return " ".join(parts)


@dataclass(frozen=True, slots=True)
class _Read:
    adoption: Adoption
    where: Location


@kept_by_rules
def load_adoptions() -> tuple[Adoption, ...]:
    """Read all adoptions, in the order of their places and dates.

    Raises
    ------
    RuleError
        If one holds anything unknown or missing, names no code or source that exists, or overlaps
        with another one for the same business.
    """
    problems: list[Problem] = []
    read = [
        one
        for path in sorted((rules_folder() / "places").glob("*.toml"))
        for one in _of_file(path, problems)
    ]
    problems += [problem for one in read for problem in _unknown(one)]
    problems += _overlapping(read)
    raise_if_any(problems)
    order = sorted(read, key=lambda r: (r.adoption.place, r.adoption.begins or date.min))
    return tuple(one.adoption for one in order)


def _of_file(path: Path, problems: list[Problem]) -> Iterator[_Read]:
    tables = read_toml(path)
    for key in sorted(set(tables) - {"adoption"}):
        where = Location(shown(path), key=key)
        problems.append(Problem(where, "", f"key '{key}' is not known here"))
    for ordinal, table in enumerate(tables.get("adoption", [])):
        where = place(path, "adoption", ordinal)
        try:
            yield _Read(Adoption.model_validate(table), where)
        except ValidationError as error:
            subject = f"adoption in '{table.get('place', '?')}'"
            problems += problems_of(error, Adoption, subject, where)


def _unknown(one: _Read) -> Iterator[Problem]:
    adoption = one.adoption
    subject = f"adoption in '{adoption.place}'"
    if adoption.code not in code_ids():
        yield Problem(one.where, subject, f"no code has the id '{adoption.code}'")
    for key in adoption.source:
        if key not in load_sources():
            yield Problem(one.where, subject, f"the source key '{key}' is not in rules/sources")


def _overlapping(read: list[_Read]) -> Iterator[Problem]:
    for i, one in enumerate(read):
        for other in read[:i]:
            if _same_days_and_business(one.adoption, other.adoption):
                what = f"'{other.adoption.code}' is in force there on the same days: {other.where}"
                yield Problem(one.where, f"adoption in '{one.adoption.place}'", what)


def _same_days_and_business(one: Adoption, other: Adoption) -> bool:
    if one.place != other.place:
        return False
    apart = one.business and other.business and not set(one.business) & set(other.business)
    later = (one.begins or date.min) > (other.ends or date.max)
    earlier = (other.begins or date.min) > (one.ends or date.max)
    return not (apart or later or earlier)


def places() -> dict[str, str]:
    """Return the places that are known, each with its name."""
    return {a.place: a.name for a in load_adoptions()}


def adoptions_of(where: str) -> tuple[Adoption, ...]:
    """Return the adoptions of a place, or of the nearest place around it that has any.

    Raises
    ------
    RuleError
        If neither the place nor one around it is known.
    """
    path = where
    while path:
        found = tuple(a for a in load_adoptions() if a.place == path)
        if found:
            return found
        path = path.rpartition("/")[0]
    near = nearest(where, list(places()))
    raise RuleError(
        f"no code is known for the place '{where}'",
        hint=f"did you mean {' or '.join(near)}?" if near else "see `tempwitness rules list`",
    )


def in_force(where: str, business: Business | None, day: date) -> Adoption:
    """Return what is in force in a place on a day for a kind of business.

    Raises
    ------
    RuleError
        If nothing is, or if it depends on a business that nobody named.
    """
    dated = [a for a in adoptions_of(where) if a.holds_on(day)]
    if not dated:
        raise RuleError(
            f"no code is known to be in force in '{where}' on {day}",
            hint=f"known there: {_listed(adoptions_of(where))}; name the code in the record",
        )
    own = [a for a in dated if a.bears_on(business) is not False]
    if len(own) == 1:
        return own[0]
    if not own:
        raise RuleError(
            f"no code is known in '{where}' for a business of the kind '{business}'",
            hint=f"known there: {_listed(dated)}; name the code in the record",
        )
    raise RuleError(
        f"which code is in force in '{where}' depends on the kind of business: {_listed(own)}",
        hint='say it in the record: business = "caterer"',
    )


def _listed(adoptions: Iterable[Adoption]) -> str:
    return "; ".join(
        f"{a.code} ({', '.join(a.business) or 'all'}{f', {a.dates}' if a.dates else ''})"
        for a in adoptions
    )
