"""The tank as seen from the side, from above and from behind, in the tank's own frame and on the vehicle."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.heads import Head
from tunwright.handbook.outline import polygon
from tunwright.sheets.drawing import Point
from tunwright.truck.parts import grown
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
_MERIDIAN = 14  # points on each piece of a head


class TankShape:
    """Contours of a tank. Inside contours are closed polygons (n, 2), anticlockwise."""

    def __init__(self, truck: Truck) -> None:
        self.truck, self.solid, self.frame = truck, truck.solid, truck.frame
        self.tank = truck.build.tank
        self.length, self.shell = float(self.tank.length), float(self.tank.shell)

    @cached_property
    def side(self) -> Floats:
        """Inside contour from the side, columns x and z in the tank's frame [m]."""
        ends = [(x, self.lowest(x), self.solid.height, self.solid.middle_of_section(x)[1]) for x in (0.0, self.length)]
        return self._contour(ends)

    @cached_property
    def plan(self) -> Floats:
        """Inside contour from above, columns x and y in the tank's frame [m]."""
        outline = self.solid.outline
        ends = [(x, outline.left, outline.right, self.solid.middle_of_section(x)[0]) for x in (0.0, self.length)]
        return self._contour(ends)

    def lowest(self, x: float) -> float:
        """Height of the lowest line of the floor at x, in the tank's frame [m]."""
        return self.solid.seat * (1.0 - self.solid.stretch(self.solid.growth, x))

    def _contour(self, ends: list[tuple[float, float, float, float]]) -> Floats:
        """Both heads and what joins them; each end is (x, low, high, middle) at its tangent line."""
        front = _head(self.solid.front, -1.0, *ends[0])
        rear = _head(self.solid.rear, 1.0, *ends[1])
        points = np.vstack([front[0][::-1], rear[0], rear[1][::-1], front[1]])
        return polygon(points).points

    def outer(self, inside: Floats) -> Floats:
        """An inside contour set out by the thickness of the shell."""
        return grown(polygon(inside), self.shell)

    def side_on_vehicle(self, points: Floats) -> Floats:
        """Columns x and z of the tank's frame as columns x and z of the vehicle [m]."""
        three = np.column_stack([points[:, 0], np.zeros(len(points)), points[:, 1]])
        return self.frame.point(three)[:, [0, 2]]

    def side_point(self, x: float, z: float) -> Point:
        """A point of the tank's frame on the side view."""
        u, v = self.side_on_vehicle(np.array([[x, z]]))[0].tolist()
        return (u, v)

    def plan_on_vehicle(self, points: Floats) -> Floats:
        """Columns x and y of the tank's frame, at half its height, as columns x and y of the vehicle [m]."""
        three = np.column_stack([points, np.full(len(points), self.solid.seat)])
        return self.frame.point(three)[:, :2]

    def plan_point(self, x: float, y: float) -> Point:
        """A point of the tank's frame on the plan."""
        u, v = self.plan_on_vehicle(np.array([[x, y]]))[0].tolist()
        return (u, v)

    def section(self, x: float) -> Floats:
        """The inside section at x, columns y and z in the tank's frame [m]."""
        y, z = self.solid.outline.points.T
        stretch = self.solid.stretch(self.solid.growth, x)
        return np.column_stack([y, np.where(z < self.solid.seat, self.solid.seat + stretch * (z - self.solid.seat), z)])

    def rear_offset(self, x: float) -> Point:
        """What turns columns y and z of the section at x into places on the rear view [m]."""
        at = self.frame.point(np.array([x, 0.0, 0.0]))
        return float(at[1]), float(at[2])


def _head(head: Head, outward: float, x: float, low: float, high: float, middle: float) -> tuple[Floats, Floats]:
    """Lower and upper edge of a head from its tangent line outwards: sections shrunk about their middle."""
    distance, scale = head.meridian(points=_MERIDIAN)
    at = x + outward * distance
    return tuple(np.column_stack([at, middle + scale * (edge - middle)]) for edge in (low, high))  # type: ignore[return-value]
