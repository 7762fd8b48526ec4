"""Labels in words: date marks and times by which food is gone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.figures import duration_words
from tempwitness.papers.days import later
from tempwitness.papers.due import clock_out, date_marks
from tempwitness.readers.event.said import day_words, moment_words

if TYPE_CHECKING:
    from tempwitness.papers.due import DateMark
    from tempwitness.papers.plan import Plan, PlannedFood, PlannedStep

__all__ = ["BY", "Label", "labels_of"]

_LINE = "__________"
#: Room for a name; the one line that a small label may do without.
BY = f"By {_LINE}"


@dataclass(frozen=True, slots=True)
class Label:
    """One label.

    Parameters
    ----------
    head : str
        The food.
    lines : tuple of (str, bool)
        Each line, and whether it is the one that decides.
    """

    head: str
    lines: tuple[tuple[str, bool], ...]

    @property
    def words(self) -> str:
        """The whole label, a line each: what its square code says too."""
        return "\n".join((self.head, *(line for line, _ in self.lines)))


def labels_of(plan: Plan) -> list[Label]:
    """Return the labels of an event: one for each food that is kept cold or held by time."""
    found = [_date_label(mark, plan) for mark in date_marks(plan)]
    for food in plan.foods:
        found += [_time_label(food, step, plan) for step in food.steps if clock_out(step)]
    return found


def _date_label(mark: DateMark, plan: Plan) -> Label:
    made = day_words(mark.made) if mark.made else _LINE
    lines = [(f"Prepared {made} (day 1)", False)]
    oldest = next((f.part.oldest for f in plan.foods if f.part.name == mark.food), None)
    if oldest and oldest == mark.made:
        lines.append(("Day 1 is that of its oldest ingredient", False))
    if mark.frozen:
        thawed = day_words(mark.thawed) if mark.thawed else _LINE
        lines.append((f"Frozen {day_words(mark.frozen)}, thawed {thawed}", False))
    if mark.last:
        lines.append((f"Use or discard by end of {day_words(mark.last)}", True))
    elif mark.left is not None:
        lines.append((f"Use or discard by end of {_LINE}", True))
        lines.append((f"{mark.left} days left, the day of thawing included", False))
    else:
        lines.append((f"Use or discard by end of {_LINE}", True))
        lines.append((f"{mark.days} days, the day of preparation included", False))
    lines.append((BY, False))
    return Label(mark.food, tuple(lines))


def _time_label(food: PlannedFood, step: PlannedStep, plan: Plan) -> Label:
    lasts = clock_out(step) or 0.0
    start = step.part.start
    gone = moment_words(later(start, lasts, plan.file.table.zone)) if start else _LINE
    return Label(
        food.part.name,
        (
            ("Time in place of temperature", False),
            (f"Out {moment_words(start) if start else _LINE}", False),
            (f"Discard at {gone}", True),
            (f"{duration_words(lasts)}, never back under temperature control", False),
            (BY, False),
        ),
    )
