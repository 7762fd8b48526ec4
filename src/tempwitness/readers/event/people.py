"""Who: organiser, vendor, person in charge, workers, owners of other kitchens."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from tempwitness.model.base import Written
from tempwitness.readers.event.asked import Day, Noted, asked, told

__all__ = ["ChargePart", "DayPart", "EventPart", "KitchenPart", "OrganiserPart", "VendorPart"]
__all__ += ["WorkerPart"]

_Name = Annotated[str, Field(min_length=1)]


class EventPart(Written):
    """``[event]``."""

    name: _Name = Field(title="Event", description="What is the event called?")
    about: str = told("What it is", "one line about the event")
    venue: str = asked("Venue", "At which place or ground is it held?")
    address: str = asked("Address", "What is the street address of the event, with town?")
    county: str = asked("County or district", "In which county or health district is it?")
    spot: str = asked("Place on the ground", "Where on the ground does the booth stand?")
    indoors: Literal["indoors", "outdoors", "both"] | None = asked(
        "Indoors or outdoors", "Is it indoors, outdoors or both?", None
    )
    rain_date: Day | None = told("Rain date", "day on which it is held if it rains", None)
    patrons: int | None = asked("Guests in all", "How many guests are expected in all?", None)
    patrons_a_day: int | None = asked(
        "Guests on the busiest day", "How many guests are expected on the busiest day?", None
    )
    booths: int | None = told("Food booths", "number of food booths at the event", None)
    purpose: Literal["profit", "nonprofit"] | None = asked(
        "For profit or not", "Is the food sold for profit, or for a non-profit cause?", None
    )
    operation: (
        Literal["packaged only", "sampling", "demonstration"]
        | Literal["limited preparation", "full preparation"]
        | None
    ) = asked(
        "Kind of operation",
        "Is food packaged only, sampled, demonstrated, or prepared (limited or full)?",
        None,
    )
    permit: Literal["single event", "annual"] | None = asked(
        "Permit asked for", "Is a permit asked for this one event, or for a year?", None
    )
    permit_meeting: str = told("Permitting", "date, time and place of the permitting visit")
    last_event: str = told("Event worked just before", "event at which the vendor worked before")
    drop_off: bool = told(
        "Drop-off", "whether food is left with a host who serves it", default=False
    )


class DayPart(Written):
    """``[[day]]``."""

    date: Day = Field(title="Date", description="On which day?")
    set_up: Noted | None = asked("Set-up", "When does set-up begin?", None)
    ready: Noted | None = asked(
        "Ready for inspection", "From when is the booth ready to be inspected?", None
    )
    serve_from: Noted | None = asked("Serving from", "When does serving begin?", None)
    serve_until: Noted | None = asked("Serving until", "When does serving end?", None)


class OrganiserPart(Written):
    """``[organiser]``."""

    name: str = asked("Organiser", "Who organises the event?")
    organisation: str = told("Organisation", "body that holds the event")
    phone: str = asked("Telephone", "What is the organiser's telephone number?")
    email: str = told("E-mail", "the organiser's e-mail address")
    address: str = told("Address", "the organiser's address")
    on_site: str = asked("Reached on the day", "How is the organiser reached on the day?")


class VendorPart(Written):
    """``[vendor]``."""

    owner: str = asked("Owner", "Who is the legal owner of the food business?")
    business: str = asked("Business", "Under which name does the business trade?")
    booth: str = asked("Booth", "Which name is on the booth?")
    booth_number: str = told("Booth number", "number of the booth or pitch")
    phone: str = asked("Telephone", "What is the vendor's telephone number?")
    email: str = asked("E-mail", "What is the vendor's e-mail address?")
    address: str = asked("Address", "What is the vendor's postal address?")
    licence: str = told("Permit or licence", "number of a permit that is held already")
    nonprofit_number: str = told("Non-profit number", "registration of a non-profit body")
    insurance: str = told("Insurance", "insurer and policy")


class ChargePart(Written):
    """``[person_in_charge]``."""

    name: str = asked("Person in charge", "Who is in charge of food safety on the spot?")
    phone: str = asked(
        "Telephone on the spot", "On which number is that person reached on the day?"
    )
    certificate: str = asked(
        "Food-manager certificate", "Which food-safety certificate does that person hold?"
    )
    certificate_number: str = told("Its number", "number of the certificate")
    certificate_until: Day | None = asked(
        "Valid until", "Until when is the certificate valid?", None
    )
    sick_workers: str = asked("Workers who are ill", "How are workers who are ill kept from food?")
    workers: int | None = asked("Workers", "How many people work in the booth?", None)


class WorkerPart(Written):
    """``[[worker]]``."""

    name: _Name = Field(title="Name", description="Who works there?")
    duty: str = told("Duty", "what the person does")
    card: str = told("Food-handler card", "card or certificate")


class KitchenPart(Written):
    """``[[kitchen]]``."""

    id: _Name = Field(title="Short name", description="How do the foods refer to it?")
    name: str = asked("Kitchen", "What is the other kitchen called?")
    address: str = asked("Address", "What is the address of the other kitchen?")
    owner: str = asked("Owner or operator", "Who owns or runs the other kitchen?")
    phone: str = asked("Telephone", "What is that kitchen's telephone number?")
    permit: str = asked("Permit number", "Which permit does the other kitchen hold?")
    authority: str = asked("Permit issued by", "Which authority inspects the other kitchen?")
    services: str = asked("Used for", "What is the other kitchen used for?")
    hours: str = asked("Days and hours", "On which days and hours is it used?")
    letter: bool | None = asked(
        "Letter or agreement", "Has its owner given a signed letter or agreement?", None
    )
    inspection: bool | None = asked(
        "Last inspection report", "Is a copy of its last inspection report at hand?", None
    )
