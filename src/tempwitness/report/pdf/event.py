"""All lots of an event in one document: the list of them, statements to sign, then each report."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING, Literal

from reportlab.platypus import ActionFlowable, Flowable, PageBreak, Spacer

from tempwitness.errors import ReportError
from tempwitness.model.vocabulary import Verdict, worst
from tempwitness.report.localtime import LocalTime
from tempwitness.report.pdf.build import dated, last_entry, lot_story
from tempwitness.report.pdf.event_papers import discards, statements
from tempwitness.report.pdf.fonts import drawable, register
from tempwitness.report.pdf.paper import Heading, Paper, Sheets
from tempwitness.report.pdf.styles import (
    BIG,
    BIG_REVERSED,
    BODY,
    LEAD,
    PAPER,
    SMALL_BOLD,
    box,
    grid,
    title,
    words,
)
from tempwitness.report.wording import MEANING, WORST_FIRST, food_line, verdict_word

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reportlab.platypus import BaseDocTemplate

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog

__all__ = ["to_event_pdf"]

Lot = tuple["Evaluation", "StagedLog"]


def to_event_pdf(lots: Sequence[Lot], *, paper: Literal["letter", "a4"] = "letter") -> bytes:
    """Set the reports of several lots as one document, the worst lot first.

    Parameters
    ----------
    lots : sequence of (Evaluation, StagedLog)
        At least one.
    paper : {"letter", "a4"}

    Returns
    -------
    bytes
        A PDF; the same lots give the same bytes. The time it takes grows with the number of lots.

    Raises
    ------
    ReportError
        If there is no lot, or the paper is not one of the two.
    """
    if paper not in PAPER:
        raise ReportError(f"the paper {paper!r} is not known", hint="choose 'letter' or 'a4'")
    if not lots:
        raise ReportError("there is no lot to report", hint="name one record at least")
    register()
    ordered = sorted(lots, key=lambda lot: WORST_FIRST.index(lot[0].verdict))
    evaluations = [evaluation for evaluation, _ in ordered]
    target = BytesIO()
    name = _event(evaluations)
    sheets = _EventSheets(target, evaluations[0], paper, f"{name} – {len(ordered)} lots")
    story = _front(evaluations, name, sheets.width)
    story += statements(evaluations, sheets.width)
    story += discards(ordered, sheets.width)
    for number, (evaluation, log) in enumerate(ordered, 1):
        story += _one(number, evaluation, log, sheets.width)
    # Dated by the last entry of all lots.
    with dated(max(map(last_entry, evaluations))):
        sheets.build(story, canvasmaker=Paper)
    return target.getvalue()


class _EventSheets(Sheets):
    """Sheets whose head names the lot that they speak of."""

    def __init__(self, target: BytesIO, evaluation: Evaluation, paper: str, name: str) -> None:
        super().__init__(target, evaluation, paper)
        self.title = drawable(name)
        self.speak_of(name, evaluation)

    def speak_of(self, name: str, evaluation: Evaluation) -> None:
        """Head the pages that follow with a name, and foot them with the code of a lot."""
        self._names = (name, evaluation.tool, evaluation.code.id)


class _SpeakOf(ActionFlowable):
    """Change the head of the pages that follow."""

    def __init__(self, evaluation: Evaluation) -> None:
        super().__init__()
        self.evaluation = evaluation

    def apply(self, doc: BaseDocTemplate) -> None:
        """Do it when the document has come so far."""
        if isinstance(doc, _EventSheets):
            lot = self.evaluation.lot
            doc.speak_of(f"Lot {lot.id} – {lot.food}", self.evaluation)


def _one(number: int, evaluation: Evaluation, log: StagedLog, width: float) -> list[Flowable]:
    """Set one lot's report, its bookmarks beneath that of the lot."""
    parts = lot_story(evaluation, log, width)
    for part in parts:
        if isinstance(part, Heading):
            part.level = 0 if part.key == "answer" else 1
            part.key = f"lot{number}-{part.key}"
    return [_SpeakOf(evaluation), PageBreak(), *parts]


def _event(evaluations: Sequence[Evaluation]) -> str:
    """Name the event if all lots that name one name the same."""
    names = list(dict.fromkeys(e.lot.event for e in evaluations if e.lot.event))
    return names[0] if len(names) == 1 else "Event"


def _front(evaluations: Sequence[Evaluation], name: str, width: float) -> list[Flowable]:
    verdict = worst([e.verdict for e in evaluations])
    broken = verdict is Verdict.NOT_MET
    met = sum(e.verdict is Verdict.MET for e in evaluations)
    parts: list[Flowable] = [Heading(name, "event"), Spacer(1, 4)]
    parts.append(
        box(
            [
                words(verdict_word(verdict), BIG_REVERSED if broken else BIG),
                words(f"The worst lot decides; {met} of {len(evaluations)} lots met", LEAD),
                words(f"{verdict_word(verdict).capitalize()}: {MEANING[verdict]}.", BODY),
            ],
            width,
            line=1.0 if verdict is Verdict.MET else 3.0,
            reverse=broken,
        )
    )
    rows = [
        (
            str(number),
            f"{e.lot.id}: {food_line(e.lot)}",
            _when(e),
            verdict_word(e.verdict),
            e.headline,
        )
        for number, e in enumerate(evaluations, 1)
    ]
    head = ("No.", "Lot", "On record", "Answer", "In one sentence")
    columns = (28.0, 0.28 * width, 92.0, 72.0, 0.72 * width - 192.0)
    parts += [*title("All lots, the worst first"), grid(head, rows, columns), Spacer(1, 6)]
    cautions = dict.fromkeys(c for e in evaluations for c in e.caution)
    return parts + [words(sentence, SMALL_BOLD) for sentence in cautions]


def _when(evaluation: Evaluation) -> str:
    lot = evaluation.lot
    if not lot.first_entry:
        return "nothing"
    return LocalTime(lot.zone).span(lot.first_entry, lot.last_entry)
