"""The lot of a record or of a command line."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from tempwitness.errors import InputError
from tempwitness.model.lot import Approval, Food, StatedRate, Weighed

if TYPE_CHECKING:
    from tempwitness.model.vocabulary import Cut, Form, Species
    from tempwitness.readers.problems import Problems
    from tempwitness.readers.shape import ApprovalTable, RateTable

__all__ = ["approvals", "food", "rates"]


def food(
    name: str,
    *,
    species: Species | None,
    cut: Cut | None,
    forms: tuple[Form, ...] | None,
    weight: Weighed | None,
    problems: Problems,
) -> Food:
    """Build the food; what kind it is comes from its name unless it was said."""
    foods = import_module("tempwitness.rulebook.foods")
    classify = foods.classify
    named = foods.form_named(name)
    if forms and named is not None and named not in forms:
        said = ", ".join(form.value for form in forms)
        problems.add(
            f"the name '{name}' says that the food is {named.value}, the form says {said}: the "
            "limit hangs on which is right",
            f'write form = "{named.value}" (or --form {named.value}), or change the name',
            key="food.form",
        )
    try:
        by_name, shape = classify(name)
    except InputError as why:
        if species is None:
            problems.stop(why.message, why.hint, key="food.name")
        by_name, shape = species, None
    if cut is None and species in (None, by_name):
        cut = shape
    species = species or by_name
    return Food(name, species, frozenset(forms) if forms else None, cut, weight)


def approvals(tables: tuple[ApprovalTable, ...], problems: Problems) -> tuple[Approval, ...]:
    """What authorities granted, as the record states it."""
    found = []
    for i, table in enumerate(tables):
        if table.expires is not None and table.expires < table.granted:
            problems.add("it expires before it was granted", key=f"approval[{i + 1}].expires")
        found.append(
            Approval(table.kind, table.authority, table.number, table.granted, table.expires)
        )
    return tuple(found)


def rates(tables: tuple[RateTable, ...], problems: Problems) -> tuple[StatedRate, ...]:
    """How fast the food can change at most, as the record states it."""
    found = []
    for i, table in enumerate(tables):
        if table.up is None and table.down is None:
            problems.add(
                "the rate says neither how fast the food can warm nor how fast it can cool",
                'write up = "0.5 F/min", down = "0.5 F/min" or both',
                key=f"rate[{i + 1}]",
            )
        found.append(StatedRate(table.up, table.down, table.stage, table.reason))
    return tuple(found)
