"""Where a symbol stands on the paper, and its strokes. One unit is one millimetre of paper."""

from __future__ import annotations

import math
from dataclasses import dataclass

from tunwright.sheets.drawing import Arc, Circle, Entity, Line, Point, Polyline

Entities = tuple[Entity, ...]
STROKE = "steel"  # a symbol's lines: 0.25 mm
_DASH, _GAP = 1.2, 0.8


@dataclass(frozen=True)
class Spot:
    """A place with a symbol's own axes: x along the pipe, y up.

    at: its middle on the paper [mm]
    way: 1 where the pipe leads to the right, -1 where it leads to the left
    """

    at: Point
    way: int = 1

    def to(self, x: float, y: float) -> Point:
        """A point of the symbol on the paper.

        x: along the pipe [mm]
        y: up [mm]
        """
        return (self.at[0] + self.way * x, self.at[1] + y)

    def path(self, *points: Point, layer: str = STROKE, closed: bool = False, fill: str | None = None) -> Polyline:
        """A line through points of the symbol.

        points: the points [mm]
        layer: its layer
        closed: joins the last point with the first
        fill: what fills it
        """
        return Polyline(tuple(self.to(*one) for one in points), layer, closed=closed, fill=fill)

    def box(self, half: float, low: float, high: float, fill: str | None = "sheet") -> Polyline:
        """A rectangle about the y axis.

        half: half its width [mm]
        low: its lower edge [mm]
        high: its upper edge [mm]
        fill: what fills it
        """
        return self.path((-half, low), (half, low), (half, high), (-half, high), closed=True, fill=fill)

    def ring(self, x: float, y: float, radius: float, fill: str | None = "sheet") -> Circle:
        """A circle.

        x: its centre along the pipe [mm]
        y: its centre up [mm]
        radius: [mm]
        fill: what fills it
        """
        return Circle(self.to(x, y), radius, STROKE, fill)

    def dome(self, x: float, y: float, radius: float) -> Arc:
        """The upper half of a circle.

        x: its centre along the pipe [mm]
        y: its centre up [mm]
        radius: [mm]
        """
        return Arc(self.to(x, y), radius, 0.0, math.pi, STROKE)

    def dashes(self, start: Point, end: Point) -> tuple[Line, ...]:
        """A dashed line whose dashes fit the length.

        start: one end [mm]
        end: the other [mm]
        """
        length = math.dist(start, end)
        count = max(2, round((length + _GAP) / (_DASH + _GAP)))
        step, dash = (length + _GAP) / count, (length + _GAP) / count - _GAP

        def along(far: float) -> Point:
            part = far / length
            return self.to(start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1]))

        return tuple(Line(along(i * step), along(i * step + dash), STROKE) for i in range(count))
