"""What an event file may say as a whole."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, model_validator

from tempwitness.model.base import Written
from tempwitness.model.vocabulary import Business
from tempwitness.readers.event.asked import Day, told
from tempwitness.readers.event.food import FoodPart
from tempwitness.readers.event.people import (
    ChargePart,
    DayPart,
    EventPart,
    KitchenPart,
    OrganiserPart,
    VendorPart,
    WorkerPart,
)
from tempwitness.readers.event.site import (
    CleaningPart,
    EquipmentPart,
    SitePart,
    StructurePart,
    ThermometerPart,
)
from tempwitness.readers.words import word

__all__ = ["DeadlinePart", "EventTable", "HolidayPart"]

_Business = Annotated[Business, BeforeValidator(lambda v: word(v, Business, "kind of business"))]


class HolidayPart(Written):
    """``[[holiday]]``."""

    date: Day = Field(title="Date", description="On which day?")
    name: str = told("Holiday", "what it is called")


class DeadlinePart(Written):
    """``[[deadline]]``."""

    what: Annotated[str, Field(min_length=1)] = Field(
        title="What", description="What must be done by then?"
    )
    days: Annotated[int, Field(ge=0)] | None = told("Calendar days", "days before the event", None)
    business_days: Annotated[int, Field(ge=0)] | None = told(
        "Business days", "business days before the event", None
    )
    says: str = told("On whose word", "who says so, and where")

    @model_validator(mode="after")
    def _one_count(self) -> DeadlinePart:
        if (self.days is None) == (self.business_days is None):
            raise ValueError("a deadline gives exactly one of 'days' and 'business_days'")
        return self


class EventTable(Written):
    """A whole event file."""

    schema_: Literal[1] = Field(
        alias="schema", title="Schema", description="version of this file's form"
    )
    code: str = told("Food code", "id of the food code in force; there is no default")
    place: str = told("Place", "such as us/wa, in place of the code")
    zone: Annotated[str, Field(min_length=1)] = Field(
        title="Time zone", description="Which time zone do its clocks show?"
    )
    business: _Business | None = told("Kind of business", "as the code tells them apart", None)
    overrides: tuple[str, ...] = told(
        "Local changes", "files of local changes, counted from this file's folder", ()
    )
    event: EventPart = Field(title="Event", description="the event")
    day: tuple[DayPart, ...] = Field(title="Days", description="its days")
    organiser: OrganiserPart = told("Organiser", "who organises it", OrganiserPart())
    vendor: VendorPart = told("Vendor", "who sells or gives the food", VendorPart())
    person_in_charge: ChargePart = told("Person in charge", "on the spot", ChargePart())
    worker: tuple[WorkerPart, ...] = told("Workers", "who works there", ())
    structure: StructurePart = told("Structure", "the booth", StructurePart())
    site: SitePart = told("Site", "power, water, waste", SitePart())
    cleaning: CleaningPart = told("Cleaning", "hands, dishes, surfaces", CleaningPart())
    kitchen: tuple[KitchenPart, ...] = told("Other kitchens", "where food is made before", ())
    equipment: tuple[EquipmentPart, ...] = told("Equipment", "what is used", ())
    thermometer: tuple[ThermometerPart, ...] = told("Thermometers", "what is read with", ())
    food: tuple[FoodPart, ...] = Field(title="Foods", description="what is served")
    deadline: tuple[DeadlinePart, ...] = told("Deadlines", "what is due before the event", ())
    weekend: tuple[Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"], ...] = told(
        "Weekend", "days of the week on which the authority does not work", ("sat", "sun")
    )
    holiday: tuple[HolidayPart, ...] | None = told(
        "Holidays", "days on which the authority is closed; [] if there are none", None
    )
