"""A pipe full of standing water in the cold: heat loss, time to 0 C, time to freeze, and the heating that holds it.

Derived: a lumped balance for each metre of pipe. The water is mixed; it cools to 0 C, then freezes at 0 C from the wall
inwards while nothing of it is undercooled. All heat crosses wall, insulation and outside film in turn. A layer of ice
adds its own resistance, its heat capacity is left out, and ice is as dense as water. Ends, supports and valves are not
in it. A full freeze then takes as long as by Plank's equation for a long cylinder.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]

FREEZING = 273.15
"""Temperature at which water freezes [K]."""
WATER_DENSITY, WATER_HEAT = 999.84, 4205.0
"""Density at 0 C [kg/m3] and mean specific heat from 0 to 10 C [J/(kg K)] of water; from memory."""
STEFAN = 5.670374419e-8
"""Constant of Stefan and Boltzmann [W/(m2 K4)]; CODATA 2018, from memory."""
LATENT_HEAT, ICE_CONDUCTIVITY = 333.43e3, 2.22
"""Heat of fusion [J/kg], IAPWS R10-06, from memory; conductivity of ice at 0 C [W/(m K)], Fishenden and Saunders."""


class Air(NamedTuple):
    """Dry air: density [kg/m3], viscosity [Pa s], conductivity [W/(m K)], Prandtl number [-]."""

    density: Floats
    viscosity: Floats
    conductivity: Floats
    prandtl: Floats


def air_properties(temperature: ArrayLike, *, pressure: float = 101325.0) -> Air:
    """Properties of dry air.

    temperature: of the air [K], 200 to 400
    pressure: absolute [Pa], above 0

    Source: U.S. Standard Atmosphere, 1976, equations 42, 51 and 53, R = 287.053, cp = 3.5 R; from memory.
    """
    t = np.asarray(temperature, dtype=float)
    positive(pressure=(pressure, "101325 Pa"))
    if not ((t >= 200) & (t <= 400)).all():
        raise ValueError(f"Air is known from 200 to 400 K; {t.min():g} to {t.max():g} was given, for example 263.15 K.")
    viscosity = 1.458e-6 * t**1.5 / (t + 110.4)
    conductivity = 2.64638e-3 * t**1.5 / (t + 245.4 * 10 ** (-12 / t))
    return Air(pressure / (287.053 * t), viscosity, conductivity, 3.5 * 287.053 * viscosity / conductivity)


def cross_flow_nusselt(*, reynolds: ArrayLike, prandtl: ArrayLike) -> Floats:
    """Mean Nusselt number of a cylinder across a flow [-], properties at the film temperature.

    Nu = 0.3 + 0.62 Re^0.5 Pr^(1/3) (1 + (0.4/Pr)^(2/3))^-0.25 (1 + (Re/282000)^0.625)^0.8

    reynolds: by the outside diameter [-], Re Pr at least 0.2, Re at most 1e7
    prandtl: of the fluid [-], above 0

    Source: Churchill and Bernstein, J. Heat Transfer 99 (1977) 300 (read in copies).
    """
    re, pr = np.asarray(reynolds, dtype=float), np.asarray(prandtl, dtype=float)
    positive(prandtl_number=(pr.min(), "0.71"))
    if not ((re * pr >= 0.2) & (re <= 1e7)).all():
        raise ValueError(f"The wind is too weak or too strong for this formula: Re {re.min():g} to {re.max():g} was "
                         "given, allowed is Re Pr of 0.2 to Re of 1e7. Hand in a film instead, for example 6 W/(m2 K).")
    nusselt: Floats = 0.3 + (0.62 * np.sqrt(re) * np.cbrt(pr) / (1 + (0.4 / pr) ** (2 / 3)) ** 0.25
                             * (1 + (re / 282e3) ** 0.625) ** 0.8)
    return nusselt


def air_film(
    *, wind: ArrayLike, diameter: ArrayLike, air: ArrayLike, surface: ArrayLike, pressure: float = 101325.0
) -> Floats:
    """Heat transfer coefficient outside a pipe in wind across it [W/(m2 K)], h = Nu lambda / D.

    wind: speed across the pipe [m/s], above 0
    diameter: outside, of pipe or insulation [m], above 0
    air: temperature of the air [K], 200 to 400
    surface: temperature of the outer surface [K], 200 to 400; near the air's under good insulation
    pressure: absolute [Pa], above 0

    Source: cross_flow_nusselt and air_properties at the mean of air and surface.
    """
    positive(wind=(np.min(wind), "5 m/s"), diameter=(np.min(diameter), "0.1 m"))
    across = np.asarray(diameter, dtype=float)
    film = air_properties((np.asarray(air, dtype=float) + np.asarray(surface, dtype=float)) / 2, pressure=pressure)
    reynolds = film.density * np.asarray(wind) * across / film.viscosity
    coefficient: Floats = cross_flow_nusselt(reynolds=reynolds, prandtl=film.prandtl) * film.conductivity / across
    return coefficient


def still_air_film(
    *, diameter: ArrayLike, air: ArrayLike, surface: ArrayLike, pressure: float = 101325.0
) -> Floats:
    """Heat transfer coefficient outside a level pipe in still air [W/(m2 K)], h = Nu lambda / D.

    Nu = (0.6 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))^2, Ra = g |Ts - Ta| D^3 Pr / (Tm nu^2)

    diameter: outside, of pipe or insulation [m], above 0
    air: temperature of the air [K], 200 to 400
    surface: temperature of the outer surface [K], 200 to 400
    pressure: absolute [Pa], above 0
    ValueError: outside these ranges, or Ra above 1e12

    Source: Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1049, from memory.
    """
    positive(diameter=(np.min(diameter), "0.1 m"))
    across, cold, warm = (np.asarray(one, dtype=float) for one in (diameter, air, surface))
    film = air_properties((cold + warm) / 2, pressure=pressure)
    viscosity = film.viscosity / film.density
    rayleigh = GRAVITY * np.abs(warm - cold) * across**3 * film.prandtl / (0.5 * (cold + warm) * viscosity**2)
    if not (rayleigh <= 1e12).all():
        raise ValueError(f"The pipe is too large or too warm for this formula: Ra {rayleigh.max():g} was given, at "
                         "most 1e12 is allowed. Hand in a film instead, for example 6 W/(m2 K).")
    nusselt = (0.6 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / film.prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    coefficient: Floats = nusselt * film.conductivity / across
    return coefficient


def radiation_film(*, air: ArrayLike, surface: ArrayLike, emissivity: float) -> Floats:
    """Film of radiation to surroundings as warm as the air [W/(m2 K)], e s (Ts2 + Ta2) (Ts + Ta).

    A clear night sky is colder than the air and takes more.

    air: temperature of the air [K], above 0
    surface: temperature of the outer surface [K], above 0
    emissivity: of the outer surface [-], above 0 up to 1; painted or rusted steel and rubber 0.9

    Source: Stefan and Boltzmann.
    """
    positive(air=(np.min(air), "263.15 K"), surface=(np.min(surface), "273.15 K"), emissivity=(emissivity, "0.9"))
    if emissivity > 1:
        raise ValueError(f"An emissivity is above 0 up to 1; {emissivity:g} was given, for example 0.9.")
    cold, warm = np.asarray(air, dtype=float), np.asarray(surface, dtype=float)
    coefficient: Floats = emissivity * STEFAN * (warm**2 + cold**2) * (warm + cold)
    return coefficient


def resistance_per_metre(
    *, bore: ArrayLike, wall: ArrayLike, wall_conductivity: float, film: ArrayLike, insulation: ArrayLike = 0.0,
    insulation_conductivity: float = 0.04, inside_film: float = math.inf,
) -> Floats:
    """Thermal resistance of a metre of pipe, from the water to the air [m K/W].

    R = 1/(pi d1 hi) + ln(d2/d1)/(2 pi lw) + ln(d3/d2)/(2 pi li) + 1/(pi d3 ho)

    bore: inside diameter d1 [m], above 0
    wall: thickness of the pipe's wall [m], 0 or more
    wall_conductivity: lw [W/(m K)], above 0; steel 50, stainless steel 15, polyethylene 0.4
    film: outside heat transfer coefficient ho [W/(m2 K)], above 0
    insulation: thickness [m], 0 or more
    insulation_conductivity: li [W/(m K)], above 0
    inside_film: inside heat transfer coefficient hi [W/(m2 K)], above 0; inf leaves it out, on the safe side

    Source: conduction in series, any textbook of heat transfer.
    """
    positive(bore=(np.min(bore), "0.08 m"), wall_conductivity=(wall_conductivity, "50 W/(m K)"),
             film=(np.min(film), "30 W/(m2 K)"), insulation_conductivity=(insulation_conductivity, "0.04 W/(m K)"))
    if not (np.min(wall) >= 0 and np.min(insulation) >= 0 and inside_film > 0):
        raise ValueError(f"Wall and insulation are 0 or more thick and the inside film is above 0; {np.min(wall):g} m, "
                         f"{np.min(insulation):g} m, {inside_film:g} was given, for example 0.004 m, 0.02 m, inf.")
    inner = np.asarray(bore, dtype=float)
    middle = inner + 2 * np.asarray(wall)
    outer = middle + 2 * np.asarray(insulation)
    resistance: Floats = (1 / (inner * inside_film) + np.log(middle / inner) / (2 * wall_conductivity)
                          + np.log(outer / middle) / (2 * insulation_conductivity) + 1 / (outer * film)) / math.pi
    return resistance


def heat_capacity_per_metre(*, bore: ArrayLike, wall_mass: ArrayLike = 0.0, wall_heat: float = 470.0) -> Floats:
    """Heat capacity of a metre of pipe full of water [J/(m K)].

    bore: inside diameter [m], above 0
    wall_mass: of a metre of empty pipe [kg/m], 0 or more; 0 leaves it out, on the safe side
    wall_heat: specific heat of the pipe [J/(kg K)], above 0; steel 470
    """
    positive(bore=(np.min(bore), "0.08 m"), wall_heat=(wall_heat, "470 J/(kg K)"))
    if not np.min(wall_mass) >= 0:
        raise ValueError(f"A metre of pipe weighs 0 or more; {np.min(wall_mass):g} was given, for example 8.6 kg/m.")
    return _water(bore) * WATER_HEAT + np.asarray(wall_mass) * wall_heat


def heat_loss_per_metre(*, water: ArrayLike, air: ArrayLike, resistance: ArrayLike) -> Floats:
    """Heat a metre of pipe loses to the air [W/m], q = (Tw - Ta) / R; negative in warmer air.

    water: temperature inside [K], above 0
    air: temperature outside [K], above 0
    resistance: from the water to the air R [m K/W], above 0
    """
    positive(water=(np.min(water), "278.15 K"), air=(np.min(air), "263.15 K"),
             resistance=(np.min(resistance), "1 m K/W"))
    loss: Floats = (np.asarray(water, dtype=float) - np.asarray(air, dtype=float)) / np.asarray(resistance, dtype=float)
    return loss


def cooling_time(
    *, start: ArrayLike, air: ArrayLike, resistance: ArrayLike, heat_capacity: ArrayLike, end: float = FREEZING
) -> Floats:
    """Time in which standing water cools [s], t = C R ln((Ts - Ta) / (Te - Ta)); inf when the air is not below the end.

    start: temperature of the water at first Ts [K], above end
    air: temperature outside Ta [K], above 0
    resistance: from the water to the air R [m K/W], above 0
    heat_capacity: of a metre of pipe C [J/(m K)], above 0
    end: temperature of the water at last Te [K], above 0; 0 C if left out

    Source: derived; the same as ASHRAE Handbook - Fundamentals, 2009, ch. 23, eq. 1 (read in copies).
    """
    positive(end=(end, "273.15 K"), air=(np.min(air), "263.15 K"), resistance=(np.min(resistance), "1 m K/W"),
             heat_capacity=(np.min(heat_capacity), "2e4 J/(m K)"))
    if not np.min(start) > end:
        raise ValueError(f"Water cools from above {end:g} K; {np.min(start):g} K was given, for example 283.15 K.")
    below = np.maximum(end - np.asarray(air, dtype=float), 0.0)
    with np.errstate(divide="ignore"):
        ratio = (np.asarray(start, dtype=float) - end) / below
    time: Floats = np.asarray(heat_capacity, dtype=float) * np.asarray(resistance) * np.log1p(ratio)
    return time


def freezing_time(
    *, part: ArrayLike, bore: ArrayLike, air: ArrayLike, resistance: ArrayLike, ice_layer: bool = True
) -> Floats:
    """Time in which water at 0 C freezes in part [s]; inf when the air is not below 0 C.

    t = rho L (pi d^2 / 4) (f R + (f + (1 - f) ln(1 - f)) / (4 pi li)) / (0 C - Ta)

    part: of the water that is ice at last f [-], 0 to 1
    bore: inside diameter d [m], above 0
    air: temperature outside Ta [K], above 0
    resistance: from the water to the air, without ice R [m K/W], above 0
    ice_layer: whether the ice on the wall slows the freezing; without it the time is short, on the safe side

    Source: derived; with all of it ice, Plank's equation for a long cylinder.
    """
    positive(air=(np.min(air), "263.15 K"), resistance=(np.min(resistance), "1 m K/W"), bore=(np.min(bore), "0.08 m"))
    ice = np.asarray(part, dtype=float)
    if not ((ice >= 0) & (ice <= 1)).all():
        raise ValueError(f"The part that is ice is 0 to 1; {ice.min():g} to {ice.max():g} was given, for example 0.1.")
    through = ice * np.asarray(resistance)
    if ice_layer:
        water = np.maximum(1 - ice, 1e-300)
        through = through + (ice + water * np.log(water)) / (4 * math.pi * ICE_CONDUCTIVITY)
    heat = _water(bore) * LATENT_HEAT * through
    below = np.maximum(FREEZING - np.asarray(air, dtype=float), 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        time: Floats = np.where(heat > 0, heat / below, 0.0)[()]
    return time


def tracing_power(*, hold: ArrayLike, air: ArrayLike, resistance: ArrayLike, reserve: float = 0.0) -> Floats:
    """Heating that holds a metre of pipe at a temperature [W/m], (1 + reserve) (Th - Ta) / R, or 0 in warmer air.

    hold: temperature of the water to hold Th [K], above 0
    air: coldest temperature outside Ta [K], above 0
    resistance: from the water to the air R [m K/W], above 0
    reserve: part added for supports, valves and age [-], 0 to 1; 0.1 to 0.25 is common practice, no source
    """
    if not 0 <= reserve <= 1:
        raise ValueError(f"The reserve is a part, 0 to 1; {reserve:g} was given, for example 0.2.")
    power: Floats = (1 + reserve) * np.maximum(heat_loss_per_metre(water=hold, air=air, resistance=resistance), 0.0)
    return power


def _water(bore: ArrayLike) -> Floats:
    """Mass of the water in a metre of pipe [kg/m]."""
    mass: Floats = WATER_DENSITY * math.pi / 4 * np.asarray(bore, dtype=float) ** 2
    return mass
