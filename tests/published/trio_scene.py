"""A record to which a requirement applies, with a trace at one side of one of its limits."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING, TypedDict, Unpack

from tempwitness.model.forms import BandClock, Lethality, Reach, ReachBy, TimeControl
from tempwitness.model.lot import Food, TimeControlPlan, Weighed
from tempwitness.model.vocabulary import Answer, Cut, Form, Place, Species, StageName
from tests.support import ZERO, Stated, channel, judge, note, prepared_on, staged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Finding
    from tempwitness.model.logs import Note
    from tempwitness.model.rule import Predicate
    from tests.published.trio_rules import Ask

__all__ = [
    "HOUR",
    "Boundary",
    "Other",
    "Trace",
    "filler",
    "findings_at",
    "food_for",
    "shift_of",
    "stated",
    "verdict_at",
]

HOUR = 3600.0
DAY = 86400.0
Trace = list[tuple[float, float]]

_WARM = ("cook", "rest", "hot_hold", "serve", "reheat")
#: Stages into which cooked food comes cold, else it would be cooling still.
_COLD = ("cold_hold", "freeze", "thaw", "reheat")
_FILLERS = ("freeze", "cold_hold", "prep", "thaw")


@dataclass(frozen=True, slots=True)
class Boundary:
    """A trace at one side of a limit.

    Parameters
    ----------
    limit : str
        Name of the limit within the test.
    side : str
    trace : list of (float, float)
        Seconds from the stage's start, and temperature.
    expected : frozenset of str
        Verdicts that the published rule allows.
    before : tuple of (float, str)
        Stages right before this one, by the seconds at which they begin (below zero).
    facts : tuple of (str, str)
        What the record answers beside what the conditions ask.
    end : float, optional
        Seconds after which the stage ends; with the trace's last reading if omitted.
    method : str, optional
        How it was done; what the conditions ask for if omitted.
    marked : bool
        Whether the date was marked at the stage's start.
    """

    limit: str
    side: str
    trace: Trace
    expected: frozenset[str]
    before: tuple[tuple[float, str], ...] = ()
    facts: tuple[tuple[str, str], ...] = ()
    end: float | None = None
    method: str | None = None
    marked: bool = False


class Other(TypedDict, total=False):
    """What a record says otherwise than the requirement's conditions ask."""

    food: Food
    facts: tuple[tuple[str, str], ...]
    day: date


def food_for(when: Predicate) -> Food:
    """A food to which a predicate applies."""
    species = [s for s in when.species or Species if s not in when.species_not]
    forms = [f for f in when.form or Form if f not in when.form_not]
    cuts = [c for c in when.cut or Cut if c not in when.cut_not]
    pounds = 9.0
    heavier = when.weight_at_least or when.weight_more_than
    lighter = when.weight_below or when.weight_at_most
    if heavier is not None:
        pounds = float(heavier.lb) + 1
    if lighter is not None:
        pounds = float(lighter.lb) - 1
    wanted = Species.LAMB if Species.LAMB in species else species[0]
    weight = Weighed(pounds, "lb")
    if heavier is not None and heavier == lighter:
        weight = Weighed(float(heavier.kg), "kg")
    return Food("test", wanted, frozenset({forms[0]}), cuts[0], weight, thickness=0.001)


def stated(ask: Ask) -> Stated:
    """What the record must say for the requirement to apply."""
    when = ask.when
    facts = {
        question: next(a for a in answers if a not in when.facts_not.get(question, ()))
        for question, answers in when.facts.items()
    }
    facts |= {question: str(bound) for question, bound in when.numbers_at_least.items()}
    for question, bound in when.numbers_below.items():
        facts.setdefault(question, str(bound - 1))
    said: Stated = {"food": food_for(when), "facts": facts}
    if when.business:
        said["business"] = when.business[0]
    if isinstance(ask.test, TimeControl):
        plan = TimeControlPlan(ZERO, ask.test.option, prepared_on("2026-01-01"), Answer.YES)
        said["time_control"] = [plan]
    return said


def filler(ask: Ask, stage: StageName) -> str:
    """A cold stage that counts for nothing in the requirement."""
    counts = {stage, *ask.requirement.stages, *getattr(ask.test, "over", ()), *ask.when.not_after}
    return next(name for name in _FILLERS if name not in {s.value for s in counts})


def cold_history(ask: Ask, stage: StageName, boundary: Boundary) -> bool:
    """Whether cooked food must have become cold before the stage."""
    after = ask.when.after
    if boundary.before or not after:
        return False
    return after[0] is stage or (after[0].value in _WARM and stage.value in _COLD)


def _before(ask: Ask, stage: StageName, boundary: Boundary) -> list[tuple[float, str]]:
    """Stages that went before, by the seconds at which they began."""
    after = [s.value for s in ask.when.after]
    before = list(boundary.before)
    if not after or {name for _, name in before} & set(after):
        return before
    if before:
        return [(before[0][0] - HOUR, after[0]), *before]
    if cold_history(ask, stage, boundary):
        return [(-4 * HOUR, after[0]), (-HOUR, filler(ask, stage))]
    return [(-4 * HOUR, after[0])]


def _after(ask: Ask, stage: StageName, end: float) -> list[tuple[float, str]]:
    """What must follow the stage, by the seconds at which it begins."""
    carries = isinstance(ask.test, Reach | ReachBy | Lethality)
    carry = ask.test.carry if isinstance(ask.test, Reach | ReachBy | Lethality) else ()
    following = [s for s in ask.when.before if not carries or s not in carry]
    if not following:
        return []
    if following[0] is stage:
        return [(end, filler(ask, stage)), (end + HOUR, stage.value)]
    return [(end, following[0].value)]


def shift_of(ask: Ask) -> float:
    """Seconds by which the record is moved to days on which the requirement is in force."""
    requirement = ask.requirement
    if requirement.ends is None:
        return 0.0
    day = requirement.ends - timedelta(days=30)
    return (day - _day(ZERO)).days * DAY


def _day(moment: float) -> date:
    return datetime.fromtimestamp(moment, UTC).date()


def _steps(ask: Ask, stage: StageName, boundary: Boundary, shift: float) -> list[Note]:
    end = boundary.trace[-1][0] if boundary.end is None else boundary.end
    when, later = ask.when, _after(ask, stage, end)
    method = boundary.method
    if method is None:
        method = when.method[0] if when.method else ""
    steps = [note(_text(t + shift), name) for t, name in _before(ask, stage, boundary)]
    steps += [note(_text(shift - HOUR), event=e.value) for e in when.events[:1]]
    steps.append(note(_text(shift), stage.value, method=method))
    steps += [note(_text(t + shift), name) for t, name in later]
    over = later[-1][0] + HOUR if later else end
    steps.append(note(_text(over + shift), event="finished"))
    if boundary.marked:
        steps.append(note(_text(shift), event="date_marked"))
    if isinstance(ask.test, BandClock) and ask.test.unheated_only:
        steps.append(note(_text(shift + 0.1), event="heat_lost"))
    return steps


def _text(seconds: float) -> str:
    return f"0:0:{seconds!r}"


def findings_at(
    ask: Ask, stage: StageName, boundary: Boundary, celsius: bool, **more: Unpack[Other]
) -> Sequence[Finding]:
    """Judge a trace in a record to which the requirement applies, unless more says otherwise."""
    shift = shift_of(ask)
    if "day" in more:
        shift = (more["day"] - _day(ZERO)).days * DAY
    said = stated(ask)
    said["food"] = more.get("food", said["food"])
    said["facts"] = {**(said["facts"] or {}), **dict(boundary.facts), **dict(more.get("facts", ()))}
    cold: Trace = []
    if cold_history(ask, stage, boundary):
        cold.append((-HOUR, 0.5 if celsius else 33.0))
    logs = [(Place.CORE, cold), (ask.place, boundary.trace)]
    if ask.place is Place.CORE:
        logs = [(Place.CORE, [*cold, *boundary.trace])]
    channels = [
        channel([(_text(t + shift), v) for t, v in log], place=place, celsius=celsius)
        for place, log in logs
        if log
    ]
    steps = _steps(ask, stage, boundary, shift)
    return judge(staged(channels, steps, **said), code=ask.code).findings


def verdict_at(
    ask: Ask, stage: StageName, boundary: Boundary, celsius: bool, **more: Unpack[Other]
) -> str:
    """The verdict of the last stage to which the requirement applies."""
    verdicts = [f.verdict.value for f in findings_at(ask, stage, boundary, celsius, **more)]
    return ([v for v in verdicts if v != "not_applicable"] or verdicts or ["nothing judged"])[-1]
