"""Where and with what: structure, power, water, washing, waste, equipment, thermometers."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from tempwitness.model.base import Written
from tempwitness.readers.event.asked import Day, Heat, asked, told

__all__ = ["CleaningPart", "EquipmentPart", "SitePart", "StructurePart", "ThermometerPart"]

_Name = Annotated[str, Field(min_length=1)]
_Side = Annotated[float, Field(gt=0)]
_Corner = Annotated[float, Field(ge=0)]


class StructurePart(Written):
    """``[structure]``."""

    kind: str = asked("Structure", "Is it a tent, booth, truck, trailer, cart or building?")
    floor: str = asked("Floor", "What is the floor or ground cover?")
    roof: str = asked("Overhead cover", "What covers food and smoker overhead?")
    walls: str = asked("Walls and screens", "What keeps insects, dust and guests away from food?")
    width: _Side | None = asked("Width", "How wide is the booth?", None)
    depth: _Side | None = asked("Depth", "How deep is the booth?", None)
    unit: Literal["ft", "m"] = told("Unit of the sketch", "ft or m", "ft")
    set_up_by: str = told("Set up by", "who sets up the structure")


class SitePart(Written):
    """``[site]``."""

    power: str = asked("Power", "Where does electric power come from, and is it enough?")
    backup: str = told("If the power fails", "what is done if the power fails")
    lights: str = told("Lighting", "how food and work are lit, and the lamps shielded")
    water: str = asked("Drinking water", "Where does drinking water come from, and how is it kept?")
    hot_water: str = told("Hot water", "how water is heated")
    waste_water: str = asked("Waste water", "Where does waste water go, and who takes it there?")
    rubbish: str = asked("Rubbish", "How is rubbish kept and taken away, and by whom?")
    grease: str = told("Grease and ash", "where grease, ash and coals go")
    toilets: str = asked("Toilets", "Which toilets are there, how far, and do they have handwash?")
    vehicles: str = told("Support vehicles", "vehicles that hold food or equipment")


class CleaningPart(Written):
    """``[cleaning]``."""

    handwash: str = asked(
        "Handwash", "How are hands washed: water, soap, towels, bucket, how many?"
    )
    gloves: str = asked("No bare hands", "How is ready-to-eat food kept from bare hands?")
    hair: str = told("Hair and clothes", "hair restraint, aprons")
    dishwash: str = asked("Dishwashing", "How are utensils washed, rinsed and sanitized?")
    sanitizer: str = asked("Sanitizer", "Which sanitizer is used, and how is its strength tested?")
    utensils: str = asked("Utensils", "Which utensils are used, and are there spare clean ones?")
    protection: str = asked("Food protection", "How is food on show covered or shielded?")
    surfaces: str = told("Tables and boards", "how and when they are cleaned")
    produce: str = told("Raw fruit and vegetables", "where and how they are washed")


class EquipmentPart(Written):
    """``[[equipment]]``."""

    id: _Name = Field(title="Short name", description="How do the foods refer to it?")
    kind: Literal["cold", "cook", "hot", "cool", "transport", "wash", "other"] = Field(
        title="Kind", description="Does it keep cold, cook, keep hot, cool, carry, or wash?"
    )
    name: str = asked("Equipment", "What is it?")
    number: int = told("Number", "how many of them", 1)
    capacity: str = asked("Capacity", "How much does it hold?")
    keeps: Heat | None = told("Set to", "temperature at which it is run", None)
    energy: str = asked("Energy", "What drives it: mains, gas, wood, charcoal, ice?")
    where: str = told("Place", "where it stands; 'event' if nothing is said", "event")
    corner: tuple[_Corner, _Corner] | None = told(
        "Corner on the sketch", "distance of its left front corner from that of the booth", None
    )
    size: tuple[_Side, _Side] | None = told("Size on the sketch", "width and depth", None)

    @model_validator(mode="after")
    def _drawn(self) -> EquipmentPart:
        if (self.corner is None) != (self.size is None):
            raise ValueError("the sketch needs both corner = [x, y] and size = [width, depth]")
        return self


class ThermometerPart(Written):
    """``[[thermometer]]``."""

    id: _Name = Field(title="Short name", description="What is written on it?")
    kind: str = asked("Kind", "What sort of thermometer is it, such as a thin metal probe?")
    reads: Literal["food", "air"] = told("Reads", "food or air", "food")
    range: str = asked("Range", "From which to which temperature does it read?")
    checked: Day | None = told("Last check", "day of the last check", None)
