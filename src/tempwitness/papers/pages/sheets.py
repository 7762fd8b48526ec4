"""Blank logs for the day: one page an item, big boxes, limits and due times printed already."""

from __future__ import annotations

from datetime import UTC, datetime, time
from io import BytesIO
from typing import TYPE_CHECKING, Literal

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, PageBreak, Spacer

from tempwitness.errors import ReportError
from tempwitness.model.vocabulary import StageName
from tempwitness.papers.due import log_of
from tempwitness.papers.pages.common import blank_grid, facts
from tempwitness.papers.pages.paper import Desk, PacketSheets
from tempwitness.papers.pages.plans import probe_checks
from tempwitness.report.pdf.build import dated
from tempwitness.report.pdf.fonts import BOLD, register
from tempwitness.report.pdf.forms import SignLine
from tempwitness.report.pdf.paper import Paper
from tempwitness.report.pdf.styles import BODY, PAPER, SMALL, box, words
from tempwitness.version import VERSION

if TYPE_CHECKING:
    from tempwitness.papers.due import Log
    from tempwitness.papers.plan import Plan

__all__ = ["to_sheets"]

_LIMIT = ParagraphStyle("limit", parent=BODY, fontName=BOLD, fontSize=11.5, leading=14.5)
_HIGH = 29.0
_ROWS = 12
_COMMON = (
    (
        "Discards",
        "What is thrown away, with its weight, also if it is only a tray.",
        ("Time", "Food, lot, piece", "Weight", "Why", "Thrown away by", "Seen by"),
        (0.12, 0.26, 0.12, 0.24, 0.13, 0.13),
    ),
    (
        "Corrective actions",
        "One row for every limit that was missed, or that nobody can show was kept.",
        (
            "Time",
            "Food, step",
            "What was read, for how long",
            "What was done",
            "On whose word",
            "By",
        ),
        (0.11, 0.17, 0.25, 0.25, 0.12, 0.1),
    ),
)


def to_sheets(plan: Plan, *, paper: Literal["letter", "a4"] = "letter") -> bytes:
    """Set the blank logs of an event on paper.

    Parameters
    ----------
    plan : Plan
    paper : {"letter", "a4"}

    Returns
    -------
    bytes
        A PDF; the same event file and rules give the same bytes.

    Raises
    ------
    ReportError
        If the paper is not one of the two.
    """
    if paper not in PAPER:
        raise ReportError(f"the paper {paper!r} is not known", hint="choose 'letter' or 'a4'")
    register()
    desk, target, event = Desk(paper, {}), BytesIO(), plan.file.table
    sheets = PacketSheets(
        target,
        paper,
        title=f"Sheets for the day: {event.event.name}",
        head=f"{event.event.name} – logs",
        tool=f"tempwitness {VERSION}",
        mark=plan.file.sha256[:16],
    )
    noon = datetime.combine(plan.file.first_day, time(12), UTC)
    with dated(int(noon.timestamp())):
        sheets.build(_story(plan, desk), canvasmaker=Paper)
    return target.getvalue()


def _story(plan: Plan, desk: Desk) -> list[Flowable]:
    parts: list[Flowable] = []
    for i, food in enumerate(plan.foods, 1):
        for step in food.steps:
            head = f"{food.part.name}: {step.part.do.words}"
            parts += desk.part(head, f"log{i}-{step.number}")
            paired = step.part.do is StageName.TRANSPORT or step.part.time_control is not None
            parts += _log(log_of(food, step, plan), desk, paired=paired)
    parts += probe_checks(plan, desk)
    for head, said, columns, shares in _COMMON:
        parts += desk.part(head, head.split()[0].lower())
        widths = [share * desk.width for share in shares]
        parts += [words(said, BODY), Spacer(1, 4), blank_grid(columns, widths, rows=14, high=_HIGH)]
        parts += _foot()
    first = next(i for i, part in enumerate(parts) if isinstance(part, PageBreak))
    return parts[first + 1 :]


def _log(log: Log, desk: Desk, *, paired: bool) -> list[Flowable]:
    width = desk.width
    limits = log.limits or ("The code in force prints no limit for this step.",)
    known = [
        ("Where, when", ", ".join(filter(None, (log.where, log.planned)))),
        ("Read", log.watch),
    ]
    parts: list[Flowable] = [
        box([words(limit, _LIMIT) for limit in limits], width, line=1.6),
        Spacer(1, 3),
        facts([row for row in known if row[1]], width, label=0.18),
    ]
    if log.missed:
        parts += [Spacer(1, 2), words(f"If it is missed: {' '.join(log.missed)}", SMALL)]
    if log.from_start:
        parts += [SignLine("Clock started at", "read", "by")]
    head = (
        "Due",
        "Read at",
        "Temperature",
        "Piece, place, probe",
        "Kept? If not: what was done",
        "By",
    )
    shares = (0.24, 0.11, 0.14, 0.19, 0.22, 0.1)
    if paired:  # out and back of one container after the other
        rows = [[due, *[""] * 5] for _ in range(_ROWS // 2) for due in log.due]
    else:
        rows = [[due, *[""] * 5] for due in log.due]
    rows += [[""] * 6] * max(0, _ROWS - len(rows))
    filled = [[_due_cell(row[0]), *row[1:]] for row in rows]
    parts += [Spacer(1, 4)]
    parts.append(blank_grid(head, [s * width for s in shares], filled=filled, high=_HIGH))
    return parts + _foot()


def _due_cell(due: str) -> str | Flowable:
    return words(due, SMALL) if due else ""


def _foot() -> list[Flowable]:
    return [
        SignLine("Checked by (person in charge)", "Date, time"),
        SignLine("Typed in later by", "on", "as written here"),
    ]
