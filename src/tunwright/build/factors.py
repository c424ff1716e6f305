"""Conversion factors that are exact by definition, as fractions, so that a reading is rounded once only.

All from memory, and held against an independent units library in the law tests: inch 0.0254 m and pound 0.45359237 kg
(international yard and pound agreement, 1959); US gallon 231 cubic inches; imperial gallon 4.54609 L (Weights and
Measures Act 1985, United Kingdom); standard gravity 9.80665 m/s2 (3rd General Conference on Weights and Measures,
1901). A column of water counts 1000 kg/m3 (common practice, no source).
"""

from __future__ import annotations

import math
from fractions import Fraction

MILLI = Fraction(1, 1000)
INCH = Fraction("0.0254")
FOOT = 12 * INCH
POUND = Fraction("0.45359237")
US_GALLON = 231 * INCH**3
IMPERIAL_GALLON = Fraction("0.00454609")
STANDARD_GRAVITY = Fraction("9.80665")
POUND_FORCE = POUND * STANDARD_GRAVITY
PSI = POUND_FORCE / INCH**2
WATER_COLUMN = 1000 * STANDARD_GRAVITY  # pascals in one metre of water
DEGREE = Fraction(math.pi) / 180
TURN = 2 * Fraction(math.pi)

# What the trade counts in one unit of ours, for print.
LITRES_A_MINUTE = 60_000.0  # in one m3/s
TURNS_A_MINUTE = 30.0 / math.pi  # in one rad/s
BAR = 1e5  # pascals in one bar
