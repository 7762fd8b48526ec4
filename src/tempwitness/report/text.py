"""The evaluation as text: the answer first, then what to do, then why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.brief import nothing_to_do
from tempwitness.report.lines import Lines
from tempwitness.report.localtime import LocalTime
from tempwitness.report.text_findings import put_findings
from tempwitness.report.text_record import put_record
from tempwitness.report.text_under import put_under
from tempwitness.report.wording import action_words, code_line, code_name, food_line

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation

__all__ = ["to_text"]


def to_text(
    evaluation: Evaluation, *, width: int = 80, colour: bool = False, full: bool = False
) -> str:
    """Write an evaluation for reading on a screen.

    Parameters
    ----------
    evaluation : Evaluation
    width : int
        Longest line [characters]; less than 24 counts as 24.
    colour : bool
        Whether verdicts are coloured as well; no meaning hangs on it.
    full : bool
        Whether the evidence of what was met, and what does not apply, is written too.

    Returns
    -------
    str
        Lines with a line end after each.
    """
    lines = Lines(width, colour)
    clock = LocalTime(evaluation.lot.zone)
    _put_head(lines, evaluation, clock)
    _put_todo(lines, evaluation, clock)
    put_findings(lines, evaluation, clock, full=full)
    put_under(lines, evaluation)
    put_record(lines, evaluation, clock, full=full)
    return lines.text()


def _put_head(lines: Lines, evaluation: Evaluation, clock: LocalTime) -> None:
    lot = evaluation.lot
    pieces = f", {len(lot.pieces)} pieces" if len(lot.pieces) > 1 else ""
    lines.put(f"Lot {lot.id}: {food_line(lot)}{pieces}", hang=2)
    lines.put(f"Code: {code_line(evaluation.code)}", hang=2)
    if evaluation.beside:
        beside = "; ".join(code_name(code) for code in evaluation.beside)
        lines.put(f"Beside it: {beside}", hang=2)
    if lot.first_entry:
        when = clock.span(lot.first_entry, lot.last_entry)
        lines.put(f"On record: {when} ({lot.zone})", hang=2)
    if evaluation.asked_at:
        lines.put(f"Asked at: {clock.full(evaluation.asked_at)}", hang=2)
    lines.blank()
    lines.verdict(evaluation.verdict, "", indent=2)
    lines.put(evaluation.headline, indent=2)
    if any(override.in_force for override in evaluation.overrides):
        lines.put("A local change to the code was applied; it is named below.", indent=2)


def _put_todo(lines: Lines, evaluation: Evaluation, clock: LocalTime) -> None:
    lines.heading("Do now")
    if not evaluation.do_now:
        for sentence in nothing_to_do(evaluation, clock):
            lines.put(sentence)
    for number, action in enumerate(evaluation.do_now, 1):
        by = f"{clock.due(action.by, evaluation.asked_at)} – " if action.by else ""
        lines.put(f"{by}{action_words(action)}", bullet=f"{number}. ")
