"""Written procedures and pages that others read or sign."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, Spacer

from tempwitness.model.figures import duration_words
from tempwitness.model.forms import TimeControl
from tempwitness.model.vocabulary import StageName
from tempwitness.papers.authority import to_ask
from tempwitness.papers.days import later
from tempwitness.papers.deadlines import deadlines, holidays_words
from tempwitness.papers.limits import full_limit
from tempwitness.papers.pages.common import blank_grid, facts, signed
from tempwitness.papers.steps import place_name
from tempwitness.readers.event.said import day_words, moment_words
from tempwitness.report.pdf.forms import SignLine, Tick
from tempwitness.report.pdf.styles import BODY, BODY_BOLD, SMALL, Cell, grid, title, words

if TYPE_CHECKING:
    from datetime import datetime

    from tempwitness.papers.pages.paper import Desk
    from tempwitness.papers.plan import Plan, PlannedFood, PlannedStep

__all__ = ["authority_questions", "deadline_list", "host_sheet", "signatures", "time_control"]


_WEEKDAYS = {
    "mon": "Monday",
    "tue": "Tuesday",
    "wed": "Wednesday",
    "thu": "Thursday",
    "fri": "Friday",
    "sat": "Saturday",
    "sun": "Sunday",
}
_ANSWER_ROOM = 26.0


def time_control(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set the written procedure for every food that is held by time in place of temperature."""
    parts: list[Flowable] = []
    used = [(f, s) for f in plan.foods for s in f.steps if s.part.time_control]
    for i, (food, step) in enumerate(used, 1):
        head = f"Time in place of temperature: {food.part.name}"
        if i == 1:
            parts += desk.part("Written procedure: time in place of temperature", "time", head=head)
        else:
            parts += desk.further(head, f"time{i}")
        parts += _procedure(food, step, plan, desk)
    return parts


def _procedure(food: PlannedFood, step: PlannedStep, plan: Plan, desk: Desk) -> list[Flowable]:
    rules = [r for r in step.limits if isinstance(r.test, TimeControl)]
    if not rules:
        said = (
            f"The code in force has no written time control of {step.part.time_control} for "
            f"{step.part.do.words}. Ask the health authority before it is used."
        )
        return [words(said, BODY_BOLD)]
    lasts = max(r.test.at_most for r in rules if isinstance(r.test, TimeControl))
    known = _clock(food, step, plan, lasts)
    rows: list[list[str | Flowable]] = [[Tick(), full_limit(r), r.section] for r in rules]
    rows += [
        [Tick(), "It is never put back under temperature control, nor mixed with fresh food", ""],
        [Tick(), "Food without a mark, or past its time, is thrown away", ""],
        [Tick(), "This paper is on the spot while it is used", ""],
    ]
    width = desk.width
    log = ("Container", "Temp. at start", "Out at", "Gone by", "Served or thrown away", "By")
    return [
        facts(known, width, label=0.2),
        *title("What is kept"),
        grid(("", "Rule", "Section"), rows, (22, width - 132, 110)),
        *title("Containers of the day"),
        blank_grid(log, [s * width for s in (0.2, 0.15, 0.13, 0.13, 0.25, 0.14)], rows=7),
        words("This procedure must be written and dated before it is used.", SMALL),
        *signed("Written by", "Supervisor"),
    ]


def _clock(food: PlannedFood, step: PlannedStep, plan: Plan, lasts: float) -> list[tuple[str, str]]:
    """Say what is held how long, from when to when."""
    start = step.part.start
    return [
        ("Food", food.part.name),
        ("Ingredients", food.part.ingredients),
        ("Option", f"{duration_words(lasts)} from leaving temperature control"),
        ("Step, where", ", ".join((step.part.do.words, _where(step, plan)))),
        ("How", step.part.how),
        ("Clock starts", f"when it leaves temperature control; planned {_moment(start)}"),
        ("Clock ends", f"{duration_words(lasts)} later; planned {_ends(start, lasts, plan)}"),
        ("Marked with", "the time of removal and the time by which it is gone, on every container"),
        (
            "At the end",
            "what is not served is thrown away and written down, also if it is still hot",
        ),
    ]


def _where(step: PlannedStep, plan: Plan) -> str:
    return place_name(step.part.where, plan.file.table) if step.part.where else "not answered"


def _moment(start: datetime | None) -> str:
    return moment_words(start) if start else "________"


def _ends(start: datetime | None, lasts: float, plan: Plan) -> str:
    if start is None:
        return "________"
    return moment_words(later(start, lasts, plan.file.table.zone))


def host_sheet(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set the page that stays with a host who serves the food."""
    event = plan.file.table
    if not event.event.drop_off:
        return []
    width = desk.width
    left = [["", "", "", "", ""] for _ in range(6)]
    rules = {
        r.id: r
        for f in plan.foods
        for s in f.of(StageName.HOT_HOLD, StageName.SERVE, StageName.COLD_HOLD)
        for r in s.limits
        if r.test.form in ("throughout", "outside_band")
    }
    limits = [f"{r.title}: {_lower(full_limit(r))} [{r.section}]." for r in rules.values()]
    do = [
        *limits,
        "Read the food with a probe when it comes and every two hours, and write it down.",
        "Keep it covered; put out one pan at a time; never fill fresh food on top of old.",
        "Wash hands before serving; serve with the tools that came with the food.",
        "What falls out of its limits, or past the time written above, is thrown away.",
        "Guests who fall ill easily get nothing that is in doubt.",
        f"Ask: {event.person_in_charge.phone or event.vendor.phone or '____________________'}",
    ]
    steps: list[list[str | Flowable]] = [[Tick(), text] for text in do]
    head = ("Food, number of pans", "Left at", "Temp.", "Keep hot or cold in", "Throw away after")
    return [
        *desk.part("For the host: food that is left with you", "host"),
        facts(
            [("Event", event.event.name), ("From", event.vendor.business or event.vendor.owner)],
            width,
        ),
        *title("What was left"),
        blank_grid(head, [s * width for s in (0.3, 0.14, 0.12, 0.24, 0.2)], filled=left, high=24),
        *title("What to do"),
        grid(("", "Instruction"), steps, (22, width - 22)),
        *signed("Left by", "Received by (host)"),
        words("One copy stays with the food, one goes back with the caterer.", SMALL),
    ]


def authority_questions(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set what only the health authority can answer, with room for the answer."""
    width = desk.width
    rows: list[list[Cell]] = [
        [str(i), ask.topic, f"{ask.asks} {ask.why}", ask.section, Spacer(1, _ANSWER_ROOM)]
        for i, ask in enumerate(to_ask(plan), 1)
    ]
    head = ("No.", "About", "Question", "Section", "Answer, by, date")
    shares = (28, 0.18 * width, 0.39 * width, 0.14 * width, 0.29 * width - 28)
    return [
        *desk.part("Questions for the health authority", "authority"),
        words(
            "Only the authority can settle these. Ask before the event, and keep the answer.", BODY
        ),
        Spacer(1, 4),
        grid(head, rows, shares),
    ]


def deadline_list(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set the deadlines, counted back from the first day."""
    width = desk.width
    rows: list[list[str | Flowable]] = [
        [
            Tick(),
            words(day_words(due.working), BODY_BOLD),
            due.what,
            f"{due.count}{f'; {due.note}' if due.note else ''}",
            due.says or "not answered",
        ]
        for due in deadlines(plan)
    ]
    first = plan.file.first_day
    rows.append([Tick(), words(day_words(first), BODY_BOLD), "First day of the event", "", ""])
    event = plan.file.table
    days_off = ", ".join(_WEEKDAYS[day] for day in event.weekend) or "none named"
    return [
        *desk.part("Deadlines", "deadlines"),
        words(
            f"Counted back from {day_words(first)}, which is not counted itself. Days on which the "
            f"authority does not work: {days_off}. Ask whether the paper must have arrived by the "
            "day, or by an hour of it.",
            BODY,
        ),
        words(holidays_words(event), BODY),
        Spacer(1, 4),
        grid(
            ("", "Not later than", "What", "How it is counted", "On whose word"),
            rows,
            (22, 0.2 * width, 0.28 * width, 0.27 * width, 0.25 * width - 22),
        ),
        *([words("No deadline is in the event file.", BODY_BOLD)] if not event.deadline else []),
    ]


def signatures(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set the lines of everybody who signs."""
    event = plan.file.table
    who = [
        ("Applicant or owner", event.vendor.owner),
        ("Person in charge", event.person_in_charge.name),
        *(("Owner of the other kitchen", k.owner or k.name) for k in event.kitchen),
        ("Organiser of the event", event.organiser.name),
    ]
    if any(s.part.time_control for f in plan.foods for s in f.steps):
        who.append(("Supervisor of the time control", ""))
    parts: list[Flowable] = [
        *desk.part("Signatures", "signatures"),
        words(
            "What this packet says is true as far as I know. I know that the health authority "
            "decides, that changes need its agreement, and that a copy stays on the spot.",
            BODY,
        ),
    ]
    for role, name in who:
        parts += [Spacer(1, 8), words(f"{role}{f': {name}' if name else ''}", BODY_BOLD)]
        parts.append(SignLine("Signature", "Name", "Date"))
    parts += [
        *title("For the health authority"),
        SignLine("Received by", "Date"),
        SignLine("Approved, or approved with these conditions"),
        SignLine(""),
        SignLine("Signature", "Permit no.", "Date"),
    ]
    return parts


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
