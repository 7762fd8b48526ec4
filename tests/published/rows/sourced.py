"""What stands in the rule files and in no typed row, or is called better confirmed than it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.published.rows.check import excused
from tests.published.rows.shipped import figures_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tempwitness.model.rule import Code, Requirement
    from tests.published.rows.check import Codes, Named
    from tests.published.rows.figures import Figure
    from tests.published.rows.tables import Line

__all__ = ["doubtful", "unsourced"]

#: What was worked out stands in no text: a requirement can call it no better than memory.
SEEN = {"text": 0, "second-hand": 1, "memory": 2, "worked-out": 2}


def unsourced(code: Code, codes: Codes, naming: Mapping[str, Sequence[Named]]) -> Iterator[str]:
    """Say which numbers of a code come from no row that names their requirement."""
    for requirement in code.requirements:
        name = f"{code.head.id}#{requirement.id}"
        rows = naming.get(name, ())
        printed = [line.figure for named in rows for line in named.lines if line.figure is not None]
        for figure in _own(requirement, code, codes):
            met = any(figure.meets(other) for other in printed)
            if not met and not any(excused(figure, named.reason) for named in rows):
                by = ", ".join(named.row for named in rows) or "no row at all"
                yield f"{name}: {figure} is printed by no row that names it ({by})"
    if code.head.cold is not None and not _somewhere(code):
        yield f"{code.head.id}: its 'cold' is no limit of any of its requirements"


def _own(requirement: Requirement, code: Code, codes: Codes) -> list[Figure]:
    """Return the numbers of a requirement that the code does not take over from another one."""
    base = None if code.head.base is None else codes.find(code.head.base.id)
    under = None if base is None else base.find(requirement.id)
    taken = [] if under is None else figures_of(under)
    return [figure for figure in figures_of(requirement) if figure.asked and figure not in taken]


def _somewhere(code: Code) -> bool:
    cold = code.head.cold
    figures = [figure for requirement in code.requirements for figure in figures_of(requirement)]
    value, what = (cold.f, "°F") if cold and cold.printed != "c" else (cold and cold.c, "°C")
    return any((figure.what, figure.value) == (what, value) for figure in figures)


def doubtful(code: Code, codes: Codes, naming: Mapping[str, Sequence[Named]]) -> Iterator[str]:
    """Say which requirements are better confirmed than their rows, or weigh otherwise."""
    for requirement in code.requirements:
        name = f"{code.head.id}#{requirement.id}"
        lines = [line for named in naming.get(name, ()) for line in named.lines]
        if not lines:
            continue
        yield from (f"{name} {what}" for what in _too_sure(requirement, lines))
        known = requirement.confirmed.value
        for figure in _own(requirement, code, codes):
            best = _best([x for x in lines if x.figure is not None and figure.meets(x.figure)])
            if best and SEEN[known] < SEEN[best]:
                yield f"{name} is confirmed by '{known}', but its {figure} only by '{best}'"


def _too_sure(requirement: Requirement, lines: Sequence[Line]) -> Iterator[str]:
    best, known = _best(lines), requirement.confirmed.value
    if SEEN[known] < SEEN[best]:
        yield f"is confirmed by '{known}', its rows by '{best}' at best"
    weights = {weight for line in lines for weight in line.weight.split()}
    if requirement.weight.value not in weights:
        yield f"weighs as {requirement.weight.value}, its rows as {' or '.join(sorted(weights))}"


def _best(lines: Sequence[Line]) -> str:
    return min((line.seen for line in lines), key=SEEN.__getitem__, default="")
