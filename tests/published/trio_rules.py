"""Every limit of the shipped rule files, and what stands alone of each in a code of its own."""

from __future__ import annotations

from dataclasses import dataclass
from operator import ge, gt, le, lt
from typing import TYPE_CHECKING, Any

from tempwitness.model.forms import Longest
from tempwitness.model.rule import Code, Requirement
from tempwitness.model.vocabulary import Place, StageName
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.raw import raw_code

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tempwitness.model.forms import Test
    from tempwitness.model.rule import Predicate

__all__ = [
    "BOUNDS",
    "COVERED",
    "NO_LIMIT",
    "WEIGHTS",
    "Ask",
    "asks",
    "bounded",
    "limit_paths",
    "stagewise",
]

#: Codes whose limits are walked: all that are shipped.
COVERED = tuple(code_ids())

#: Forms that print no limit with which a reading, a time or a number is compared.
NO_LIMIT = {
    "conditions": "its conditions are all that it asks; their figures are walked as conditions",
    "duty": "an approval on record settles it, whatever was read",
    "evidence": "a process with limits of its own, which this code does not print",
    "paper": "the record says yes or no; its spans, grams and temperatures are only printed",
}

#: Lines of a condition that are a figure.
WEIGHTS = {
    "weight_at_least": ge,
    "weight_more_than": gt,
    "weight_at_most": le,
    "weight_below": lt,
}
BOUNDS = (*WEIGHTS, "thickness_at_most")
_NUMBERS = ("numbers_at_least", "numbers_below")

#: Keys of a test that are a time or a number; `within` and the like as they are written.
_FIGURES = (
    *("within", "at_most", "hold", "mark_after", "days", "but_last", "ceiling_for"),
    *("every", "per_day", "at_least", "z_c"),
)
#: Clocks that another stage starts than the one that is judged.
_EARLIER = ("cooked", "heat_ended", "left_cold")


@dataclass(frozen=True, slots=True, eq=False)
class Ask:
    """One test of one requirement, alone in a code of its own.

    Parameters
    ----------
    paths : tuple of str
        Code, requirement and, for an alternative, its id; of all that ask just the same.
    """

    paths: tuple[str, ...]
    code: Code
    requirement: Requirement

    @property
    def path(self) -> str:
        """The first of its paths."""
        return self.paths[0]

    @property
    def test(self) -> Test:
        """The test of the requirement."""
        return self.requirement.test

    @property
    def when(self) -> Predicate:
        """To what it applies."""
        return self.requirement.when

    @property
    def place(self) -> Place:
        """Where a sensor must sit to prove it."""
        return min(self.requirement.point.places, key=lambda p: p.value)


def asks() -> list[Ask]:
    """Return each test of each code; those that ask just the same are one."""
    found: dict[str, Ask] = {}
    for code_id in COVERED:
        code = load_code(code_id)
        for requirement in code.requirements:
            for path, alone in _alone(code_id, requirement):
                key = _asked(code, alone)
                paths = (*found[key].paths, path) if key in found else (path,)
                one = code.model_copy(update={"requirements": (alone,)})
                found[key] = Ask(paths, one, alone)
    return list(found.values())


def _asked(code: Code, alone: Requirement) -> str:
    """All that decides a verdict: the test, its conditions, stages and point, and its days."""
    parts = [alone.test, alone.when, alone.stages, alone.point, alone.begins, alone.ends]
    return "|".join(map(repr, [*parts, alone.only_if_read, alone.weight.binds, code.head.cold]))


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
        point = other.point or requirement.point
        yield f"{path}/{other.id}", bare.model_copy(update={"test": other.test, "point": point})


def stagewise(found: Iterable[Ask]) -> list[tuple[Ask, StageName]]:
    """Each ask at each stage of which it speaks."""
    return [(a, s) for a in found for s in a.requirement.stages or (StageName.HOT_HOLD,)]


def bounded() -> list[Ask]:
    """Return each set of conditions with a figure or a day in it, before a test that is kept."""
    found: dict[str, Ask] = {}
    for code_id in COVERED:
        code = load_code(code_id)
        for requirement in code.requirements:
            for path, alone in _conditions(code_id, requirement):
                key = _asked(code, alone)
                paths = (*found[key].paths, path) if key in found else (path,)
                one = code.model_copy(update={"requirements": (alone,)})
                found[key] = Ask(paths, one, alone)
    return list(found.values())


def _conditions(code_id: str, requirement: Requirement) -> Iterator[tuple[str, Requirement]]:
    """A requirement's conditions, and those of each other way to keep it."""
    path = f"{code_id}#{requirement.id}"
    kept = {
        "alternatives": (),
        "test": Longest(form="longest", at_most="20 d"),
        "stages": requirement.stages or (StageName.HOT_HOLD,),
        "ask_instead": False,
        "breaks_only": False,
    }
    bare = requirement.model_copy(update=kept)
    if any(_of_conditions(requirement.when.model_dump())) or bare.begins or bare.ends:
        yield path, bare
    for other in requirement.alternatives:
        if any(_of_conditions(other.when.model_dump())):
            free = {"when": other.when, "begins": None, "ends": None}
            yield f"{path}/{other.id}", bare.model_copy(update=free)


def limit_paths() -> set[str]:
    """Return the path of every limit in the rule files, read from the TOML alone."""
    return {
        f"{code_id}#{path}"
        for code_id in COVERED
        for table in raw_code(code_id)["requirements"]
        for path in _of_requirement(table)
    }


def _of_requirement(table: dict[str, Any]) -> Iterator[str]:
    yield from (f"{table['id']} {key}" for key in ("begins", "ends") if key in table)
    ways = [(table["id"], table)]
    ways += [(f"{table['id']}/{a['id']}", a) for a in table.get("alternatives", [])]
    for path, way in ways:
        yield from (f"{path} {key}" for key in _of_test(way["test"]))
        yield from (f"{path} {key}" for key in _of_conditions(way.get("when", {})))


def _of_conditions(when: dict[str, Any]) -> Iterator[str]:
    yield from (key for key in BOUNDS if when.get(key))
    for key in _NUMBERS:
        yield from (f"{key}.{question}" for question in when.get(key) or ())


def _of_test(test: dict[str, Any]) -> Iterator[str]:
    """Names of the limits of one test, without those that decide nothing there.

    A clock that starts otherwise than by a crossing does not look at `start`; of a time control
    only the part that is about its end looks at `at_most`.
    """
    form = test["form"]
    if form in NO_LIMIT:
        return
    yield from _of_form(test)
    for key, value in test.items():
        if key == "start" and test.get("clock", "crossing") != "crossing":
            continue
        if key == "at_most" and test.get("part", "end") != "end":
            continue
        if key in _FIGURES or _is_degrees(value):
            yield key
        elif isinstance(value, list):
            yield from _of_list(key, value)


def _of_form(test: dict[str, Any]) -> Iterator[str]:
    """What a form itself limits, beside its figures."""
    form = test["form"]
    if form in ("instrument", "day_end"):
        yield {"instrument": "tolerance", "day_end": "midnight"}[form]
    if form == "once":
        yield "once"
    if form == "method":
        yield "allowed"
    if test.get("clock") in _EARLIER:
        yield "clock"
    if len(test.get("over", ())) > 1:
        yield "over"
    yield from (key for key in ("total", "or_room") if test.get(key))


def _of_list(key: str, values: list[Any]) -> Iterator[str]:
    for number, value in enumerate(values):
        if not _is_degrees(value):
            continue
        yield f"{key}.{number}"
        if not str(value.get("hold", "0 s")).startswith("0 "):
            yield f"{key}.{number}.hold"
        holds = enumerate(value.get("holds", ()))
        yield from (f"{key}.{number}.holds.{i}" for i, h in holds if not h.startswith("0 "))


def _is_degrees(value: object) -> bool:
    return isinstance(value, dict) and bool({"f", "c"} & set(value))
