"""The same lot under many codes, those that it fails first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Confirmed, Verdict
from tempwitness.report.content.parts import Sentences
from tempwitness.report.wording import WEIGHT, verdict_word

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.under import UnderCode

__all__ = [
    "HEAD",
    "NONE_BROKEN",
    "SharedRow",
    "broken_name",
    "kept_lists",
    "nothing_said",
    "shared_rows",
    "under_heading",
    "under_told",
]

HEAD = ("Answer", "Codes", "The row that decides", "Weight")
NONE_BROKEN = "Not one of them is not met or not shown."
_BROKEN = (Verdict.NOT_MET, Verdict.NOT_SHOWN)


@dataclass(frozen=True, slots=True)
class SharedRow:
    """Codes that are decided by the same row with the same answer."""

    verdict: Verdict
    codes: tuple[UnderCode, ...]
    row: str
    weight: str

    def cells(self, most: int | None = None) -> tuple[str, ...]:
        """Return the cells under the names of `HEAD`; of the codes at most so many."""
        own = list(self.codes)
        named = _named(own, len(own) if most is None else most)
        return verdict_word(self.verdict), named, self.row, self.weight


def under_heading(evaluation: Evaluation) -> str:
    """Return the heading of the part."""
    return f"The same lot under {len(evaluation.under)} codes"


def under_told(evaluation: Evaluation) -> str:
    """Say how it is to be read."""
    return (
        f"Only {evaluation.code.title} decides about this lot. Of each other code the row that "
        "decides it stands here; a star marks a number that was not read in the text itself, "
        "brackets a code that was not in force when the lot was made."
    )


def shared_rows(evaluation: Evaluation) -> list[SharedRow]:
    """Return what is not met and not shown, codes that share the row together."""
    shared: dict[tuple[Verdict, str, str, str], list[UnderCode]] = {}
    for one in sorted(evaluation.under, key=_worst_first):
        if one.verdict in _BROKEN:
            key = (one.verdict, one.row, one.limit, _weight(one))
            shared.setdefault(key, []).append(one)
    return [
        SharedRow(verdict, tuple(own), _limited(row, limit), weight)
        for (verdict, row, limit, weight), own in shared.items()
    ]


def broken_name(evaluation: Evaluation) -> str:
    """Count the codes under which the lot is not met or not shown."""
    counts = [
        f"{verdict_word(v).lower()} under {_codes(number)}"
        for v in _BROKEN
        if (number := sum(one.verdict is v for one in evaluation.under))
    ]
    name = "; ".join(counts)
    return f"{name[:1].upper()}{name[1:]}"


def kept_lists(evaluation: Evaluation) -> list[Sentences]:
    """Return the codes of each other answer, a line for each weight of the row that decides."""
    lists = []
    for verdict in (Verdict.OPEN, Verdict.NEEDS_LIMIT, Verdict.MET):
        own = [u for u in evaluation.under if u.verdict is verdict]
        if own:
            name = f"{verdict_word(verdict)} under {_codes(len(own))}"
            lists.append(Sentences(name, tuple(_by_weight(own))))
    return lists


def nothing_said(evaluation: Evaluation) -> str:
    """Name the codes that say nothing about this food; ``""`` if there is none."""
    silent = [u for u in evaluation.under if u.verdict is Verdict.NOT_APPLICABLE]
    return f"Nothing about this food: {_named(silent, len(silent))}." if silent else ""


def _worst_first(one: UnderCode) -> tuple[int, int]:
    weights = list(WEIGHT)
    return _BROKEN.index(one.verdict) if one.verdict in _BROKEN else 2, (
        weights.index(one.weight) if one.weight else len(weights)
    )


def _limited(row: str, limit: str) -> str:
    return row if not limit or limit.endswith("?") else f"{row}: {limit}"


def _weight(one: UnderCode) -> str:
    return "" if one.weight is None else WEIGHT[one.weight]


def _by_weight(own: list[UnderCode]) -> list[str]:
    """Name the codes of one answer, a line for each weight of the row that decides."""
    weights = dict.fromkeys(_weight(one) for one in sorted(own, key=_worst_first))
    return [
        f"{name}: {_named([o for o in own if _weight(o) == name], len(own))}" for name in weights
    ]


def _named(own: list[UnderCode], most: int) -> str:
    names = [_name(one) for one in own[:most]]
    more = len(own) - len(names)
    return ", ".join(names) + (f" and {more} more" if more > 0 else "")


def _name(one: UnderCode) -> str:
    star = "*" if one.confirmed not in (None, Confirmed.TEXT) else ""
    return f"({one.id}{star})" if one.dated else f"{one.id}{star}"


def _codes(number: int) -> str:
    return f"{number} code{'' if number == 1 else 's'}"
