"""A pipe in still air: what it gives to the air and by radiation, against a textbook, a law and a library."""

from __future__ import annotations

import math

import pytest

from tunwright.handbook.icing import STEFAN, radiation_film, still_air_film

BOOK = "Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, Example 9.4 (from memory)"


def test_a_hot_pipe_in_a_room(check) -> None:
    """0.1 m across, 165 C in a room of 23 C, emissivity 0.85."""
    still = float(still_air_film(diameter=0.1, air=296.0, surface=438.0))
    glow = float(radiation_film(air=296.0, surface=438.0, emissivity=0.85))
    lost = math.pi * 0.1 * 142.0
    check("film in still air", source=BOOK, expected=7.29, ours=still, tol=0.005, unit="W/(m2 K)")
    check("heat given to the air", source=BOOK, expected=325, ours=still * lost, tol=0.5, unit="W/m")
    check("heat radiated", source=BOOK, expected=441, ours=glow * lost, tol=0.5, unit="W/m")


@pytest.mark.parametrize(("air", "surface"), [(253.15, 273.15), (268.0, 270.0), (300.0, 280.0)])
def test_radiation_by_fourth_powers(check, air: float, surface: float) -> None:
    ours = float(radiation_film(air=air, surface=surface, emissivity=0.9)) * (surface - air)
    check(f"radiated from {surface} K to {air} K", source="e s (Ts4 - Ta4)", ours=ours, tol=1e-9, unit="W/m2",
          expected=0.9 * STEFAN * (surface**4 - air**4))


@pytest.mark.parametrize("diameter", [0.03, 0.1, 0.3])
def test_still_air_by_another_library(check, diameter: float) -> None:
    """The formula as it is printed the other way, with air properties of another library."""
    from fluids.atmosphere import ATMOSPHERE_1976

    mean = 263.15
    viscosity, conductivity = ATMOSPHERE_1976.viscosity(mean), ATMOSPHERE_1976.thermal_conductivity(mean)
    density = 101325.0 / (287.053 * mean)
    prandtl = 3.5 * 287.053 * viscosity / conductivity
    rayleigh = 9.80665 / mean * 20.0 * diameter**3 * (density / viscosity) ** 2 * prandtl
    wanted = (0.60 + 0.387 * (rayleigh / (1 + (0.559 / prandtl) ** (9 / 16)) ** (16 / 9)) ** (1 / 6)) ** 2
    ours = float(still_air_film(diameter=diameter, air=253.15, surface=273.15)) * diameter / conductivity
    check(f"Nusselt number of {diameter} m in still air", source="Churchill and Chu with the air of fluids",
          expected=wanted, ours=ours, tol=1e-4 * wanted)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="0 up to 1"):
        radiation_film(air=263.0, surface=273.0, emissivity=1.2)
    with pytest.raises(ValueError, match="too large or too warm"):
        still_air_film(diameter=30.0, air=250.0, surface=390.0)
