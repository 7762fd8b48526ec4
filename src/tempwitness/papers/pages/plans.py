"""Cooling and leftovers, date marks, time control, transport, the host's sheet, probe checks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, Spacer

from tempwitness.model.forms import DayEnd, Fall, Instrument
from tempwitness.model.vocabulary import StageName
from tempwitness.papers.due import date_marks
from tempwitness.papers.limits import full_limit, short_limit
from tempwitness.papers.pages.common import blank_grid, said_or_blank
from tempwitness.papers.steps import equipment_names, place_name, when
from tempwitness.readers.event.said import day_words
from tempwitness.report.pdf.styles import BODY, SMALL, grid, title, words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.rule import Requirement
    from tempwitness.papers.due import DateMark
    from tempwitness.papers.pages.paper import Desk
    from tempwitness.papers.plan import Plan, PlannedFood, PlannedStep

__all__ = ["cooling_and_leftovers", "probe_checks", "transport"]

_PROBE_ROWS = 9


def cooling_and_leftovers(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set how each food is cooled and what becomes of what is left."""
    parts: list[Flowable] = desk.part("Cooling and leftover plan", "cooling")
    for food in plan.foods:
        for step in food.of(StageName.COOL):
            parts += _cooling(food, step, plan, desk)
    if not any(food.of(StageName.COOL) for food in plan.foods):
        parts.append(words("No food is cooled in this plan.", BODY))
    width = desk.width
    rows = [[food.part.name, said_or_blank(food.part.leftovers)] for food in plan.foods]
    parts += [*title("Leftovers"), grid(("Food", "Plan"), rows, (0.25 * width, 0.75 * width))]
    rules = [r for r in plan.limits_of("day_end") if isinstance(r.test, DayEnd)]
    parts += [words(f"{r.title} [{r.section}].", SMALL) for r in rules]
    parts += _dates(plan, width)
    return parts


def _cooling(food: PlannedFood, step: PlannedStep, plan: Plan, desk: Desk) -> list[Flowable]:
    part, width = step.part, desk.width
    plain = [
        ("Where, when", ", ".join(filter(None, (_place(step, plan), when(part))))),
        ("How", part.how),
        ("Container, depth", ", ".join(filter(None, (part.container, part.depth)))),
        ("With", equipment_names(part, plan.file.table)),
        ("Read every", part.every or ""),
        ("Limits", "; ".join(_cited(r) for r in step.limits)),
        ("Clock", _clock(step)),
        ("If it is missed", " ".join(dict.fromkeys(_missed(step.limits)))),
    ]
    head = ("Portion", "Start: time, temp.", *(f"{i}: time, temp." for i in range(1, 6)), "Done by")
    return [
        *title(f"Cooling: {food.part.name}"),
        grid(
            ("About", "Plan"), [[a, said_or_blank(b)] for a, b in plain], (0.2 * width, 0.8 * width)
        ),
        Spacer(1, 4),
        blank_grid(head, [width / len(head)] * len(head), rows=4),
    ]


def _clock(step: PlannedStep) -> str:
    """Say what starts the clock, which differs from code to code."""
    clocks = {r.test.clock for r in step.limits if isinstance(r.test, Fall)}
    if clocks == {"crossing"}:
        return "It starts when the warmest part falls below the first figure of the limit."
    return "The limit says what starts it."


def _place(step: PlannedStep, plan: Plan) -> str:
    return place_name(step.part.where, plan.file.table) if step.part.where else ""


def _cited(requirement: Requirement) -> str:
    return f"{short_limit(requirement)} [{requirement.section}]"


def _missed(limits: Iterable[Requirement]) -> list[str]:
    return [
        f"{r.title}: {a.do}{f' Otherwise: {a.otherwise}' if a.otherwise else ''}"
        for r in limits
        for a in r.actions
        if "not_met" in a.on
    ]


def _dates(plan: Plan, width: float) -> list[Flowable]:
    """Set the last day of what is kept, by the shelf life that bears on it."""
    rows = [
        [
            mark.food,
            day_words(mark.made) if mark.made else "not answered",
            _last_words(mark),
            f"{mark.days} days, day 1 included [{mark.section}]",
        ]
        for mark in date_marks(plan)
    ]
    if not rows:
        return []
    head = ("Food", "Prepared (day 1)", "Use or discard by the end of", "Limit")
    return [
        *title("Date marks of what is kept cold"),
        grid(head, rows, [s * width for s in (0.2, 0.2, 0.22, 0.38)]),
        words(
            "Mark every container with both days. Frozen days do not count: write the day of "
            "freezing and the day of thawing on it too.",
            SMALL,
        ),
    ]


def _last_words(mark: DateMark) -> str:
    if mark.last:
        return day_words(mark.last)
    if mark.left is not None:
        return f"{mark.left} days from the day of thawing, that day included"
    return "not answered"


def transport(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set every trip, its limit, and room for the readings at both ends."""
    width = desk.width
    trips = [(f, s) for f in plan.foods for s in f.of(StageName.TRANSPORT)]
    if not trips:
        return []
    rows = [
        [
            food.part.name,
            when(step.part) or "not answered",
            _route(food, step, plan),
            "; ".join(filter(None, (step.part.container, step.part.vehicle))) or "not answered",
            step.part.how or "not answered",
            "; ".join(_cited(r) for r in step.limits),
        ]
        for food, step in trips
    ]
    head = (
        "Food",
        "When",
        "From, to",
        "Container, vehicle",
        "How it keeps its temperature",
        "Limit",
    )
    log = ("Food, container", "Leaves at", "Temp.", "Arrives at", "Temp.", "Probe", "Done by")
    filled = [[food.part.name, *[""] * 6] for food, _ in trips for _ in range(2)]
    return [
        *desk.part("Transport plan", "transport"),
        grid(head, rows, [s * width for s in (0.12, 0.16, 0.17, 0.15, 0.19, 0.21)]),
        *title("Readings at both ends"),
        blank_grid(
            log, [s * width for s in (0.22, 0.13, 0.12, 0.13, 0.12, 0.12, 0.16)], filled=filled
        ),
        words("What arrives outside its limit is not served: ask the person in charge.", SMALL),
    ]


def _route(food: PlannedFood, step: PlannedStep, plan: Plan) -> str:
    before = [s for s in food.steps if s.number < step.number and s.part.where]
    start = place_name(before[-1].part.where, plan.file.table) if before else "not answered"
    return f"{start} to {step.part.to or 'not answered'}"


def probe_checks(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set the record of thermometer checks with the tolerance that the code prints."""
    width = desk.width
    rules = [r for r in plan.limits_of("instrument") if isinstance(r.test, Instrument)]
    said = [
        f"{'Food' if isinstance(r.test, Instrument) and r.test.reads == 'food' else 'Air'} "
        f"thermometer: {full_limit(r)[:1].lower() + full_limit(r)[1:]} [{r.section}]"
        for r in rules
    ]
    named = [t.id for t in plan.file.table.thermometer]
    filled = [[name, *[""] * 6] for name in named for _ in range(2)]
    filled += [[""] * 7] * max(0, _PROBE_ROWS - len(filled))
    head = (
        "Probe",
        "Date, time",
        "Ice water",
        "Boiling water",
        "Expected",
        "Good, mended, out",
        "By",
    )
    how = (
        "Ice: crushed ice to the brim, water to the top of the ice, stir, wait until the figure "
        "stands, the tip off the glass. Boiling: a rolling boil, the tip off the pot; water boils "
        "colder on a mountain, so write down what is expected there. Check before the event, after "
        "a drop, and when two probes disagree. A probe that fails is set aside; everything that it "
        "read since its last good check is read again with a good one."
    )
    return [
        *desk.part("Thermometer check record", "probes"),
        *(words(line, BODY) for line in said or ["The code in force prints no tolerance."]),
        Spacer(1, 4),
        words(how, SMALL),
        Spacer(1, 4),
        blank_grid(
            head,
            [s * width for s in (0.1, 0.17, 0.13, 0.13, 0.13, 0.2, 0.14)],
            filled=filled,
            high=26,
        ),
    ]
