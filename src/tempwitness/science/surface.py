"""Heat transfer at the surface: free and forced convection in air, and radiation.

Air is taken as an ideal gas at sea level. Source of its transport properties: Sutherland's law with
the constants of White, Viscous Fluid Flow, table 1-2 and 1-3, good to 2 % from -50 to 250 °C.
"""

from __future__ import annotations

from dataclasses import dataclass

from tempwitness.science.ranges import OutOfRangeError, within

__all__ = [
    "STEFAN_BOLTZMANN",
    "Air",
    "air",
    "forced_on_cylinder",
    "forced_on_plate",
    "free_on_cylinder",
    "free_on_sphere",
    "radiation",
]

#: CODATA 2018 [W/(m² K⁴)].
STEFAN_BOLTZMANN = 5.670374419e-8
_KELVIN = 273.15
_GRAVITY = 9.80665


@dataclass(frozen=True, slots=True)
class Air:
    """Dry air at sea level.

    Parameters
    ----------
    conductivity : float
        [W/(m K)]
    viscosity : float
        Kinematic [m²/s].
    prandtl : float
        [-]
    expansion : float
        Of the volume [1/K].
    """

    conductivity: float
    viscosity: float
    prandtl: float
    expansion: float


def air(celsius: float) -> Air:
    """Properties of air at -50 to 250 °C."""
    within("the temperature of the air", celsius, -50.0, 250.0, "°C")
    kelvin = celsius + _KELVIN
    dynamic = 1.716e-5 * (kelvin / 273.0) ** 1.5 * (273.0 + 111.0) / (kelvin + 111.0)
    conductivity = 0.0241 * (kelvin / 273.0) ** 1.5 * (273.0 + 194.0) / (kelvin + 194.0)
    density = 101325.0 / (287.05 * kelvin)
    return Air(conductivity, dynamic / density, 1006.0 * dynamic / conductivity, 1 / kelvin)


def forced_on_cylinder(speed: float, diameter: float, celsius: float) -> float:
    """Coefficient of air blown across a round piece [W/(m² K)].

    Churchill and Bernstein 1977, for Re Pr ≥ 0.2.

    Parameters
    ----------
    speed : float
        [m/s]
    diameter : float
        [m]
    celsius : float
        Mean of air and surface [°C].

    Raises
    ------
    OutOfRangeError
        Below Re Pr = 0.2 or above Re = 1e7.
    """
    gas = air(celsius)
    reynolds = _reynolds(speed, diameter, gas, 1e7)
    peclet = reynolds * gas.prandtl
    if peclet < 0.2:
        raise OutOfRangeError(
            f"Re Pr is {peclet:.2g}; the correlation holds from 0.2 on",
            hint="for still air ask for free convection",
        )
    lead = 0.62 * reynolds**0.5 * gas.prandtl ** (1 / 3)
    lead /= (1 + (0.4 / gas.prandtl) ** (2 / 3)) ** 0.25
    nusselt = 0.3 + lead * (1 + (reynolds / 282000) ** (5 / 8)) ** (4 / 5)
    return float(nusselt * gas.conductivity / diameter)


def forced_on_plate(speed: float, length: float, celsius: float) -> float:
    """Mean coefficient of air along a flat face [W/(m² K)].

    Pohlhausen's laminar solution up to Re = 5e5, then the mixed form (Incropera and DeWitt,
    equations 7.30 and 7.38), up to Re = 1e8.

    Parameters
    ----------
    speed : float
        [m/s]
    length : float
        Along the flow [m].
    celsius : float
        Mean of air and surface [°C].
    """
    gas = air(celsius)
    reynolds = _reynolds(speed, length, gas, 1e8)
    if reynolds <= 5e5:
        nusselt = 0.664 * reynolds**0.5 * gas.prandtl ** (1 / 3)
    else:
        nusselt = (0.037 * reynolds**0.8 - 871) * gas.prandtl ** (1 / 3)
    return float(nusselt * gas.conductivity / length)


def free_on_cylinder(difference: float, diameter: float, celsius: float) -> float:
    """Coefficient of still air on a lying round piece [W/(m² K)].

    Churchill and Chu 1975, for Ra ≤ 1e12.

    Parameters
    ----------
    difference : float
        Between surface and air [K].
    diameter : float
        [m]
    celsius : float
        Mean of air and surface [°C].
    """
    gas = air(celsius)
    rayleigh = _rayleigh(difference, diameter, gas, 1e12)
    lead = 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / gas.prandtl) ** (9 / 16)) ** (8 / 27)
    return float((0.6 + lead) ** 2 * gas.conductivity / diameter)


def free_on_sphere(difference: float, diameter: float, celsius: float) -> float:
    """Coefficient of still air on a ball [W/(m² K)]; Churchill 1983, for Ra ≤ 1e11, Pr ≥ 0.7.

    Parameters as for `free_on_cylinder`. Air of Pr a little below 0.7 is let pass.
    """
    gas = air(celsius)
    rayleigh = _rayleigh(difference, diameter, gas, 1e11)
    fluid = 1 + (0.469 / gas.prandtl) ** (9 / 16)
    turbulent = (1 + 7.44e-8 * rayleigh / fluid ** (16 / 9)) ** (1 / 12)
    nusselt = 2 + 0.589 * rayleigh**0.25 / fluid ** (4 / 9) * turbulent
    return float(nusselt * gas.conductivity / diameter)


def radiation(surface: float, walls: float, emissivity: float = 0.9) -> float:
    """Coefficient of radiation between a small body and the walls around it [W/(m² K)].

    ε σ (T1² + T2²) (T1 + T2), exact for grey surfaces where the walls are much larger.

    Parameters
    ----------
    surface, walls : float
        [°C], -100 to 1000.
    emissivity : float
        Moist food 0.9, bright foil below 0.1 [-].
    """
    within("the temperature of the surface", surface, -100.0, 1000.0, "°C")
    within("the temperature of the walls", walls, -100.0, 1000.0, "°C")
    within("the emissivity", emissivity, 0.0, 1.0)
    one, two = surface + _KELVIN, walls + _KELVIN
    return emissivity * STEFAN_BOLTZMANN * (one**2 + two**2) * (one + two)


def _reynolds(speed: float, length: float, gas: Air, most: float) -> float:
    within("the speed of the air", speed, 1e-4, 100.0, "m/s")
    within("the length", length, 1e-4, 10.0, "m")
    return within("the Reynolds number", speed * length / gas.viscosity, 0.0, most)


def _rayleigh(difference: float, length: float, gas: Air, most: float) -> float:
    within("the difference of temperature", abs(difference), 0.0, 400.0, "K")
    within("the length", length, 1e-4, 10.0, "m")
    buoyancy = _GRAVITY * gas.expansion * abs(difference) * length**3
    return within("the Rayleigh number", buoyancy / gas.viscosity**2 * gas.prandtl, 0.0, most)
