"""The interval of one variable in which a set of straight-line limits all hold."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Interval:
    """Where all limits hold: low <= x <= high.

    low: lower end, minus infinity where nothing binds
    high: upper end, infinity where nothing binds
    below: index of the limit that binds at the lower end, None where nothing does
    above: index of the limit that binds at the upper end, None where nothing does
    never: index of a limit that holds at no x, None where there is none
    """

    low: float
    high: float
    below: int | None
    above: int | None
    never: int | None

    @property
    def empty(self) -> bool:
        """Whether no x satisfies all limits."""
        return self.never is not None or self.low > self.high


def interval(*, slope: Floats, start: Floats, limit: Floats, slack: float = 1e-9) -> Interval:
    """Intersect the half-lines start + slope x <= limit.

    slope: change of each value with x [-], (n,)
    start: each value at x = 0 [-], (n,)
    limit: what each value must not exceed [-], (n,)
    slack: how far a value that does not change with x may exceed its limit, as a share of the limit [-]
    """
    flat = np.abs(slope) < 1e-9
    room = limit - start
    over = np.where(flat, -room - slack * np.maximum(1.0, np.abs(limit)), -math.inf)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = room / slope
    highs = np.where(~flat & (slope > 0), at, math.inf)
    lows = np.where(~flat & (slope < 0), at, -math.inf)
    high, low, worst = (int(pick) for pick in (np.argmin(highs), np.argmax(lows), np.argmax(over)))
    return Interval(
        low=float(lows[low]),
        high=float(highs[high]),
        below=low if math.isfinite(lows[low]) else None,
        above=high if math.isfinite(highs[high]) else None,
        never=worst if over[worst] > 0 else None,
    )
