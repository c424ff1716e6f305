"""Air through the vent of a tank: its size, the vacuum it leaves, breathing with the weather, and the choked limit.

A tank of water breathes out what is filled and in what is emptied; sun and rain add the thermal part.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]

GREATEST_DIFFERENCE = 10e3
"""Greatest pressure difference for which air is taken as incompressible [Pa]; there it overrates the flow by 6 %."""

_HOUR = 3600.0


def vent_area(
    *, air_flow: ArrayLike, pressure_difference: ArrayLike, coefficient: float = 0.62, air_density: float = 1.2
) -> Floats:
    """Open area of a vent [m2], A = Q / (Cd sqrt(2 dp / rho)).

    air_flow: air through the vent at the air's own density [m3/s], above 0
    pressure_difference: between tank and open air [Pa], above 0 to 10 kPa
    coefficient: discharge coefficient [-], above 0 to 1; 0.6 to 0.62 for a sharp edge
    air_density: of the air before the vent [kg/m3], above 0

    Source: flow through an orifice as in API 2000, 7th ed. and ISO 28300, annexes (read in copies).
    """
    positive(air_flow=(np.min(air_flow), "0.063 m3/s"))
    area: Floats = np.asarray(air_flow, dtype=float) / _speed(pressure_difference, coefficient, air_density)
    return area


def vent_flow(
    *, area: ArrayLike, pressure_difference: ArrayLike, coefficient: float = 0.62, air_density: float = 1.2
) -> Floats:
    """Air through a vent [m3/s], Q = Cd A sqrt(2 dp / rho), at the density of the air before it.

    area: open area of the vent [m2], above 0
    pressure_difference: between tank and open air [Pa], above 0 to 10 kPa
    coefficient: discharge coefficient [-], above 0 to 1
    air_density: of the air before the vent [kg/m3], above 0

    Source: as vent_area.
    """
    positive(area=(np.min(area), "0.002 m2"))
    flow: Floats = np.asarray(area, dtype=float) * _speed(pressure_difference, coefficient, air_density)
    return flow


def vacuum(*, air_flow: ArrayLike, area: ArrayLike, coefficient: float = 0.62, air_density: float = 1.2) -> Floats:
    """Pressure difference that drives an air flow through a vent [Pa], dp = rho / 2 (Q / (Cd A))^2.

    air_flow: air through the vent [m3/s], above 0
    area: open area of the vent [m2], above 0
    coefficient: discharge coefficient [-], above 0 to 1
    air_density: of the air before the vent [kg/m3], above 0
    ValueError: also when the difference comes out above 10 kPa

    Source: as vent_area.
    """
    positive(air_flow=(np.min(air_flow), "0.063 m3/s"), area=(np.min(area), "0.002 m2"),
             air_density=(air_density, "1.2 kg/m3"))
    _share(coefficient)
    difference: Floats = air_density / 2 * (np.asarray(air_flow) / (coefficient * np.asarray(area, dtype=float))) ** 2
    _incompressible(difference)
    return difference


def _speed(pressure_difference: ArrayLike, coefficient: float, air_density: float) -> Floats:
    """Flow for each square metre of vent [m/s]."""
    positive(pressure_difference=(np.min(pressure_difference), "2000 Pa"), air_density=(air_density, "1.2 kg/m3"))
    _share(coefficient)
    _incompressible(pressure_difference)
    speed: Floats = coefficient * np.sqrt(2 * np.asarray(pressure_difference, dtype=float) / air_density)
    return speed


def _share(coefficient: float) -> None:
    if not 0 < coefficient <= 1:
        raise ValueError(f"A discharge coefficient is above 0 and at most 1; {coefficient:g} was given, "
                         "for example 0.62.")


def _incompressible(pressure_difference: ArrayLike) -> None:
    if (greatest := np.max(pressure_difference)) > GREATEST_DIFFERENCE * (1 + 1e-12):
        raise ValueError(f"A pressure difference of {greatest:g} Pa is too great to take air as incompressible: at "
                         f"most {GREATEST_DIFFERENCE:g} Pa, for example 2000 Pa. Use a larger vent.")


def insulation_factor(*, film: float, thickness: float, conductivity: float) -> float:
    """Reduction of thermal breathing by insulation all round [-], Ri = 1 / (1 + h l / lambda).

    film: heat transfer coefficient inside the tank h [W/(m2 K)], above 0; 4 is usual
    thickness: of the insulation l [m], 0 or more
    conductivity: of the insulation lambda [W/(m K)], above 0

    Source: API 2000, 7th ed. = ISO 28300 (read in copies).
    """
    positive(film=(film, "4 W/(m2 K)"), conductivity=(conductivity, "0.04 W/(m K)"))
    if not 0 <= thickness < math.inf:
        raise ValueError(f"The thickness of the insulation is 0 or more; {thickness:g} was given, for example 0.05 m.")
    return 1 / (1 + film * thickness / conductivity)


def thermal_out(*, tank_volume: ArrayLike, latitude_factor: float, insulation: float = 1.0) -> Floats:
    """Normal air a tank breathes out as the sun warms it [m3/s at 0 C, 101.325 kPa], Y V^0.9 Ri / 3600.

    The rule itself gives m3/h of normal air for V in m3.

    tank_volume: V [m3], above 0
    latitude_factor: Y [-], above 0: 0.32 below 42 degrees of latitude, 0.25 to 58, 0.20 beyond (from memory)
    insulation: reduction factor Ri [-], above 0 to 1; 1 for a bare tank

    Source: API 2000, 7th ed. = ISO 28300, thermal out-breathing (read in copies).
    """
    return _thermal(tank_volume, 0.9, latitude_factor, insulation)


def thermal_in(*, tank_volume: ArrayLike, latitude_factor: float, insulation: float = 1.0) -> Floats:
    """Normal air a tank breathes in as rain cools it [m3/s at 0 C, 101.325 kPa], C V^0.7 Ri / 3600.

    The rule itself gives m3/h of normal air for V in m3.

    tank_volume: V [m3], above 0
    latitude_factor: C [-], above 0, for a liquid that does not boil off, below 25 C: 4 below 42 degrees of latitude,
        3 to 58, 2.5 beyond; 6.5, 5 and 4 where it does or is warmer (from memory)
    insulation: reduction factor Ri [-], above 0 to 1; 1 for a bare tank

    Source: API 2000, 7th ed. = ISO 28300, thermal in-breathing (read in copies).
    """
    return _thermal(tank_volume, 0.7, latitude_factor, insulation)


def _thermal(tank_volume: ArrayLike, power: float, latitude_factor: float, insulation: float) -> Floats:
    positive(tank_volume=(np.min(tank_volume), "20 m3"), latitude_factor=(latitude_factor, "0.32"))
    if not 0 < insulation <= 1:
        raise ValueError(f"The reduction by insulation is above 0 and at most 1; {insulation:g} was given, "
                         "for example 0.11.")
    breath: Floats = latitude_factor * np.asarray(tank_volume, dtype=float) ** power * insulation / _HOUR
    return breath


def critical_ratio(heat_ratio: float = 1.4) -> float:
    """Pressure behind over pressure before, below which the flow is choked [-], (2 / (k + 1))^(k / (k - 1)).

    heat_ratio: ratio of the specific heats k [-], above 1 to 1.67; 1.4 for air

    Source: isentropic flow of an ideal gas.
    """
    if not 1 < heat_ratio <= 1.67:
        raise ValueError(f"The ratio of the specific heats is above 1 and at most 1.67; {heat_ratio:g} was given, "
                         "for example 1.4 for air.")
    return float((2 / (heat_ratio + 1)) ** (heat_ratio / (heat_ratio - 1)))


def choked_mass_flow(
    *, area: ArrayLike, pressure: ArrayLike, temperature: ArrayLike, coefficient: float = 1.0
) -> Floats:
    """Greatest mass flow of air through an opening [kg/s], m = Cd A p0 sqrt(k / (R T0)) (2/(k+1))^((k+1)/(2(k-1))).

    It holds where the pressure behind is at most critical_ratio times the pressure before; k = 1.4, R = 287.05.

    area: narrowest area A [m2], above 0
    pressure: absolute pressure of the air before the opening p0 [Pa], above 0
    temperature: of the air before the opening T0 [K], above 0
    coefficient: discharge coefficient [-], above 0 to 1

    Source: isentropic flow of an ideal gas.
    """
    positive(area=(np.min(area), "0.0001 m2"), pressure=(np.min(pressure), "800e3 Pa"),
             temperature=(np.min(temperature), "293 K"))
    _share(coefficient)
    per_area = math.sqrt(1.4 / 287.05) * (2 / 2.4) ** 3
    flow: Floats = coefficient * per_area * np.asarray(area) * np.asarray(pressure) / np.sqrt(temperature)
    return flow
