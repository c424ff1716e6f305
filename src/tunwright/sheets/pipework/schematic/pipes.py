"""Runs, the pump and relief valves on the schematic: their lines and what lies along them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.build.pipework import PipeRun, Point
from tunwright.sheets.drawing import Entity, Group, Line
from tunwright.sheets.pipework.schematic.arranged import Arranged, Room
from tunwright.sheets.pipework.schematic.cells import cells
from tunwright.sheets.pipework.schematic.figures import Figures
from tunwright.sheets.pipework.schematic.places import CARRIES, CUT_OFF
from tunwright.sheets.pipework.schematic.planned import Plan
from tunwright.sheets.pipework.schematic.spot import STROKE, Spot


class Pipes:
    """The ways of a schematic.

    plan: columns and rows
    figures: how the pipework stands, in figures
    """

    def __init__(self, plan: Plan, figures: Figures) -> None:
        self.plan, self.figures, self.standing = plan, figures, figures.standing
        self.ways = plan.network.ways
        self.cells = [cells(way.item, figures) for way in self.ways]

    def way(self, number: int) -> int:
        """Which way a way leads on the drawing: 1 to the right, -1 to the left.

        number: its number
        """
        return -1 if self.plan.mirrored(number) else 1

    def rooms(self) -> list[list[Room]]:
        """The room of what lies along each way, from left to right."""
        return [[one.room(self.way(i)) for one in own][:: self.way(i)] for i, own in enumerate(self.cells)]

    def drawn(self, number: int, where: Arranged) -> Iterator[Entity]:
        """The line of a way and what lies along it.

        number: its number
        where: where everything stands
        """
        way, item, own = self.way(number), self.ways[number].item, self.cells[number]
        y = where.y[self.plan.rows.of_way[number]]
        middles = where.along[number][::way]
        parts = [one.drawn(Spot((x, y), way)) for one, x in zip(own, middles, strict=True)]
        lines = tuple(self._lines(number, where, middles, y))
        if isinstance(item, PipeRun):
            *parts, words = parts
            yield Group("run", (*lines, *words.entities), {"name": item.name, "state": self._state(number)})
        else:
            yield from lines
        yield from parts

    def _state(self, number: int) -> str:
        if self.standing.flow(self.ways[number].item):
            return "flows"
        start, end = self._reached(number)
        return "still" if start or end else "cut-off"

    def _reached(self, number: int) -> tuple[bool, bool]:
        """Whether water reaches the start and the end of a way."""
        network, way = self.plan.network, self.ways[number]
        ends = (network.at(way.start), network.at(way.end))
        start, end = (isinstance(one, Point) and self.standing.reaches(one.name) for one in ends)
        return start, end

    def _lines(self, number: int, where: Arranged, middles: Sequence[float], y: float) -> Iterator[Line]:
        """The pieces of pipe between what lies along a way, from its start on."""
        way, own = self.way(number), self.cells[number]
        at, passed = where.x[self.ways[number].start], 0
        for one, x in zip(own, middles, strict=True):
            if one.group != "run":
                yield Line((at, y), (x - way * one.before, y), self._layer(number, passed))
                at, passed = x + way * one.behind, passed + one.stops
        yield Line((at, y), (where.x[self.ways[number].end], y), self._layer(number, passed))

    def _layer(self, number: int, passed: int) -> str:
        """How a piece of pipe is drawn that lies behind so many shut valves."""
        if self.standing.flow(self.ways[number].item):
            return CARRIES
        if self.standing.duty is None:
            return STROKE
        start, end = self._reached(number)
        shut = sum(one.stops for one in self.cells[number])
        wet = (start and passed == 0) or (end and passed == shut)
        return STROKE if wet else CUT_OFF
