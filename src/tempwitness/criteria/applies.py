"""Whether a requirement bears on a stage of a piece: yes, no, or the record does not say."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from operator import ge, gt, le, lt
from typing import TYPE_CHECKING, TypeVar

from tempwitness.model.vocabulary import Form
from tempwitness.rulebook.facts import load_facts

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from tempwitness.criteria.case import Case
    from tempwitness.model.figures import WeightBound
    from tempwitness.model.lot import Lot, Weighed
    from tempwitness.model.rule import Predicate

__all__ = ["Applies", "both", "to_lot", "to_stage"]

T = TypeVar("T")

_INCH = 0.0254  # [m]
_NEAR = 1e-6  # a thickness written in inches and one in centimetres may be the same [m]


@dataclass(frozen=True, slots=True)
class Applies:
    """Answer to "does it apply?"; ``None`` means that the record does not say."""

    answer: bool | None
    why: str = ""
    silent: bool = False


_YES = Applies(answer=True)


def to_lot(when: Predicate, lot: Lot, *, silence_bars: bool = True) -> Applies:
    """Judge what a predicate says of the lot as a whole.

    Parameters
    ----------
    silence_bars : bool
        Whether a question of `facts` that the record never raised counts as "does not apply".
        So it is for a requirement that a fact triggers; for an alternative that a fact permits,
        silence leaves it open.
    """
    return _first_against(_OF_LOT, when, lot, silence_bars=silence_bars)


def to_stage(when: Predicate, case: Case) -> Applies:
    """Judge what a predicate says of one stage of one piece."""
    return _first_against(_OF_STAGE, when, case)


def both(one: Applies, other: Applies) -> Applies:
    """Join two answers: a "no" decides, then an unknown."""
    if one.answer is False or (one.answer is None and other.answer is not False):
        return one
    return other


def _first_against(
    checks: Sequence[Callable[[Predicate, T], Applies]],
    when: Predicate,
    about: T,
    *,
    silence_bars: bool = True,
) -> Applies:
    """Return the first line that fails, else the first that is unknown."""
    unknown = ""
    for check in checks:
        found = check(when, about)
        if found is _YES:
            continue
        if found.answer is False and (silence_bars or not found.silent):
            return found
        unknown = unknown or found.why
    return Applies(None, unknown) if unknown else _YES


def _species(when: Predicate, lot: Lot) -> Applies:
    species = lot.food.species
    if when.species and species not in when.species:
        return Applies(answer=False, why=f"it is for other food than {species.value}")
    if species in when.species_not:
        return Applies(answer=False, why=f"it is not for {species.value}")
    return _YES


def _form(when: Predicate, lot: Lot) -> Applies:
    forms = lot.food.forms
    if not when.form and not when.form_not:
        return _YES
    if forms is None:
        return Applies(None, "the record does not say whether the food is intact or injected")
    if when.form and not forms & set(when.form):
        return Applies(answer=False, why=f"it is for {_list(when.form)} food")
    if forms & set(when.form_not):
        return Applies(answer=False, why=f"it is not for {_list(forms - {Form.INTACT})} food")
    return _YES


def _cut(when: Predicate, lot: Lot) -> Applies:
    cut = lot.food.cut
    if not when.cut and not when.cut_not:
        return _YES
    if cut is None:
        return Applies(None, "the record does not say which cut it is")
    if (when.cut and cut not in when.cut) or cut in when.cut_not:
        return Applies(answer=False, why=f"it is for other cuts than {cut.value.replace('_', ' ')}")
    return _YES


def _weight(when: Predicate, case: Case) -> Applies:
    given = [
        (bound, keeps, others)
        for bound, keeps, others in (
            (when.weight_at_least, ge, "heavier"),
            (when.weight_more_than, gt, "heavier"),
            (when.weight_at_most, le, "lighter"),
            (when.weight_below, lt, "lighter"),
        )
        if bound is not None
    ]
    if not given:
        return _YES
    piece = next((p for p in case.lot.pieces if p.id == case.stage.piece), None)
    weight = (piece and piece.weight) or case.lot.food.weight
    if weight is None:
        return Applies(None, "the record does not say what the piece weighs")
    for bound, keeps, others in given:
        if not keeps(Decimal(str(weight.value)), _bound(bound, weight)):
            return Applies(answer=False, why=f"it is for {others} pieces than {weight}")
    return _YES


def _bound(bound: WeightBound, weight: Weighed) -> Decimal:
    return bound.lb if weight.unit == "lb" else bound.kg


def _thickness(when: Predicate, lot: Lot) -> Applies:
    bound = when.thickness_at_most
    if bound is None:
        return _YES
    if lot.food.thickness is None:
        return Applies(None, "the record does not say how thick the food is")
    printed = (float(bound.inch or 0) * _INCH, float(bound.cm or 0) / 100.0)
    if lot.food.thickness > max(printed) + _NEAR:
        words = f"{bound.inch} in" if bound.inch is not None else f"{bound.cm} cm"
        return Applies(answer=False, why=f"it is for layers of at most {words}")
    return _YES


def _numbers(when: Predicate, lot: Lot) -> Applies:
    for bounds, least in ((when.numbers_at_least, True), (when.numbers_below, False)):
        for question, bound in bounds.items():
            text = lot.facts.get(question, "unknown")
            if text == "unknown":
                why = f"the record does not say: {_question(question)}"
                return Applies(answer=False, why=why, silent=True)
            if (Decimal(text) >= bound) is not least:
                return Applies(answer=False, why=f"the record says {_fact(question, text)}")
    return _YES


def _facts(when: Predicate, lot: Lot) -> Applies:
    if not when.facts and not when.facts_not:
        return _YES
    facts = lot.facts
    for question, answers in when.facts_not.items():
        if facts.get(question) in answers:
            return Applies(answer=False, why=f"the record says {_fact(question, facts[question])}")
    for question, answers in when.facts.items():
        if facts.get(question, "unknown") == "unknown":
            # What a question triggers is not laid on a lot whose record never raised it.
            why = f"the record does not say: {_question(question)}"
            return Applies(answer=False, why=why, silent=True)
        if facts[question] not in answers:
            return Applies(answer=False, why=f"the record says {_fact(question, facts[question])}")
    return _YES


def _question(name: str) -> str:
    fact = load_facts().get(name)
    return _words(name) if fact is None else fact.asks


def _words(name: str) -> str:
    return name.replace("_", " ")


def _fact(question: str, answer: str) -> str:
    return f"{_words(question)}: {_words(answer)}"


def _method(when: Predicate, case: Case) -> Applies:
    used = case.stage.method
    if used and used in when.method_not:
        return Applies(answer=False, why=f"the method noted is {used.replace('_', ' ')}")
    if when.method and used not in when.method:
        # A method that nobody noted is not assumed: the requirement is for those who used it.
        return Applies(answer=False, why=f"it is for {_list(when.method)}")
    return _YES


def _events(when: Predicate, case: Case) -> Applies:
    if not when.events and not when.events_not:
        return _YES
    done = {
        n.event
        for n in case.notes
        if n.event is not None and n.piece in (None, case.stage.piece) and n.at < case.stage.end
    }
    if when.events and not done & set(when.events):
        return Applies(answer=False, why=f"no note says {_list(when.events)}")
    barred = done & set(when.events_not)
    if barred:
        return Applies(answer=False, why=f"the food was {_list(barred)}")
    return _YES


def _order(when: Predicate, case: Case) -> Applies:
    if not (when.after or when.not_after or when.before):
        return _YES
    before = {s.name for s in case.stages if s.number < case.stage.number}
    later = {s.name for s in case.stages if s.number > case.stage.number}
    if when.after and not before & set(when.after):
        return Applies(answer=False, why=f"no {_list(when.after)} went before")
    if before & set(when.not_after):
        return Applies(answer=False, why=f"{_list(before & set(when.not_after))} went before")
    if when.before and not later & set(when.before):
        return Applies(answer=False, why=f"no {_list(when.before)} followed")
    return _YES


def _business(when: Predicate, lot: Lot) -> Applies:
    if not when.business:
        return _YES
    if lot.business is None:
        return Applies(None, "the record does not say what kind of business it is")
    if lot.business not in when.business:
        return Applies(answer=False, why=f"it is for {_list(when.business)}")
    return _YES


def _list(words: Iterable[object]) -> str:
    return " or ".join(sorted(str(w).replace("_", " ") for w in words))


_OF_LOT: tuple[Callable[[Predicate, Lot], Applies], ...] = (
    _species,
    _form,
    _cut,
    _business,
    _thickness,
    _numbers,
    _facts,
)
_OF_STAGE: tuple[Callable[[Predicate, Case], Applies], ...] = (_weight, _method, _order, _events)
