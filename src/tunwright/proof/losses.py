"""The tank's content against the meter: fillings, and water that left without passing the meter.

The level at the dip point gives the water in the tank. What the tank lost between its fillings and the meter did not
count has left another way, by a leak, a drain, a branch before the meter, or the meter reads wrong.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.proof.delivered import Delivered
from tunwright.proof.log import Flags, Floats
from tunwright.proof.series import rises, shortest, smooth, stretches
from tunwright.tables.read import shop_value

Content = Callable[[Floats], Floats]
"""Levels over the floor at the dip point [m] to water in the tank [m3]."""

_MOST_OF = 0.8  # of a loss, that its interval holds
_CALM = 0.005  # of a loss, that the jitter of the levels is smoothed down to
_TINY = 1e-9
_ABOVE = 99.0  # a level above any roof [m]
_LEAST = 10  # rows that show how the water jitters
_NORMAL = 1.4826  # standard deviation over median deviation of a normal distribution


@dataclass(frozen=True)
class Filling:
    """A rise of the level.

    start, end: since the first row [s]
    volume: water that came in, with what the meter counted meanwhile [m3]
    """

    start: float
    end: float
    volume: float


@dataclass(frozen=True)
class Worst:
    """Where most of a loss lies.

    start, end: since the first row [s]
    volume: lost in it [m3]
    """

    start: float
    end: float
    volume: float


@dataclass(frozen=True, eq=False)
class Balance:
    """The tank against the meter.

    delivered: water through the meter
    content: water in the tank for a level
    net: volume of the tank to its overflow lip [m3]
    meter: how far the meter may be off [-]
    """

    delivered: Delivered
    content: Content
    net: float
    meter: float

    @cached_property
    def rows(self) -> NDArray[np.intp]:
        """Rows in which the level is known, without those that stand alone."""
        known = np.flatnonzero(np.isfinite(self.delivered.log.level))
        return known[~self._stray(self.content(self.delivered.log.level[known]))]

    @property
    def alone(self) -> int:
        """Levels left out: each far off between two that agree."""
        return int(np.isfinite(self.delivered.log.level).sum()) - len(self.rows)

    def _stray(self, water: Floats) -> Flags:
        """Which readings lie further off than waves go, while those before and behind agree."""
        flags, far = np.zeros(len(water), dtype=bool), shop_value("log_filling") * self.net
        if len(water) > 2:
            before, behind = water[:-2], water[2:]
            off = np.abs(water[1:-1] - 0.5 * (before + behind))
            flags[1:-1] = (off > far) & (np.abs(behind - before) < 0.25 * off)
        return flags

    @cached_property
    def time(self) -> Floats:
        """Times of these rows [s]."""
        return self.delivered.log.time[self.rows]

    @cached_property
    def water(self) -> Floats:
        """Water in the tank in these rows [m3]."""
        return self.content(self.delivered.log.level[self.rows])

    @cached_property
    def off(self) -> Floats:
        """How far the water in the tank may be off in these rows for what the level may be off [m3]."""
        level, by = self.delivered.log.level[self.rows], shop_value("log_level")
        made: Floats = 0.5 * (self.content(level + by) - self.content(np.maximum(level - by, 0.0)))
        return made

    @cached_property
    def waves(self) -> float:
        """Standard deviation of the water read, as it jitters from row to row [m3]."""
        if len(self.water) < _LEAST:
            return 0.0
        return _NORMAL * float(np.median(np.abs(np.diff(self.water, 2)))) / math.sqrt(6.0)

    @cached_property
    def rises(self) -> tuple[tuple[int, int], ...]:
        """Fillings, first and last of these rows: from a low to the next high, further up than waves go."""
        return tuple(rises(self.water, shop_value("log_filling") * self.net))

    @cached_property
    def filling(self) -> Flags:
        """Steps between these rows that belong to a filling."""
        flags = np.zeros(max(len(self.rows) - 1, 0), dtype=bool)
        for low, high in self.rises:
            flags[low:high] = True
        return flags

    @cached_property
    def gaps(self) -> Flags:
        """Steps between these rows in which nobody looked at the meter for a while."""
        if self.delivered.log.counted is not None:  # pulses are counted over gaps too
            return np.zeros(max(len(self.rows) - 1, 0), dtype=bool)
        many = np.concatenate([[0], np.cumsum(self.delivered.log.gaps)])[self.rows]
        return np.asarray(np.diff(many) > 0, dtype=bool)

    @cached_property
    def metered(self) -> Floats:
        """Water the meter counted in each step between these rows [m3]."""
        counted = self.delivered.log.counted
        so_far = self.delivered.so_far if counted is None else np.concatenate([[0.0], np.cumsum(counted[1:])])
        return np.diff(so_far[self.rows])

    @cached_property
    def fillings(self) -> tuple[Filling, ...]:
        """The fillings."""
        found = []
        for low, high in self.rises:
            came = float(self.water[high] - self.water[low] + self.metered[low:high].sum())
            found.append(Filling(float(self.time[low]), float(self.time[high]), came))
        return tuple(found)

    @cached_property
    def _counts(self) -> Flags:
        return ~self.filling & ~self.gaps

    @cached_property
    def fell(self) -> float:
        """Water the tank lost outside fillings and gaps [m3]."""
        return -float(np.diff(self.water)[self._counts].sum())

    @cached_property
    def passed(self) -> float:
        """Water the meter counted meanwhile [m3]."""
        return float(self.metered[self._counts].sum())

    @cached_property
    def fell_in_gaps(self) -> float:
        """Water the tank lost in gaps, outside fillings [m3]."""
        return -float(np.diff(self.water)[self.gaps & ~self.filling].sum())

    @property
    def lost(self) -> float:
        """Water that left the tank and did not pass the meter [m3]; negative where the meter counted more."""
        return self.fell - self.passed

    @cached_property
    def uncertain(self) -> float:
        """How far `lost` may be off [m3]: the levels at both ends of every stretch, waves among them, and the meter."""
        ends = np.array(stretches(self._counts), dtype=int).ravel()
        levels = float((self.off[np.minimum(ends, len(self.rows) - 1)] ** 2 + (2.0 * self.waves) ** 2).sum())
        return math.sqrt(levels + (self.meter * self.passed) ** 2)

    @property
    def found(self) -> bool:
        """Whether the difference is more than levels and meter explain."""
        return abs(self.lost) > self.uncertain

    @cached_property
    def missing(self) -> Floats:
        """Water that has gone missing up to each of these rows [m3]."""
        steps = np.where(self._counts, -np.diff(self.water) - self.metered, 0.0)
        return np.concatenate([[0.0], np.cumsum(steps)])

    @cached_property
    def worst(self) -> Worst | None:
        """The shortest time that holds four fifths of the greatest loss; None where none is found."""
        if not self.found or self.lost <= 0.0:
            return None
        gone = smooth(self.missing, self.waves / (_CALM * self.lost))
        low = np.minimum.accumulate(gone)
        end = int(np.argmax(gone - low))
        start = int(np.argmin(gone[: end + 1]))
        first, last = shortest(gone[start : end + 1], _MOST_OF * float(gone[end] - gone[start]))
        a, b = start + first, start + last
        return Worst(float(self.time[a]), float(self.time[b]), float(gone[b] - gone[a]))

    @cached_property
    def while_still(self) -> float:
        """Of what is missing, what left while the meter counted nothing [m3]."""
        steps = np.diff(self.missing)
        return float(steps[self.metered <= _TINY].sum())

    @property
    def too_high(self) -> int:
        """Rows whose level is above the roof of the tank, beyond what a level may be off."""
        lower = self.content(self.delivered.log.level[self.rows] - shop_value("log_level"))
        return int((lower >= self.content(np.array([_ABOVE])) - _TINY).sum())
