"""A flow diagram: one box a step with its arrow, beside it what is done and what limits it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.lib.colors import black, white
from reportlab.platypus import Flowable, Paragraph

from tempwitness.papers.control import control_numbers
from tempwitness.papers.limits import short_limit
from tempwitness.papers.steps import equipment_names, place_name, when
from tempwitness.report.pdf.fonts import BOLD, REGULAR, fitted
from tempwitness.report.pdf.styles import SMALL, SMALL_BOLD, SMALL_SIZE, words

if TYPE_CHECKING:
    from tempwitness.papers.plan import Plan, PlannedFood, PlannedStep

__all__ = ["flow"]

_BOX = 150.0
_GAP = 12.0
_ARROW = 13.0
_LEAST = 34.0
_HEAD = 3.5
_BADGE = 11.0


def flow(food: PlannedFood, plan: Plan) -> list[Flowable]:
    """Return the diagram of a food, a row a step; rows run on to another page if they must."""
    numbers = control_numbers(food)
    last = len(food.steps)
    return [
        _Row(step, plan, numbers.get(step.number), last=step.number == last) for step in food.steps
    ]


class _Row(Flowable):
    """One step: the box, its arrow to the next, and the words beside it."""

    def __init__(self, step: PlannedStep, plan: Plan, control: int | None, *, last: bool) -> None:
        super().__init__()
        self.step = step
        self.control = control
        self.last = last
        self._where = place_name(step.part.where, plan.file.table) if step.part.where else ""
        self._beside = _beside(step, plan)
        self._high = 0.0

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """Return the room that it takes [pt]."""
        room = width - _BOX - _GAP
        text = sum(part.wrap(room, 1000.0)[1] for part in self._beside)
        self._high = max(_LEAST, text + 4)
        self.width = width
        return width, self._high + (0 if self.last else _ARROW)

    def draw(self) -> None:
        """Draw it from its upper edge down."""
        low = 0.0 if self.last else _ARROW
        canvas = self.canv
        canvas.setLineWidth(2.2 if self.control else 0.9)
        canvas.rect(0, low, _BOX, self._high)
        top = low + self._high
        left = 6.0
        if self.control:
            self._badge(top)
            left += 2 * _BADGE + 4
        canvas.setFillColor(black)
        canvas.setFont(BOLD, SMALL_SIZE + 2)
        name = f"{self.step.number}  {self.step.part.do.words.capitalize()}"
        canvas.drawString(left, top - 14, name)
        canvas.setFont(REGULAR, SMALL_SIZE)
        room = _BOX - left - 4
        canvas.drawString(left, top - 26, fitted(self._where, room, SMALL_SIZE))
        at = top - 1
        for part in self._beside:
            at -= part.height
            part.drawOn(canvas, _BOX + _GAP, at)
        if not self.last:
            self._arrow(low)

    def _badge(self, top: float) -> None:
        canvas = self.canv
        middle = (6 + _BADGE, top - _LEAST / 2)
        canvas.setFillColor(black)
        canvas.circle(*middle, _BADGE, stroke=0, fill=1)
        canvas.setFillColor(white)
        canvas.setFont(BOLD, SMALL_SIZE)
        canvas.drawCentredString(middle[0], middle[1] - 3, f"CP{self.control}")

    def _arrow(self, low: float) -> None:
        canvas = self.canv
        middle = _BOX / 2
        canvas.setLineWidth(1.2)
        canvas.line(middle, low, middle, _HEAD)
        head = canvas.beginPath()
        head.moveTo(middle - _HEAD, 2 * _HEAD)
        head.lineTo(middle + _HEAD, 2 * _HEAD)
        head.lineTo(middle, 0)
        head.close()
        canvas.drawPath(head, stroke=0, fill=1)


def _beside(step: PlannedStep, plan: Plan) -> list[Paragraph]:
    part = step.part
    done = (
        when(part),
        part.how,
        f"with {equipment_names(part, plan.file.table)}" if part.equipment else "",
        f"pit or unit at {part.air}" if part.air else "",
        f"taken to {part.target} inside" if part.target else "",
        part.container,
        f"{part.depth} deep" if part.depth else "",
        f"{part.vehicle} to {part.to}" if part.vehicle and part.to else part.vehicle or part.to,
        f"read every {part.every}" if part.every else "",
    )
    text = "; ".join(one for one in done if one)
    found = [words(text, SMALL)] if text else []
    for requirement in step.limits:
        limit = f"{requirement.title}: {_lower(short_limit(requirement))} [{requirement.section}]"
        found.append(words(limit, SMALL_BOLD))
    if part.time_control:
        control = f"Time in place of temperature, {part.time_control}: see the written procedure."
        found.append(words(control, SMALL_BOLD))
    return found


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
