"""One page for each deviation or question, with a row for every piece that shares it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from tempwitness.report.content.account import account_of, actions_of, readings_of, to_explain
from tempwitness.report.pdf.forms import SignLine, Tick
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import BODY_BOLD, SMALL, grid, pairs, title, words
from tempwitness.report.wording import titled, verdict_word

if TYPE_CHECKING:
    from collections.abc import Callable

    from tempwitness.model.finding import Evaluation
    from tempwitness.report.groups import Group
    from tempwitness.report.localtime import LocalTime

    Draw = Callable[[Group, int], Flowable | None]

__all__ = ["finding_pages"]


def finding_pages(
    evaluation: Evaluation, clock: LocalTime, width: float, draw: Draw
) -> list[Flowable]:
    """Set a page for each; `draw` gives the chart of a group and its number."""
    parts: list[Flowable] = []
    for number, group in enumerate(to_explain(evaluation), 1):
        subject = group.subject(len(evaluation.lot.pieces))
        head = f"{number}. {verdict_word(group.verdict)}: {subject}"
        parts += [PageBreak(), Heading(head, f"finding{number}")]
        parts.append(words(titled(group.first), BODY_BOLD))
        parts += [Spacer(1, 4), *_accounts(group, clock, width)]
        # What to do comes before the evidence: long lists may run on to another page.
        parts += _actions(group, clock, width)
        chart = draw(group, number)
        parts += [Spacer(1, 6), chart] if chart is not None else []
        parts += _readings(group, clock, width)
    return parts


def _accounts(group: Group, clock: LocalTime, width: float) -> list[Flowable]:
    """Set what all pieces share as pairs, and what differs as a row for each piece."""
    account = account_of(group, clock)
    parts: list[Flowable] = [pairs(list(account.shared), (105, width - 105))]
    if account.differs is None:
        return parts
    columns = (0.16 * width, 0.34 * width, 0.5 * width)
    differs = account.differs
    return [*parts, *title(differs.name), grid(differs.head, differs.rows, columns)]


def _readings(group: Group, clock: LocalTime, width: float) -> list[Flowable]:
    table, told = readings_of(group, clock)
    if table is None:
        return []
    columns = (70, 120, 65, 75, width - 370, 40)
    parts = [*title(table.name), grid(table.head, table.rows, columns)]
    return [*parts, words(told, SMALL)] if told else parts


def _actions(group: Group, clock: LocalTime, width: float) -> list[Flowable]:
    rows: list[list[str | Flowable]] = [
        [Tick(), by, words(do), basis] for by, do, basis in actions_of(group, clock)
    ]
    if not rows:
        return []
    table = grid(("", "By", "What to do", "On whose word"), rows, (22, 105, width - 227, 100))
    signed = (SignLine("Done by", "on", "at"), SignLine("What was done instead, and why"))
    if len(rows) > 1:
        return [*title("Action"), table, KeepTogether(list(signed))]
    return [KeepTogether([*title("Action"), table, *signed])]
