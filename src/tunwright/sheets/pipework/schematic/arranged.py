"""Where everything of the schematic stands, in millimetres of paper.

Columns stand as far left as what lies between them allows, rows as high as their words do. A way that passes the header
of another point keeps what lies along it to one side of that crossing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tunwright.sheets.pipework.schematic.planned import Plan
from tunwright.sheets.pipework.schematic.rows import TANK_ROW

CLEAR = 2.0
"""Room between things that do not belong together [mm]."""
_COLUMN, _END = 7.0, 3.0  # between two columns; from a header to the first thing along a way
_ROW_GAP, _LEAST_UP, _LEAST_DOWN = 2.0, 3.0, 3.0


@dataclass(frozen=True)
class Room:
    """The room something takes about its middle [mm].

    left, right, up, down: how far it reaches
    """

    left: float = 0.0
    right: float = 0.0
    up: float = 0.0
    down: float = 0.0

    @property
    def width(self) -> float:
        """From left to right [mm]."""
        return self.left + self.right


@dataclass(frozen=True)
class Rooms:
    """The room that all parts of a network take.

    along: what lies along each way, from left to right on the drawing
    head: at each place, in its first row; of an outlet of the tank, under the tank
    foot: at each place, in its last row
    """

    along: Sequence[Sequence[Room]]
    head: Sequence[Room]
    foot: Sequence[Room]


@dataclass(frozen=True)
class Arranged:
    """Where everything stands [mm].

    plan: columns and rows
    x: of every place
    y: of every row; the tank stands on 0
    along: of what lies along each way, from left to right
    low: lower edge of the last row
    """

    plan: Plan
    x: tuple[float, ...]
    y: tuple[float, ...]
    along: tuple[tuple[float, ...], ...]
    low: float


def arranged(plan: Plan, rooms: Rooms, *, least: float = 0.0) -> Arranged:
    """Where everything stands.

    plan: columns and rows
    rooms: the room of all parts
    least: room the tank needs from its first outlet to its first mouth [mm]
    """
    return _Arranging(plan, rooms, least).done()


class _Arranging:
    def __init__(self, plan: Plan, rooms: Rooms, least: float) -> None:
        self.plan, self.rooms, self.rows, self.least = plan, rooms, plan.rows, least
        self.ways = range(len(plan.network.ways))

    def done(self) -> Arranged:
        """Everything in its place."""
        needs = [*self._between(), *self._beside(), *self._over_all()]
        x = self._columns(needs)
        gaps = [self._widest(way, x) for way in self.ways]
        needs += [(a, b, self._needed(way, a, b)) for way, (a, b) in zip(self.ways, gaps, strict=True)]
        x = self._columns(needs)
        y, low = self._levels()
        along = tuple(self._placed(way, gaps[way][0], x) for way in self.ways)
        return Arranged(self.plan, tuple(x[one] for one in self.plan.column), y, along, low)

    # from column to column

    def _columns(self, needs: Sequence[tuple[int, int, float]]) -> list[float]:
        """Columns as far left as they can stand: each need keeps its second place so far right of its first."""
        column = self.plan.column
        count = max(column) + 1
        pairs = [(column[a], column[b], need) for a, b, need in needs]
        pairs += [(i, i + 1, _COLUMN) for i in range(count - 1)]
        x = [0.0] * count
        for a, b, need in sorted(pairs):
            x[b] = max(x[b], x[a] + need)
        return x

    def _between(self) -> Iterator[tuple[int, int, float]]:
        """Room for what lies along each way."""
        for way in self.ways:
            a, b = self.plan.ends(way)
            yield (a, b, self._needed(way, a, b))

    def _needed(self, way: int, a: int, b: int) -> float:
        """Room from place to place for what lies along a way between them."""
        ends = self.plan.ends(way)
        row, parts = self.rows.of_way[way], self.rooms.along[way]
        left = self._reach(a, row).right if a == ends[0] else CLEAR
        right = self._reach(b, row).left if b == ends[1] else CLEAR
        return max(left, _END) + sum(one.width + CLEAR for one in parts) - CLEAR + max(right, _END)

    def _reach(self, place: int, row: int) -> Room:
        """Room a place takes in a row."""
        head = self.rooms.head[place] if self._head_row(place) == row else Room()
        foot = self.rooms.foot[place] if self.rows.last[place] == row else Room()
        return Room(max(head.left, foot.left), max(head.right, foot.right))

    def _head_row(self, place: int) -> int:
        return TANK_ROW if place in self.plan.network.outlets else self.rows.own[place]

    def _beside(self) -> Iterator[tuple[int, int, float]]:
        """Room between what stands at a place and the headers that pass beside it."""
        column = self.plan.column
        for place in range(self.plan.network.count):
            for row in {self._head_row(place), self.rows.last[place]}:
                own = self._reach(place, row)
                for other in self.plan.covering(row):
                    its = self._reach(other, row)
                    if column[other] > column[place]:
                        yield (place, other, own.right + its.left + CLEAR)
                    elif column[other] < column[place]:
                        yield (other, place, its.right + own.left + CLEAR)

    def _over_all(self) -> Iterator[tuple[int, int, float]]:
        """Room for the tank between its first outlet and its first mouth."""
        column = self.plan.column
        first = min(range(len(column)), key=lambda i: column[i])
        mouths = sorted(self.plan.network.mouths, key=lambda i: column[i])
        if mouths and mouths[0] != first:
            yield (first, mouths[0], self.least)

    def _widest(self, way: int, x: Sequence[float]) -> tuple[int, int]:
        """The two places between which a way has most room: its ends, or headers it crosses."""
        column = self.plan.column
        left, right = self.plan.ends(way)
        crossed = [
            one for one in self.plan.covering(self.rows.of_way[way]) if column[left] < column[one] < column[right]
        ]
        stops = [left, *sorted(crossed, key=lambda one: column[one]), right]
        spare = [
            (x[column[b]] - x[column[a]] - self._needed(way, a, b), -i) for i, (a, b) in enumerate(pairwise(stops))
        ]
        best = -max(spare)[1]
        return stops[best], stops[best + 1]

    def _placed(self, way: int, after: int, x: Sequence[float]) -> tuple[float, ...]:
        """Middles of what lies along a way, from the place it begins after."""
        start = self._reach(after, self.rows.of_way[way]).right if after == self.plan.ends(way)[0] else CLEAR
        at, found = x[self.plan.column[after]] + max(start, _END), []
        for one in self.rooms.along[way]:
            found.append(at + one.left)
            at += one.width + CLEAR
        return tuple(found)

    # from row to row

    def _levels(self) -> tuple[tuple[float, ...], float]:
        """Height of every row, and the lower edge of the last."""
        up, down = [_LEAST_UP] * self.rows.count, [_LEAST_DOWN] * self.rows.count
        for way in self.ways:
            row = self.rows.of_way[way]
            up[row] = max([up[row], *(one.up for one in self.rooms.along[way])])
            down[row] = max([down[row], *(one.down for one in self.rooms.along[way])])
        at = -_LEAST_UP
        for place, head in enumerate(self.rooms.head):
            row, last = self._head_row(place), self.rows.last[place]
            if row == TANK_ROW:
                at = min(at, -head.up - head.down)
            else:
                up[row], down[row] = max(up[row], head.up), max(down[row], head.down)
            if last > TANK_ROW:
                down[last] = max(down[last], self.rooms.foot[place].down)
        levels = []
        for high, low in zip(up, down, strict=True):
            levels.append(at - _ROW_GAP - high)
            at = levels[-1] - low
        return tuple(levels), at
