"""What one code says in one row: the limit as printed, where it stands, and how far it is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tempwitness.rulebook.comparison.figures import leading
from tempwitness.rulebook.comparison.spaces import box_of, overlap
from tempwitness.rulebook.words import limit_words, test_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tempwitness.rulebook.comparison.spaces import Box

__all__ = ["Entry", "entry_of"]

Table = dict[str, Any]

_LONGEST_LADDER = 4
"""A ladder of more rows is written by its first and last one."""

_MARKS = {"text": "", "second-hand": "*", "memory": "**"}


@dataclass(frozen=True, slots=True)
class Entry:
    """One limit of one code.

    Parameters
    ----------
    limit : str
        In the code's own printed figures, its own scale leading.
    section : str
    weight, confirmed : str
        As the rule file has them.
    said : tuple of str
        What else is to be said of it: weight if it is not law, effect, dates, term.
    ways : tuple of str
        Other ways to keep it.
    """

    limit: str
    section: str
    weight: str
    confirmed: str
    said: tuple[str, ...] = ()
    ways: tuple[str, ...] = ()

    @property
    def mark(self) -> str:
        """Nothing if it was read in a text, else one star or two."""
        return _MARKS[self.confirmed]

    @property
    def text(self) -> str:
        """Limit, section and marks on one line."""
        return f"{self.limit} [{'; '.join((self.section, *self.said))}]{self.mark}"


def entry_of(requirement: Table, unit: str, boxes: Sequence[Box]) -> Entry:
    """Return what a requirement, as written, says of some stages and foods.

    Parameters
    ----------
    requirement : dict
    unit : {"F", "C"}
        Scale in which its code reckons.
    boxes : sequence of Box
        Other ways that are for other food are left out.
    """
    others = [
        other
        for other in requirement.get("alternatives", ())
        if overlap(boxes, [box_of({**other, "stages": requirement.get("stages", ())})])
    ]
    return Entry(
        limit=leading(_limit(requirement, requirement["test"]), unit),
        section=requirement["section"],
        weight=requirement["weight"],
        confirmed=requirement["confirmed"],
        said=tuple(_said(requirement)),
        ways=tuple(leading(_way(other), unit) for other in others),
    )


def _limit(of: Table, test: Table) -> str:
    form = test["form"]
    if form == "throughout":
        last = f", but for the last {test['but_last']}" if "but_last" in test else ""
        return limit_words(test["limit"]) + last
    if form == "outside_band":
        return f"{limit_words(test['cold'])} or {limit_words(test['hot'])}"
    if form == "reach":
        return _ladder(test)
    if form == "duty":
        return str(of["title"])
    if form == "paper":
        kept = f", kept {test['keep']}" if "keep" in test else ""
        ahead = f", handed in {test['ahead']} ahead" if "ahead" in test else ""
        return f"{of['title']}{kept}{ahead}"
    return test_words(test)


def _ladder(test: Table) -> str:
    rows = test["rows"]
    if len(rows) <= _LONGEST_LADDER:
        return test_words(test).removeprefix("reaches ")
    first, last = (_ladder({"form": "reach", "rows": [row]}) for row in (rows[0], rows[-1]))
    return f"any of {len(rows)} rows, from {first} to {last}"


def _said(requirement: Table) -> Iterator[str]:
    if requirement["weight"] != "law":
        yield requirement["weight"]
    if requirement.get("effect", "duty") not in ("", "duty"):
        yield requirement["effect"]
    if requirement.get("term"):
        yield f"“{requirement['term']}”"
    for key, word in (("begins", "from"), ("ends", "until")):
        if key in requirement:
            yield f"{word} {requirement[key]}"
    if requirement.get("ask_instead"):
        yield "ask"
    if requirement.get("breaks_only"):
        yield "no leave"


def _way(other: Table) -> str:
    title = other["title"][:1].lower() + other["title"][1:]
    if other["test"]["form"] not in ("throughout", "outside_band", "reach"):
        return str(title)
    return f"{title}: {_limit(other, other['test'])}"
