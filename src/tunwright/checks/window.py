"""The permitted window: where the tank may stand so that every limit holds in every level and grade state."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

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


@dataclass(frozen=True)
class Window:
    """Where the middle of the tank may stand.

    low, high: ends of the window [m]; where it is empty the two limits that cross
    binds_low, binds_high: keys of the limits that bind at the ends, None where nothing binds
    empty: no position works
    never: key of a limit that no position makes hold, None where there is none
    water: volume it was found for [m3]: to the brim, or where that does not work the most that does
    whole: it holds for the whole tank
    """

    low: float
    high: float
    binds_low: str | None
    binds_high: str | None
    empty: bool
    never: str | None
    water: float
    whole: bool


class Placing:
    """Finds the window of a truck.

    truck: the truck
    limits: the limits on its axle loads
    """

    def __init__(self, truck: Truck, limits: Sequence[LoadLimit]) -> None:
        self.truck, self.limits = truck, list(limits)
        self.places: list[PlaceLimit] = place_limits(truck)
        self.middle = float(truck.build.tank.middle)

    def full(self) -> Window:
        """The window for the whole range of states, to the brim."""
        table = self.truck.table.only(np.array([not s.slope and not s.braking for s in self.truck.table.states]))
        return self._window(table, float(self.truck.volumes.gross.sum()), whole=True)

    def most(self) -> Window:
        """The window for the most water that has one; an empty window where not even the empty tank has one."""
        gross, net = float(self.truck.volumes.gross.sum()), float(self.truck.volumes.net.sum())
        low, high = 0.0, gross / net
        best = self._up_to(0.0)
        if best.empty:
            return best
        for _ in range(22):
            middle = 0.5 * (low + high)
            tried = self._up_to(middle)
            low, high, best = (middle, high, tried) if not tried.empty else (low, middle, best)
        return best

    def _up_to(self, fill: float) -> Window:
        """The window for fills up to a fraction of net."""
        table = self.truck.loading.table(self._states(fill))
        return self._window(table, fill * float(self.truck.volumes.net.sum()), whole=False)

    def _states(self, fill: float) -> list[LoadState]:
        """Level and grade states with no more water than a fraction of net."""
        net = self.truck.volumes.net
        fills = np.unique(np.append(np.linspace(0.0, 1.0, GRID)[np.linspace(0.0, 1.0, GRID) < fill], fill))
        standing = even(len(net), fills, brim=False)
        standing += [replace(s, parts=tuple(p * min(fill, 1.0) for p in s.parts)) for s in patterns(net)]
        grade = self.truck.tried.grade
        return [
            replace(s, grade=g, crew=crew, stance=stance)
            for stance in range(len(self.truck.axles.stances))
            for crew in (True, False)
            for g in (0.0, grade, -grade)
            for s in standing
        ]

    def _window(self, table: LoadTable, water: float, *, whole: bool) -> Window:
        """The wider of the windows with and without the higher values that some limits have under a condition."""
        plain = self._interval(table, raised=False)
        both = [plain, self._interval(table, raised=True)] if any(x.raised for x in self.limits) else [plain]
        found, names = max(both, key=lambda pair: (not pair[0].empty, pair[0].high - pair[0].low))
        name = [None if i is None else names[i] for i in (found.below, found.above, found.never)]
        return Window(found.low, found.high, name[0], name[1], found.empty, name[2], water, whole)

    def _interval(self, table: LoadTable, *, raised: bool) -> tuple[Interval, list[str]]:
        rows: list[tuple[Floats, Floats, Floats]] = []
        names: list[str] = []
        for limit in self.limits:
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
        mine = table.only(limit.applies(table))
        if not mine.states:
            return []
        slope = limit.slope(mine)
        start = limit.value(mine) - slope * self.middle
        plain = replace(limit, raised=None)
        bound = plain.limit(mine, track_of(self.truck, limit))
        sign = 1.0 if limit.sense == "at_most" else -1.0
        if limit.raised is None or not raised:
            return [(sign * slope, sign * start, sign * bound)]
        kg, axles, each = limit.raised
        lines = [(slope, start, np.full(len(start), kg))]
        for axle in axles:
            step = mine.per_metre[:, axle]
            lines.append((step, mine.axles[:, axle] - step * self.middle, np.full(len(start), each)))
        return lines
