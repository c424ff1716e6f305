"""Air through the vent of a tank: its size, the pressure difference it leaves, and breathing with the weather.

A tank of water breathes out what is filled and in what is emptied; sun and rain add the thermal part.
"""

from __future__ import annotations

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
    positive(air_flow=(np.min(air_flow), "0.063 m3/s"),
             pressure_difference=(np.min(pressure_difference), "2000 Pa"), air_density=(air_density, "1.2 kg/m3"))
    _share(coefficient)
    _incompressible(pressure_difference)
    speed = coefficient * np.sqrt(2 * np.asarray(pressure_difference, dtype=float) / air_density)
    area: Floats = np.asarray(air_flow, dtype=float) / speed
    return area


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
    works = coefficient * np.asarray(area, dtype=float)
    difference = orifice_difference(air_flow=air_flow, works=works, air_density=air_density)
    _incompressible(difference)
    return difference


def orifice_difference(*, air_flow: ArrayLike, works: ArrayLike, air_density: ArrayLike) -> Floats:
    """Pressure difference of air through openings side by side [Pa], dp = rho / 2 (Q / sum Cd A)^2.

    Air is taken as incompressible. Above 10 kPa the true difference is greater still: such a number only says "far too
    much".

    air_flow: air through all of them [m3/s], 0 or more
    works: sum of discharge coefficient times area [m2], above 0
    air_density: of the air before them [kg/m3], above 0

    Source: as vent_area.
    """
    difference: Floats = np.asarray(air_density, dtype=float) / 2 * (np.asarray(air_flow) / np.asarray(works)) ** 2
    return difference


def _share(coefficient: float) -> None:
    if not 0 < coefficient <= 1:
        raise ValueError(f"A discharge coefficient is above 0 and at most 1; {coefficient:g} was given, "
                         "for example 0.62.")


def _incompressible(pressure_difference: ArrayLike) -> None:
    if (greatest := np.max(pressure_difference)) > GREATEST_DIFFERENCE * (1 + 1e-12):
        raise ValueError(f"A pressure difference of {greatest:g} Pa is too great to take air as incompressible: at "
                         f"most {GREATEST_DIFFERENCE:g} Pa, for example 2000 Pa. Use a larger vent.")


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
