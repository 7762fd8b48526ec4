"""The cover with what is enclosed, and the page of what is still to be answered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, Spacer

from tempwitness.papers.pages.common import facts
from tempwitness.papers.pages.paper import Part
from tempwitness.readers.event.said import clock_words, day_words
from tempwitness.report.pdf.forms import Tick
from tempwitness.report.pdf.styles import BODY, BODY_BOLD, LEAD, SMALL, box, grid, title, words

if TYPE_CHECKING:
    from tempwitness.papers.pages.paper import Desk
    from tempwitness.papers.plan import Plan
    from tempwitness.readers.event.people import DayPart
    from tempwitness.readers.event.questions import Question

__all__ = ["cover", "open_questions"]

_ANSWER_ROOM = 22.0
_PREVAILS = (
    "This packet is a layout of its own, made to fit any county. Where the county, the state or "
    "the organiser has a form, that form prevails: copy the answers from here. The local health "
    "authority decides what is allowed; nothing in this packet overrules it, and nothing in it is "
    "an approval. Nobody has signed it until the lines at its end are signed by hand."
)


def cover(plan: Plan, desk: Desk, left: int) -> list[Flowable]:
    """Set the cover; `left` is how many answers are missing."""
    event = plan.file.table
    head = Part(event.event.name, "cover", desk.found)
    vendor = event.vendor
    known = [
        ("Booth", ", ".join(filter(None, (vendor.booth, vendor.business, vendor.booth_number)))),
        ("Owner", vendor.owner),
        ("Person in charge", _joined(event.person_in_charge.name, event.person_in_charge.phone)),
        ("Place", _joined(event.event.venue, event.event.address, event.event.spot)),
        ("Health district", event.event.county),
        ("Days", "; ".join(_day_line(d) for d in event.day)),
        ("Foods", ", ".join(food.name for food in event.food)),
        ("Guests", "" if event.event.patrons is None else str(event.event.patrons)),
        ("Food code", f"{plan.code.head.title}, {plan.code.head.edition} [{plan.code.head.id}]"),
        ("Local changes", "; ".join(_override_lines(plan))),
    ]
    rows = [row for row in known if row[1] or row[0] not in ("Local changes", "Guests")]
    return [
        words("Food safety packet", LEAD),
        Spacer(1, 4),
        head,
        facts(rows, desk.width, label=0.22),
        Spacer(1, 8),
        box([words(_PREVAILS, BODY)], desk.width, line=1.4),
        *_left_words(left),
        *_enclosed(desk),
        *(words(line, SMALL) for line in plan.grounds),
    ]


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _day_line(day: DayPart) -> str:
    times = [
        f"{label} {clock_words(time)}"
        for label, name in (
            ("set-up", "set_up"),
            ("ready for inspection", "ready"),
            ("serving", "serve_from"),
            ("until", "serve_until"),
        )
        if (time := getattr(day, name)) is not None
    ]
    date = day_words(day.date)
    return f"{date}: {', '.join(times)}" if times else date


def _override_lines(plan: Plan) -> list[str]:
    return [
        f"{used.by} ({used.authority}, {used.citation})"
        + ("" if used.in_force else f" – not in force: {used.reason}")
        for used in plan.overrides
    ]


def _left_words(left: int) -> list[Flowable]:
    if not left:
        said = "Every question that the forms we know of ask is answered in this packet."
    else:
        said = f"Still to be answered: {left}. They are listed on the next page; none is made up."
    return [Spacer(1, 8), words(said, BODY_BOLD)]


def _enclosed(desk: Desk) -> list[Flowable]:
    rows: list[list[str | Flowable]] = [
        [Tick(), text, str(desk.pages.get(key, ""))] for key, text in desk.parts
    ]
    widths = (22, desk.width - 72, 50)
    return [*title("What is enclosed"), grid(("", "Part", "Page"), rows, widths)]


def open_questions(asked: tuple[Question, ...], desk: Desk) -> list[Flowable]:
    """Set the page of what is missing, with room to write."""
    if not asked:
        return []
    rows: list[list[str | Flowable]] = [
        [str(i), q.about, words(q.asks, SMALL), Spacer(1, _ANSWER_ROOM)]
        for i, q in enumerate(asked, 1)
    ]
    width = desk.width
    return [
        *desk.part("Still to be answered", "open"),
        words(
            "The event file says nothing of these. Write the answer here by hand, or into the "
            "file, and print the packet again.",
            BODY,
        ),
        Spacer(1, 4),
        grid(
            ("No.", "About", "Question", "Answer"),
            rows,
            (28, 0.24 * width, 0.4 * width, 0.36 * width - 28),
        ),
        words("The key of each in the event file:", SMALL),
        words("; ".join(f"{i} {q.key}" for i, q in enumerate(asked, 1)), SMALL),
    ]
