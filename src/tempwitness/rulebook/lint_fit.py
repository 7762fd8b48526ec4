"""Whether an added requirement fits together: direction, stages, point and facts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.errors import Location
from tempwitness.model.forms import BandClock, Fall, OutsideBand, Rise, Throughout
from tempwitness.model.vocabulary import Point, StageName
from tempwitness.rulebook.advice import Message
from tempwitness.rulebook.facts import load_facts
from tempwitness.rulebook.files import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.model.figures import Degrees, Limit
    from tempwitness.model.rule import Requirement
    from tempwitness.rulebook.override import Addition, Override

__all__ = ["added_as_it_fits"]

_HOT = frozenset({StageName.HOT_HOLD, StageName.REST, StageName.COOK, StageName.REHEAT})
_COLD = frozenset({StageName.COLD_HOLD, StageName.FREEZE})
_STAGES_OF = {
    "fall": frozenset({StageName.COOL, StageName.REST}),
    "rise": frozenset({StageName.REHEAT, StageName.COOK}),
    "reach": frozenset({StageName.REHEAT, StageName.COOK}),
    "reach_by": frozenset({StageName.REHEAT, StageName.COOK}),
    "lethality": frozenset({StageName.REHEAT, StageName.COOK}),
    "shelf_life": frozenset({StageName.COLD_HOLD, StageName.FREEZE, StageName.THAW}),
}


def added_as_it_fits(override: Override) -> Iterator[Message]:
    """Say what of each added requirement does not fit the rest of it."""
    for addition in override.additions:
        requirement = addition.requirement
        for key, what, mend in (
            *_stages(requirement),
            *_direction(requirement),
            *_order(requirement),
            *_weight(requirement),
            *_facts(requirement),
        ):
            yield Message("warning", _where(addition, key), f"'{requirement.id}' {what}", mend)


def _where(addition: Addition, key: str) -> Location:
    return Location(addition.where.file, addition.where.line, key=key)


_Said = tuple[str, str, str]


def _stages(requirement: Requirement) -> Iterator[_Said]:
    """Name a stage in which a test of that form has nothing to judge."""
    fitting = _STAGES_OF.get(requirement.test.form)
    odd = [s.words for s in requirement.stages if fitting is not None and s not in fitting]
    if odd:
        usual = ", ".join(sorted(s.value for s in fitting or ()))
        yield (
            "stages",
            f"asks for a '{requirement.test.form}' in {' and '.join(odd)}, where food does not do "
            "that",
            f"name a stage that fits: {usual}",
        )


def _direction(requirement: Requirement) -> Iterator[_Said]:
    """Name a ceiling on hot food, a floor under cold food, and a point that proves neither."""
    test = requirement.test
    if not isinstance(test, Throughout) or requirement.point in (Point.AIR, Point.MEDIUM):
        return
    floor = test.limit.op[0] == ">"
    odd = [s.words for s in requirement.stages if s in (_COLD if floor else _HOT)]
    if odd:
        yield (
            "test.limit.op",
            f"keeps food {test.limit.words} in {' and '.join(odd)}: the direction does not fit the "
            "stage",
            "turn 'op' round, or name the other stage",
        )
    wrong = Point.WARMEST if floor else Point.COLDEST
    if requirement.point is wrong:
        right = Point.COLDEST if floor else Point.WARMEST
        yield (
            "point",
            f"keeps food {test.limit.words} at its {wrong} point, which says nothing of the rest",
            f'point = "{right}"',
        )


def _order(requirement: Requirement) -> Iterator[_Said]:
    """Name limits that stand the wrong way round to each other."""
    test = requirement.test
    pairs: list[tuple[str, Degrees | None, Degrees | None]] = []
    if isinstance(test, Fall):
        pairs.append(("falls", test.to, test.start))
    if isinstance(test, Rise):
        pairs.append(("rises", test.start, test.to))
    if isinstance(test, OutsideBand):
        pairs.append(("keeps food out of a band", test.cold, test.hot))
    if isinstance(test, BandClock):
        pairs.append(("counts time in a band", test.low, test.high))
    for does, lower, upper in pairs:
        if lower is not None and upper is not None and lower.c >= upper.c:
            yield (
                "test",
                f"{does} whose colder end, {lower.figures}, is not below its hotter one, "
                f"{upper.figures}",
                "exchange the two limits",
            )
    yield from _ops(requirement)


def _ops(requirement: Requirement) -> Iterator[_Said]:
    """Name an edge of a band that looks the wrong way."""
    test = requirement.test
    edges: list[tuple[str, Limit | None, str]] = []
    if isinstance(test, OutsideBand):
        edges = [("cold", test.cold, "<"), ("hot", test.hot, ">")]
    if isinstance(test, BandClock):
        edges = [("low", test.low, ">"), ("high", test.high, "<")]
    if isinstance(test, Fall):
        edges = [("to", test.to, "<")]
    if isinstance(test, Rise):
        edges = [("to", test.to, ">")]
    for key, limit, sign in edges:
        if limit is not None and limit.op[0] != sign:
            yield (
                f"test.{key}.op",
                f"has '{key}' {limit.words}, which looks the wrong way",
                f'op = "{sign}=" or "{sign}"',
            )


def _weight(requirement: Requirement) -> Iterator[_Said]:
    if not requirement.weight.binds:
        yield (
            "weight",
            f"is of weight '{requirement.weight}', so it is advice and never makes a lot not met",
            'weight = "law" if the authority enforces it',
        )


def _facts(requirement: Requirement) -> Iterator[_Said]:
    """Name questions that no record can answer, and answers that they do not know."""
    known = load_facts()
    when = requirement.when
    for key, facts in (("when.facts", when.facts), ("when.facts_not", when.facts_not)):
        for name, answers in facts.items():
            if name not in known:
                near = nearest(name, sorted(known))
                meant = f"; did you mean {' or '.join(near)}?" if near else ""
                yield (
                    key,
                    f"asks for the fact '{name}', which no record can state{meant}",
                    "use a question of rules/facts",
                )
                continue
            odd = [a for a in answers if not known[name].takes(a)]
            if odd:
                yield (
                    key,
                    f"asks whether '{name}' is {' or '.join(odd)}, which is no answer to it",
                    f"its answers are {', '.join(known[name].answers) or 'numbers'}",
                )
