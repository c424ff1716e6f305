"""The United States federal bridge formula. Pounds and feet, as the law is written."""

from __future__ import annotations

import math
from fractions import Fraction

GROSS_LB = 80_000
TANDEM_LB = 34_000
TWO_AXLES_LB = 40_000
TWO_TANDEMS_LB = 68_000
TANDEM_FT = 8.0
TWO_TANDEMS_FT = 36.0
_HAIR_FT = 1e-4  # a distance converted from metres may miss a round number of feet by this


def bridge_limit_lb(*, spread_ft: float, axles: int, two_tandems: bool = False) -> int:
    """Greatest mass a group of consecutive axles may carry, as the federal table has it [lb].

    W = 500 (L N / (N - 1) + 12 N + 36), rounded to the nearest 500 lb, exact halves down; two axles carry 40 000 lb at
    most, any group 80 000 lb at most. L is the distance rounded to the nearest foot, half a foot upwards. Up to 8 ft
    (96 in, not rounded) the group is a tandem: 34 000 lb; above that the row of 8 ft follows the formula.

    spread_ft: distance between the outermost axles of the group [ft], above 0
    axles: number of axles in the group, 2 or more [-]
    two_tandems: the group is two consecutive tandems, which may carry 34 000 lb each from 36 ft on (not rounded)
    ValueError: spread or number of axles out of range

    Source: 23 USC 127, 23 CFR 658.17 (e). The formula was read; halves down, the rounding of L, the cap of two axles
    and the row of 8 ft are from memory.
    """
    if axles < 2 or axles != int(axles):
        raise ValueError(f"A bridge group has two or more axles, a whole number; {axles} was given, for example 3.")
    if not 0 < spread_ft < math.inf:
        raise ValueError(f"The axle distance must be above 0 ft; {spread_ft} ft was given, for example 20.0.")
    if spread_ft <= TANDEM_FT + _HAIR_FT:
        return TANDEM_LB
    limit = _formula_lb(math.floor(spread_ft + 0.5 + _HAIR_FT), axles)
    if axles == 2:
        return min(limit, TWO_AXLES_LB)
    if two_tandems and axles == 4 and spread_ft >= TWO_TANDEMS_FT - _HAIR_FT:
        limit = max(limit, TWO_TANDEMS_LB)
    return min(limit, GROSS_LB)


def _formula_lb(feet: int, axles: int) -> int:
    """The formula in whole feet, rounded to 500 lb, halves down; in fractions, since floats would lose the halves."""
    steps = Fraction(feet * axles, axles - 1) + 12 * axles + 36
    return 500 * math.ceil(steps - Fraction(1, 2))
