"""One page: the same lot under many codes, those that it fails first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, PageBreak

from tempwitness.model.vocabulary import Confirmed, Verdict
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY, SMALL, grid, title, words
from tempwitness.report.wording import WEIGHT, verdict_word

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.under import UnderCode

__all__ = ["comparison_page"]

#: Rows of the table, and codes named in one of them, that a page has room for.
_MOST_ROWS = 20
_MOST_NAMED = 8
_BROKEN = (Verdict.NOT_MET, Verdict.NOT_SHOWN)


def comparison_page(evaluation: Evaluation, width: float) -> list[Flowable]:
    """Set the page; nothing where the lot was judged under its own code alone."""
    if not evaluation.under:
        return []
    count = len(evaluation.under)
    parts: list[Flowable] = [PageBreak(), Heading(f"The same lot under {count} codes", "under")]
    told = (
        f"Only {evaluation.code.title} decides about this lot. Of each other code the row that "
        "decides it stands here; a star marks a number that was not read in the text itself, "
        "brackets a code that was not in force when the lot was made."
    )
    parts.append(words(told, SMALL))
    parts += _broken(evaluation.under, width)
    for verdict in (Verdict.OPEN, Verdict.NEEDS_LIMIT, Verdict.MET):
        own = [u for u in evaluation.under if u.verdict is verdict]
        if own:
            parts += title(f"{verdict_word(verdict)} under {_codes(len(own))}")
            parts += [words(line, SMALL) for line in _by_weight(own)]
    silent = [u for u in evaluation.under if u.verdict is Verdict.NOT_APPLICABLE]
    if silent:
        parts.append(words(f"Nothing about this food: {_named(silent, len(silent))}.", SMALL))
    return parts


def _broken(under: Iterable[UnderCode], width: float) -> list[Flowable]:
    """Set what is not met and not shown as a table, codes that share the row together."""
    shared: dict[tuple[Verdict, str, str, str], list[UnderCode]] = {}
    for one in sorted(under, key=_worst_first):
        if one.verdict in _BROKEN:
            key = (one.verdict, one.row, one.limit, _weight(one))
            shared.setdefault(key, []).append(one)
    if not shared:
        return [words("Not one of them is not met or not shown.", BODY)]
    rows = [
        (verdict_word(verdict), _named(own, _MOST_NAMED), _limited(row, limit), weight)
        for (verdict, row, limit, weight), own in list(shared.items())[:_MOST_ROWS]
    ]
    columns = [share * width for share in (0.12, 0.33, 0.42, 0.13)]
    counts = [
        f"{verdict_word(v).lower()} under {_codes(number)}"
        for v in _BROKEN
        if (number := sum(one.verdict is v for one in under))
    ]
    head = ("Answer", "Codes", "The row that decides", "Weight")
    name = "; ".join(counts)
    parts = [*title(f"{name[0].upper()}{name[1:]}"), grid(head, rows, columns)]
    more = len(shared) - len(rows)
    if more:
        parts.append(words(f"{more} more rows have no room here; check --all lists them.", SMALL))
    return parts


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
