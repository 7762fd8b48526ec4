"""What the answer rests on, and the lines to sign."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.content.record import doubts, record_parts
from tempwitness.report.html.answer import caution
from tempwitness.report.html.markup import Markup, element
from tempwitness.report.html.parts import part, section, sign_lines

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.report.html.parts import Ids
    from tempwitness.report.localtime import LocalTime

__all__ = ["doubted", "record", "signatures"]


def record(evaluation: Evaluation, clock: LocalTime, ids: Ids) -> Markup:
    """Return everything behind the findings except the readings."""
    parts = (part(ids, made) for made in record_parts(evaluation, clock))
    return section("record", "What the answer rests on", *parts)


def doubted(evaluation: Evaluation, clock: LocalTime, ids: Ids) -> Markup:
    """Return the readings that were kept but must not decide; nothing if there is none."""
    made = doubts(evaluation, clock)
    return part(ids, made) if made.rows else Markup("")


def signatures(evaluation: Evaluation) -> Markup:
    """Return the deference once more, and on paper the lines to sign."""
    note = "Print this page to sign it: the lines stand on paper only."
    return section(
        "signed",
        "Signed",
        caution(evaluation),
        element("p", note, class_="small screen"),
        sign_lines("Prepared by", "Date"),
        sign_lines("Reviewed by", "Date"),
        sign_lines("Remarks of the authority"),
        sign_lines(" "),
    )
