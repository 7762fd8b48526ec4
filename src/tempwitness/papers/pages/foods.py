"""The food process table, the process categories and the flow of each food."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, Spacer

from tempwitness.model.vocabulary import StageName
from tempwitness.papers.pages.common import BLANK, said_or_blank
from tempwitness.papers.pages.flow import flow
from tempwitness.papers.process import PROCESSES, process_of, trips
from tempwitness.papers.steps import step_line
from tempwitness.readers.event.said import printed
from tempwitness.report.pdf.styles import BODY, BODY_BOLD, SMALL, grid, title, words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.papers.pages.paper import Desk
    from tempwitness.papers.plan import Plan, PlannedFood

__all__ = ["flows", "food_table"]

_MOST = 4
_ROWS = (
    ("Thawed", StageName.THAW),
    ("Prepared", StageName.PREP),
    ("Cold held", StageName.COLD_HOLD),
    ("Cooked", StageName.COOK),
    ("Rested", StageName.REST),
    ("Cooled", StageName.COOL),
    ("Frozen", StageName.FREEZE),
    ("Transported", StageName.TRANSPORT),
    ("Reheated", StageName.REHEAT),
    ("Hot held", StageName.HOT_HOLD),
    ("Served", StageName.SERVE),
)
#: What some forms call a preparation; a food without the step is not asked for it.
_OPTIONAL = frozenset({StageName.PREP, StageName.REST, StageName.FREEZE})


def food_table(plan: Plan, desk: Desk) -> list[Flowable]:
    """Set foods side by side, a few a table, and what is done with each, step by step."""
    parts: list[Flowable] = [*desk.part("Food process table", "foods", wide=True)]
    for start in range(0, len(plan.foods), _MOST):
        some = plan.foods[start : start + _MOST]
        share = (desk.wide - 74) / max(len(some), 2)
        head = ("", *(food.part.name for food in some))
        rows = list(_rows(some, plan))
        parts += [grid(head, rows, (74, *[share] * len(some))), Spacer(1, 8)]
    parts += title("Process categories")
    parts.append(
        words(
            "By complete trips through the danger zone between cold and hot: "
            + "; ".join(f"process {p.number} {p.name.lower()} ({p.means})" for p in PROCESSES)
            + ". The three processes are those of FDA's manual on HACCP for operators (2006).",
            SMALL,
        )
    )
    return parts


def _rows(foods: tuple[PlannedFood, ...], plan: Plan) -> Iterator[list[str | Flowable]]:
    for label, name in (
        ("Amount", "amount"),
        ("Source", "source"),
        ("Arrives", "arrives"),
        ("State, weight", ""),
        ("Closed packs", "prepackaged"),
        ("Raw or undercooked", "undercooked"),
    ):
        cells = [_state(f) if not name else printed(getattr(f.part, name)) for f in foods]
        yield [label, *(said_or_blank(cell) for cell in cells)]
    for label, stage in _ROWS:
        yield [label, *(_cell(food, stage, plan) for food in foods)]
    yield ["Left over", *(said_or_blank(food.part.leftovers) for food in foods)]
    yield ["Process", *(_process(food) for food in foods)]
    for label, name in (("Ingredients", "ingredients"), ("Allergens", "allergens")):
        if any(getattr(food.part, name) for food in foods):
            yield [label, *(getattr(food.part, name) for food in foods)]


def _state(food: PlannedFood) -> str:
    forms = printed(tuple(sorted(food.part.form or ())))
    if food.lot.food.species.value in ("plant", "egg"):
        return forms or "no meat"
    said = ", ".join(part for part in (forms, food.part.weight or "") if part)
    return f"{said}, the largest piece" if food.part.weight else said


def _process(food: PlannedFood) -> str:
    steps = [step.part.do for step in food.steps]
    found, count = process_of(steps), trips(steps)
    return f"{found.number}: {found.name} ({count} trip{'' if count == 1 else 's'})"


def _cell(food: PlannedFood, stage: StageName, plan: Plan) -> str:
    steps = food.of(stage)
    if steps:
        return " / ".join(step_line(step.part, plan.file.table) or BLANK for step in steps)
    if stage in food.part.never:
        return "not done"
    if stage in _OPTIONAL:
        return "–"
    return BLANK


def flows(plan: Plan, desk: Desk) -> list[Flowable]:
    """Draw the flow of each food on a page of its own."""
    parts: list[Flowable] = []
    for i, food in enumerate(plan.foods, 1):
        head = f"Flow: {food.part.name}"
        if i == 1:
            parts += desk.part("Flow of each food", "flow", head=head)
        else:
            parts += desk.further(head, f"flow{i}")
        parts += [words(_line(food), BODY), Spacer(1, 6), *flow(food, plan)]
        if not food.steps:
            parts.append(words("No step is listed in the event file.", BODY_BOLD))
    return parts


def _line(food: PlannedFood) -> str:
    return "; ".join(
        part for part in (food.part.amount, _state(food), f"process {_process(food)}") if part
    )
