"""Liquid water at atmospheric pressure, and the air above it.

Water after the International Association for the Properties of Water and Steam (IAPWS): density and viscosity are for
0.1 MPa; up to 2 MPa density grows by less than 0.1 % and viscosity falls by less than 0.5 %. Air after the
International Standard Atmosphere.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.gravity import GRAVITY

Floats = NDArray[np.float64]
Number = TypeVar("Number", float, Floats)
"""A number, or an array of them: what goes in comes out."""


FREEZING, BOILING = 273.15, 373.15
"""Range of the water formulas [K]."""

HEAT_CAPACITY = 4186.0
"""Heat a kilogram of cold water takes for one kelvin [J/(kg K)]; from memory, 15 C."""

BULK_MODULUS = 2.2e9
"""Bulk modulus of cold water without air in it [Pa]; from memory."""

_CRITICAL = 647.096, 22.064e6  # temperature [K], pressure [Pa]
_PRESSURE = (-7.85951783, 1.0), (1.84408259, 1.5), (-11.7866497, 3.0), (22.6807411, 3.5), (-15.9618719, 4.0), \
    (1.80122502, 7.5)  # fmt: skip
_WARM = (1.93763157e-2, 0), (6.74458446e3, 4), (-2.22521604e5, 5), (1.00231247e8, 7), (-1.63552118e9, 8), \
    (8.32299658e9, 9)  # fmt: skip
_COLD = (5.78545292e-3, 1), (-1.53195665e-2, 2), (3.11337859e-2, 3), (-4.23546241e-2, 4), (3.38713507e-2, 5), \
    (-1.19946761e-2, 6)  # fmt: skip
_VISCOSITY = (280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0)

_SEA_TEMPERATURE, _SEA_PRESSURE, _LAPSE, _AIR = 288.15, 101325.0, 0.0065, 287.05287
LOWEST, HIGHEST = -500.0, 5000.0
"""Range of `air_pressure` [m]."""


def density(temperature: Number) -> Number:
    """Density of liquid water at 0.1 MPa [kg/m3]; uncertain by 1 in 10^6 up to 40 C, 1 in 10^5 above.

    1/rho = (R 10 K / p0) (a5 + sum ai alpha^ni + sum bi beta^mi), alpha = 10/(593 - T), beta = 10/(T - 232).

    temperature: of the water [K], 273.15 to 373.15

    Source: IAPWS SR6-08(2011), Properties of Liquid Water at 0.1 MPa, equation 2; the coefficients as printed in public
    programs and checked with its table of values. The stated uncertainty is from memory.
    """
    _inside(temperature, FREEZING, BOILING, "temperature of the water", "288.15 K")
    return _density(temperature)


def _density(temperature: Number) -> Number:
    warm, cold = 10.0 / (593.0 - temperature), 10.0 / (temperature - 232.0)
    return 1.0 / (0.046151805 * (_sum(_WARM, warm) + _sum(_COLD, cold)))


def viscosity(temperature: Number) -> Number:
    """Dynamic viscosity of liquid water at 0.1 MPa [Pa s], mu = 10^-6 sum ai (T/300 K)^bi; uncertain by 1 %.

    temperature: of the water [K], 273.15 to 373.15

    Source: IAPWS SR6-08(2011), equation 7; it follows the IAPWS formulation of 2008. Coefficients as for `density`; the
    stated uncertainty is from memory.
    """
    _inside(temperature, FREEZING, BOILING, "temperature of the water", "288.15 K")
    return _viscosity(temperature)


def _viscosity(temperature: Number) -> Number:
    return 1e-6 * _sum(_VISCOSITY, temperature / 300.0)


def _sum(terms: Iterable[tuple[float, float]], base: Number) -> Number:
    """Sum of a b^n over the terms (a, n)."""
    total: Number = 0.0 * base
    for factor, power in terms:
        total = total + factor * base**power
    return total


def vapour_pressure(temperature: Number) -> Number:
    """Absolute pressure at which water boils [Pa], ln(p/pc) = Tc/T (a1 t + a2 t^1.5 + ... + a6 t^7.5), t = 1 - T/Tc.

    temperature: of the water [K], 273.15 to 373.15

    Source: IAPWS SR1-86(1992), Saturation Properties of Ordinary Water Substance, equation 1 (W. Wagner and A. Pruss,
    1993); coefficients from memory, checked with its table of values.
    """
    _inside(temperature, FREEZING, BOILING, "temperature of the water", "288.15 K")
    hottest, highest = _CRITICAL
    pressure: Number = highest * math.e ** (hottest / temperature * _sum(_PRESSURE, 1.0 - temperature / hottest))
    return pressure


def air_pressure(altitude: Number) -> Number:
    """Absolute pressure of the air in the standard atmosphere [Pa], p = 101325 (1 - 0.0065 H / 288.15)^(g / 0.0065 R).

    The weather moves it by about 3 % either way.

    altitude: geopotential height over the sea [m], -500 to 5000; a surveyed height is at most 4 m more

    Source: ISO 2533:1975, Standard Atmosphere, below 11 km; R = 287.05287 J/(kg K).
    """
    _inside(altitude, LOWEST, HIGHEST, "altitude", "300 m")
    pressure: Number = _SEA_PRESSURE * (1.0 - _LAPSE * altitude / _SEA_TEMPERATURE) ** (GRAVITY / (_LAPSE * _AIR))
    return pressure


def air_density(temperature: Number, pressure: Number) -> Number:
    """Density of dry air [kg/m3], rho = p / (R T); air full of water vapour at 30 C is 1.6 % lighter.

    temperature: of the air [K], 200 to 400
    pressure: absolute [Pa], above 0, up to 1e6

    Source: ISO 2533:1975, the perfect gas with R = 287.05287 J/(kg K); the real gas differs by less than 0.2 %.
    """
    _inside(temperature, 200.0, 400.0, "temperature of the air", "288.15 K")
    _inside(pressure, 1e-6, 1e6, "pressure of the air", "101325 Pa")
    return pressure / (_AIR * temperature)


def _inside(value: Number, low: float, high: float, what: str, example: str) -> None:
    """Refuse what lies outside a range."""
    for one in np.ravel(value).tolist():
        if not low <= one <= high:
            raise ValueError(f"The {what} must lie between {low:g} and {high:g}; {one:g} was given, "
                             f"for example {example}.")
