"""Each deviation or question by itself: the account, what to do, the chart, the readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.content.account import account_of, actions_of, readings_of, to_explain
from tempwitness.report.html.markup import Markup, element, joined
from tempwitness.report.html.parts import pairs, section, sign_lines, table, verdict
from tempwitness.report.wording import titled

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.report.groups import Group
    from tempwitness.report.html.chart.figure import Figures
    from tempwitness.report.html.parts import Ids
    from tempwitness.report.localtime import LocalTime

__all__ = ["explained"]


def explained(evaluation: Evaluation, clock: LocalTime, ids: Ids, figures: Figures) -> Markup:
    """Return every finding that is not settled, the worst first; nothing if all are."""
    groups = to_explain(evaluation)
    if not groups:
        return Markup("")
    pieces = len(evaluation.lot.pieces)
    articles = []
    for number, group in enumerate(groups, 1):
        head = joined([f"{number}. ", verdict(group.verdict), f": {group.subject(pieces)}"])
        articles.append(
            element(
                "article",
                element("h3", head),
                element("p", titled(group.first), class_="lead"),
                _account(group, clock, ids),
                # What to do comes before the evidence, which may be long.
                _actions(group, clock),
                figures.part(group, number),
                _readings(group, clock, ids),
                id=f"finding-{number}",
            )
        )
    return section("explained", "Findings explained", *articles)


def _account(group: Group, clock: LocalTime, ids: Ids) -> Markup:
    account = account_of(group, clock)
    differs = Markup("") if account.differs is None else table(ids, account.differs, rank=4)
    return joined([pairs(account.shared), differs])


def _actions(group: Group, clock: LocalTime) -> Markup:
    actions = actions_of(group, clock)
    if not actions:
        return Markup("")
    items = (
        element(
            "li",
            element("p", element("strong", joined(_when(by))), class_="by"),
            element("p", do),
            element("p", "On whose word: ", basis, class_="small"),
        )
        for by, do, basis in actions
    )
    return joined(
        [
            element("h4", "Action"),
            element("ol", joined(items), class_="do"),
            sign_lines("Done by", "on", "at"),
            sign_lines("What was done instead, and why"),
        ]
    )


def _when(by: str) -> tuple[str, ...]:
    return ("Now",) if by == "now" else ("By ", by)


def _readings(group: Group, clock: LocalTime, ids: Ids) -> Markup:
    made, told = readings_of(group, clock)
    if made is None:
        return Markup("")
    note = element("p", told, class_="small") if told else Markup("")
    return joined([table(ids, made, rank=4, names_row=1), note])
