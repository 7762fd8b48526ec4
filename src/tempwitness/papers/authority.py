"""Questions that only the health authority can answer, drawn from the plan and the code."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Cut, StageName
from tempwitness.papers.limits import full_limit
from tempwitness.readers.words import temperature
from tempwitness.rulebook.facts import UNKNOWN, load_facts
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.model.forms import Throughout
    from tempwitness.model.rule import Requirement
    from tempwitness.papers.plan import Plan, PlannedFood, PlannedStep

__all__ = ["ToAsk", "to_ask"]

#: Facts of a food that need an approval, and why each is asked of every food that has meat.
_TRIGGERS = {
    "cured": "Curing on the spot, such as pastrami, ham or bacon",
    "smoked_to_preserve": "Smoking that preserves, beyond flavour",
    "vacuum_packed": "Packing under reduced oxygen, such as a sealed bag for the rest or the chill",
    "additives_to_preserve": "Acid or additives that preserve",
}
_NOTHING_DONE = ("no", "bought_cured")


@dataclass(frozen=True, slots=True)
class ToAsk:
    """One question.

    Parameters
    ----------
    topic, asks, why : str
    section : str
        Of the code, if it speaks of it.
    """

    topic: str
    asks: str
    why: str
    section: str = ""


def to_ask(plan: Plan) -> tuple[ToAsk, ...]:
    """Return the questions, each once."""
    found: list[ToAsk] = []
    for food in plan.foods:
        found += _triggers(food, plan)
        found += _interrupted(food, plan)
        found += _undercooked(food, plan)
        found += _oven(food, plan)
        for step in food.steps:
            found += _of_step(food, step)
    found += _leftovers(plan)
    if any(r.confirmed != "text" for r in plan.used):
        found.append(
            ToAsk(
                "Limits that were not read in the code's own text",
                "Are the limits marked second-hand or from memory in the annex those in force?",
                "The annex says of each limit how it was confirmed.",
            )
        )
    return tuple(_joined(found))


def _joined(asked: list[ToAsk]) -> Iterator[ToAsk]:
    """Put the reasons of the same question together."""
    reasons: dict[tuple[str, str, str], list[str]] = {}
    for one in asked:
        reasons.setdefault((one.topic, one.asks, one.section), []).append(one.why)
    for (topic, asks, section), why in reasons.items():
        yield ToAsk(topic, asks, " ".join(dict.fromkeys(why)), section)


def _triggers(food: PlannedFood, plan: Plan) -> Iterator[ToAsk]:
    facts = load_facts()
    name = food.part.name
    meat = food.lot.food.species.value not in ("plant", "egg")
    for fact, topic in _TRIGGERS.items():
        said = food.lot.facts.get(fact, UNKNOWN)
        if fact not in facts or said in _NOTHING_DONE or (said == UNKNOWN and not meat):
            continue
        if said == UNKNOWN and fact == "additives_to_preserve":
            continue
        rules = [r for r in plan.code.requirements if fact in r.when.facts]
        rule = next((r for r in rules if not r.stages), rules[0] if rules else None)
        section = rule.section if rule else ""
        if said == UNKNOWN:
            why = f"The event file does not say of the {name}: {facts[fact].asks}"
            yield ToAsk(
                topic, "Is none of this done? If it is, it needs approval first.", why, section
            )
        else:
            asks = rule.test.question if rule and rule.test.form == "duty" else "Is it allowed?"
            yield ToAsk(
                topic, asks, f"The {name} is said to be: {said.replace('_', ' ')}.", section
            )


def _interrupted(food: PlannedFood, plan: Plan) -> Iterator[ToAsk]:
    """Ask about a cook in two parts: cook, then cool or cold, then cook again."""
    broken = False
    seen = False
    for step in food.steps:
        if step.part.do is StageName.COOK and broken:
            rule = plan.code.find("nc-procedure")
            yield ToAsk(
                "Cook in two parts",
                "Is there a written procedure, approved before, for heating first and finishing "
                "the cook later?",
                f"The {food.part.name} is cooked, chilled and cooked again.",
                rule.section if rule else "",
            )
            return
        seen |= step.part.do is StageName.COOK
        broken |= seen and step.part.do in (StageName.COOL, StageName.COLD_HOLD, StageName.FREEZE)


def _undercooked(food: PlannedFood, plan: Plan) -> Iterator[ToAsk]:
    if food.part.undercooked:
        rule = plan.code.find("cook-undercooked-advisory")
        yield ToAsk(
            "Served raw or undercooked",
            "May it be served so at this event, and with which notice to the guests?",
            f"The {food.part.name} is said to be served raw or undercooked.",
            rule.section if rule else "",
        )


def _oven(food: PlannedFood, plan: Plan) -> Iterator[ToAsk]:
    """Ask about the pit's temperature where nobody said what kind of oven it counts as."""
    if food.lot.food.cut is not Cut.ROAST or "oven" in food.lot.facts:
        return
    rule = next((r for r in plan.code.requirements if "oven" in r.when.facts), None)
    pits = [step.part.air for step in food.of(StageName.COOK) if step.part.air]
    if rule is not None and food.lot.food.species in rule.when.species:
        at = f" Planned is {', '.join(pits)}." if pits else ""
        why = f"The event file does not say as which kind of oven the pit of the {food.part.name} "
        yield ToAsk("Pit and oven table", rule.question, f"{why}counts.{at}", rule.section)


def _of_step(food: PlannedFood, step: PlannedStep) -> Iterator[ToAsk]:
    where = f"{food.part.name}, {step.part.do.words}"
    for requirement in step.duties:
        if requirement.ask_instead and requirement.question and _open(requirement, step):
            why = f"{where}: the code asks {_lower(full_limit(requirement))}"
            if step.part.air:
                why += f"; planned is {step.part.air}"
            yield ToAsk(requirement.title, requirement.question, f"{why}.", requirement.section)
    for requirement, why in step.unclear:
        asks = f"Does it bear on this step? {_capital(why)}."
        yield ToAsk(requirement.title, asks, f"{where}.", requirement.section)


def _open(requirement: Requirement, step: PlannedStep) -> bool:
    """Whether the plan leaves open what the requirement asks; a question of papers does not."""
    if requirement.test.form == "method":
        return step.part.method not in requirement.test.allowed
    if requirement.test.form == "throughout":
        return not _keeps(requirement.test, step.part.air)
    return requirement.test.form != "duty"


def _keeps(test: Throughout, air: str | None) -> bool:
    """Whether a planned temperature of the pit keeps a limit, in the unit it is written in."""
    if not air:
        return False
    value, unit = temperature(air)
    limit = float(test.limit.f if unit is Unit.F else test.limit.c)
    return {">=": value >= limit, ">": value > limit, "<=": value <= limit, "<": value < limit}[
        test.limit.op
    ]


def _leftovers(plan: Plan) -> Iterator[ToAsk]:
    if not plan.limits_of("day_end"):
        yield ToAsk(
            "What is left at the end of the day",
            "May food that was held hot be cooled and kept, or must it be thrown away?",
            "The code in force prints no rule for it; many local rules for temporary events do.",
        )


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
