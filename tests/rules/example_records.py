"""Records to which a requirement applies, holding what one of its examples says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.forms import BandClock, Fall, Instrument, Paper, Rise, ShelfLife, TimeControl
from tempwitness.model.lot import Food, Probe, ProbeCheck, TimeControlPlan, Weighed
from tempwitness.model.vocabulary import Answer, Cut, Form, Species, StageName
from tempwitness.units import Unit
from tests.support import ZERO, Stated, channel, found, judge, note, prepared_on, staged

if TYPE_CHECKING:
    from tempwitness.model.logs import Note
    from tempwitness.model.rule import Code, Predicate, Requirement
    from tempwitness.rulebook.examples import Example

_DAY = 24.0
_ANY = StageName.HOT_HOLD
_COLD = ("cold_hold", "thaw", "freeze")
_FILLERS = ("prep", "thaw", "receive")
_STARTS = {"cooked": "cook", "heat_ended": "hot_hold", "left_cold": "cold_hold"}


def judged(example: Example, code: Code, requirement: Requirement) -> str:
    """Judge what an example says under one requirement alone, without other ways to keep it."""
    alone = requirement.model_copy(update={"alternatives": (), "begins": None, "ends": None})
    one = code.model_copy(update={"requirements": (alone,)})
    if isinstance(requirement.test, Instrument):
        return _of_probe(example, one, requirement.test, requirement.id)
    stage = _stage(requirement)
    hours = example.lasts / 3600.0
    if isinstance(requirement.test, ShelfLife):
        # 05:00 UTC of day 1, and noon of the day of use.
        hours = (example.lasts - 1) * _DAY + 7
    steps = [*_before(requirement, stage), *_after(requirement, stage, hours)]
    if isinstance(requirement.test, ShelfLife) and requirement.test.mark_after is not None:
        steps.append(note(0, event="date_marked"))
    if isinstance(requirement.test, BandClock) and requirement.test.unheated_only:
        steps += [note(0.1 / 3600, event="heat_lost"), note(hours - 0.05 / 3600, event="heat_back")]
    readings = [(at / 3600.0, value) for at, value in example.trace]
    place = min(requirement.point.places, key=lambda p: p.value)
    celsius = example.unit == "C"
    read = [channel(readings, place=place, celsius=celsius)] if readings else []
    if stage in _COLD and requirement.when.after:
        # Cooked food was cold before it was held cold, else it would be cooling still.
        read.append(channel([(-1.0, 3.0 if celsius else 38.0)], celsius=celsius))
    evaluation = judge(staged(read, steps, **_stated(requirement, example)), code=one)
    return found(evaluation, requirement.id).verdict.value


def _of_probe(example: Example, code: Code, test: Instrument, name: str) -> str:
    unit = Unit(example.unit)
    ice = 32.0 if unit is Unit.F else 0.0
    off = example.trace[0][1] if example.trace else 0.0
    check = ProbeCheck(ZERO, "ice", ice + off, ice, unit, "ice")
    checks = (check,) if example.trace else ()
    probe = Probe("a", scale="F" if unit is Unit.F else "C", reads=test.reads, checks=checks)
    log = staged(
        [channel([(0, 60.0)], probe="a", celsius=True)], [note(0, "hot_hold")], probes=[probe]
    )
    return found(judge(log, code=code), name).verdict.value


def _stage(requirement: Requirement) -> str:
    stages = [s for s in requirement.stages if s not in requirement.when.before]
    return (stages or list(requirement.stages) or [_ANY])[0].value


def _stated(requirement: Requirement, example: Example) -> Stated:
    when = requirement.when
    facts = {question: answers[0] for question, answers in when.facts.items()}
    facts |= {question: str(bound) for question, bound in when.numbers_at_least.items()}
    facts |= dict.fromkeys(when.numbers_below, "1")
    if isinstance(requirement.test, Paper) and example.answer:
        facts[requirement.test.answered_by] = example.answer
    said: Stated = {"food": _food(when), "facts": facts}
    if isinstance(requirement.test, TimeControl):
        plan = TimeControlPlan(ZERO, requirement.test.option, prepared_on("2026-07-01"), Answer.YES)
        said["time_control"] = [plan]
    if when.business:
        said["business"] = when.business[0]
    return said


def _food(when: Predicate) -> Food:
    species = when.species or [s for s in Species if s not in when.species_not]
    forms = when.form or [f for f in Form if f not in when.form_not]
    cuts = when.cut or [c for c in Cut if c not in when.cut_not]
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
    thin = 0.01 if when.thickness_at_most is not None else None
    return Food("test", wanted, frozenset({forms[0]}), cuts[0], weight, thickness=thin)


def _before(requirement: Requirement, stage: str) -> list[Note]:
    """What must have gone before, and the beginning of the stage at 0:00."""
    when, test = requirement.when, requirement.test
    clock = test.clock if isinstance(test, Fall | Rise) else ""
    begins = [_STARTS[clock]] if clock in _STARTS else []
    earlier = [s.value for s in when.after if s.value not in begins]
    steps = [note(-4, earlier[0])] if earlier and not set(begins) & set(when.after) else []
    if begins:
        steps.append(note(-2, begins[0]))
    elif earlier and earlier[0] in {s.value for s in requirement.stages}:
        steps.append(note(-2, _filler(requirement)))
    steps += [note(-1, event=event.value) for event in when.events[:1]]
    return [*steps, note(0, stage, method=when.method[0] if when.method else "")]


def _after(requirement: Requirement, stage: str, hours: float) -> list[Note]:
    """The end of the stage, and what must follow it."""
    carry = getattr(requirement.test, "carry", ())
    following = [s for s in requirement.when.before if s not in carry]
    if not following:
        return [note(hours, event="finished")]
    steps = [note(hours, _filler(requirement))] if following[0].value == stage else []
    later = hours + len(steps)
    return [*steps, note(later, following[0].value), note(later + 0.001, event="finished")]


def _filler(requirement: Requirement) -> str:
    """A stage of which the requirement does not speak."""
    spoken = {*requirement.stages, *getattr(requirement.test, "over", ())}
    return next(name for name in _FILLERS if name not in {s.value for s in spoken})
