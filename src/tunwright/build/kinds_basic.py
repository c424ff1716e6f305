"""Units of the plain kinds: length, mass, volume, area, pressure, angle, ratio, slope.

Sources of the factors: `factors.py`.
"""

from __future__ import annotations

import math
from fractions import Fraction

from tunwright.build.factors import (
    DEGREE,
    FOOT,
    IMPERIAL_GALLON,
    INCH,
    MILLI,
    POUND,
    PSI,
    STANDARD_GRAVITY,
    US_GALLON,
    WATER_COLUMN,
)
from tunwright.build.kind import Row, Step, kind

_GALLON = 'does not say which gallon: write "US gal" (3.785 L) or "imp gal" (4.546 L)'
_TON = 'does not say which ton: write "t" (1000 kg), "short ton" (907.18 kg) or "long ton" (1016.05 kg)'
_ABSOLUTE = (
    "is an absolute pressure, but pressures here are gauge pressures: write what is above the air around it, "
    'such as "1.5 bar" (an absolute pressure less about 1.013 bar)'
)
_SHEET_GAUGE = 'is a sheet gauge, whose thickness depends on the metal: write the thickness, such as "3 mm"'

BASIC = (
    kind(
        "length",
        "a length",
        "4.2 m",
        (
            Row("m|metre|metres|meter|meters", 1),
            Row("cm|centimetre|centimetres|centimeter|centimeters", Fraction(1, 100)),
            Row("mm|millimetre|millimetres|millimeter|millimeters", MILLI),
            Row("µm|um|micron|microns", MILLI**2),
            Row("km|kilometre|kilometres|kilometer|kilometers", 1000),
            Row('in|"|inch|inches', INCH),
            Row("ft|'|foot|feet", FOOT),
            Row("yd|yard|yards", 3 * FOOT),
            Row("mil|mils|thou", INCH / 1000),
        ),
        (Step(0.01, "mm", 2), Step(0.1, "mm", 1), Step(100.0, "mm", 0), Step(math.inf, "m", 1)),
        (Step(0.0254, "in", 3), Step(100.0, "in", 1, fixed=True), Step(math.inf, "ft", 0)),
        refused={"ga|gauge|gage|swg|SWG": _SHEET_GAUGE},
    ),
    kind(
        "mass",
        "a mass",
        "1100 kg",
        (
            Row("kg|kilogram|kilograms|kilo|kilos", 1),
            Row("g|gram|grams", MILLI),
            Row("t|tonne|tonnes|metric ton|metric tons", 1000),
            Row("lb|lbs|lbm|pound|pounds", POUND),
            Row("klb|klbs", 1000 * POUND),
            Row("oz|ounce|ounces", POUND / 16),
            Row("short ton|short tons|US ton|US tons", 2000 * POUND),
            Row("long ton|long tons|imp ton|imp tons", 2240 * POUND),
        ),
        (Step(10.0, "kg", 2), Step(100.0, "kg", 1), Step(math.inf, "kg", 0)),
        (Step(4.5, "lb", 2), Step(45.0, "lb", 1), Step(math.inf, "lb", 0)),
        refused={"ton|tons": _TON},
    ),
    kind(
        "volume",
        "a volume",
        "12000 L",
        (
            Row("L|l|litre|litres|liter|liters|dm3", MILLI),
            Row("mL|ml|cm3|cc", MILLI**2),
            Row("m³|cubic metre|cubic metres|cubic meter|cubic meters", 1),
            Row("mm³", MILLI**3),
            Row("US gal|US gals|US gallon|US gallons|USgal|usgal|us gal|U.S. gal", US_GALLON),
            Row(
                "imp gal|imp gals|imp gallon|imp gallons|imperial gallon|imperial gallons|Imp gal|UK gal",
                IMPERIAL_GALLON,
            ),
            Row("ft³|cu ft|cubic foot|cubic feet", FOOT**3),
            Row("in³|cu in|cubic inch|cubic inches", INCH**3),
        ),
        (Step(0.01, "L", 2), Step(0.1, "L", 1), Step(math.inf, "L", 0)),
        (Step(0.038, "US gal", 2), Step(0.38, "US gal", 1), Step(math.inf, "US gal", 0)),
        refused={"gal|gals|gallon|gallons|Gal": _GALLON},
    ),
    kind(
        "area",
        "an area",
        "3.2 m2",
        (
            Row("m²|sq m|square metre|square metres", 1),
            Row("cm²", Fraction(1, 10_000)),
            Row("mm²", MILLI**2),
            Row("ft²|sq ft|square foot|square feet", FOOT**2),
            Row("in²|sq in|square inch|square inches", INCH**2),
        ),
        (Step(1e-3, "mm²", 0), Step(0.1, "cm²", 1), Step(math.inf, "m²", 2)),
        (Step(0.01, "in²", 3), Step(0.1, "in²", 1), Step(math.inf, "ft²", 1)),
    ),
    kind(
        "pressure",
        "a pressure",
        "1.5 bar",
        (
            Row("bar|bar(g)|barg|bar g", 100_000),
            Row("mbar|mbar(g)|mbarg", 100),
            Row("Pa|Pa(g)", 1),
            Row("kPa|kPa(g)|kPag|kPa g", 1000),
            Row("MPa|MPa(g)", 1_000_000),
            Row("psi|psi(g)|psig|psi g", PSI),
            Row("kgf/cm²", 10_000 * STANDARD_GRAVITY),
            Row("mH2O|m H2O|m WC|mWC", WATER_COLUMN),
            Row("inH2O|in H2O|in WC|inWC", WATER_COLUMN * INCH),
            Row("ftH2O|ft H2O|ft WC|ftWC", WATER_COLUMN * FOOT),
        ),
        (Step(10_000.0, "bar", 3), Step(math.inf, "bar", 2)),
        (Step(math.inf, "psi", 1),),
        refused={
            "bar(a)|bara|bar a|bar abs|bar(abs)|mbar(a)|mbara|mbar abs": _ABSOLUTE,
            "psi(a)|psia|psi a|psi abs|psi(abs)": _ABSOLUTE,
            "kPa(a)|kPaa|kPa a|kPa abs|kPa(abs)|MPa(a)|MPa abs|Pa(a)|Pa abs": _ABSOLUTE,
        },
    ),
    kind(
        "angle",
        "an angle",
        "3°",
        (Row("°|deg|degs|degree|degrees", DEGREE), Row("rad|radian|radians", 1), Row("mrad", MILLI)),
        (Step(math.inf, "°", 1),),
        (Step(math.inf, "°", 1),),
    ),
    kind(
        "ratio",
        "a ratio",
        "20 %",
        (Row("%|percent|per cent", Fraction(1, 100)), Row("‰|per mille", MILLI)),
        (Step(math.inf, "%", 1),),
        (Step(math.inf, "%", 1),),
        bare=True,
    ),
    kind(
        "slope",
        "a slope",
        "12 %",
        (
            Row("%|percent|per cent", Fraction(1, 100)),
            Row("‰|per mille|mm/m", MILLI),
            Row("in/ft", Fraction(1, 12)),
            Row("°|deg|degs|degree|degrees", DEGREE, tangent=True),
        ),
        (Step(math.inf, "%", 1),),
        (Step(math.inf, "%", 1),),
    ),
)
