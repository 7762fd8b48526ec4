"""The hazard and control-point table, and the annex with every limit in full."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, Spacer

from tempwitness.papers.control import controls
from tempwitness.papers.hazards import VERIFIED
from tempwitness.papers.limits import full_limit
from tempwitness.report.pdf.styles import BODY, SMALL, SMALL_BOLD, Cell, grid, title, words
from tempwitness.report.wording import CONFIRMED, CONFIRMED_BRIEFLY

if TYPE_CHECKING:
    from tempwitness.papers.control import Control
    from tempwitness.papers.pages.paper import Desk
    from tempwitness.papers.plan import Plan

__all__ = ["annex", "hazard_tables"]

_HEAD = (
    "Step",
    "Hazard",
    "Limit [section]",
    "Monitoring: what, how, how often",
    "If the limit is missed",
    "Verification",
    "Record",
)
_SHARES = (0.075, 0.115, 0.26, 0.145, 0.245, 0.085, 0.075)


def hazard_tables(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set the table of each food; only law of the code in force stands under the limits."""
    parts: list[Flowable] = []
    widths = [share * desk.wide for share in _SHARES]
    for i, food in enumerate(plan.foods, 1):
        head = f"Hazards and control points: {food.part.name}"
        if i == 1:
            parts += desk.part("Hazard and control-point tables", "hazards", wide=True, head=head)
        else:
            parts += desk.further(head, f"hazards{i}", wide=True)
        rows = [_row(control) for control in controls(food)]
        if rows:
            parts.append(grid(_HEAD, rows, widths))
        else:
            parts.append(words("No step of this food has a limit in the code in force.", BODY))
        parts += [Spacer(1, 4), *_beside(food.part.name, plan)]
    return parts


def _row(control: Control) -> list[Cell]:
    marks = "abcdefghij" if len(control.limits) > 1 else " "
    limits, actions = [], []
    for mark, (limit, corrective) in zip(marks, control.limits, strict=False):
        before = f"({mark}) " if mark.strip() else ""
        limits.append(words(f"{before}{limit}", SMALL_BOLD))
        actions.append(words(f"{before}{' '.join(corrective)}", SMALL))
    return [
        words(f"CP{control.number} {control.step.part.do.words}", SMALL_BOLD),
        control.hazard,
        list(limits),
        control.monitoring,
        list(actions),
        VERIFIED,
        control.record,
    ]


def _beside(name: str, plan: Plan) -> list[Flowable]:
    """Say what the table leaves out for this food."""
    food = next(f for f in plan.foods if f.part.name == name)
    unclear = [
        f"{step.part.do.words}: {requirement.title} [{requirement.section}], because {why}"
        for step in food.steps
        for requirement, why in step.unclear
    ]
    said = [
        f"Limits: {plan.code.head.title}, {plan.code.head.edition}; hazards, monitoring and "
        "verification are common practice. Control points (CP) are the steps that the code gives a "
        "limit; which of them are critical is settled in a HACCP plan where one is asked for."
    ]
    if unclear:
        said.append(f"Not clear whether it applies: {'; '.join(unclear)}.")
    return [words(line, SMALL) for line in said]


def annex(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set every limit that the packet names, in full, with how its figure was confirmed."""
    width = desk.width
    rows = [
        [
            requirement.section,
            requirement.title,
            full_limit(requirement),
            CONFIRMED_BRIEFLY[requirement.confirmed],
        ]
        for requirement in plan.used
    ]
    parts: list[Flowable] = [
        *desk.part("Annex: the limits in full", "annex"),
        grid(
            ("Section", "Requirement", "Limit", "Confirmed"),
            rows,
            (0.17 * width, 0.23 * width, 0.45 * width, 0.15 * width),
        ),
    ]
    others = [
        [other.section, requirement.title, other.title, other.question]
        for requirement in plan.used
        for other in requirement.alternatives
        if other.test.form != "conditions"
    ]
    if others:
        head = ("Section", "Requirement", "Another way that the code gives", "What must be shown")
        shares = (0.17 * width, 0.23 * width, 0.24 * width, 0.36 * width)
        parts += [*title("Other ways, not planned here"), grid(head, others, shares)]
    code = plan.code
    legend = "; ".join(f"{CONFIRMED_BRIEFLY[c]}: {CONFIRMED[c]}" for c in CONFIRMED)
    parts += [
        Spacer(1, 4),
        words(f"Confirmed – {legend}.", SMALL),
        words(f"Code {code.head.id}, rules {code.sha256[:16]}. {code.head.authority}", SMALL),
    ]
    return parts
