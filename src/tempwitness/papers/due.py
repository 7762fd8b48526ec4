"""What is due during the day, step by step, before a page is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.figures import duration_words, parse_duration
from tempwitness.model.forms import Fall, Rise, ShelfLife, TimeControl
from tempwitness.model.vocabulary import StageName
from tempwitness.papers.control import limit_words, missed_words
from tempwitness.papers.days import frozen_days, last_day, later
from tempwitness.papers.hazards import HAZARDS
from tempwitness.papers.steps import place_name, when
from tempwitness.readers.event.said import moment_words

if TYPE_CHECKING:
    from datetime import date, datetime

    from tempwitness.papers.plan import Plan, PlannedFood, PlannedStep

__all__ = ["DateMark", "Log", "clock_out", "date_marks", "log_of"]

_MOST = 14
_UNPLANNED = 8


@dataclass(frozen=True, slots=True)
class Log:
    """One blank log.

    Parameters
    ----------
    food, step, where, planned : str
    limits, missed : tuple of str
        Each limit, and what is done when it is missed.
    watch : str
        What is read, and how.
    due : tuple of str
        When each reading is due, as it is printed at the head of its row.
    from_start : bool
        Whether the times are counted from a start that is written down on the day.
    """

    food: str
    step: str
    where: str
    planned: str
    limits: tuple[str, ...]
    missed: tuple[str, ...]
    watch: str
    due: tuple[str, ...]
    from_start: bool


@dataclass(frozen=True, slots=True)
class DateMark:
    """Days of one food that is kept cold.

    Parameters
    ----------
    food : str
    made : date, optional
        Day 1: the day of the last cook, or of the oldest ingredient if that is earlier.
    frozen, thawed : date, optional
    days : int
        How many the code allows.
    last : date, optional
        Last day; ``None`` while the day of preparation or of thawing is not known.
    left : int, optional
        Days left from the day of thawing, where that day is not known yet.
    section : str
    """

    food: str
    made: date | None
    frozen: date | None
    thawed: date | None
    days: int
    last: date | None
    left: int | None
    section: str


def log_of(food: PlannedFood, step: PlannedStep, plan: Plan) -> Log:
    """Return the log of a step, its due times as far as the plan knows them."""
    part, event = step.part, plan.file.table
    due, from_start = _due(food, step, plan)
    return Log(
        food=food.part.name,
        step=part.do.words,
        where=place_name(part.where, event) if part.where else "",
        planned=when(part),
        limits=tuple(limit_words(r) for r in step.limits),
        missed=tuple(dict.fromkeys(w for r in step.limits for w in missed_words(r, step))),
        watch=HAZARDS[part.do].watch,
        due=tuple(due),
        from_start=from_start,
    )


def _due(food: PlannedFood, step: PlannedStep, plan: Plan) -> tuple[list[str], bool]:
    part, zone = step.part, plan.file.table.zone
    if part.do is StageName.TRANSPORT:
        ends = (("leaving", part.start), ("arrival", part.end))
        return [f"{name}: {moment_words(at)}" if at else name for name, at in ends], False
    if part.time_control:
        lasts = clock_out(step)
        gone = [f"gone by: out + {duration_words(lasts)}"] if lasts else []
        return ["out", *gone], False
    clocks = [r for r in step.limits if isinstance(r.test, Fall | Rise)]
    if clocks:
        return _counted(step), True
    every = parse_duration(part.every) if part.every else 0.0
    end = part.end or _next_start(food, step)
    if part.start is None or not every:
        return [moment_words(part.start)] if part.start else [], False
    return _round_the_clock(part.start, end, every, zone), False


def _counted(step: PlannedStep) -> list[str]:
    """Write the readings of a cooling or a reheat, counted from a start that only the day knows."""
    found: dict[float, list[str]] = {0.0: ["clock starts"]}
    for requirement in step.limits:
        test = requirement.test
        if isinstance(test, Fall | Rise):
            words = f"{'below' if test.op == '<' else 'by'} here: {test.to.words}"
            found.setdefault(test.within, []).append(words)
    every = parse_duration(step.part.every) if step.part.every else 0.0
    last = max(found)
    if every and last / every <= _MOST:
        at = every
        while at < last:
            found.setdefault(at, [])
            at += every
    return [
        f"+ {duration_words(at)}{' ' if words else ''}{'; '.join(words)}" if at else words[0]
        for at, words in sorted(found.items())
    ]


def _round_the_clock(start: datetime, end: datetime | None, every: float, zone: str) -> list[str]:
    found, at, count = [moment_words(start)], start, 0
    while len(found) < _MOST:
        count += 1
        at = later(start, count * every, zone)
        if end is not None and at > end:
            break
        if end is None and count >= _UNPLANNED:
            break
        found.append(moment_words(at))
    return found


def _next_start(food: PlannedFood, step: PlannedStep) -> datetime | None:
    following = (s.part.start for s in food.steps if s.number > step.number)
    return next((start for start in following if start), None)


def clock_out(step: PlannedStep) -> float | None:
    """Return how long a step may last under its written time control [s], if the code has it."""
    lasts = [r.test.at_most for r in step.limits if isinstance(r.test, TimeControl)]
    return max(lasts) if lasts else None


def date_marks(plan: Plan) -> list[DateMark]:
    """Return the days of every food that is kept cold after its cook."""
    found: dict[str, DateMark] = {}
    for food in plan.foods:
        for step in food.steps:
            for requirement in step.limits:
                if isinstance(requirement.test, ShelfLife):
                    mark = _mark(food, step, requirement.test, requirement.section)
                    found.setdefault(food.part.name, mark)
    return list(found.values())


def _mark(food: PlannedFood, step: PlannedStep, test: ShelfLife, section: str) -> DateMark:
    cooked = [s.part.end or s.part.start for s in food.of(StageName.COOK) if s.number < step.number]
    days = [moment.date() for moment in cooked[-1:] if moment is not None]
    days += [food.part.oldest] if food.part.oldest else []
    made = min(days) if days and (not cooked or cooked[-1]) else None
    frozen = _day_of(food, StageName.FREEZE, step.number)
    thawed = _day_of(food, StageName.THAW, step.number) if frozen else None
    last, left = None, None
    if made and frozen and thawed is None:
        left = test.days - (min(frozen, last_day(made, test.days)) - made).days - 1
    elif made:
        pauses = frozen_days([(frozen, thawed)]) if frozen and thawed else frozenset()
        last = last_day(made, test.days, pauses)
    return DateMark(food.part.name, made, frozen, thawed, test.days, last, left, section)


def _day_of(food: PlannedFood, stage: StageName, number: int) -> date | None:
    """Day of the first step of a name after the cook."""
    cooks = [s.number for s in food.of(StageName.COOK)]
    after = max((n for n in cooks if n < number), default=0)
    steps = (s.part.start for s in food.of(stage) if s.number > after)
    return next((start.date() for start in steps if start), None)
