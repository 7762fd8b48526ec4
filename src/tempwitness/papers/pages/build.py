"""The whole packet: a plan in, the bytes of a PDF out."""

from __future__ import annotations

from datetime import UTC, datetime, time
from io import BytesIO
from typing import TYPE_CHECKING, Literal

from tempwitness.errors import ReportError
from tempwitness.papers.pages.agreements import (
    authority_questions,
    deadline_list,
    host_sheet,
    signatures,
    time_control,
)
from tempwitness.papers.pages.cover import cover, open_questions
from tempwitness.papers.pages.foods import flows, food_table
from tempwitness.papers.pages.hazards import annex, hazard_tables
from tempwitness.papers.pages.paper import Desk, PacketSheets
from tempwitness.papers.pages.plans import cooling_and_leftovers, probe_checks, transport
from tempwitness.papers.pages.site import cleaning, equipment, event_and_people, kitchens, site
from tempwitness.readers.event.questions import questions
from tempwitness.report.pdf.build import dated
from tempwitness.report.pdf.fonts import register
from tempwitness.report.pdf.paper import Paper
from tempwitness.report.pdf.styles import PAPER
from tempwitness.version import VERSION

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from tempwitness.papers.plan import Plan

__all__ = ["to_packet"]

_PARTS = (
    event_and_people,
    site,
    food_table,
    flows,
    hazard_tables,
    equipment,
    kitchens,
    cooling_and_leftovers,
    time_control,
    transport,
    host_sheet,
    probe_checks,
    cleaning,
    authority_questions,
    deadline_list,
    signatures,
    annex,
)


def to_packet(plan: Plan, *, paper: Literal["letter", "a4"] = "letter") -> bytes:
    """Set the packet of an event on paper.

    Parameters
    ----------
    plan : Plan
    paper : {"letter", "a4"}

    Returns
    -------
    bytes
        A PDF; the same event file and rules give the same bytes, dated by the event's first day.

    Raises
    ------
    ReportError
        If the paper is not one of the two.
    """
    if paper not in PAPER:
        raise ReportError(f"the paper {paper!r} is not known", hint="choose 'letter' or 'a4'")
    register()
    # Made twice: the cover names pages that are known only once all are set.
    pages: dict[str, int] = {}
    content = b""
    for _ in range(2):
        content, pages = _made(plan, paper, pages)
    return content


def _made(plan: Plan, paper: str, pages: dict[str, int]) -> tuple[bytes, dict[str, int]]:
    desk = Desk(paper, pages)
    target = BytesIO()
    event = plan.file.table
    sheets = PacketSheets(
        target,
        paper,
        title=f"Food safety packet: {event.event.name}",
        head=" – ".join(
            filter(None, (event.event.name, event.vendor.booth or event.vendor.business))
        ),
        tool=f"tempwitness {VERSION}",
        mark=plan.file.sha256[:16],
    )
    noon = datetime.combine(plan.file.first_day, time(12), UTC)
    with dated(int(noon.timestamp())):
        sheets.build(_story(plan, desk), canvasmaker=Paper)
    return target.getvalue(), desk.found


def _story(plan: Plan, desk: Desk) -> list[Flowable]:
    asked = questions(plan.file.table)
    rest = open_questions(asked, desk)
    for part in _PARTS:
        rest += part(plan, desk)
    # The cover comes last because it lists the parts, and stands first.
    return [*cover(plan, desk, len(asked)), *rest]
