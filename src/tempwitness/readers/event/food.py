"""What: each food with the steps that it goes through, in their order."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, model_validator

from tempwitness.model.base import Written
from tempwitness.model.vocabulary import Cut, Form, Species, StageName
from tempwitness.readers.event.asked import Day, Heat, Lasting, Moment, Weight, asked, told
from tempwitness.readers.shape import facts_of, forms_of
from tempwitness.readers.words import word

__all__ = ["FoodPart", "StepPart"]

_Step = Annotated[StageName, BeforeValidator(lambda v: word(v, StageName, "step"))]
_Species = Annotated[Species, BeforeValidator(lambda v: word(v, Species, "species"))]
_Cut = Annotated[Cut, BeforeValidator(lambda v: word(v, Cut, "cut"))]


class StepPart(Written):
    """``[[food.step]]``."""

    do: _Step = Field(title="Step", description="What is done?")
    where: str = asked("Where", "Where is it done: a kitchen's short name, or 'event'?")
    start: Moment | None = asked("Begins", "When does it begin?", None)
    end: Moment | None = asked("Ends", "When does it end?", None)
    how: str = asked("How", "How is it done?")
    method: str = told("Method", "the code's word for it, such as ice_bath or refrigerator")
    equipment: tuple[str, ...] = asked("With", "With which equipment?", ())
    air: Heat | None = asked("Pit or unit", "At which pit or cabinet temperature?", None)
    target: Heat | None = asked("Taken to", "To which temperature is it taken inside?", None)
    container: str = asked("Container", "In which container?")
    depth: str = asked("Depth", "How deep or thick does it lie?")
    every: Lasting | None = asked("Read every", "How often is the temperature read?", None)
    by: str = told("Who", "who does and reads it")
    vehicle: str = asked("Vehicle", "In which vehicle?")
    to: str = asked("To", "Where is it taken?")
    time_control: Literal["4h", "6h"] | None = told(
        "Time in place of temperature", "4h or 6h, by the written procedure", None
    )

    @model_validator(mode="after")
    def _in_order(self) -> StepPart:
        if self.start and self.end and self.end < self.start:
            raise ValueError(f"it ends at {self.end}, before it begins at {self.start}")
        return self


class FoodPart(Written):
    """``[[food]]``."""

    name: Annotated[str, Field(min_length=1)] = Field(
        title="Food", description="What is the food called?"
    )
    species: _Species | None = told("Kind", "kind of food, if the name does not tell", None)
    cut: _Cut | None = told("Cut", "its shape, if the name does not tell", None)
    form: Annotated[tuple[Form, ...] | None, BeforeValidator(forms_of)] = asked(
        "State before cooking", "Is it intact, injected, tenderised, ground or stuffed?", None
    )
    weight: Weight | None = asked(
        "Largest piece", "What does the largest piece weigh before cooking?", None
    )
    amount: str = asked("Amount", "How much of it is prepared: pieces, pounds, portions?")
    source: str = asked("Source", "Where is it bought? Keep the receipt or invoice.")
    arrives: Literal["chilled", "frozen", "hot", "shelf-stable"] | None = asked(
        "Arrives", "Does it arrive chilled, frozen, hot or shelf-stable?", None
    )
    prepackaged: bool | None = asked("Sold in closed packs", "Is it sold in closed packs?", None)
    undercooked: bool | None = asked(
        "Served raw or undercooked", "Is any of it served raw or undercooked?", None
    )
    ingredients: str = told("Ingredients", "what goes into it")
    allergens: str = told("Allergens", "as the maker's labels name them")
    oldest: Day | None = told(
        "Oldest ingredient", "day on which its oldest ready-to-eat part was prepared", None
    )
    leftovers: str = asked("Leftovers", "What becomes of what is left?")
    never: tuple[_Step, ...] = told("Never done", "steps that this food never goes through", ())
    facts: Annotated[dict[str, str], BeforeValidator(facts_of)] = Field(
        default_factory=dict, title="Facts", description="answers to what codes ask about the food"
    )
    step: tuple[StepPart, ...] = told("Steps", "what is done with it, in order", ())
