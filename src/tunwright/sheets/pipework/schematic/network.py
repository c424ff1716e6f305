"""The pipework as places and the ways between them, without lengths or sizes, put into layers from left to right.

Places are numbered: first the points, then one for each spray, where its water leaves. A way is a run, the pump, a
relief valve, or what leads from a point to a spray.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tunwright.build.pipework import PipeRun, Pipework, Point, Pump, Relief, Spray

Item = PipeRun | Pump | Relief | Spray
_TURN = {Pump: 0, PipeRun: 1, Spray: 2, Relief: 3}


@dataclass(frozen=True)
class Way:
    """What leads from one place to another.

    item: the run, pump, relief valve or spray
    start: number of the place it comes from
    end: number of the place it leads to
    """

    item: Item
    start: int
    end: int

    @property
    def turn(self) -> int:
        """Which comes first where several leave a place: the pump, runs, sprays, relief valves."""
        return _TURN[type(self.item)]


class Network:
    """Places and ways of a pipework.

    work: the pipework
    """

    def __init__(self, work: Pipework) -> None:
        self.work = work
        self.number = {one.name: i for i, one in enumerate(work.point)}
        self.ways = tuple(self._ways())
        self.count = len(work.point) + len(work.spray)
        self.outlets = {i for i, one in enumerate(work.point) if one.outlet is not None}
        self.mouths = {i for i, one in enumerate(work.point) if one.mouth}
        self.sources = self.outlets | {i for i, one in enumerate(work.point) if one.hydrant or one.open_water}

    def _ways(self) -> Iterator[Way]:
        work = self.work
        pumps = () if work.pump is None else (work.pump,)
        for one in (*pumps, *work.run, *work.relief):
            yield Way(one, self.number[one.start], self.number[one.end])
        for i, spray in enumerate(work.spray):
            yield Way(spray, self.number[spray.on], len(work.point) + i)

    def at(self, place: int) -> Point | Spray:
        """The point or the spray of a place.

        place: its number
        """
        points = self.work.point
        return points[place] if place < len(points) else self.work.spray[place - len(points)]

    def layers(self) -> list[int]:
        """Layer of every place: one more than the last of those it is reached from; mouths of the tank come last."""
        arrows = self._arrows()
        order = _visited(self.count, arrows, self._firsts(arrows))
        rank = {place: i for i, place in enumerate(order)}
        forward = [(a, b) if rank[a] < rank[b] else (b, a) for a, b in arrows]
        layer = [0] * self.count
        for place in order:
            for a, b in forward:
                if a == place:
                    layer[b] = max(layer[b], layer[a] + 1)
        last = max(layer) + 1
        return [-1 if i in self.outlets else last if i in self.mouths else one for i, one in enumerate(layer)]

    def _arrows(self) -> list[tuple[int, int]]:
        """Which way every way leads on the drawing: out of sources, into mouths, else as the build file says."""
        found = []
        for way in sorted(self.ways, key=lambda one: one.turn):
            a, b = way.start, way.end
            into_source = b in self.sources and a not in self.sources
            out_of_mouth = a in self.mouths and b not in self.mouths and b not in self.sources
            found.append((b, a) if into_source or out_of_mouth else (a, b))
        return found

    def _firsts(self, arrows: Sequence[tuple[int, int]]) -> list[int]:
        """Places in the order in which they are begun with: outlets, other sources, what nothing leads to, the rest."""
        reached = {b for _, b in arrows}

        def turn(place: int) -> tuple[bool, bool, bool, int]:
            return (place not in self.outlets, place not in self.sources, place in reached, place)

        return sorted(range(self.count), key=turn)


def _visited(count: int, arrows: Sequence[tuple[int, int]], firsts: Sequence[int]) -> list[int]:
    """Places so that arrows lead forwards, but for those that close a ring: depth first, each after all it leads to,
    the whole then turned round.
    """
    to: list[list[int]] = [[] for _ in range(count)]
    for a, b in arrows:
        to[a].append(b)
    seen: set[int] = set()
    done: list[int] = []

    def visit(place: int) -> None:
        seen.add(place)
        for other in to[place]:
            if other not in seen:
                visit(other)
        done.append(place)

    for place in firsts:
        if place not in seen:
            visit(place)
    return done[::-1]


def neighbours(ways: Sequence[Way], place: int) -> list[int]:
    """Numbers of the ways at a place.

    ways: all ways
    place: its number
    """
    return [i for i, way in enumerate(ways) if place in (way.start, way.end)]
