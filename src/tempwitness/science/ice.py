"""How much ice a cooling needs, by the balance of heat."""

from __future__ import annotations

from tempwitness.science.ranges import OutOfRangeError, within

__all__ = ["FUSION", "WATER_HEAT_CAPACITY", "ice_needed"]

#: Heat of melting of ice at 0 °C [J/kg]; IAPWS-06 gives 333.4 kJ/kg.
FUSION = 333.4e3
#: Of liquid water between 0 and 30 °C, within 0.5 % [J/(kg K)] (IAPWS-IF97).
WATER_HEAT_CAPACITY = 4190.0


def ice_needed(
    heat: float, *, water: float = 0.0, water_at: float = 0.0, ends_at: float = 0.0
) -> float:
    """Mass of ice at 0 °C that takes up the heat of food and of the water around it [kg].

    Parameters
    ----------
    heat : float
        What the food gives off, mass × heat capacity × fall [J].
    water : float
        Liquid water in the bath at the start [kg].
    water_at : float
        Its temperature at the start [°C], not below `ends_at`.
    ends_at : float
        Temperature of the bath at the end [°C], 0 to 30: melted ice warms to it too.

    Returns
    -------
    float
        Without losses to the room, which come on top.

    Raises
    ------
    OutOfRangeError
        For a bath that would end colder than ice or warmer than it began.
    """
    within("the heat of the food", heat, 0.0, 1e12, "J")
    within("the mass of water", water, 0.0, 1e6, "kg")
    within("the temperature of the bath at the end", ends_at, 0.0, 30.0, "°C")
    within("the temperature of the water", water_at, 0.0, 100.0, "°C")
    if water > 0 and water_at < ends_at:
        raise OutOfRangeError(
            "the bath would end warmer than its water began", hint="give a colder end"
        )
    total = heat + water * WATER_HEAT_CAPACITY * max(water_at - ends_at, 0.0)
    return total / (FUSION + WATER_HEAT_CAPACITY * ends_at)
