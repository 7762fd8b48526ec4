"""Page 1: which lot, which code, the answer, and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, Paragraph, Spacer, Table, TableStyle

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.brief import nothing_to_do
from tempwitness.report.content.account import to_explain
from tempwitness.report.content.head import advice_kept, facts, meaning
from tempwitness.report.pdf.forms import SignLine, Tick
from tempwitness.report.pdf.paper import Heading
from tempwitness.report.pdf.styles import (
    BIG,
    BIG_REVERSED,
    BODY,
    BODY_BOLD,
    COUNT,
    COUNT_NAME,
    LEAD,
    SMALL,
    SMALL_BOLD,
    box,
    grid,
    pairs,
    title,
    words,
)
from tempwitness.report.wording import BASIS, counts, titled, verdict_word

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.report.localtime import LocalTime

__all__ = ["summary"]

_MOST_NAMED = 10


def summary(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
    """Set the first page; `width` is the room between the margins [pt]."""
    parts: list[Flowable] = [Heading(f"Lot {evaluation.lot.id}", "answer")]
    parts.append(pairs(facts(evaluation, clock), (80, width - 80)))
    parts += [Spacer(1, 8), _answer(evaluation, width)]
    parts += _todo(evaluation, clock, width)
    parts += _counts(evaluation, width)
    parts.append(Spacer(1, 6))
    parts += [words(sentence, SMALL_BOLD) for sentence in evaluation.caution]
    return parts + _index(evaluation)


def _answer(evaluation: Evaluation, width: float) -> Flowable:
    verdict = evaluation.verdict
    broken = verdict is Verdict.NOT_MET
    word = words(verdict_word(verdict), BIG_REVERSED if broken else BIG)
    sentence = words(evaluation.headline, LEAD)
    told = words(meaning(verdict), COUNT_NAME)
    line = 1.0 if verdict is Verdict.MET else 3.0
    return box([word, sentence, told], width, line=line, reverse=broken)


def _todo(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
    parts: list[Flowable] = title("Do now")
    if not evaluation.do_now:
        return parts + [words(told, BODY_BOLD) for told in nothing_to_do(evaluation, clock)]
    rows: list[list[str | Flowable]] = [
        [
            Tick(),
            words(clock.full(a.by, "now"), BODY_BOLD),
            words(a.do, BODY),
            BASIS[a.basis],
        ]
        for a in evaluation.do_now
    ]
    columns = (22, 125, width - 247, 100)
    parts.append(grid(("", "By", "What", "On whose word"), rows, columns))
    parts.append(SignLine("Done by", "on", "at"))
    return parts


def _counts(evaluation: Evaluation, width: float) -> list[Flowable]:
    found = counts(evaluation)
    numbers: list[Paragraph] = [words(str(n), COUNT) for _, n in found]
    names: list[Paragraph] = [words(verdict_word(v).lower(), COUNT_NAME) for v, _ in found]
    table = Table([numbers, names], colWidths=[width / len(found)] * len(found))
    table.setStyle(TableStyle([("BOX", (0, 0), (-1, -1), 0.6, "black")]))
    parts: list[Flowable] = [*title("Findings under the code"), table]
    apart = advice_kept(evaluation)
    return [*parts, words(apart, SMALL)] if apart else parts


def _index(evaluation: Evaluation) -> list[Flowable]:
    """Name what is explained on pages of its own, so that the worst is seen at once."""
    found = to_explain(evaluation)
    # Much to do leaves less room on the sheet.
    pieces = len(evaluation.lot.pieces)
    named = max(_MOST_NAMED - len(evaluation.do_now), 3)
    lines = [
        words(f"{n}. {verdict_word(g.verdict)}: {g.subject(pieces)} – {titled(g.first)}", BODY)
        for n, g in enumerate(found[:named], 1)
    ]
    if len(found) > named:
        lines.append(words(f"and {len(found) - named} more", BODY))
    return [*title("Explained page by page behind the chart"), *lines] if lines else []
