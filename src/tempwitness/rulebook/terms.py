"""The code under which a lot stands, and what is to be said of that choice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.errors import RuleError
from tempwitness.model.vocabulary import Confirmed
from tempwitness.rulebook.load import load_code

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from tempwitness.model.lot import Lot
    from tempwitness.model.rule import CodeHead
    from tempwitness.rulebook.places import Adoption

__all__ = ["Terms", "terms_for"]


@dataclass(frozen=True, slots=True)
class Terms:
    """The code that applies, on which grounds, and what speaks against it.

    Parameters
    ----------
    code : str
        Id of the code.
    lines : tuple of str
        Grounds, printed with the assumptions.
    doubts : tuple of str
        What does not fit, printed with what stays unsettled.
    """

    code: str
    lines: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()


def terms_for(lot: Lot, first: date, last: date) -> Terms:
    """Return the code that a record names, or the one that is in force where it says.

    Parameters
    ----------
    lot : Lot
    first, last : date
        First and last local day of the lot. The first decides which text is in force.

    Raises
    ------
    RuleError
        If the code or the place is not known, or several codes may be in force.
    """
    if not lot.place:
        head = load_code(lot.code).head
        return Terms(lot.code, doubts=tuple(_out_of_date(head, first, last)))
    from tempwitness.rulebook.places import (  # noqa: PLC0415 - most records name their code
        adoptions_of,
        in_force,
    )

    if not lot.code:
        adoption = in_force(lot.place, lot.business, first)
        head = load_code(adoption.code).head
        lines = (_ground(adoption), *(() if not adoption.note else (adoption.note,)))
        return Terms(adoption.code, lines, tuple(_out_of_date(head, first, last)))
    known = [a for a in adoptions_of(lot.place) if a.code == lot.code]
    head = load_code(lot.code).head
    doubts = list(_out_of_date(head, first, last))
    doubts += _elsewhere(lot, known, first)
    return Terms(lot.code, tuple(_ground(a) for a in known if a.holds_on(first)), tuple(doubts))


def _ground(adoption: Adoption) -> str:
    dates = f", in force {adoption.dates}" if adoption.dates else ""
    read = {
        Confirmed.TEXT: "read in the text",
        Confirmed.SECOND_HAND: "unconfirmed: second-hand",
        Confirmed.MEMORY: "unconfirmed: from memory",
    }[adoption.confirmed]
    return (
        f"{adoption.name} ({adoption.place}) stands under {adoption.code} by {adoption.by}{dates} "
        f"({read})."
    )


def _elsewhere(lot: Lot, known: list[Adoption], first: date) -> Iterator[str]:
    """Say that the code which the record names is not the one of its place."""
    from tempwitness.rulebook.places import in_force  # noqa: PLC0415 - as above

    if any(a.holds_on(first) and a.bears_on(lot.business) is not False for a in known):
        return
    try:
        there = in_force(lot.place, lot.business, first).code
    except RuleError as error:
        there = f"not known ({error.message})"
    yield (
        f"The record names {lot.code} and the place {lot.place}, where on {first} another code is "
        f"in force: {there}. Ask the health authority which one counts."
    )


def _out_of_date(head: CodeHead, first: date, last: date) -> Iterator[str]:
    """Say that a code was not in force on all days of the lot."""
    instead = f" In its place stands {head.superseded_by}." if head.superseded_by else ""
    if head.effective_from is not None and first < head.effective_from:
        begins = head.effective_from
        yield f"{head.title} is in force from {begins} on; this lot began on {first}."
    if head.effective_to is not None and last > head.effective_to:
        ended = head.effective_to
        yield f"{head.title} was in force until {ended}; this lot is of {last}.{instead}"
