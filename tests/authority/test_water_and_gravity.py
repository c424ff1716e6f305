"""Physical constants the loads rest on."""

from __future__ import annotations

from tunwright.build.order import States
from tunwright.handbook.gravity import GRAVITY
from tunwright.tables.read import shop_value

WATER = "Tanaka et al. 2001 (CIPM formula), density of air-free water at 3.98 C, 101.325 kPa; from memory"
GRAMS = "3rd CGPM 1901, standard acceleration of free fall, exact"
DIESEL = "EN 590, density of diesel fuel at 15 C, 820 to 845 kg/m3; from memory"


def test_density_of_water(check) -> None:
    """A build that says nothing carries water of 1000 kg/m3, stated to the kilogram: never lighter than real water."""
    ours = float(States().liquid_density)
    check("density of the water carried", source=WATER, expected=999.975, ours=ours, tol=0.5, unit="kg/m3")
    assert ours >= 999.975
    assert shop_value("water_density") == ours


def test_density_of_fuel(check) -> None:
    check("density of fuel", source=DIESEL, expected=832.5, ours=shop_value("fuel_density"), tol=12.5, unit="kg/m3")


def test_gravity(check) -> None:
    check("acceleration of gravity", source=GRAMS, expected=9.80665, ours=GRAVITY, tol=0, unit="m/s2")
