"""The interval of one variable in which a set of straight-line limits all hold."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

Name = TypeVar("Name")


@dataclass(frozen=True)
class Limit(Generic[Name]):
    """slope x + start <= limit.

    name: what the limit is
    slope: change of the value with the variable
    start: value where the variable is 0
    limit: what the value must not exceed
    """

    name: Name
    slope: float
    start: float
    limit: float


@dataclass(frozen=True)
class Window(Generic[Name]):
    """Where all limits hold: low <= x <= high; empty where low > high or a limit fails everywhere.

    below: the limit that binds at the lower end, None where nothing does
    above: the limit that binds at the upper end, None where nothing does
    never: a limit that fails at every x, None where there is none
    """

    low: float
    high: float
    below: Limit[Name] | None
    above: Limit[Name] | None
    never: Limit[Name] | None

    @property
    def empty(self) -> bool:
        """Whether no x satisfies all limits."""
        return self.never is not None or self.low > self.high


def window(limits: Sequence[Limit[Name]], *, tolerance: float = 1e-9) -> Window[Name]:
    """Intersect half-lines.

    limits: the limits
    tolerance: how far a constant value may exceed its limit, as a share of it [-]
    """
    low, high = -math.inf, math.inf
    below: Limit[Name] | None = None
    above: Limit[Name] | None = None
    never: Limit[Name] | None = None
    for item in limits:
        room = item.limit - item.start
        if abs(item.slope) < 1e-12:
            if room < -tolerance * max(1.0, abs(item.limit)) and never is None:
                never = item
        elif item.slope > 0 and room / item.slope < high:
            high, above = room / item.slope, item
        elif item.slope < 0 and room / item.slope > low:
            low, below = room / item.slope, item
    return Window(low, high, below, above, never)
