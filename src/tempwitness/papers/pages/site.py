"""Event and people, site, cleaning, other kitchens, equipment, and the sketch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, Spacer

from tempwitness.papers.pages.common import answer_rows, blank_grid, facts, signed
from tempwitness.papers.pages.sketch import Sketch
from tempwitness.papers.steps import place_name
from tempwitness.readers.event.said import clock_words, day_words, printed
from tempwitness.report.pdf.forms import SignLine, Tick
from tempwitness.report.pdf.styles import BODY, SMALL, grid, title, words

if TYPE_CHECKING:
    from tempwitness.papers.pages.paper import Desk
    from tempwitness.papers.plan import Plan
    from tempwitness.readers.event.people import DayPart, KitchenPart

__all__ = ["cleaning", "equipment", "event_and_people", "kitchens", "site"]

_KINDS = {
    "cold": "Keeps cold",
    "cook": "Cooks or reheats",
    "hot": "Keeps hot",
    "cool": "Cools",
    "transport": "Carries",
    "wash": "Washes",
    "other": "Other",
}
_SET_UP = (
    "Handwash: water that runs without being held, soap, paper towels, bucket, bin",
    "Handwash stands where food is handled, and nothing else is washed there",
    "Tubs in order: wash, rinse, sanitize; room to air-dry",
    "Sanitizer mixed to its label, and tested with strips",
    "Wiping cloths kept in sanitizer between uses",
    "Raw meat, its boards and its knives apart from ready-to-eat food",
    "Spare clean utensils for those that fall or are four hours old",
    "Food, plates and cups off the ground and covered",
    "Waste-water tank closed and larger than the water that is brought",
    "Gloves or tongs for all that is eaten without further cooking",
)


def event_and_people(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set what forms ask of event, organiser, vendor and person in charge."""
    event = plan.file.table
    workers = [[w.name, w.duty, w.card, ""] for w in event.worker]
    width = desk.width
    columns = (0.3 * width, 0.3 * width, 0.25 * width, 0.15 * width)
    parts: list[Flowable] = [*desk.part("Event and people", "people")]
    parts += [*title("Event"), facts(answer_rows(event.event, "drop_off"), width)]
    parts += [*title("Days and hours"), _hours(event.day, width)]
    parts += [*title("Organiser"), facts(answer_rows(event.organiser), width)]
    parts += [*title("Vendor"), facts(answer_rows(event.vendor), width)]
    parts += [*title("Person in charge"), facts(answer_rows(event.person_in_charge), width)]
    parts += title("Workers, and when each worked")
    blank = [["", "", "", ""]] * max(2, (event.person_in_charge.workers or 0) - len(workers))
    head = ("Name", "Duty", "Card or certificate", "From, until")
    return [*parts, blank_grid(head, columns, filled=[*workers, *blank])]


def _hours(days: tuple[DayPart, ...], width: float) -> Flowable:
    rows = [
        [
            day_words(d.date),
            *(
                clock_words(t) if t else ""
                for t in (d.set_up, d.ready, d.serve_from, d.serve_until)
            ),
        ]
        for d in days
    ]
    head = ("Day", "Set-up", "Ready for inspection", "Serving from", "Serving until")
    return grid(head, rows, (0.28 * width, *[0.18 * width] * 4))


def site(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set structure, power, water and waste."""
    event = plan.file.table
    rows = answer_rows(event.structure, "width", "depth", "unit")
    sides = (event.structure.width, event.structure.depth)
    measure = f"{sides[0]:g} × {sides[1]:g} {event.structure.unit}" if all(sides) else ""
    return [
        *desk.part("Structure, power, water and waste", "site"),
        facts([*rows, ("Width and depth", measure)], desk.width),
        Spacer(1, 6),
        facts(answer_rows(event.site), desk.width),
    ]


def cleaning(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set hands, dishes and surfaces, and a list to walk through before opening."""
    rows: list[list[str | Flowable]] = [[Tick(), text, ""] for text in _SET_UP]
    return [
        *desk.part("Cleaning and handwash set-up", "cleaning"),
        facts(answer_rows(plan.file.table.cleaning), desk.width),
        *title("Before the first food is handled (common practice, no source)"),
        grid(("", "What", "Seen by, at"), rows, (22, desk.width - 142, 120)),
    ]


def kitchens(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set each other kitchen, what is done there, and its owner's statement to sign."""
    parts: list[Flowable] = []
    for i, kitchen in enumerate(plan.file.table.kitchen, 1):
        head = f"Other kitchen: {kitchen.name or kitchen.id}"
        parts += desk.part(head, "kitchen") if i == 1 else desk.further(head, f"kitchen{i}")
        parts.append(facts(answer_rows(kitchen, "id"), desk.width))
        parts += _done_there(plan, kitchen, desk.width)
        parts += _statement(plan, kitchen)
    return parts


def _done_there(plan: Plan, kitchen: KitchenPart, width: float) -> list[Flowable]:
    rows = [
        [food.part.name, step.part.do.words, printed(step.part.start), step.part.how]
        for food in plan.foods
        for step in food.steps
        if step.part.where == kitchen.id
    ]
    if not rows:
        return []
    columns = (0.2 * width, 0.14 * width, 0.2 * width, 0.46 * width)
    return [
        *title("What is done there"),
        grid(("Food", "Step", "Begins", "How"), rows, columns),
    ]


def _statement(plan: Plan, kitchen: KitchenPart) -> list[Flowable]:
    vendor = plan.file.table.vendor
    days = sorted(
        {
            m.date()
            for food in plan.foods
            for step in food.steps
            if step.part.where == kitchen.id
            for m in (step.part.start, step.part.end)
            if m is not None
        }
    )
    span = f" from {day_words(days[0])} to {day_words(days[-1])}" if days else ""
    text = (
        f"I run {kitchen.name or 'the kitchen named above'}. I let "
        f"{vendor.business or vendor.owner or 'the vendor named in this packet'} use it{span} for "
        f"{kitchen.services or 'the services named above'}. A copy of my permit and of the last "
        "inspection report is enclosed, or is handed to the health authority when asked for."
    )
    return [
        *title("Statement of the kitchen's owner or operator"),
        words(text, BODY),
        *signed("Owner or operator", "Vendor"),
        words("Some authorities want this letter on the owner's own paper.", SMALL),
    ]


def equipment(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set the equipment with its capacity, the thermometers, and the sketch."""
    event, width = plan.file.table, desk.width
    rows = [
        [
            str(i),
            _KINDS[unit.kind],
            unit.name or unit.id,
            str(unit.number),
            unit.capacity or "not answered",
            printed(unit.keeps),
            unit.energy or "not answered",
            place_name(unit.where, event),
        ]
        for i, unit in enumerate(event.equipment, 1)
    ]
    shares = (0.05, 0.12, 0.23, 0.06, 0.18, 0.08, 0.13, 0.15)
    head = ("No.", "For", "Equipment", "How many", "Holds", "Set to", "Energy", "Where")
    probes = [
        [t.id, t.kind or "not answered", t.reads, t.range or "not answered", printed(t.checked)]
        for t in event.thermometer
    ]
    probe_head = ("Name", "Thermometer", "Reads", "Range", "Last check")
    parts: list[Flowable] = [
        *desk.part("Equipment and thermometers", "equipment"),
        grid(head, rows, [share * width for share in shares]),
        *title("Thermometers"),
        grid(probe_head, probes, [s * width for s in (0.12, 0.36, 0.1, 0.24, 0.18)]),
    ]
    return [*parts, *_sketch(plan, desk)]


def _sketch(plan: Plan, desk: Desk) -> list[Flowable]:
    said = (
        "Drawn from the event file where it says where things stand; numbers are those of the "
        "equipment list. Draw the rest by hand: handwash, tubs, waste water, toilets, power, "
        "tables, neighbours, the way guests walk."
    )
    return [
        *desk.part("Sketch of the booth", "sketch"),
        words(said, SMALL),
        Spacer(1, 4),
        Sketch(plan.file.table, desk.width, desk.height - 110),
        SignLine("Drawn by", "Date"),
    ]
