"""Every limit of the covered rule files, and a record to which its requirement applies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tempwitness.model.forms import Reach, TimeControl
from tempwitness.model.lot import Food, TimeControlPlan, Weighed
from tempwitness.model.rule import Code, Requirement
from tempwitness.model.vocabulary import Answer, Cut, Form, Place, Species, StageName
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.raw import raw_code
from tests.support import ZERO, Stated, note, prepared_on

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.model.forms import Test
    from tempwitness.model.logs import Note
    from tempwitness.model.rule import Predicate

__all__ = ["Ask", "asks", "food_for", "limit_paths", "stated", "steps_after", "steps_before"]

#: Codes whose limits are walked. The others have forms of tests for which no traces are made yet;
#: their edges are tested by the worked examples of their own `test_vectors_*.py`.
COVERED = (
    "trade/smoking",
    "us/consumer-advice",
    "us/food-code/2022",
    "us/plant/come-up",
)

_DURATIONS = ("within", "at_most", "hold", "mark_after")
_FILLERS = ("prep", "thaw")


@dataclass(frozen=True, slots=True)
class Ask:
    """One test of one requirement at one stage, alone in a code of its own.

    Parameters
    ----------
    path : str
        Code, requirement and, for an alternative, its id.
    """

    path: str
    code: Code
    requirement: Requirement
    stage: StageName

    @property
    def test(self) -> Test:
        """The test of the requirement."""
        return self.requirement.test

    @property
    def place(self) -> Place:
        """Where a sensor must sit to prove it."""
        return min(self.requirement.point.places, key=lambda p: p.value)


def asks() -> Iterator[Ask]:
    """Return each test of each covered code at each stage it speaks of."""
    for code_id in COVERED:
        code = load_code(code_id)
        for requirement in code.requirements:
            for path, alone in _alone(code_id, requirement):
                one = code.model_copy(update={"requirements": (alone,)})
                for stage in alone.stages or (StageName.HOT_HOLD,):
                    yield Ask(path, one, alone, stage)


def _alone(code_id: str, requirement: Requirement) -> Iterator[tuple[str, Requirement]]:
    """Take a requirement without its alternatives, and each alternative in its place.

    A requirement that asks the authority instead of condemning, or that can only be broken, is
    judged here by its bare test.
    """
    path = f"{code_id}#{requirement.id}"
    plain = {"alternatives": (), "ask_instead": False, "breaks_only": False}
    bare = requirement.model_copy(update=plain)
    yield path, bare
    for other in requirement.alternatives:
        if other.test.form != "conditions":
            point = other.point or requirement.point
            yield f"{path}/{other.id}", bare.model_copy(update={"test": other.test, "point": point})


def food_for(when: Predicate) -> Food:
    """A food to which a predicate applies."""
    species = when.species or [s for s in Species if s not in when.species_not]
    forms = when.form or [f for f in Form if f not in when.form_not]
    cuts = when.cut or [c for c in Cut if c not in when.cut_not]
    pounds = 9.0
    if when.weight_at_least is not None:
        pounds = float(when.weight_at_least.lb) + 1
    if when.weight_below is not None:
        pounds = float(when.weight_below.lb) - 1
    wanted = Species.LAMB if Species.LAMB in species else species[0]
    return Food("test", wanted, frozenset({forms[0]}), cuts[0], Weighed(pounds, "lb"))


def stated(ask: Ask) -> Stated:
    """What the record must say for the requirement to apply."""
    when = ask.requirement.when
    said: Stated = {
        "food": food_for(when),
        "facts": {question: answers[0] for question, answers in when.facts.items()},
    }
    if when.business:
        said["business"] = when.business[0]
    if isinstance(ask.test, TimeControl):
        plan = TimeControlPlan(ZERO, ask.test.option, prepared_on("2026-07-01"), Answer.YES)
        said["time_control"] = [plan]
    return said


def _filler(stage: StageName) -> str:
    return next(name for name in _FILLERS if name != stage.value)


def steps_before(ask: Ask) -> list[Note]:
    """The stages and events that must have gone before, and the stage's own beginning at 0:00."""
    when = ask.requirement.when
    steps = []
    if when.after:
        steps += [note(-4, when.after[0].value), note(-2, _filler(ask.stage))]
    steps += [note(-1, event=event.value) for event in when.events[:1]]
    return [*steps, note(0, ask.stage.value, method=when.method[0] if when.method else "")]


def steps_after(ask: Ask, end: float) -> list[Note]:
    """The stage's end after a number of seconds, and what must follow it."""
    carry = ask.test.carry if isinstance(ask.test, Reach) else ()
    hours = end / 3600.0
    following = [s for s in ask.requirement.when.before if s not in carry]
    if not following:
        return [note(hours, event="finished")]
    steps = [note(hours, _filler(ask.stage))] if following[0] is ask.stage else []
    later = hours + len(steps)
    return [*steps, note(later, following[0].value), note(later + 1, event="finished")]


def limit_paths() -> set[str]:
    """Return the path of every limit in the rule files, read from the TOML alone."""
    return {
        f"{code_id}#{path}"
        for code_id in COVERED
        for table in raw_code(code_id)["requirements"]
        for path in _of_requirement(table)
    }


def _of_requirement(table: dict[str, Any]) -> Iterator[str]:
    tests = [(table["id"], table["test"])]
    tests += [(f"{table['id']}/{a['id']}", a["test"]) for a in table.get("alternatives", [])]
    for path, test in tests:
        yield from (f"{path} {key}" for key in _of_test(test))
    for key in ("weight_at_least", "weight_below"):
        if key in table.get("when", {}):
            yield f"{table['id']} {key}"


def _of_test(test: dict[str, Any]) -> Iterator[str]:
    """Names of the limits of one test, without those that decide nothing there.

    A clock that starts with its stage does not look at `start`; of a time control only the part
    that is about its end looks at `at_most`.
    """
    if test["form"] == "instrument":
        yield "tolerance"
        return
    for key, value in test.items():
        if key == "start" and test.get("clock") == "stage":
            continue
        if key == "at_most" and test.get("part", "end") != "end":
            continue
        if key in _DURATIONS or key == "days" or (isinstance(value, dict) and "f" in value):
            yield key
        elif isinstance(value, list):
            yield from _of_list(key, value)


def _of_list(key: str, values: list[Any]) -> Iterator[str]:
    for number, value in enumerate(values):
        if isinstance(value, dict) and "f" in value:
            yield f"{key}.{number}"
            if not str(value.get("hold", "0 s")).startswith("0 "):
                yield f"{key}.{number}.hold"
