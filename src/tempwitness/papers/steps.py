"""Steps of a plan in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.readers.event.read import AT_EVENT
from tempwitness.readers.event.said import printed

if TYPE_CHECKING:
    from tempwitness.readers.event.food import StepPart
    from tempwitness.readers.event.shape import EventTable

__all__ = ["equipment_names", "place_name", "step_line", "when"]


def place_name(where: str, event: EventTable) -> str:
    """Return the name of the place of a step; empty if the file names none."""
    if where == AT_EVENT:
        return "at the event"
    kitchen = next((k for k in event.kitchen if k.id == where), None)
    return (kitchen.name or kitchen.id) if kitchen else where


def equipment_names(step: StepPart, event: EventTable) -> str:
    """Return the names of a step's equipment."""
    named = {unit.id: unit.name or unit.id for unit in event.equipment}
    return ", ".join(named[unit] for unit in step.equipment)


def when(step: StepPart) -> str:
    """Return when a step is planned to begin and end."""
    if step.start and step.end:
        end = step.end.time() if step.end.date() == step.start.date() else step.end
        return f"{printed(step.start)} to {printed(end)}"
    return printed(step.start) or (f"until {printed(step.end)}" if step.end else "")


def step_line(part: StepPart, event: EventTable) -> str:
    """Say in one line where, when, how and with what a step is done; empty if nothing is said."""
    details = (
        place_name(part.where, event),
        when(part),
        part.how,
        f"with {equipment_names(part, event)}" if part.equipment else "",
        f"at {part.air}" if part.air else "",
        f"to {part.target} inside" if part.target else "",
        part.container,
        f"{part.depth} deep" if part.depth else "",
        f"in a {part.vehicle}" if part.vehicle else "",
        f"to {part.to}" if part.to else "",
        f"read every {part.every}" if part.every else "",
        f"time control {part.time_control}" if part.time_control else "",
        f"by {part.by}" if part.by else "",
    )
    return "; ".join(text for text in details if text)
