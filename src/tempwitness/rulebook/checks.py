"""Checks across requirements: ids, sources, conditions, and figures that cannot be one limit."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from pydantic import BaseModel

from tempwitness.errors import Location
from tempwitness.model.figures import Limit, Row
from tempwitness.model.rule import Alternative, Requirement
from tempwitness.rulebook.problems import Problem
from tempwitness.rulebook.sources import load_sources
from tempwitness.units import Unit, convert

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

__all__ = ["check_requirements", "limits_in", "number_problems"]

Written = tuple[Requirement, Location]

_FURTHEST_PRINTED = 3.0
"""Printed figures of one limit that lie further apart [°C] are a slip of the pen, not rounding."""


def check_requirements(written: Sequence[Written]) -> list[Problem]:
    """Return doubled ids, unknown source keys and unknown requirements in conditions."""
    known = {requirement.id for requirement, _ in written}
    return [*_doubled(written), *_unknown_sources(written), *_unknown_conditions(written, known)]


def number_problems(requirement: Requirement, where: Location) -> list[Problem]:
    """Return limits whose two figures cannot be the same temperature."""
    tests = [requirement.test, *(a.test for a in requirement.alternatives)]
    problems = []
    for figure in chain.from_iterable(limits_in(test) for test in tests):
        apart = abs(convert(float(figure.f), Unit.F, Unit.C) - float(figure.c))
        if apart > _FURTHEST_PRINTED:
            what = f"{figure.f} °F and {figure.c} °C are not one temperature"
            problems.append(Problem(where, f"requirement '{requirement.id}'", what))
    return problems


def limits_in(model: BaseModel) -> Iterator[Limit | Row]:
    """Yield every limit and every row of a ladder within a test."""
    if isinstance(model, Limit | Row):
        yield model
        return
    for name in type(model).model_fields:
        value = getattr(model, name)
        for item in value if isinstance(value, tuple) else (value,):
            if isinstance(item, BaseModel):
                yield from limits_in(item)


def _doubled(written: Sequence[Written]) -> Iterator[Problem]:
    seen: dict[str, Location] = {}
    for requirement, where in written:
        for name in (requirement.id, *(a.id for a in requirement.alternatives)):
            if name in seen:
                what = f"the id '{name}' stands twice; first in {seen[name]}"
                yield Problem(where, f"requirement '{requirement.id}'", what)
            seen.setdefault(name, where)


def _unknown_sources(written: Sequence[Written]) -> Iterator[Problem]:
    sources = load_sources()
    for requirement, where in written:
        for key in requirement.source:
            if key not in sources:
                what = f"the source key '{key}' is not in rules/sources"
                yield Problem(
                    Location(where.file, where.line, key="source"),
                    f"requirement '{requirement.id}'",
                    what,
                )


def _unknown_conditions(written: Sequence[Written], known: set[str]) -> Iterator[Problem]:
    for requirement, where in written:
        for alternative in requirement.alternatives:
            for name in _conditions(alternative):
                if name not in known:
                    what = f"alternative '{alternative.id}' requires '{name}', which does not exist"
                    yield Problem(
                        Location(where.file, where.line, key="requires"),
                        f"requirement '{requirement.id}'",
                        what,
                    )


def _conditions(alternative: Alternative) -> tuple[str, ...]:
    return (*alternative.requires, *alternative.requires_any)
