"""What is seen first: the answer, what to do, which lot, and what is explained below."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.brief import nothing_to_do
from tempwitness.report.content.account import to_explain
from tempwitness.report.content.head import advice_kept, facts, meaning
from tempwitness.report.html.markup import Markup, element, joined
from tempwitness.report.html.parts import pairs, section, sign_lines, verdict
from tempwitness.report.wording import BASIS, counts, titled

if TYPE_CHECKING:
    from tempwitness.model.finding import Action, Evaluation
    from tempwitness.report.localtime import LocalTime

__all__ = ["answer", "caution", "contents", "found", "lot", "to_do"]


def answer(evaluation: Evaluation) -> Markup:
    """Return the answer in one word and one sentence."""
    return section(
        "answer",
        "Answer",
        element(
            "div",
            element("p", verdict(evaluation.verdict), class_="word"),
            element("p", evaluation.headline, class_="headline"),
            element("p", meaning(evaluation.verdict), class_="meaning"),
            class_=f"answer {evaluation.verdict.value.replace('_', '-')}",
        ),
    )


def to_do(evaluation: Evaluation, clock: LocalTime) -> Markup:
    """Return what to do, the most urgent first."""
    if not evaluation.do_now:
        told = (element("p", line, class_="lead") for line in nothing_to_do(evaluation, clock))
        return section("do-now", "Do now", joined(told))
    actions = (_action(action, clock) for action in evaluation.do_now)
    listed = element("ol", joined(actions), class_="do")
    return section("do-now", "Do now", listed, sign_lines("Done by", "on", "at"))


def _action(action: Action, clock: LocalTime) -> Markup:
    by = clock.full(action.by)
    when = joined(["By ", by]) if by else "Now"
    return element(
        "li",
        element("p", element("strong", when), class_="by"),
        element("p", action.do),
        element("p", "On whose word: ", BASIS[action.basis], class_="small"),
    )


def caution(evaluation: Evaluation) -> Markup:
    """Return the deference to the authority."""
    said = joined(element("p", sentence) for sentence in evaluation.caution)
    return element("div", said, class_="caution") if said else Markup("")


def lot(evaluation: Evaluation, clock: LocalTime) -> Markup:
    """Return which lot, under which code, on which record."""
    return section("lot", "Lot, code and record", pairs(facts(evaluation, clock)))


def found(evaluation: Evaluation) -> Markup:
    """Return how many findings have which answer, and name those that are explained."""
    numbers = (
        element("li", verdict(answer), " ", element("span", str(n), class_="count"))
        for answer, n in counts(evaluation)
    )
    pieces = len(evaluation.lot.pieces)
    named = [
        element(
            "li",
            element("a", f"{number}. {group.subject(pieces)}", href=f"#finding-{number}"),
            ": ",
            verdict(group.verdict),
            f" {titled(group.first)}",
        )
        for number, group in enumerate(to_explain(evaluation), 1)
    ]
    apart = advice_kept(evaluation)
    return section(
        "found",
        "Findings under the code",
        element("ul", joined(numbers), class_="counts"),
        element("p", apart, class_="small") if apart else Markup(""),
        element("h3", "Explained one by one below") if named else Markup(""),
        element("ul", *named, class_="index") if named else Markup(""),
    )


def contents(entries: list[tuple[str, str]]) -> Markup:
    """Return the links to the parts of the page."""
    links = (element("li", element("a", name, href=f"#{key}")) for key, name in entries)
    heading = element("h2", "In this report", id="contents")
    return element("nav", heading, element("ul", joined(links)), aria_labelledby="contents")
