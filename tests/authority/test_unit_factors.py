"""Conversion factors against the published table of a national institute, to its seven printed digits."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tunwright.build.units import parse

SOURCE = "NIST SP 811 (2008), Appendix B.8 (from memory)"
FACTORS = [
    ("1 in", "length", "2.54e-02", "m"),
    ("1 ft", "length", "3.048e-01", "m"),
    ("1 lb", "mass", "4.535924e-01", "kg"),
    ("1 oz", "mass", "2.834952e-02", "kg"),
    ("1 short ton", "mass", "9.071847e+02", "kg"),
    ("1 long ton", "mass", "1.016047e+03", "kg"),
    ("1 US gal", "volume", "3.785412e-03", "m3"),
    ("1 imp gal", "volume", "4.546090e-03", "m3"),
    ("1 ft3", "volume", "2.831685e-02", "m3"),
    ("1 in3", "volume", "1.638706e-05", "m3"),
    ("1 ft2", "area", "9.290304e-02", "m2"),
    ("1 in2", "area", "6.4516e-04", "m2"),
    ("1 psi", "pressure", "6.894757e+03", "Pa"),
    ("1 kgf/cm2", "pressure", "9.80665e+04", "Pa"),
    ("1 inH2O", "pressure", "2.490889e+02", "Pa"),
    ("1 ftH2O", "pressure", "2.989067e+03", "Pa"),
    ("1 deg", "angle", "1.745329e-02", "rad"),
    ("1 lbf", "force", "4.448222e+00", "N"),
    ("1 kip", "force", "4.448222e+03", "N"),
    ("1 kgf", "force", "9.80665e+00", "N"),
    ("1 lbf/in", "stiffness", "1.751268e+02", "N/m"),
    ("1 lbf/ft", "stiffness", "1.459390e+01", "N/m"),
    ("1 lb/ft3", "density", "1.601846e+01", "kg/m3"),
    ("1 lb/in3", "density", "2.767990e+04", "kg/m3"),
    ("1 lb/US gal", "density", "1.198264e+02", "kg/m3"),
    ("1 lb/imp gal", "density", "9.977637e+01", "kg/m3"),
    ("1 mph", "speed", "4.4704e-01", "m/s"),
    ("1 US gpm", "flow", "6.309020e-05", "m3/s"),
    ("1 ft3/min", "flow", "4.719474e-04", "m3/s"),
    ("1 lbf ft", "torque", "1.355818e+00", "N m"),
    ("1 lbf in", "torque", "1.129848e-01", "N m"),
    ("1 hp", "power", "7.456999e+02", "W"),
    ("1 PS", "power", "7.354988e+02", "W"),
    ("1 rpm", "rotation", "1.047198e-01", "rad/s"),
    ("1 lb/ft", "mass_per_length", "1.488164e+00", "kg/m"),
    ("1 lb/in", "mass_per_length", "1.785797e+01", "kg/m"),
    ("1 ksi", "stress", "6.894757e+06", "Pa"),
    ("1 lb ft2", "inertia", "4.214011e-02", "kg m2"),
    ("1 lb in2", "inertia", "2.926397e-04", "kg m2"),
]


@pytest.mark.parametrize(("text", "kind", "printed", "unit"), FACTORS)
def test_factor(text: str, kind: str, printed: str, unit: str, check: Callable[..., None]) -> None:
    mantissa, _, exponent = printed.partition("e")
    half = 0.5 * 10.0 ** (int(exponent) - len(mantissa.partition(".")[2]))
    check(f"{text} as {kind}", source=SOURCE, expected=float(printed), ours=parse(text, kind), tol=half, unit=unit)
