"""Page 1: which lot, which code, the answer, and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, Paragraph, Spacer, Table, TableStyle

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.brief import nothing_to_do
from tempwitness.report.pdf.forms import SignLine, Tick
from tempwitness.report.pdf.pages import to_explain
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
from tempwitness.report.wording import (
    BASIS,
    MEANING,
    code_line,
    counts,
    food_line,
    stage_words,
    titled,
    verdict_word,
)

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.report.localtime import LocalTime

__all__ = ["summary"]

_MOST_NAMED = 10


def summary(evaluation: Evaluation, clock: LocalTime, width: float) -> list[Flowable]:
    """Set the first page; `width` is the room between the margins [pt]."""
    parts: list[Flowable] = [Heading(f"Lot {evaluation.lot.id}", "answer")]
    parts.append(pairs(_facts(evaluation, clock), (80, width - 80)))
    parts += [Spacer(1, 8), _answer(evaluation, width)]
    parts += _todo(evaluation, clock, width)
    parts += _counts(evaluation, width)
    parts.append(Spacer(1, 6))
    parts += [words(sentence, SMALL_BOLD) for sentence in evaluation.caution]
    return parts + _index(evaluation)


def _facts(evaluation: Evaluation, clock: LocalTime) -> list[tuple[str, str]]:
    lot = evaluation.lot
    made_by = ", ".join(part for part in (stage_words(lot.business), lot.event, lot.cook) if part)
    record = clock.span(lot.first_entry, lot.last_entry)
    return [
        ("Food", food_line(lot)),
        ("Pieces", ", ".join(lot.pieces)),
        ("Code", code_line(evaluation.code)),
        ("Local changes", _changes(evaluation)),
        ("Files", _read_otherwise(evaluation)),
        ("On record", f"{record} ({lot.zone})" if record else "nothing"),
        ("Asked at", clock.full(evaluation.asked_at)),
        ("For and by", made_by),
    ]


def _changes(evaluation: Evaluation) -> str:
    """Name the local changes in force, with both values, as far as a line or two hold them."""
    in_force = [o for o in evaluation.overrides if o.in_force]
    made = list(
        dict.fromkeys(
            f"{o.by} in place of {o.replaced}" if o.replaced else f"{o.by} (added)"
            for o in in_force
        )
    )
    more = f" and {len(made) - 3} more" if len(made) > 3 else ""
    return f"{'; '.join(made[:3])}{more}"


def _read_otherwise(evaluation: Evaluation) -> str:
    """Say that something in the files was not taken as it stands; ``""`` if all was."""
    count = len(evaluation.changes)
    if not count:
        return ""
    return f"{count} {'entry' if count == 1 else 'entries'} changed or left out; listed below"


def _answer(evaluation: Evaluation, width: float) -> Flowable:
    verdict = evaluation.verdict
    broken = verdict is Verdict.NOT_MET
    word = words(verdict_word(verdict), BIG_REVERSED if broken else BIG)
    sentence = words(evaluation.headline, LEAD)
    meaning = words(f"{verdict_word(verdict).capitalize()}: {MEANING[verdict]}.", COUNT_NAME)
    line = 1.0 if verdict is Verdict.MET else 3.0
    return box([word, sentence, meaning], width, line=line, reverse=broken)


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
    advice = len(evaluation.advice)
    kept = sum(finding.verdict is Verdict.MET for finding in evaluation.advice)
    apart = f"Advice, which is not law and does not change the answer: {kept} of {advice} kept."
    return [*parts, words(apart, SMALL)] if advice else parts


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
