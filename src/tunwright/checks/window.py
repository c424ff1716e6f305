"""The permitted window: where the tank may stand so that every limit holds in every level and grade state."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.load_findings import track_of
from tunwright.checks.load_limit import LoadLimit
from tunwright.checks.space import PlaceLimit, place_limits
from tunwright.handbook.linear_window import Interval, interval
from tunwright.truck.loads import LoadTable
from tunwright.truck.states import LoadState, even, patterns
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
GRID = 21
Filled = Literal["brim", "net", "most"]


@dataclass(frozen=True)
class Window:
    """Where the middle of the tank may stand.

    low, high: ends of the window [m]; where it is empty the two limits that cross
    binds_low, binds_high: keys of the limits that bind at the ends, None where nothing binds
    empty: no position works
    never: key of a limit that no position makes hold, None where there is none
    water: volume it was found for [m3]
    filled: to the brim; to net, where the brim has no position; or to the most water that has one
    """

    low: float
    high: float
    binds_low: str | None
    binds_high: str | None
    empty: bool
    never: str | None
    water: float
    filled: Filled


class Placing:
    """Finds the window of a truck.

    truck: the truck
    limits: the limits on its axle loads
    """

    def __init__(self, truck: Truck, limits: Sequence[LoadLimit]) -> None:
        self.truck, self.limits = truck, list(limits)
        self.places: list[PlaceLimit] = place_limits(truck)
        self.middle = float(truck.build.tank.middle)
        self._sweep = truck.sweep
        self._seen: dict[float, Window] = {}

    def full(self) -> Window:
        """The window for the whole range of states, to the brim."""
        table = self.truck.table.only(np.array([not s.slope and not s.braking for s in self.truck.table.states]))
        return self._window((table,), float(self.truck.volumes.gross.sum()), "brim")

    def best(self) -> Window:
        """The window to the brim; where that is empty the one to net; where that is empty too, the most water's."""
        full = self.full()
        if not full.empty:
            return full
        net = self._up_to(1.0)
        return self.most() if net.empty else replace(net, filled="net")

    def most(self) -> Window:
        """The window for the most water that has one; an empty window where not even the empty tank has one."""
        net = float(self.truck.volumes.net.sum())
        steps = np.append(np.linspace(0.0, 1.0, GRID), float(self.truck.volumes.gross.sum()) / net)
        found = self._up_to(0.0)
        if found.empty:
            return found
        open_at, shut_at = 0, len(steps) - 1
        while shut_at - open_at > 1:
            middle = (open_at + shut_at) // 2
            shut = self._up_to(float(steps[middle])).empty
            open_at, shut_at = (open_at, middle) if shut else (middle, shut_at)
        return self._last_open(float(steps[open_at]), float(steps[shut_at]))

    def up_to(self, water: float) -> tuple[float, float]:
        """Ends of the window for filling up to a volume [m].

        water: the volume [m3]
        """
        found = self._up_to(water / float(self.truck.volumes.net.sum()))
        return found.low, found.high

    def _last_open(self, low: float, high: float) -> Window:
        """The window of the largest fill between one that has a window and one that has none (secants, kept inside)."""
        best, shut = self._up_to(low), self._up_to(high)
        for _ in range(40):
            if high - low < 1e-6:
                break
            wide, gone = best.high - best.low, shut.low - shut.high
            part = wide / (wide + gone) if shut.never is None and np.isfinite(wide + gone) and wide + gone > 0 else 0.5
            middle = low + min(max(part, 0.02), 0.98) * (high - low)
            tried = self._up_to(middle)
            low, high, best, shut = (low, middle, best, tried) if tried.empty else (middle, high, tried, shut)
        return best

    def _up_to(self, fill: float) -> Window:
        """The window for fills up to a fraction of net."""
        if fill not in self._seen:
            below = self._sweep.only(np.array([not s.brim and s.fill < fill for s in self._sweep.states], dtype=bool))
            top = self.truck.loading.table(self._top_states(fill))
            self._seen[fill] = self._window((below, top), fill * float(self.truck.volumes.net.sum()), "most")
        return self._seen[fill]

    def _top_states(self, fill: float) -> list[LoadState]:
        """Level and grade states with the fullest compartments at a fraction of net."""
        net, grade = self.truck.volumes.net, self.truck.tried.grade
        standing = even(len(net), [fill], brim=False)
        standing += [replace(s, parts=tuple(p * min(fill, 1.0) for p in s.parts)) for s in patterns(net)]
        return [
            replace(s, grade=g, crew=crew, stance=number, lifted=bool(stance.lifted))
            for number, stance in enumerate(self.truck.axles.stances)
            if not (stance.lifted and fill)
            for crew in (True, False)
            for g in (0.0, grade, -grade)
            for s in standing
        ]

    def _window(self, tables: Sequence[LoadTable], water: float, filled: Filled) -> Window:
        """The wider of the windows with and without the higher values that some limits have under a condition."""
        ways = (False, True) if any(limit.raised for limit in self.limits) else (False,)
        both = [self._interval(tables, raised=raised) for raised in ways]
        found, names = max(both, key=lambda pair: (not pair[0].empty, pair[0].high - pair[0].low))
        name = [None if i is None else names[i] for i in (found.below, found.above, found.never)]
        return Window(found.low, found.high, name[0], name[1], found.empty, name[2], water, filled)

    def _interval(self, tables: Sequence[LoadTable], *, raised: bool) -> tuple[Interval, list[str]]:
        rows: list[tuple[Floats, Floats, Floats]] = []
        names: list[str] = []
        for limit, table in product(self.limits, tables):
            for slope, start, bound in self._lines(limit, table, raised=raised):
                known = np.isfinite(slope) & np.isfinite(start) & np.isfinite(bound)
                rows.append((slope[known], start[known], bound[known]))
                names.extend([limit.key] * int(known.sum()))
        for place in self.places:
            rows.append((np.array([place.slope]), np.array([place.start]), np.array([place.limit])))
            names.append(place.key)
        slope, start, bound = (np.concatenate(column) for column in zip(*rows, strict=True))
        return interval(slope=slope, start=start, limit=bound), names

    def _lines(self, limit: LoadLimit, table: LoadTable, *, raised: bool) -> list[tuple[Floats, Floats, Floats]]:
        """The limit as straight lines start + slope x <= bound, x the place of the tank's middle."""
        _, mine = limit.part(table)
        if not mine.states:
            return []
        slope = limit.slope(mine)
        start = limit.value(mine) - slope * self.middle
        bound = limit.plain(mine, track_of(self.truck, limit))
        sign = 1.0 if limit.sense == "at_most" else -1.0
        if limit.raised is None or not raised:
            return [(sign * slope, sign * start, sign * bound)]
        kg, axles, each = limit.raised
        lines = [(slope, start, np.full(len(start), kg))]
        for axle in axles:
            step = mine.per_metre[:, axle]
            lines.append((step, mine.axles[:, axle] - step * self.middle, np.full(len(start), each)))
        return lines
