"""Units of the other kinds: force, stiffness, density, motion, flow, time, temperature, torque, power, stress …

Sources of the factors: `factors.py`. `hp` is the mechanical horsepower, 550 ft lbf/s; the metric one (75 kgf m/s) is
written `PS` or `metric hp`.
"""

from __future__ import annotations

import math
from fractions import Fraction

from tunwright.build.factors import (
    FOOT,
    IMPERIAL_GALLON,
    INCH,
    MILLI,
    POUND,
    POUND_FORCE,
    PSI,
    STANDARD_GRAVITY,
    TURN,
    US_GALLON,
)
from tunwright.build.kind import Row, Step, kind

_PER_GALLON = 'does not say which gallon: write "lb/US gal" (3.785 L) or "lb/imp gal" (4.546 L)'
_GALLON_RATE = 'does not say which gallon: write "US gpm" (3.785 L/min) or "imp gpm" (4.546 L/min)'

DERIVED = (
    kind(
        "force",
        "a force",
        "12 kN",
        (
            Row("kN", 1000),
            Row("N|newton|newtons", 1),
            Row("MN", 1_000_000),
            Row("kgf", STANDARD_GRAVITY),
            Row("lbf", POUND_FORCE),
            Row("kip|kips|klbf", 1000 * POUND_FORCE),
        ),
        (Step(1000.0, "N", 0), Step(math.inf, "kN", 1)),
        (Step(math.inf, "lbf", 0),),
    ),
    kind(
        "stiffness",
        "a stiffness",
        "240 N/mm",
        (
            Row("N/mm", 1000),
            Row("N/m", 1),
            Row("kN/m", 1000),
            Row("kN/mm|MN/m", 1_000_000),
            Row("lbf/in|lb/in", POUND_FORCE / INCH),
            Row("lbf/ft|lb/ft", POUND_FORCE / FOOT),
        ),
        (Step(100_000.0, "N/mm", 2), Step(math.inf, "N/mm", 0)),
        (Step(math.inf, "lbf/in", 0),),
    ),
    kind(
        "density",
        "a density",
        "1000 kg/m3",
        (
            Row("kg/m³", 1),
            Row("kg/L|kg/l|kg/dm3", 1000),
            Row("g/cm³|g/cc|g/mL|g/ml", 1000),
            Row("t/m³", 1000),
            Row("g/L|g/l", 1),
            Row("mg/L|mg/l", MILLI),
            Row("lb/ft³|lb/cu ft", POUND / FOOT**3),
            Row("lb/in³|lb/cu in", POUND / INCH**3),
            Row("lb/US gal|lbs/US gal", POUND / US_GALLON),
            Row("lb/imp gal|lbs/imp gal", POUND / IMPERIAL_GALLON),
        ),
        (Step(10.0, "kg/m³", 2), Step(math.inf, "kg/m³", 1)),
        (Step(math.inf, "lb/ft³", 1),),
        refused={"lb/gal|lbs/gal": _PER_GALLON},
    ),
    kind(
        "acceleration",
        "an acceleration",
        "0.5 g",
        (Row("g|g0|gn", STANDARD_GRAVITY), Row("m/s²", 1), Row("ft/s²", FOOT)),
        (Step(math.inf, "g", 2),),
        (Step(math.inf, "g", 2),),
    ),
    kind(
        "speed",
        "a speed",
        "80 km/h",
        (
            Row("km/h|kph|kmh", Fraction(1000, 3600)),
            Row("m/s", 1),
            Row("mm/s", MILLI),
            Row("m/min", Fraction(1, 60)),
            Row("mph|mi/h", 5280 * FOOT / 3600),
            Row("ft/s|fps", FOOT),
            Row("ft/min|fpm", FOOT / 60),
        ),
        (Step(math.inf, "km/h", 1),),
        (Step(math.inf, "mph", 1),),
    ),
    kind(
        "flow",
        "a flow",
        "1200 L/min",
        (
            Row("L/min|l/min|lpm|LPM", MILLI / 60),
            Row("L/s|l/s", MILLI),
            Row("L/h|l/h", MILLI / 3600),
            Row("m³/h", Fraction(1, 3600)),
            Row("m³/min", Fraction(1, 60)),
            Row("m³/s", 1),
            Row("US gpm|US gal/min|USgpm", US_GALLON / 60),
            Row("US gph|US gal/h", US_GALLON / 3600),
            Row("imp gpm|imp gal/min", IMPERIAL_GALLON / 60),
            Row("imp gph|imp gal/h", IMPERIAL_GALLON / 3600),
            Row("ft³/min|cfm", FOOT**3 / 60),
            Row("ft³/s|cfs", FOOT**3),
        ),
        (Step(0.1 / 60, "L/min", 1), Step(math.inf, "L/min", 0)),
        (Step(0.38 / 60, "US gpm", 1), Step(math.inf, "US gpm", 0)),
        refused={"gpm|GPM|gal/min|gals/min|gph|gal/h|gal/s": _GALLON_RATE},
    ),
    kind(
        "time",
        "a time",
        "10 min",
        (
            Row("min|mins|minute|minutes", 60),
            Row("s|sec|secs|second|seconds", 1),
            Row("ms", MILLI),
            Row("h|hr|hrs|hour|hours", 3600),
            Row("d|day|days", 86_400),
        ),
        (Step(120.0, "s", 1), Step(7200.0, "min", 1), Step(172_800.0, "h", 1), Step(math.inf, "d", 1)),
        (Step(120.0, "s", 1), Step(7200.0, "min", 1), Step(172_800.0, "h", 1), Step(math.inf, "d", 1)),
    ),
    kind(
        "temperature",
        "a temperature",
        "20 °C",
        (
            Row("°C|C|degC|deg C", 1, shift=Fraction("273.15")),
            Row("°F|F|degF|deg F", Fraction(5, 9), shift=Fraction("459.67")),
            Row("K", 1),
        ),
        (Step(math.inf, "°C", 1),),
        (Step(math.inf, "°F", 1),),
        least=0.0,
    ),
    kind(
        "torque",
        "a torque",
        "210 N m",
        (
            Row("N m|Nm", 1),
            Row("kN m|kNm", 1000),
            Row("N mm|Nmm", MILLI),
            Row("kgf m|kgfm", STANDARD_GRAVITY),
            Row("lbf ft|lb ft|ft lb|ft lbf|ft lbs|lbft|ftlb", POUND_FORCE * FOOT),
            Row("lbf in|lb in|in lb|in lbf|in lbs", POUND_FORCE * INCH),
        ),
        (Step(100.0, "N m", 1), Step(math.inf, "N m", 0)),
        (Step(100.0, "lbf ft", 1), Step(math.inf, "lbf ft", 0)),
    ),
    kind(
        "power",
        "a power",
        "45 kW",
        (
            Row("kW", 1000),
            Row("W|watt|watts", 1),
            Row("MW", 1_000_000),
            Row("hp|HP|bhp", 550 * FOOT * POUND_FORCE),
            Row("PS|metric hp", 75 * STANDARD_GRAVITY),
        ),
        (Step(1000.0, "W", 0), Step(math.inf, "kW", 1)),
        (Step(math.inf, "hp", 1),),
    ),
    kind(
        "rotation",
        "a speed of rotation",
        "1450 rpm",
        (Row("rpm|RPM|r/min|rev/min|1/min", TURN / 60), Row("rev/s|r/s", TURN), Row("rad/s", 1)),
        (Step(math.inf, "rpm", 0),),
        (Step(math.inf, "rpm", 0),),
    ),
    kind(
        "mass_per_length",
        "a mass per length",
        "18.5 kg/m",
        (
            Row("kg/m", 1),
            Row("g/m", MILLI),
            Row("kg/mm", 1000),
            Row("t/m", 1000),
            Row("lb/ft|lbs/ft", POUND / FOOT),
            Row("lb/in|lbs/in", POUND / INCH),
        ),
        (Step(math.inf, "kg/m", 2),),
        (Step(math.inf, "lb/ft", 2),),
    ),
    kind(
        "stress",
        "a stress",
        "355 MPa",
        (
            Row("MPa|N/mm2|MN/m2", 1_000_000),
            Row("Pa|N/m2", 1),
            Row("kPa|kN/m2", 1000),
            Row("GPa|kN/mm2", 1_000_000_000),
            Row("psi", PSI),
            Row("ksi", 1000 * PSI),
        ),
        (Step(10_000_000.0, "MPa", 2), Step(100_000_000.0, "MPa", 1), Step(math.inf, "MPa", 0)),
        (Step(1_000_000.0, "psi", 0), Step(math.inf, "ksi", 1)),
    ),
    kind(
        "inertia",
        "a moment of inertia",
        "5200 kg m2",
        (
            Row("kg m²|kgm2", 1),
            Row("kg mm²|kgmm2", MILLI**2),
            Row("t m²|tm2", 1000),
            Row("lb ft²", POUND * FOOT**2),
            Row("lb in²", POUND * INCH**2),
        ),
        (Step(10.0, "kg m²", 2), Step(math.inf, "kg m²", 0)),
        (Step(0.4, "lb ft²", 2), Step(math.inf, "lb ft²", 0)),
    ),
)
